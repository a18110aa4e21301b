#include "tests/planning/linear_piano.hpp"

#include "core/regulation/catalogue/readings.hpp"
#include "core/regulation/planning/replay.hpp"
#include "profiles/profile_file.hpp"

#include <cmath>

namespace batten::testing {
namespace {

constexpr auto at(Aim aim) { return static_cast<Eigen::Index>(aim); }
constexpr auto at(Adjuster adjuster) { return static_cast<Eigen::Index>(adjuster); }
constexpr const char* sections = "F2 bridge, D4 strut, B5 strut";

const ActionModel& shared_model() {
  static const ActionModel model = [] {
    const auto targets = targets_on_record({}, *parse_sections(sections, {}), {});
    for (const StoredProfile& stored : stored_profiles())
      if (stored.name == "medium")
        return *calc_action_model(parse_profile(stored.text, "medium")->profile, {}, *targets);
    return ActionModel{};
  }();
  return model;
}

}  // namespace

LinearPiano::LinearPiano(std::uint64_t seed) : chance_(seed), model_(shared_model()) {
  const auto targets = targets_on_record({}, *parse_sections(sections, {}), {});
  for (int k = 1; k <= 88; ++k) {
    AimVector v = model_.at(Key{k}).at_target;
    for (const Aim aim : all_aims)
      if (const auto t = targets->at(aim, Key{k})) v(at(aim)) = *t;
    truth_.push_back(v);
  }
  for (Eigen::Index a = 0; a < pitch_.size(); ++a)
    pitch_(a) = 1 + screw_prior(static_cast<Adjuster>(a)).sd_piano * chance_.normal();
  set("sections", sections);
}

void LinearPiano::misset(Key key, Aim aim, double by) { truth_[place(key)](at(aim)) += by; }

void LinearPiano::misset_all(double tolerances) {
  for (int k = 1; k <= 88; ++k)
    for (const Aim aim : all_aims) {
      if (aim == Aim::aftertouch || aim == Aim::key_height) continue;
      const auto& kind = kind_of(reading_of(aim, Key{k}));
      const double t = std::max(*kind.tolerance_absolute, 0.1);
      const double by = tolerances * t * chance_.normal();
      truth_[place(Key{k})](at(aim)) += by;
      // The aftertouch follows by the identity R1 : + dip, - blow / R, + let-off / R, and
      // what the jack must rise first is lost.
      const planning::Tie tie = planning::tie_of(model_.at(Key{k}));
      AimVector change = AimVector::Zero();
      change(at(aim)) = by;
      truth_[place(Key{k})](at(Aim::aftertouch)) += tie.predict(change);
    }
}

double LinearPiano::truth(Key key, Aim aim) const { return truth_[place(key)](at(aim)); }

void LinearPiano::write(EntryContent content) {
  Entry e;
  const std::size_t n = journal_.size() + 1;
  for (std::size_t i = 0; i < 4; ++i) e.id.bytes[i] = static_cast<std::uint8_t>(n >> (8 * i));
  e.at_ms = static_cast<std::int64_t>(n) * 20000;
  e.content = std::move(content);
  journal_.push_back(std::move(e));
}

void LinearPiano::prepare(PreparationState state) {
  for (const PreparationKind& k : preparation_kinds())
    write(PreparationNoted{k.id, std::nullopt, state, ""});
}

void LinearPiano::set(const std::string& name, const std::string& value) {
  write(SettingChosen{name, value});
}

void LinearPiano::read_value(Key key, Reading reading, double value, double uncertainty) {
  write(ReadingTaken{reading, key, value, uncertainty, "", ""});
}

void LinearPiano::read(Key key, Aim aim, double noise) {
  const Reading reading = reading_of(aim, key);
  const double sd = kind_of(reading).usual_uncertainty / 2;
  read_value(key, reading, truth(key, aim) + noise * sd * chance_.normal(), sd);
}

void LinearPiano::read_all(double noise) {
  for (int k = 1; k <= 88; ++k)
    for (const Aim aim : all_aims) read(Key{k}, aim, noise);
}

void LinearPiano::turn(Key key, Adjuster adjuster, double amount, double did) {
  const double part = amount * did * pitch_(at(adjuster)) * screw_prior(adjuster).per_unit;
  truth_[place(key)] += model_.at(key).influence.col(at(adjuster)) * part;
  write(MoveMade{adjuster, key, amount, ""});
}

void LinearPiano::carry_out(const Instruction& step, double noise) {
  if (step.kind == Instruction::Kind::read) {
    read(step.key, *aim_of(step.reading), noise);
    return;
  }
  turn(step.key, step.adjuster, step.amount, 1 + 0.02 * noise * chance_.normal());
  if (step.read_after) read(step.key, aim_for(step.adjuster), noise);
}

Plan LinearPiano::plan(const PlanOptions& options) const {
  return *calc_plan({}, standing(), model_, options);
}

}  // namespace batten::testing
