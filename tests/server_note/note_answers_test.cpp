// A note on the model, asked as a screen asks: what is drawn is where the solver's own press leaves
// the parts, what is read is what a regulation by another way reads, and nothing is written down.
#include "app/note_job.hpp"
#include "core/action/words.hpp"
#include "tests/server_api/api_fixture.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <gmock/gmock.h>
#include <limits>

namespace batten::server {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;

constexpr double gram_force = 9.80665e-3;  // N, standard gravity (3rd CGPM 1901)

class NoteAnswers : public ::testing::Test {
 protected:
  std::string at(const std::string& note, const std::string& rest = {}) {
    return Api::at(api_.demo(), "/notes/" + note + rest);
  }
  std::shared_ptr<const NoteBench> bench(const char* note) {
    auto bench =
        note_bench(api_.cache.notes, api_.cache.plans, api_.desk, api_.demo(), *parse_key(note));
    EXPECT_TRUE(bench);
    return *bench;
  }
  // The note as it is on record with adjusters moved as the command line moves them.
  action::Note moved(const char* note, const std::vector<Change>& changes) {
    const auto made = bench(note);
    action::Note out = made->note(NoteStart::believed);
    const auto adjustments = parse_changes(changes);
    EXPECT_TRUE(adjustments);
    for (double action::Adjustments::*member : action::adjustment_members)
      out.adjustments.*member += *adjustments.*member;
    return out;
  }
  void refused(const std::string& note, const std::string& rest, const std::string& body,
               int status, const std::string& saying) {
    const Heard heard = api_.post(at(note, rest), body);
    EXPECT_EQ(heard.status, status) << body;
    ASSERT_TRUE(heard.json.contains("problem")) << heard.body;
    EXPECT_THAT(heard.json["problem"]["happened"].get<std::string>(), HasSubstr(saying));
    EXPECT_FALSE(heard.json["problem"]["todo"].get<std::string>().empty()) << body;
  }

  Api api_;
};

// Where a point of a part stands by a frame of the answer; mm.
struct Place {
  double x = 0, y = 0;
};
Place placed(const json& frame, int part, double x, double y) {
  if (part < 0) return {x, y};
  const auto at = static_cast<std::size_t>(3 + 3 * part);
  const double angle = frame[at + 2].get<double>(), c = std::cos(angle), s = std::sin(angle);
  return {frame[at].get<double>() + c * x - s * y, frame[at + 1].get<double>() + s * x + c * y};
}

// Outside source: posture_at, which puts the note together anew and presses it in steps of 20 um;
// the answer takes the parts from the reading's own press, of coarser steps. posture_at ends up to
// half a step beside the depth asked for, where the crown goes up to seven times as fast as the
// key; and while the jack takes the hammer from the lever coarse steps leave it up to 0.2 mm high.
TEST_F(NoteAnswers, OutlinesAndFramesAreWhereThePressLeavesTheParts) {
  for (const char* note : {"A0", "C4", "C#4"}) {
    const Heard heard = api_.post(at(note, "/what-if"),
                                  R"({"moves":{"capstan":0.15,"drop-screw":0.1},"frames":40})");
    ASSERT_EQ(heard.status, 200) << heard.body;
    const json& frames = heard.json["frames"];
    ASSERT_GE(frames.size(), 30U);
    const action::Note with = moved(note, {{"capstan", "0.15 mm"}, {"drop-screw", "0.1 mm"}});
    int looked = 0, beside = 0;
    for (std::size_t f = 0; f < frames.size(); f += 4) {
      const double depth = frames[f][0].get<double>() * 1e-3;
      // Through the fall 2 um of the key are a millimetre of the hammer.
      const double let_off = heard.json["marks"]["let_off"].get<double>() * 1e-3;
      if (std::abs(depth - let_off) < 0.4e-3) continue;
      const auto posture = action::posture_at(with, depth);
      ASSERT_TRUE(posture);
      const double near = 0.05 + 7e3 * std::abs(posture->depth - depth);
      EXPECT_LT(near, 0.16) << depth;
      for (const json& group : heard.json["moving"])
        for (const json& shape : group["shapes"]) {
          const int part = shape["part"].get<int>();
          const json& points = shape["points"];
          for (std::size_t i = 0; i + 1 < points.size(); i += 8) {
            const double x = points[i].get<double>(), y = points[i + 1].get<double>();
            const Point wanted = action::moved(*posture, part, {x * 1e-3, y * 1e-3});
            const Place found = placed(frames[f], part, x, y);
            const double off = std::hypot(found.x - wanted.x * 1e3, found.y - wanted.y * 1e3);
            EXPECT_LT(off, 0.25 + near) << note << " " << group["code"] << " at " << depth;
            if (off > near) ++beside;
            ++looked;
          }
        }
    }
    EXPECT_GT(looked, 100) << note;
    EXPECT_LT(beside, looked / 10) << note;
  }
}

// Outside source: the command line's way, parse_changes and calc_readings of the whole note.
TEST_F(NoteAnswers, WhatIfReadsWhatTheNoteReadsWithTheSameMoves) {
  const std::vector<Change> changes{
      {"capstan", "0.2 mm"}, {"let-off-button", "-0.3 mm"}, {"repetition-spring", "5 %"}};
  const Heard heard = api_.post(
      at("F4", "/what-if"),
      R"({"moves":{"capstan":0.2,"let-off-button":-0.3,"repetition-spring":5},"frames":20})");
  ASSERT_EQ(heard.status, 200) << heard.body;
  const auto readings = action::calc_readings(moved("F4", changes));
  ASSERT_TRUE(readings);
  int compared = 0;
  for (const auto& w : action::row_words()) {
    if (w.row == action::Row::spring_rise) continue;
    const double unit = w.unit == "%" ? 1 : w.unit_si;
    const double wanted = *readings.*w.member / unit;
    const json& found = heard.json["readings"][std::string(w.code)];
    if (!std::isfinite(wanted)) {
      EXPECT_TRUE(found.is_null()) << w.code;
      continue;
    }
    EXPECT_NEAR(found.get<double>(), wanted, 6e-5) << w.code;
    ++compared;
  }
  EXPECT_EQ(compared, action::row_count - 1);
  EXPECT_EQ(heard.json["readings"]["spring-rise"], readings->spring_grade);
  // The curve's first and last rows, thousandths of a millimetre.
  EXPECT_NEAR(heard.json["press"]["down"][0].get<double>(), 1e3 * readings->down.front().depth,
              6e-4);
  const json& down = heard.json["press"]["down"];
  EXPECT_NEAR(down[down.size() - 2].get<double>(), readings->down.back().force / gram_force, 0.06);
}

// What a drag asks is the same but for what only a blow tells.
TEST_F(NoteAnswers, WithoutFramesTheSlowReadingsAreTheSame) {
  const std::string moves = R"({"moves":{"capstan":-0.2,"drop-screw":0.2})";
  const Heard quick = api_.post(at("C4", "/what-if"), moves + R"(,"depth":6})");
  const Heard whole = api_.post(at("C4", "/what-if"), moves + R"(,"depth":6,"frames":30})");
  ASSERT_EQ(quick.status, 200);
  ASSERT_EQ(whole.status, 200);
  EXPECT_FALSE(quick.json["blow"].get<bool>());
  EXPECT_TRUE(quick.json["readings"]["spring-rise"].is_null());
  for (const char* code : {"blow", "let-off", "drop", "dip", "aftertouch", "down-weight"})
    EXPECT_EQ(quick.json["readings"][code], whole.json["readings"][code]) << code;
  EXPECT_EQ(quick.json["at"], whole.json["at"]);
  EXPECT_NEAR(quick.json["at"][0].get<double>(), 6, 1e-9);
  EXPECT_TRUE(quick.json["frames"].empty());
  EXPECT_LE(whole.json["frames"].size(), 30U);
}

// Source: the plan's belief, replayed from the journal without the mechanism's press.
TEST_F(NoteAnswers, StartsFromWhatIsOnRecord) {
  const Heard heard = api_.get(at("C4"));
  ASSERT_EQ(heard.status, 200) << heard.body;
  EXPECT_EQ(heard.json["start"], "believed");
  const NoteState& state = bench("C4")->plan->plan.situation.at(Key{40});
  for (const json& row : heard.json["readings"]) {
    if (row["code"] != "blow" && row["code"] != "let-off" && row["code"] != "dip") continue;
    const auto aim = aim_of(*reading_by_code(row["code"].get<std::string>()));
    EXPECT_NEAR(row["at_believed"].get<double>(), state.at(*aim), 0.011) << row["code"];
    EXPECT_NEAR(row["at_targets"].get<double>(), row["target"].get<double>(), 0.011) << row["code"];
  }
}

TEST_F(NoteAnswers, NothingIsWrittenDown) {
  const auto before = api_.desk.store.revision(api_.demo().id);
  ASSERT_EQ(api_.post(at("C4", "/what-if"), R"({"moves":{"capstan":0.2},"frames":9})").status, 200);
  ASSERT_EQ(api_.post(at("C4", "/strokes"), R"({"touch":"struck"})").status, 200);
  EXPECT_EQ(*api_.desk.store.revision(api_.demo().id), *before);
  EXPECT_TRUE(api_.told.empty());
}

// Harm is told with its code and as what may break (core/action/words).
TEST_F(NoteAnswers, AButtonOutOfTheWayBlocks) {
  const Heard heard = api_.post(at("C4", "/what-if"), R"({"moves":{"let-off-button":-2}})");
  ASSERT_EQ(heard.status, 200) << heard.body;
  ASSERT_FALSE(heard.json["faults"].empty());
  EXPECT_EQ(heard.json["faults"][0]["fault"], "blocked");
  EXPECT_TRUE(heard.json["faults"][0]["may_break"].get<bool>());
  EXPECT_TRUE(heard.json["marks"]["let_off"].is_null());
}

TEST_F(NoteAnswers, StrokesAreThoseOfTheCommandLineThinned) {
  const Heard heard = api_.post(at("C4", "/strokes"), R"({"moves":{"capstan":0.1}})");
  ASSERT_EQ(heard.status, 200) << heard.body;
  ActionView view;
  view.note = moved("C4", {{"capstan", "0.1 mm"}});
  const auto played = play(view, {});
  ASSERT_TRUE(played);
  ASSERT_EQ(heard.json["strokes"].size(), 3U);
  for (std::size_t i = 0; i < 3; ++i) {
    const json& found = heard.json["strokes"][i];
    const action::Stroke& stroke = (*played)[i].stroke;
    EXPECT_EQ(found["effort"], (*played)[i].effort);
    EXPECT_NEAR(found["hammer_speed_m_s"].get<double>(), stroke.hammer_speed, 6e-5);
    EXPECT_NEAR(found["events"]["string"].get<double>(), 1e3 * (stroke.string - stroke.key_start),
                6e-4);
    const json& trace = found["trace"];
    ASSERT_EQ(trace.size() % 3, 0U);
    EXPECT_LE(trace.size() / 3, 150U);
    double nearest = 1;
    for (std::size_t t = 0; t < trace.size(); t += 3) {
      if (t > 0) {
        EXPECT_GT(trace[t].get<double>(), trace[t - 3].get<double>());
      }
      nearest = std::min(nearest, trace[t + 2].get<double>());
    }
    EXPECT_LT(nearest, 0.3);  // the crown reaches the string, and the thinned trace shows it
  }
}

TEST_F(NoteAnswers, RefusesWithASentence) {
  refused("C4", "/what-if", "{", 400, "no JSON object");
  refused("C4", "/what-if", "[]", 400, "no JSON object");
  refused("C4", "/what-if", R"({"mvoes":{}})", 400, "not known");
  refused("C4", "/what-if", R"({"moves":[1]})", 400, "no object of adjusters");
  refused("C4", "/what-if", R"({"moves":{"capstan":"0.2 mm"}})", 400, "no number");
  refused("C4", "/what-if", R"({"moves":{"pedal":1}})", 422, "no adjuster");
  refused("C4", "/what-if", R"({"moves":{"capstan":9}})", 422, "cannot be moved so far");
  refused("C4", "/what-if", R"({"moves":{"capstan":-1e300}})", 422, "cannot be moved so far");
  refused("C4", "/what-if", R"({"start":"yesterday"})", 400, "cannot start");
  refused("C4", "/what-if", R"({"depth":-1})", 400, "depth");
  refused("C4", "/what-if", R"({"depth":"deep"})", 400, "depth");
  refused("C4", "/what-if", R"({"frames":1e9})", 400, "frames");
  refused("C4", "/strokes", R"({"touch":"kicked"})", 422, "no touch");
  refused("C4", "/strokes", R"({"depth":1})", 400, "not known");
  refused("H4", "/what-if", "{}", 404, "H4");
  EXPECT_EQ(api_.get(at("C9")).status, 404);
  EXPECT_EQ(api_.get(at("C4"), {{"minutes", "1"}}).status, 400);
  EXPECT_EQ(api_.get("/api/pianos/nobody/notes/C4").status, 404);
}

TEST(ThinnedRows, KeepTheEndsTheTurnAndTheFall) {
  std::vector<action::SweepPoint> rows(200);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    rows[i].depth = 0.00005 * static_cast<double>(i);
    rows[i].below = i < 171 ? 0.045 - 0.00025 * static_cast<double>(i) : 0.0045;
  }
  const auto kept = thinned_rows(rows, 12);
  EXPECT_LE(kept.size(), 12U);
  EXPECT_EQ(kept.front().depth, rows.front().depth);
  EXPECT_EQ(kept.back().depth, rows.back().depth);
  EXPECT_TRUE(std::ranges::any_of(kept, [&](const auto& r) { return r.depth == rows[170].depth; }));
  EXPECT_TRUE(std::ranges::any_of(kept, [&](const auto& r) { return r.below == rows[171].below; }));
  EXPECT_EQ(thinned_rows(std::span(rows).first(7), 12).size(), 7U);
}

TEST(RowAt, LiesBetweenItsNeighboursAndStaysAtTheEnds) {
  std::vector<action::SweepPoint> rows(2);
  rows[1].depth = 0.004;
  rows[1].below = 0.02;
  rows[1].q[action::shank] = 0.1;
  EXPECT_DOUBLE_EQ(row_at(rows, 0.001).q[action::shank], 0.025);
  EXPECT_DOUBLE_EQ(row_at(rows, 0.001).below, 0.005);
  EXPECT_DOUBLE_EQ(row_at(rows, -1).depth, 0);
  EXPECT_DOUBLE_EQ(row_at(rows, 1).depth, 0.004);
  EXPECT_DOUBLE_EQ(row_at({}, 1).depth, 0);
}

}  // namespace
}  // namespace batten::server
