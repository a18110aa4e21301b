// Every rule is shown to fail on a planted violation, and to let its neighbour pass.
#include "tests/architecture/rules.hpp"

#include "tests/architecture/source_text.hpp"

#include <gtest/gtest.h>

#include <gmock/gmock.h>
#include <string>
#include <vector>

namespace batten::architecture {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

std::vector<std::string> words_of(std::string_view text) {
  std::vector<std::string> words;
  for (const Token& token : tokens_of(text)) words.push_back(token.word);
  return words;
}

TEST(SourceText, TellsCodeFromCommentsAndLiterals) {
  EXPECT_THAT(words_of("int a; // throw\nint b; /* try\n catch */ int c;"),
              ElementsAre("int", "a", "int", "b", "int", "c"));
  EXPECT_THAT(words_of(R"(f("throw \" try", 'x', '"', '\''); g(1'000'000, u8"catch");)"),
              ElementsAre("f", "g", "u8"));
  EXPECT_THAT(words_of("auto s = R\"sql(throw \" try)sql\"; int d;"),
              ElementsAre("auto", "s", "R", "int", "d"));
  EXPECT_THAT(words_of("// an apostrophe: don't\nthrow x;"), ElementsAre("throw", "x"));
  EXPECT_THAT(words_of("/* never closed throw"), IsEmpty());
}

TEST(SourceText, FindsIncludesButNotThoseInComments) {
  const auto includes = includes_of(
      "#include \"core/a.hpp\"\n"
      "// #include <commented>\n"
      "#  include <vector>  // why\n"
      "/* #include <blocked> */\n"
      "#include <map>");
  ASSERT_EQ(includes.size(), 3U);
  EXPECT_EQ(includes[0].target, "core/a.hpp");
  EXPECT_TRUE(includes[0].quoted);
  EXPECT_EQ(includes[1].target, "vector");
  EXPECT_FALSE(includes[1].quoted);
  EXPECT_EQ(includes[1].line, 3);
  EXPECT_EQ(includes[2].line, 5);
}

TEST(SourceText, CountsLines) {
  EXPECT_EQ(line_count(""), 0);
  EXPECT_EQ(line_count("a\nb\n"), 2);
  EXPECT_EQ(line_count("a\nb"), 2);
}

const std::vector<Module> sound = parse_modules(
    "core/outcome:\ncore/keyboard:core/outcome\ncore/line:core/keyboard\nrecords:core/keyboard\n"
    "reports:core/line\napp:records,reports,core/line\nworkshop:app\ncli:app,workshop\n");

TEST(Declarations, AreReadAsWritten) {
  ASSERT_EQ(sound.size(), 8U);
  EXPECT_EQ(sound[0].path, "core/outcome");
  EXPECT_THAT(sound[0].depends, IsEmpty());
  EXPECT_THAT(sound[5].depends, ElementsAre("records", "reports", "core/line"));
  EXPECT_THAT(check_declarations(sound), IsEmpty());
}

TEST(Declarations, MustBeSound) {
  const auto check = [](std::string_view text) { return check_declarations(parse_modules(text)); };
  EXPECT_THAT(check("core/a:core/b\ncore/b:core/c\ncore/c:core/a"),
              ElementsAre("core/a → core/b → core/c → core/a is a circle."));
  EXPECT_THAT(check("core/a:core/a"), ElementsAre(HasSubstr("is a circle")));
  EXPECT_THAT(check("core/a:core/b"), ElementsAre(HasSubstr("which is no module")));
  EXPECT_THAT(check("core/a:\ncore/a:"), ElementsAre(HasSubstr("is declared twice")));
  EXPECT_THAT(check("no colon"), ElementsAre(HasSubstr("has no path")));
  EXPECT_THAT(check("core/a:records\nrecords:"), ElementsAre(HasSubstr("does not point down")));
  EXPECT_THAT(check("records:reports\nreports:"), ElementsAre(HasSubstr("does not point down")));
  EXPECT_THAT(check("app:cli\ncli:"), ElementsAre(HasSubstr("does not point down")));
  EXPECT_THAT(check("app:workshop\nworkshop:"), ElementsAre(HasSubstr("uses the workshop")));
  EXPECT_THAT(check("lounge:core/a\ncore/a:"), ElementsAre(HasSubstr("without a place")));
}

TEST(Belonging, IsOfEverySourceButTestsAndBenchmarks) {
  const auto check = [](std::string path) { return check_belonging(sound, {std::move(path), ""}); };
  EXPECT_THAT(check("core/keyboard/key.cpp"), IsEmpty());
  EXPECT_THAT(check("records/sqlite/statement.cpp"), IsEmpty());
  EXPECT_THAT(check("tests/keyboard/key_test.cpp"), IsEmpty());
  EXPECT_THAT(check("core/stray.cpp"), ElementsAre(HasSubstr("belongs to no module")));
  EXPECT_THAT(check("core/keyboards/key.cpp"), ElementsAre(HasSubstr("belongs to no module")));
  EXPECT_THAT(check("main.cpp"), ElementsAre(HasSubstr("belongs to no module")));
}

TEST(Includes, AreOfTheOwnModuleOrADeclaredOne) {
  const auto check = [](std::string path, std::string text) {
    return check_includes(sound, {std::move(path), std::move(text)});
  };
  EXPECT_THAT(check("core/line/line.cpp",
                    "#include \"core/line/line.hpp\"\n#include \"core/keyboard/key.hpp\"\n"
                    "#include <vector>"),
              IsEmpty());
  EXPECT_THAT(check("core/line/line.cpp", "#include \"core/outcome/outcome.hpp\""),
              ElementsAre(HasSubstr("core/line does not declare core/outcome")))
      << "a dependency's dependency is not one's own";
  EXPECT_THAT(check("core/keyboard/key.hpp", "\n#include \"core/line/line.hpp\""),
              ElementsAre(HasSubstr("core/keyboard/key.hpp:2")));
  EXPECT_THAT(check("core/line/line.cpp", "#include \"line.hpp\""),
              ElementsAre(HasSubstr("is in no module")));
  EXPECT_THAT(check("app/app.cpp", "#include \"tests/oracles/oracle.hpp\""),
              ElementsAre(HasSubstr("is in no module")));
}

TEST(Includes, ShowThatADeclarationIsNeeded) {
  const auto modules = parse_modules("core/a:\ncore/b:core/a");
  const Source idle{"core/b/b.cpp", "// #include \"core/a/a.hpp\""};
  const Source user{"core/b/c.cpp", "#include \"core/a/a.hpp\""};
  EXPECT_THAT(check_declared_is_used(modules, {idle, user}), IsEmpty());
  EXPECT_THAT(check_declared_is_used(modules, {idle}),
              ElementsAre("core/b → core/a is declared and not used."));
}

TEST(OutsideLibraries, StayInTheirRooms) {
  struct Row {
    std::string header, room, wrong;
  };
  const std::vector<Row> table{
      {"<sqlite3.h>", "records", "app"},
      {"<nlohmann/json.hpp>", "json", "cli"},
      {"<boost/beast.hpp>", "server", "app"},
      {"<cairomm/context.h>", "reports", "cli"},
      {"<cairo.h>", "reports", "app"},
      {"<pangomm/layout.h>", "reports", "app"},
      {"<pango/pango.h>", "reports", "workshop"},
      {"<csv.h>", "exchange", "app"},
      {"<CLI/CLI.hpp>", "cli", "app"},
      {"\"sqlite3.h\"", "records", "core/line"},
      {"<gtest/gtest.h>", "tests", "workshop"},
      {"<rapidcheck.h>", "tests", "workshop"},
      {"<benchmark/benchmark.h>", "benchmarks", "cli"},
  };
  for (const Row& row : table) {
    const std::string text = "#include " + row.header;
    EXPECT_THAT(check_outside_libraries({row.room + "/a.cpp", text}), IsEmpty()) << row.header;
    EXPECT_THAT(check_outside_libraries({row.wrong + "/a.cpp", text}),
                ElementsAre(HasSubstr("does not belong in")))
        << row.header;
  }
}

TEST(Purity, HoldsInCoreOnly) {
  const auto check = [](std::string text) {
    return check_purity({"core/line/line.cpp", std::move(text)});
  };
  EXPECT_THAT(check("#include <vector>\n#include <Eigen/Core>\n#include <fmt/format.h>\n"
                    "// we never throw\nint entry = print_number(1); const char* s = \"printf\";"),
              IsEmpty());
  for (const char* header : {"iostream", "fstream", "chrono", "thread", "random", "cstdio",
                             "cstdlib", "filesystem", "fmt/os.h", "fmt/ostream.h", "sqlite3.h",
                             "nlohmann/json.hpp", "stdexcept", "mutex", "ctime"}) {
    EXPECT_THAT(check("#include <" + std::string(header) + ">"),
                ElementsAre(HasSubstr("is not on core's list")))
        << header;
  }
  for (const char* code :
       {"throw 1;", "try { f(); }", "catch (...) {}", "std::printf(\"\");", "std::cout << 1;",
        "fmt::print(\"\");", "fopen(\"a\", \"r\");", "std::rand();", "getenv(\"HOME\");",
        "std::mutex m;", "std::chrono::seconds s;", "std::random_device r;", "std::abort();"}) {
    EXPECT_THAT(check(code), ElementsAre(HasSubstr("core is pure"))) << code;
  }
  EXPECT_THAT(check_purity({"app/app.cpp", "#include <chrono>\nthrow 1;"}), IsEmpty());
}

TEST(Form, HasAMeasure) {
  const auto lines = [](int count) {
    std::string text = "#pragma once\n";
    for (int i = 1; i < count; ++i) text += "int a;\n";
    return text;
  };
  EXPECT_THAT(check_form({"core/a/a.hpp", lines(500)}), IsEmpty());
  EXPECT_THAT(check_form({"core/a/a.hpp", lines(501)}), ElementsAre(HasSubstr("has 501 lines")));
  EXPECT_THAT(check_form({"core/a/a.hpp", "// #pragma once\n"}),
              ElementsAre(HasSubstr("no #pragma once")));
  EXPECT_THAT(check_form({"core/a/a.cpp", "int a;"}), IsEmpty());
  EXPECT_THAT(check_form({"core/utils/a.cpp", ""}), ElementsAre(HasSubstr("names nothing")));
  EXPECT_THAT(check_form({"core/a/common.cpp", ""}), ElementsAre(HasSubstr("names nothing")));
}

}  // namespace
}  // namespace batten::architecture
