#include "tests/complaint/trial.hpp"

#include "core/regulation/complaint/faults.hpp"
#include "core/regulation/complaint/playing.hpp"
#include "profiles/profile_file.hpp"
#include "workshop/chance.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <string_view>

namespace batten::trial {

namespace {

using namespace complaint;
using action::Adjustments;
using action::Dimensions;
using workshop::Chance;

constexpr double mm = 1e-3, gf = 9.80665e-3;
// Notes of one piano played side by side: one in order, the others each with its fault.
constexpr std::size_t notes_a_piano = 8;

const action::Profile& profile() {
  static const action::Profile medium = [] {
    auto file = parse_profile(stored_profiles()[1].text, "medium");
    if (!file) std::abort();
    return file->profile;
  }();
  return medium;
}

const ComplaintTable& table_of(int key) {
  static std::map<int, ComplaintTable> tables;
  if (const auto found = tables.find(key); found != tables.end()) return found->second;
  const auto note = action::prepare_note(profile(), Key{key});
  if (!note) std::abort();
  auto table = calc_complaint_table(*note);
  if (!table) std::abort();
  return tables.emplace(key, std::move(*table)).first->second;
}

double either_way(Chance& chance, double share) { return 1 + share * (2 * chance.uniform() - 1); }

// How far a number differs from piano to piano, and from note to note of one.
struct Spread {
  double piano = 0, note = 0;
};
Spread spread_of(std::string_view code, const Plan& plan) {
  const auto has = [&](std::string_view part) { return code.find(part) != std::string_view::npos; };
  if (code.starts_with("string-") || has("head-felt")) return {};
  if (has("friction")) return {0.30, 0.15};
  if (has("force") || has("depth")) return {0.20, 0.05};
  if (has("spring")) return {0.10, 0.02};
  return {plan.geometry_piano, plan.geometry_note};
}

void vary(Dimensions& d, Chance& chance, const Plan& plan, double Spread::*which) {
  for (const action::DimensionField& f : action::dimension_fields()) {
    const double factor = either_way(chance, spread_of(f.code, plan).*which);
    d.*f.member = std::clamp(d.*f.member * factor, f.low, f.high);
  }
}

// The strength at which the hammer rises as wanted out of check, by trying: m/s.
std::optional<double> right_spring(const Dimensions& d, const Adjustments& set) {
  constexpr double wanted = 0.24;
  std::vector<action::Note> notes;
  std::vector<double> shares;
  for (double share = -0.3; share < 0.35; share += 0.1) {
    notes.push_back({d, set});
    notes.back().adjustments.spring = share;
    shares.push_back(share);
  }
  const auto read =
      action::calc_readings(notes, {.sweep = {}, .with_blow = true, .keep_curves = false});
  for (std::size_t k = 1; k < notes.size(); ++k) {
    if (!read[k - 1] || !read[k]) return std::nullopt;
    const double a = read[k - 1]->spring_rise, b = read[k]->spring_rise;
    if (a <= wanted && b >= wanted) return shares[k - 1] + 0.1 * (wanted - a) / (b - a);
  }
  return std::nullopt;
}

// What a hand that regulates to house tolerances leaves, standard deviations at the part.
void leave_something(Adjustments& a, Chance& chance) {
  a.capstan += 0.015 * mm * chance.normal();
  a.balance_punchings += 0.03 * mm * chance.normal();
  a.front_punchings += 0.06 * mm * chance.normal();
  a.jack_button += 0.05 * mm * chance.normal();
  a.lever_button += 0.012 * mm * chance.normal();
  a.spring += 0.04 * chance.normal();
  a.let_off_button += 0.018 * mm * chance.normal();
  a.drop_screw += 0.025 * mm * chance.normal();
  a.back_check += 0.15 * mm * chance.normal();
  a.damper_wire += 0.2 * mm * chance.normal();
}

// Faults of other kinds than the list's: none of its remedies would mend them.
constexpr const char* unlisted_names[unlisted_count] = {
    "hammer filed 2 mm shorter",
    "strings 1.8 mm nearer",
    "damper rubs in its guide",
    "damper half as heavy again",
    "shank cracked",
    "key cracked at its balance pin",
    "check leather slick",
    "knuckle glued 0.8 mm off its place",
};
void change(Dimensions& d, double Dimensions::*member, double factor, double more = 0) {
  for (const action::DimensionField& f : action::dimension_fields())
    if (f.member == member) d.*member = std::clamp(d.*member * factor + more, f.low, f.high);
}
action::Note with_unlisted(const action::Note& note, int which) {
  action::Note n = note;
  Dimensions& d = n.dimensions;
  switch (which) {
    case 0:
      change(d, &Dimensions::hammer_bore, 1, -2 * mm);
      break;
    case 1:  // the same to the mechanism as a longer head
      change(d, &Dimensions::hammer_bore, 1, 1.8 * mm);
      break;
    case 2:
      change(d, &Dimensions::damper_friction, 10);
      break;
    case 3:
      change(d, &Dimensions::damper_mass, 1.5);
      break;
    case 4:
      change(d, &Dimensions::shank_bending, 0.35);
      break;
    case 5:
      change(d, &Dimensions::key_bending, 0.35);
      break;
    case 6:
      change(d, &Dimensions::check_friction, 0.25);
      break;
    default:
      change(d, &Dimensions::knuckle_x, 1, -0.8 * mm);
      break;
  }
  return n;
}

Cause draw_cause(Chance& chance, const action::Note& note) {
  double all = 0;
  const auto kinds = cause_kinds().first(listed_cause_count);
  for (const CauseKind& k : kinds) all += can_have(note, k.id) ? k.prior : 0;
  double left = all * chance.uniform();
  for (const CauseKind& k : kinds)
    if (can_have(note, k.id) && (left -= k.prior) < 0) return k.id;
  return kinds.front().id;
}

// The note, or nothing where no hand could regulate it.
std::optional<action::Note> make_note(Dimensions d, const action::Wanted& wanted, double balance) {
  action::Note note{d, {}};
  const auto lead = action::solve_lead(note, balance);
  if (!lead) return std::nullopt;
  note.dimensions.lead_mass = *lead;
  const auto set = action::solve_regulation(note.dimensions, wanted);
  if (!set || !set->reached || !(set->readings.aftertouch > 0.5 * mm)) return std::nullopt;
  note.adjustments = set->adjustments;
  return note;
}

// What a gauge reads.
Sighting take(Look look, const LookValues& note, const LookValues& beside, Chance& chance) {
  const LookKind& kind = kind_of(look);
  const auto k = static_cast<std::size_t>(look);
  Sighting s{look, std::nullopt, std::nullopt, std::nullopt};
  const double noise = kind.usual_uncertainty;
  const auto read = [&](double truth, double sd) {
    double v = truth + sd * chance.normal();
    if (kind.unit == ReadingUnit::grade) v = std::round(v);
    return std::clamp(v, kind.possible_low, kind.possible_high);
  };
  const double base = look == Look::key_height ? 65 : 0;
  if (!std::isnan(note[k])) s.value = read(base + note[k], noise);
  // Two neighbours are read as well.
  const bool compared = kind.unit != ReadingUnit::grade;
  if (compared && !std::isnan(beside[k])) s.beside = read(base + beside[k], noise / std::sqrt(2.0));
  return s;
}

Step step_of(const Diagnosis& d, const std::vector<Cause>& truth) {
  Step s;
  s.leader = d.ranked.front().cause;
  s.probability = d.ranked.front().probability;
  s.known = d.known;
  s.entropy = d.entropy;
  for (std::size_t i = 0; i < d.ranked.size(); ++i)
    if (std::ranges::find(truth, d.ranked[i].cause) != truth.end()) {
      if (s.rank == 0) s.rank = static_cast<int>(i) + 1;
      s.truth += d.ranked[i].probability;
    }
  return s;
}

// What the diagnosis would have looked at next, and what it expects of it.
void plan_next(const Diagnosis& d, bool one_figure, const std::vector<Sighting>& seen, Step& s) {
  if (one_figure) {
    if (d.next_figures.empty()) return;
    s.next = {d.next_figures.front().look};
    s.expected_entropy = d.next_figures.front().entropy_after;
    return;
  }
  if (d.next.empty()) return;
  for (const Look look : kind_of(d.next.front().taking).looks)
    if (std::ranges::find(seen, look, &Sighting::look) == seen.end()) s.next.push_back(look);
  s.expected_entropy = d.next.front().entropy_after;
}

void ask(Case& c, const ComplaintTable& table, const LookValues& note, const LookValues& beside,
         const Plan& plan, Chance& chance) {
  std::vector<Sighting> seen;
  for (int taken = 0;; ++taken) {
    const auto d = diagnose(table, c.felt, seen);
    if (!d) std::abort();
    c.steps.push_back(step_of(*d, c.truth));
    Step& step = c.steps.back();
    if (taken < plan.readings && step.probability < plan.sure)
      plan_next(*d, plan.one_figure, seen, step);
    if (step.next.empty()) return;
    for (const Look look : step.next) seen.push_back(take(look, note, beside, chance));
  }
}

// Up to seven cases of one piano; fewer where notes cannot be regulated or nobody complains.
void try_piano(const Plan& plan, std::uint64_t seed, std::vector<Case>& out) {
  Chance chance(seed);
  const Key key{plan.keys[seed % plan.keys.size()]};
  const action::Anchor anchor = action::note_of(profile(), key);
  Dimensions piano = anchor.dimensions;
  const bool damped = piano.damper_start <= 1;
  vary(piano, chance, plan, &Spread::piano);
  if (!damped) piano.damper_start = anchor.dimensions.damper_start;
  action::Wanted wanted = anchor.wanted;
  auto sound = make_note(piano, wanted, anchor.balance_weight);
  if (!sound) return;
  const auto spring = right_spring(sound->dimensions, sound->adjustments);
  if (!spring) return;
  wanted.spring = *spring;
  sound = make_note(piano, wanted, anchor.balance_weight);
  if (!sound) return;
  const auto hand = choose_hand(*sound);
  if (!hand) return;

  std::vector<action::Note> notes{*sound}, before;
  std::vector<Case> cases;
  while (notes.size() < notes_a_piano) {
    Dimensions d = piano;
    vary(d, chance, plan, &Spread::note);
    auto note = make_note(d, wanted, anchor.balance_weight + 1.0 * gf * chance.normal());
    if (!note) return;
    leave_something(note->adjustments, chance);
    before.push_back(*note);
    Case c;
    if (plan.kind == Kind::single || plan.kind == Kind::two) {
      c.truth.push_back(draw_cause(chance, *note));
      c.size = chance.uniform();
      *note = with_fault(*note, c.truth[0], size_at(c.truth[0], c.size));
    }
    if (plan.kind == Kind::two) {
      Cause other = c.truth[0];
      while (other == c.truth[0]) other = draw_cause(chance, *note);
      c.truth.push_back(other);
      *note = with_fault(*note, other, size_at(other, chance.uniform()));
    }
    if (plan.kind == Kind::unlisted) {
      c.unlisted = chance.between(0, unlisted_count - 1);
      *note = with_unlisted(*note, c.unlisted);
    }
    notes.push_back(*note);
    cases.push_back(c);
  }
  // The same notes before they had their fault: what was felt of them then is not its doing.
  if (plan.kind != Kind::none) notes.insert(notes.end(), before.begin(), before.end());
  const auto played = play(notes, *hand);
  if (!played[0]) return;
  const LookValues beside = calc_looks(*played[0], *played[0]);
  for (std::size_t i = 1; i <= cases.size(); ++i) {
    Case& c = cases[i - 1];
    const std::size_t as_before = plan.kind == Kind::none ? 0 : i + cases.size();
    if (!played[i] || !played[as_before]) continue;
    const Player player{std::exp(0.15 * chance.normal()), 1};
    const Feelings felt = calc_feelings(*played[i], *played[0], player);
    const Feelings already = calc_feelings(*played[as_before], *played[0], player);
    for (std::size_t k = 0; k < complaint_count; ++k) {
      const double u = chance.uniform();
      const bool now = u < (plan.kind == Kind::none ? mention(felt[k]) : told * felt[k]);
      if (now && (plan.kind == Kind::none || u >= told * already[k]))
        c.felt.push_back(static_cast<Complaint>(k));
    }
    if (c.felt.empty()) continue;
    ask(c, table_of(key.number), calc_looks(*played[i], *played[0]), beside, plan, chance);
    out.push_back(c);
  }
}

}  // namespace

const char* unlisted_name(int which) { return unlisted_names[which]; }

std::vector<Case> try_cases(const Plan& plan) {
  std::vector<Case> out;
  for (std::uint64_t i = 0; static_cast<int>(out.size()) < plan.cases; ++i)
    try_piano(plan, plan.first_seed + i, out);
  out.resize(static_cast<std::size_t>(plan.cases));
  return out;
}

Share share(int yes, int of) {
  const double n = of, p = yes / n;
  return {p, yes == 0 || yes == of ? 1 / n : std::sqrt(p * (1 - p) / n), of};
}

}  // namespace batten::trial
