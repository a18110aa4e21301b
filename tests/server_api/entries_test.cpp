// Entries sent over HTTP: each once, all or none, and refused in the app's own words.
#include "app/entries.hpp"

#include "app/pianos.hpp"
#include "app/readings.hpp"
#include "tests/server_api/api_fixture.hpp"

#include <fmt/format.h>

#include <gmock/gmock.h>
#include <set>

namespace batten::server {
namespace {

using testing::HasSubstr;

class Entries : public ::testing::Test {
 protected:
  static std::string reading(int id, const std::string& note, const std::string& value,
                             const std::string& code = "blow") {
    return fmt::format(R"({{"id":"{}","kind":"reading","reading":"{}","note":"{}","value":"{}"}})",
                       Api::id(id), code, note, value);
  }
  static std::string all(const std::vector<std::string>& entries) {
    std::string text;
    for (const auto& e : entries) text += (text.empty() ? "" : ",") + e;
    return R"({"entries":[)" + text + "]}";
  }
  Heard send(const std::vector<std::string>& entries) {
    return api_.post(Api::at(piano_, "/entries"), all(entries));
  }
  std::size_t kept() { return history(api_.desk, piano_)->size(); }
  std::string happened(const Heard& heard) {
    return heard.json["problem"]["happened"].get<std::string>();
  }

  Api api_;
  const Piano piano_ = api_.empty();
  const std::size_t before_ = kept();
};

TEST_F(Entries, AreKeptUnderTheIdentityTheyCameWith) {
  const Heard heard = send({reading(1, "C4", "45.2"), reading(2, "D4", "45,4")});
  ASSERT_EQ(heard.status, 200) << heard.body;
  EXPECT_EQ(heard.json["already_there"], 0);
  EXPECT_EQ(heard.json["revision"], before_ + 2);
  EXPECT_EQ(heard.json["entries"][1]["id"], Api::id(2));
  EXPECT_EQ(heard.json["entries"][1]["value"], 45.4);
  EXPECT_EQ(heard.json["entries"][1]["typed"], "45,4");
  EXPECT_EQ(heard.json["entries"][0]["who"], "Mira");
  const auto lines = *history(api_.desk, piano_);
  EXPECT_EQ(to_text(lines.back().entry.id), Api::id(2));
}

TEST_F(Entries, AreToldToThoseWhoListen) {
  ASSERT_EQ(
      api_.post(Api::at(piano_, "/entries"), all({reading(1, "C4", "45.2")}), "tablet").status,
      200);
  ASSERT_EQ(api_.told.size(), 1U);
  EXPECT_EQ(api_.told[0].name, "entries");
  EXPECT_EQ(api_.told[0].piano, to_text(piano_.id));
  // A line break would end a server-sent event's data (HTML, section 9.2.6).
  EXPECT_EQ(api_.told[0].data.find('\n'), std::string::npos);
  const auto data = nlohmann::json::parse(api_.told[0].data);
  EXPECT_EQ(data["device"], "tablet");
  EXPECT_EQ(data["revision"], before_ + 1);
  EXPECT_EQ(data["entries"][0]["note"], "C4");
  // A repeat tells nobody anything new.
  send({reading(1, "C4", "45.2")});
  EXPECT_EQ(api_.told.size(), 1U);
}

TEST_F(Entries, SentAgainAreThereOnce) {
  send({reading(1, "C4", "45.2")});
  const Heard again = send({reading(1, "C4", "45.2"), reading(2, "D4", "45.4")});
  ASSERT_EQ(again.status, 200) << again.body;
  EXPECT_EQ(again.json["already_there"], 1);
  EXPECT_EQ(kept(), before_ + 2);
  // Twice in one request as well.
  EXPECT_EQ(send({reading(3, "E4", "45.1"), reading(3, "E4", "45.1")}).json["already_there"], 1);
  EXPECT_EQ(kept(), before_ + 3);
}

TEST_F(Entries, SentAgainAreThereThoughTheVisitAndTheSettingsChanged) {
  const std::string taken = reading(1, "C4", "45.2");
  const std::string set = fmt::format(
      R"({{"id":"{}","kind":"setting","name":"play-weight","value":"1; 1; 1; 1"}})", Api::id(2));
  send({taken, set});
  ASSERT_TRUE(begin_visit(api_.desk, piano_, "later"));
  ASSERT_TRUE(choose_setting(api_.desk, piano_, "out-of-service", "C4"));
  const std::size_t now = kept();
  const Heard again = send({taken, set});
  EXPECT_EQ(again.status, 200) << again.body;
  EXPECT_EQ(again.json["already_there"], 2);
  EXPECT_EQ(kept(), now);
}

TEST_F(Entries, OfOneIdentityAndOtherContentAreAConflict) {
  send({reading(1, "C4", "45.2")});
  const Heard other = send({reading(2, "D4", "45.4"), reading(1, "C4", "45.3")});
  EXPECT_EQ(other.status, 409);
  EXPECT_EQ(other.json["entry"], Api::id(1));
  EXPECT_EQ(kept(), before_ + 1);  // nothing of the request
  // At another piano it is not the same entry either.
  const Piano second = api_.empty("Second");
  EXPECT_EQ(api_.post(Api::at(second, "/entries"), all({reading(1, "C4", "45.2")})).status, 409);
}

TEST_F(Entries, AreWrittenAllOrNone) {
  const Heard heard = send({reading(1, "C4", "45.2"), reading(2, "C4", "452")});
  EXPECT_EQ(heard.status, 422);
  EXPECT_EQ(heard.json["entry"], Api::id(2));
  EXPECT_THAT(happened(heard), HasSubstr("lies outside"));
  EXPECT_EQ(kept(), before_);
}

TEST_F(Entries, AreCheckedAgainstThoseBeforeThem) {
  const std::string off = fmt::format(
      R"({{"id":"{}","kind":"setting","name":"out-of-service","value":"C4"}})", Api::id(1));
  const Heard heard = send({off, reading(2, "C4", "45.2")});
  EXPECT_EQ(heard.status, 422);
  EXPECT_THAT(happened(heard), HasSubstr("out of service"));
  const std::string undo =
      fmt::format(R"({{"id":"{}","kind":"undo","entry":"{}"}})", Api::id(3), Api::id(1));
  EXPECT_EQ(send({off, undo, reading(2, "C4", "45.2")}).status, 200);
}

TEST_F(Entries, SayWhatAPianoCannotHaveInTheSameWordsAsTheHandReads) {
  ASSERT_TRUE(choose_setting(api_.desk, piano_, "undamped-from", "G6"));
  const Heard heard = send({reading(1, "A6", "0.5", "damper-start")});
  EXPECT_EQ(heard.status, 422);
  EXPECT_EQ(happened(heard), "A6 has no damper.");
  EXPECT_EQ(
      happened(heard),
      take_reading(api_.desk, piano_, {"damper-start", "A6", "0.5", {}, {}}).error().happened);
}

TEST_F(Entries, AreTakenBackOnce) {
  send({reading(1, "C4", "45.2")});
  const auto undo = [&](int id) {
    return fmt::format(R"({{"id":"{}","kind":"undo","entry":"{}"}})", Api::id(id), Api::id(1));
  };
  EXPECT_EQ(send({undo(2)}).status, 200);
  EXPECT_EQ(send({undo(2)}).json["already_there"], 1);  // repeated, not refused
  EXPECT_EQ(send({undo(3)}).status, 422);
  const auto journal = api_.get(Api::at(piano_, "/journal"), {{"since", std::to_string(before_)}});
  EXPECT_EQ(journal.json["entries"][0]["in_force"], false);
  EXPECT_EQ(journal.json["entries"][1]["in_force"], true);
}

TEST_F(Entries, KeepTheTimeTheHandMadeThem) {
  const std::int64_t then = api_.desk.now_ms() - 3'600'000;
  const auto at = [&](int id, std::int64_t ms) {
    return fmt::format(R"({{"id":"{}","at_ms":{},"kind":"remark","text":"offline"}})", Api::id(id),
                       ms);
  };
  EXPECT_EQ(send({at(1, then)}).json["entries"][0]["at_ms"], then);
  EXPECT_EQ(send({at(2, then + 26 * 3'600'000)}).status, 422);  // a day and an hour ahead
  EXPECT_EQ(send({at(3, 1000)}).status, 422);
}

TEST_F(Entries, MayNotTryOutTheNamesOfFiles) {
  const auto profile = [&](int id, const std::string& value) {
    return send(
        {fmt::format(R"({{"id":"{}","kind":"setting","name":"action-profile","value":"{}"}})",
                     Api::id(id), value)});
  };
  // One that is there, one that is not, a folder: nothing tells them apart.
  std::set<std::string> said;
  for (const std::string file : {"/etc/hostname", "/no/such/file", "/etc"}) {
    const Heard heard = profile(1, file);
    EXPECT_EQ(heard.status, 422) << file;
    std::string sentence = happened(heard);
    said.insert(sentence.erase(sentence.find(file), file.size()));
  }
  EXPECT_EQ(said.size(), 1U);
  EXPECT_EQ(profile(3, "concert").status, 200);
}

TEST_F(Entries, MoveByWordsOrByNumber) {
  const auto move = [&](int id, const std::string& amount) {
    return send(
        {fmt::format(R"({{"id":"{}","kind":"move","adjuster":"capstan","note":"C4","amount":{}}})",
                     Api::id(id), amount)});
  };
  EXPECT_EQ(move(1, R"("raise 3/64")").json["entries"][0]["amount"], 3.0 / 64);
  EXPECT_EQ(move(2, "-0.046875").json["entries"][0]["direction"], "lower");
  EXPECT_EQ(move(3, "0").status, 422);
  EXPECT_EQ(move(4, "2.5").status, 422);
  EXPECT_EQ(move(5, "true").status, 400);
}

struct Broken {
  const char* body;
  const char* says;
};

TEST_F(Entries, ThatCannotBeReadAreRefusedByName) {
  const std::string deep = R"({"entries":)" + std::string(100'000, '[');
  const std::vector<Broken> cases{
      {"", "no JSON"},
      {"[]", "no JSON object"},
      {"{\"entries\": [", "no JSON"},
      {"{}", "no list of entries"},
      {R"({"entries":[]})", "no list of entries"},
      {R"({"entries":{}})", "no list of entries"},
      {R"({"entries":[1]})", "Entry 1 of 1: It is no JSON object."},
      {R"({"entries":[],"piano":"x"})", "\"piano\""},
      {R"({"entries":[{"id":"00000000-0000-4000-8000-000000000001"}]})", "\"kind\" is missing"},
      {R"({"entries":[{"id":"00000000-0000-4000-8000-000000000001","kind":"poem"}]})", "\"poem\""},
      {R"({"entries":[{"kind":"remark","text":"x"}]})", "\"id\" is missing"},
      {R"({"entries":[{"id":"7","kind":"remark","text":"x"}]})", "\"7\" is not an identity"},
      {R"({"entries":[{"id":"00000000-0000-4000-8000-000000000001","kind":"remark","text":7}]})",
       "\"text\" is a number"},
      {R"({"entries":[{"id":"00000000-0000-4000-8000-000000000001","kind":"remark","text":"x",
           "value":"1"}]})",
       "\"value\" is not known at the kind \"remark\""},
      {R"({"entries":[{"id":"00000000-0000-4000-8000-000000000001","kind":"remark","text":"x",
           "at_ms":1.5}]})",
       "\"at_ms\""},
      {R"({"entries":[{"id":"00000000-0000-4000-8000-000000000001","kind":"move",
           "adjuster":"capstan","note":"C4","amount":1e999}]})",
       "no JSON"},
      {"{\"entries\":[{\"id\":\"\xff\"}]}", "no JSON"},
      {deep.c_str(), "too deep"},
  };
  for (const Broken& b : cases) {
    const Heard heard = api_.post(Api::at(piano_, "/entries"), b.body);
    EXPECT_EQ(heard.status, 400) << b.says;
    ASSERT_FALSE(heard.json.is_discarded()) << b.says;
    EXPECT_THAT(happened(heard), HasSubstr(b.says));
    EXPECT_FALSE(heard.json["problem"]["todo"].get<std::string>().empty()) << b.says;
  }
  EXPECT_EQ(kept(), before_);
}

TEST_F(Entries, AreNotTooManyAtOnce) {
  std::vector<std::string> many;
  for (int i = 1; i <= 501; ++i) many.push_back(reading(i, "C4", "45.2"));
  EXPECT_EQ(send(many).status, 422);
  many.pop_back();
  EXPECT_EQ(send(many).status, 200);
}

TEST_F(Entries, GoToNoPianoThatIsNotThere) {
  EXPECT_EQ(api_.post("/api/pianos/Studio grand/entries", all({reading(1, "C4", "45")})).status,
            404);
  EXPECT_EQ(
      api_.post("/api/pianos/" + Api::id(9) + "/entries", all({reading(1, "C4", "45")})).status,
      404);
}

}  // namespace
}  // namespace batten::server
