// Before the search: what may be read is checked, and settings are found from which it can begin.
#include "core/fit/model.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <optional>
#include <string>

namespace batten::fit {

namespace {

using action::Adjustments;
using action::Anchor;
using action::Note;
using action::Readings;

std::string millimetres(double m) {
  const long hundredths = std::lround(m * 1e5);
  const std::string text = std::to_string(std::abs(hundredths));
  const std::string padded = std::string(text.size() < 3 ? 3 - text.size() : 0, '0') + text;
  return (hundredths < 0 ? "-" : "") + padded.substr(0, padded.size() - 2) + "." +
         padded.substr(padded.size() - 2) + " mm";
}

std::string_view name_of(What what) {
  constexpr std::string_view names[what_count] = {"blow",      "let-off",    "drop",
                                                  "dip",       "aftertouch", "down weight",
                                                  "up weight", "rise",       "dimension"};
  return names[static_cast<std::size_t>(what)];
}

Result<void> check_reading(const Reading& r) {
  const std::string where = std::string(name_of(r.what)) + " at " + note_name(r.note);
  if (!std::isfinite(r.value) || !std::isfinite(r.depth))
    return problem("The " + where + " is not a number.");
  if (!(r.sd > 0) || !std::isfinite(r.sd))
    return problem("The " + where + " has no uncertainty.", "Give one standard deviation.");
  if (r.what == What::rise && !(r.depth > 0))
    return problem("The " + where + " is given at no key depth.", "Depths are positive.");
  if (r.what == What::ratio || r.what == What::course)
    return problem("The " + where + " is no reading.");
  if (r.what == What::dimension && r.member == nullptr)
    return problem("The " + where + " does not say which.");
  return {};
}

Result<void> check_parameter(const Parameter& p) {
  if (!(p.prior_sd > 0) || !std::isfinite(p.prior_sd) || p.members.empty())
    return problem("\"" + std::string(p.code) +
                   "\" cannot be fitted: it has no prior or no place.");
  return {};
}

// What a note is to be set to: the mean of what was read, else what is assumed.
double target(const SampleNote& note, What what) {
  double sum = 0, count = 0;
  for (std::size_t i = 0; i < note.taken; ++i)
    if (note.readings[i].what == what) sum += note.readings[i].value, ++count;
  if (count > 0) return sum / count;
  for (std::size_t i = note.taken; i < note.counted; ++i)
    if (note.readings[i].what == what) return note.readings[i].value;
  return std::nan("");
}

action::ReadOptions plainly() {
  action::ReadOptions options;
  options.with_blow = options.keep_curves = false;
  return options;
}

// Where, on a row of values of a setting, the reading passes the target, linearly; else where it
// comes nearest. Nothing where it is never there to be read.
struct Found {
  double setting = 0, value = 0;
};
std::optional<Found> find_along(const Note& note, double Adjustments::*setting, double from,
                                double step, int count, double Readings::*reading, double wanted) {
  std::vector<Note> notes;
  for (int k = 0; k < count; ++k) {
    notes.push_back(note);
    notes.back().adjustments.*setting = from + k * step;
  }
  const auto all = action::calc_readings(notes, plainly());
  std::optional<Found> best;
  std::optional<Found> before;
  for (std::size_t k = 0; k < all.size(); ++k) {
    std::optional<Found> here;
    if (all[k] && std::isfinite((*all[k]).*reading))
      here = Found{from + static_cast<double>(k) * step, (*all[k]).*reading};
    if (here && (!best || std::abs(here->value - wanted) < std::abs(best->value - wanted)))
      best = here;
    if (here && before && (here->value - wanted) * (before->value - wanted) <= 0) {
      const double share = (wanted - before->value) / (here->value - before->value);
      return Found{before->setting + share * step, wanted};
    }
    before = here;
  }
  return best;
}

// Secant rounds on a reading that is nearly a straight line in a setting.
void follow(Note& note, double& setting, double step,
            const std::function<double(const Readings&)>& f, double wanted) {
  const auto read = [&] {
    const auto r = action::calc_readings(note, plainly());
    return r ? f(*r) : std::nan("");
  };
  double last = read(), moved = step;
  for (int round = 0; round < 4 && std::isfinite(last) && std::abs(last - wanted) > 1e-6; ++round) {
    setting += moved;
    const double here = read();
    if (!std::isfinite(here) || here == last) {
      setting -= moved;
      return;
    }
    const double slope = (here - last) / moved;
    moved = std::clamp((wanted - here) / slope, -20 * step, 20 * step);
    last = here;
  }
}

// Share the springs are strengthened: so that the repetition lever carries the hammer through the
// slow press, as it does on an action whose platform is in order. Where it only just does, the
// crown sinks on the jack by nearly a millimetre somewhere on its way, and readings jump with any
// number of the profile (estimate: works for masses and frictions two standard deviations off).
constexpr double firm_spring = 0.25;

Result<void> find_start(const Anchor& anchor, SampleNote& sample) {
  Note note{anchor.dimensions, {}};
  Adjustments& a = note.adjustments;
  const double let_off = target(sample, What::let_off), dip = target(sample, What::dip);
  a.spring = firm_spring;
  // Out of the way while blow and let-off are found.
  a.drop_screw = 0.003;
  a.front_punchings = -0.003;
  follow(
      note, a.capstan, 2e-4, [](const Readings& r) { return r.blow; }, target(sample, What::blow));
  auto found = find_along(note, &Adjustments::let_off_button, 0.0005, 0.0002, 40,
                          &Readings::let_off, let_off);
  if (found) {
    const double from = found->setting - 0.0002;
    found = find_along(note, &Adjustments::let_off_button, from, 0.00005, 8, &Readings::let_off,
                       let_off);
  }
  constexpr double near_enough = 0.002;
  if (!found || std::abs(found->value - let_off) > near_enough)
    return problem("At " + note_name(sample.key) + " no let-off of " + millimetres(let_off) +
                       " can be set on this profile.",
                   "Check blow and let-off there, or begin from another profile.");
  a.let_off_button = found->setting;
  if (const auto screw = find_along(note, &Adjustments::drop_screw, 0.002, 0.0002, 24,
                                    &Readings::drop, target(sample, What::drop)))
    a.drop_screw = screw->setting;
  a.front_punchings = 0;
  follow(
      note, a.front_punchings, 2e-4, [](const Readings& r) { return r.dip; }, dip);
  const double down = target(sample, What::down_weight), up = target(sample, What::up_weight);
  double balance = 0.5 * (down + up);
  if (!std::isfinite(balance)) balance = anchor.balance_weight;
  follow(
      note, note.dimensions.lead_mass, 0.01,
      [](const Readings& r) { return 0.5 * (r.down_weight + r.up_weight); }, balance);
  sample.start = {a, note.dimensions.lead_mass};
  return {};
}

// Everything read must be there to be read at the start.
Result<void> check_start(const Model& model) {
  std::vector<double> x = model.start, read(model.reading_count);
  x.resize(model.unknown_count(), 0.0);
  calc_read(model, x, read);
  for (const SampleNote& note : model.notes)
    for (std::size_t i = 0; i < note.counted; ++i) {
      if (std::isfinite(read[note.first + i])) continue;
      const Reading& r = note.readings[i];
      std::string happened = "At " + note_name(note.key) + " the profile, set as read, shows no " +
                             std::string(name_of(r.what));
      if (r.what == What::rise) happened += " at a depth of " + millimetres(r.depth);
      return problem(happened + ".",
                     "Check blow, let-off and dip there: the key bottoms before the hammer lets "
                     "go, or a depth lies past the dip.");
    }
  return {};
}

}  // namespace

std::vector<Reading> assumed_readings(const Anchor& note) {
  return {{note.key, What::blow, note.wanted.blow, 1.5e-3},
          {note.key, What::let_off, note.wanted.let_off, 0.7e-3},
          {note.key, What::drop, note.wanted.drop, 0.7e-3},
          {note.key, What::dip, note.wanted.dip, 0.4e-3}};
}

Result<Model> make_model(const Task& task, std::span<const double> start) {
  if (auto ok = action::check(task.base); !ok) return tl::unexpected(ok.error());
  for (const Parameter& p : task.parameters)
    if (auto ok = check_parameter(p); !ok) return tl::unexpected(ok.error());
  std::map<Key, SampleNote> notes;
  for (const Reading& r : task.readings) {
    if (auto ok = check_reading(r); !ok) return tl::unexpected(ok.error());
    notes[r.note].key = r.note;
    notes[r.note].readings.push_back(r);
  }
  if (notes.size() < 2)
    return problem("Readings at fewer than two notes cannot be fitted.",
                   "Read at least blow, let-off, dip and aftertouch at a few samples.");
  Model model;
  model.task = task;
  model.start.assign(start.begin(), start.end());
  model.start.resize(task.parameters.size(), 0.0);
  const action::Profile begun = profile_at(task, model.start);
  if (auto ok = action::check(begun); !ok) return tl::unexpected(ok.error());
  for (auto& [key, note] : notes) {
    const Anchor anchor = action::note_of(begun, key);
    note.taken = note.readings.size();
    for (const Reading& assumed : assumed_readings(anchor))
      if (std::none_of(note.readings.begin(), note.readings.end(),
                       [&](const Reading& r) { return r.what == assumed.what; }))
        note.readings.push_back(assumed);
    note.counted = note.readings.size();
    note.readings.push_back({key, What::ratio, 0, 1});
    const bool middle = model.notes.size() == notes.size() / 2;
    if (middle ||
        std::ranges::any_of(note.readings, [](const Reading& r) { return r.what == What::rise; }))
      note.readings.push_back({key, What::course, 0, 1});
    if (auto ok = find_start(anchor, note); !ok) return tl::unexpected(ok.error());
    note.first = model.reading_count;
    model.reading_count += note.readings.size();
    model.notes.push_back(note);
  }
  if (auto ok = check_start(model); !ok) return tl::unexpected(ok.error());
  return model;
}

}  // namespace batten::fit
