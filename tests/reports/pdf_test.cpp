// What poppler's tools read back from the written PDF; they know nothing of how it was made.
#include "line_fixture.hpp"
#include "reports/line_sheet.hpp"

#include <cairomm/surface.h>
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <csignal>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <limits>
#include <sstream>
#include <string>
#include <sys/resource.h>
#include <unistd.h>
#include <vector>

namespace batten {
namespace {

namespace fs = std::filesystem;

const SheetHeading heading{"The big grand in the Lindenhof hall", "Kulturhaus Söderlingen",
                           "Prüfung vor dem Öffnen", "25 November 2026", "A. Technician"};

std::string run(const std::string& command) {
  std::string out;
  FILE* pipe = popen(command.c_str(), "r");
  std::array<char, 4096> buffer{};
  while (const std::size_t n = fread(buffer.data(), 1, buffer.size(), pipe)) {
    out.append(buffer.data(), n);
  }
  EXPECT_EQ(pclose(pipe), 0) << command;
  return out;
}

std::string bytes_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

class Pdf : public testing::Test {
 protected:
  void SetUp() override {
    folder = fs::temp_directory_path() /
             fmt::format("batten-sheet-{}-{}", getpid(),
                         testing::UnitTest::GetInstance()->current_test_info()->name());
    fs::create_directories(folder);
    file = folder / "sheet.pdf";
  }
  void TearDown() override { fs::remove_all(folder); }

  fs::path folder, file;
};

// One row of the worklist as it was printed.
struct Row {
  int step = 0;
  std::string note, verb;
  double turns = 0, crown = 0, height = 0;
};

double number(const std::string& text) {
  const auto slash = text.find('/');
  if (slash == std::string::npos) return std::stod(text);
  return std::stod(text.substr(0, slash)) / std::stod(text.substr(slash + 1));
}

// The rows in reading order: page by page, left column, then right. A row: step, note, verb, the
// turn (a whole number may stand before its fraction), two lengths.
std::vector<Row> rows_of(const fs::path& file, int pages, int width, int height) {
  std::vector<Row> rows;
  for (int page = 1; page <= pages; ++page) {
    for (const int left : {0, width / 2}) {
      std::istringstream in(
          run(fmt::format("pdftotext -layout -f {0} -l {0} -x {1} -y 0 -W {2} -H {3} '{4}' -", page,
                          left, width / 2, height, file.string())));
      for (std::string line; std::getline(in, line);) {
        std::istringstream words(line);
        const std::vector<std::string> word(std::istream_iterator<std::string>(words), {});
        if (word.size() < 6 || (word[2] != "raise" && word[2] != "lower")) continue;
        Row row{std::stoi(word[0]), word[1], word[2]};
        for (std::size_t i = 3; i + 2 < word.size(); ++i) row.turns += number(word[i]);
        row.crown = number(word[word.size() - 2]);
        row.height = number(word.back());
        rows.push_back(row);
      }
    }
  }
  return rows;
}

std::string printed_name(Key key) {
  std::string name = note_name(key);
  if (const auto hash = name.find('#'); hash != std::string::npos) name.replace(hash, 1, "♯");
  return name;
}

void expect_rows(const Line& line, const std::vector<Row>& rows, double unit_mm, double rounding) {
  ASSERT_EQ(rows.size(), line.order.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const NoteLine& note = line.at(line.order[i]);
    EXPECT_EQ(rows[i].step, static_cast<int>(i) + 1);
    EXPECT_EQ(rows[i].note, printed_name(note.key));
    // Too high a hammer is lowered.
    EXPECT_EQ(rows[i].verb, *note.deviation > Length{} ? "lower" : "raise") << rows[i].note;
    EXPECT_NEAR(rows[i].turns, std::abs(note.turns.in(turn)), 1e-12) << rows[i].note;
    EXPECT_NEAR(rows[i].crown * unit_mm, std::abs(note.deviation->in(millimetre)), rounding);
    EXPECT_NEAR(rows[i].height * unit_mm, note.target.in(millimetre), rounding);
  }
}

TEST_F(Pdf, EachMoveIsPrintedOnceAndInOrder) {
  const Line line = invented_line();
  ASSERT_GT(line.order.size(), 60U);
  const int pages = render_line_sheet_pdf(line, heading, {}, file);
  expect_rows(line, rows_of(file, pages, 596, 842), 1, 0.0501);
}

TEST_F(Pdf, EightyEightMovesOnLetterInInches) {
  const Line line = invented_line({.all_moves = true, .troubles = false});
  ASSERT_EQ(line.order.size(), 88U);
  const int pages =
      render_line_sheet_pdf(line, heading, {.paper = Paper::letter, .inches = true}, file);
  expect_rows(line, rows_of(file, pages, 612, 792), 25.4, 0.0127 + 1e-9);
}

TEST_F(Pdf, OnTheBenchHeightsAreThoseOfTheBench) {
  Line line = invented_line({.bench = true});
  const int pages = render_line_sheet_pdf(line, heading, {}, file);
  const auto rows = rows_of(file, pages, 596, 842);
  // A bench height plus the offset is a height over the strings' datum; at the lowest key the
  // offset is that of the lowest end.
  ASSERT_FALSE(rows.empty());
  ASSERT_EQ(rows[0].note, "A0");
  EXPECT_NEAR(rows[0].height,
              (line.notes[0].target - line.transfer.offset_at_lowest).in(millimetre), 0.0501);
}

std::pair<double, double> paper_of(const fs::path& file) {
  const std::string text = run("pdfinfo '" + file.string() + "'");
  double width = 0, height = 0;
  const auto at = text.find("Page size:");
  EXPECT_NE(at, std::string::npos) << text;
  EXPECT_EQ(std::sscanf(text.c_str() + at, "Page size: %lf x %lf", &width, &height), 2);
  return {width, height};
}

// ISO 216 A4, and 8½ × 11 in. pdfinfo prints to a hundredth of a point or better.
TEST_F(Pdf, PagesHaveTheSizeOfThePaper) {
  render_line_sheet_pdf(invented_line(), heading, {}, file);
  EXPECT_NEAR(paper_of(file).first, 210 / 25.4 * 72, 0.005);
  EXPECT_NEAR(paper_of(file).second, 297 / 25.4 * 72, 0.005);
  render_line_sheet_pdf(invented_line(), heading, {.paper = Paper::letter}, file);
  EXPECT_EQ(paper_of(file), std::pair(612.0, 792.0));
}

TEST_F(Pdf, FontsAreEmbeddedAndOneFamily) {
  render_line_sheet_pdf(invented_line(), heading, {}, file);
  std::istringstream in(run("pdffonts '" + file.string() + "'"));
  std::string font;
  std::getline(in, font);
  std::getline(in, font);
  int fonts = 0;
  while (std::getline(in, font)) {
    ++fonts;
    EXPECT_NE(font.find("DejaVuSans"), std::string::npos) << font;
    // Columns emb, sub, uni.
    EXPECT_NE(font.find(" yes yes yes "), std::string::npos) << font;
  }
  EXPECT_GE(fonts, 2);
}

TEST_F(Pdf, EveryPageNamesPianoDateAndItsNumber) {
  const int pages = render_line_sheet_pdf(invented_line(), heading, {}, file);
  for (int page = 1; page <= pages; ++page) {
    const std::string text =
        run(fmt::format("pdftotext -layout -f {0} -l {0} '{1}' -", page, file.string()));
    EXPECT_NE(text.find(heading.piano), std::string::npos);
    EXPECT_NE(text.find(heading.date), std::string::npos);
    EXPECT_NE(text.find(fmt::format("page {} of {}", page, pages)), std::string::npos);
    if (page > 1) continue;
    EXPECT_NE(text.find("Kulturhaus Söderlingen · Prüfung vor dem Öffnen"), std::string::npos);
  }
}

TEST_F(Pdf, AShutGateSaysWhatIsMissingAndAdvisesNothing) {
  const Line line = invented_line({.gate_open = false});
  const int pages = render_line_sheet_pdf(line, heading, {}, file);
  EXPECT_TRUE(rows_of(file, pages, 596, 842).empty());
  std::string text = run("pdftotext '" + file.string() + "' -");
  for (char& c : text) c = c == '\n' ? ' ' : c;
  EXPECT_EQ(text.find("Worklist"), std::string::npos);
  EXPECT_NE(text.find("No capstan yet: 3 things first"), std::string::npos);
  for (const auto& item : line.gate.items) {
    if (item.passed) continue;
    // The first words of how to find out; a line break may fall anywhere.
    EXPECT_NE(text.find(kind_of(item.item).how.substr(0, 24)), std::string::npos);
  }
  EXPECT_NE(text.find("A1, A♯1, E3"), std::string::npos) << "the notes wanting";
  EXPECT_NE(text.find("no rest rail on this action"), std::string::npos) << "the waiver's reason";
}

TEST_F(Pdf, ABenchNotTiedToTheStringsAdvisesNothing) {
  const Line line = invented_line({.bench = true, .transfer_readings = 2});
  const int pages = render_line_sheet_pdf(line, heading, {}, file);
  EXPECT_TRUE(rows_of(file, pages, 596, 842).empty());
  EXPECT_NE(run("pdftotext '" + file.string() + "' -").find("No capstan yet"), std::string::npos);
}

// In one line, because a line break may fall anywhere.
std::string words_of(const fs::path& file) {
  std::string text = run("pdftotext '" + file.string() + "' -");
  for (char& c : text) c = c == '\n' ? ' ' : c;
  return text;
}

TEST_F(Pdf, HammersHeldForTheirStringsAreNamed) {
  Line line = invented_line();
  line.notes[20].verdict = Verdict::target_unsure;
  std::erase(line.order, line.notes[20].key);
  render_line_sheet_pdf(line, heading, {}, file);
  EXPECT_NE(words_of(file).find(printed_name(line.notes[20].key) + " hammer held"),
            std::string::npos);
}

// Findings are flagged from one chance in ten; only from one in two are they not followed.
TEST_F(Pdf, AReadingFollowedInPartIsNotCalledNotFollowed) {
  Line line = invented_line();
  line.findings = {{Finding::Kind::reading_flagged, line.notes[22].key, 194 * millimetre,
                    195 * millimetre, 0.2 * millimetre, 0.35}};
  render_line_sheet_pdf(line, heading, {}, file);
  EXPECT_EQ(words_of(file).find("not followed"), std::string::npos);
  EXPECT_NE(words_of(file).find("followed only in part"), std::string::npos);
  line.findings[0].chance_wrong = 0.66;
  render_line_sheet_pdf(line, heading, {}, file);
  EXPECT_NE(words_of(file).find("not followed"), std::string::npos);
}

// Read with a block where no string has been: it can be turned, but stands at no known height.
TEST_F(Pdf, ABlowWithoutStringsIsGivenNoHeight) {
  Line line = invented_line();
  ASSERT_FALSE(line.order.empty());
  NoteLine& note = line.notes[static_cast<std::size_t>(line.compass.position(line.order.front()))];
  note.string_sd = note.target_sd = Length::from_si(std::numeric_limits<double>::infinity());
  note.target = -note.blow_target;
  render_line_sheet_pdf(line, heading, {}, file);
  std::istringstream in(run("pdftotext -layout -x 0 -y 0 -W 298 -H 842 '" + file.string() + "' -"));
  bool found = false;
  for (std::string row; std::getline(in, row);) {
    std::istringstream words(row);
    const std::vector<std::string> word(std::istream_iterator<std::string>(words), {});
    if (word.size() < 6 || word[0] != "1" || word[1] != printed_name(note.key)) continue;
    found = true;
    EXPECT_EQ(word.back(), "–") << row;
  }
  EXPECT_TRUE(found);
}

TEST_F(Pdf, TheMakerComesFirstAmongTheCautions) {
  render_line_sheet_pdf(invented_line(), heading, {}, file);
  const std::string text = run("pdftotext '" + file.string() + "' -");
  const auto maker = text.find(text_of(Caution::makers_instructions).heading);
  const auto blocked = text.find(text_of(Caution::blocked_hammer).heading);
  const auto first_move = text.find("Worklist");
  ASSERT_NE(maker, std::string::npos);
  ASSERT_NE(blocked, std::string::npos);
  EXPECT_LT(maker, blocked);
  EXPECT_LT(blocked, first_move);
}

TEST_F(Pdf, SameValuesSameBytes) {
  const SheetOptions options{.created = "2026-11-25T13:00:00Z"};
  render_line_sheet_pdf(invented_line(), heading, options, file);
  const std::string first = bytes_of(file);
  render_line_sheet_pdf(invented_line(), heading, options, file);
  EXPECT_TRUE(first == bytes_of(file)) << "two runs differ";
  render_line_sheet_pdf(invented_line(), heading, {.created = "2026-11-26T13:00:00Z"}, file);
  EXPECT_FALSE(first == bytes_of(file)) << "the date is not in the file";
}

TEST_F(Pdf, AFolderThatIsNotThereIsToldAsAProblem) {
  try {
    render_line_sheet_pdf(invented_line(), heading, {}, folder / "nowhere" / "sheet.pdf");
    FAIL() << "written to a folder that is not there";
  } catch (const ReportFailure& failure) {
    EXPECT_NE(failure.problem().happened.find("nowhere"), std::string::npos);
    EXPECT_FALSE(failure.problem().kept.empty());
    EXPECT_FALSE(failure.problem().todo.empty());
  }
}

// A limit on the size of files stands in for a full disk: the write breaks off midway.
TEST_F(Pdf, AWriteThatBreaksOffLeavesTheOlderSheet) {
  render_line_sheet_pdf(invented_line({.read = false}), heading, {}, file);
  const std::string older = bytes_of(file);
  const auto no_effect = std::signal(SIGXFSZ, SIG_IGN);
  rlimit before{};
  getrlimit(RLIMIT_FSIZE, &before);
  const rlimit small{8192, before.rlim_max};
  setrlimit(RLIMIT_FSIZE, &small);
  EXPECT_THROW(render_line_sheet_pdf(invented_line(), heading, {}, file), ReportFailure);
  setrlimit(RLIMIT_FSIZE, &before);
  std::signal(SIGXFSZ, no_effect);
  EXPECT_TRUE(older == bytes_of(file)) << "the older sheet has changed";
  EXPECT_EQ(std::distance(fs::directory_iterator(folder), fs::directory_iterator()), 1)
      << "something was left beside the sheet";
}

TEST_F(Pdf, ThePictureIsThePageAtTheDotsAsked) {
  const fs::path picture = folder / "sheet.png";
  const int pages = render_line_sheet_png(invented_line(), heading, {}, picture, 99, 100);
  EXPECT_GE(pages, 2);
  auto image = Cairo::ImageSurface::create_from_png(picture.string());
  EXPECT_EQ(image->get_width(), 827);    // 210 mm at 100 dpi
  EXPECT_EQ(image->get_height(), 1169);  // 297 mm
}

}  // namespace
}  // namespace batten
