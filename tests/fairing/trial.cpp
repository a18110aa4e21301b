#include "tests/fairing/trial.hpp"

#include "core/fairing/fair_curve.hpp"
#include "core/keyboard/samples.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace batten::trial {

namespace {

constexpr double settled_from = 0.9;
constexpr int readings_more = 3;

// Seeds of the planting are far from those of the pianos.
constexpr std::uint64_t planting_seed = 1'000'000'007;

Figure mean_of(const std::vector<double>& values) {
  const auto n = static_cast<double>(values.size());
  double sum = 0;
  for (double v : values) sum += v;
  const double mean = sum / n;
  double squares = 0;
  for (double v : values) squares += (v - mean) * (v - mean);
  return {mean, std::sqrt(squares / (n - 1) / n)};
}

struct Piano {
  workshop::StringLine line;
  std::vector<HeightReading> readings;
};

std::vector<HeightReading> read(const Plan& plan, const workshop::StringLine& line,
                                const std::vector<Key>& keys, workshop::Chance& chance) {
  auto readings = take_readings(line, keys, chance, plan.readings);
  for (HeightReading& r : readings) r.uncertainty = plan.stated * r.uncertainty;
  return readings;
}

Piano make_piano(const Plan& plan, int i) {
  workshop::Chance chance(plan.first_seed + static_cast<std::uint64_t>(i));
  Piano p;
  p.line = make_string_line(chance, plan.strings);
  const auto& sections = p.line.sections;
  const auto keys = plan.fuller ? propose_fuller_samples(sections) : propose_samples(sections);
  p.readings = read(plan, p.line, keys, chance);
  return p;
}

double rms_error(const Piano& p, const FairCurve& curve) {
  std::vector<Length> errors;
  for (const SectionCurve& s : curve.sections)
    for (const FairPoint& f : s.points) errors.push_back(f.height - p.line.at(f.key));
  return evenness(errors).in(millimetre);
}

double covered(const Piano& p, const FairCurve& curve) {
  int inside = 0, keys = 0;
  for (const SectionCurve& s : curve.sections)
    for (const FairPoint& f : s.points) {
      ++keys;
      inside += abs(f.height - p.line.at(f.key)) <= 1.96 * f.sd ? 1 : 0;
    }
  return static_cast<double>(inside) / keys;
}

constexpr std::size_t no_reading = ~std::size_t{0};

// Share of the readings but `planted` that are doubted at least so much.
double share_doubted(const FairCurve& curve, Doubt least, std::size_t planted = no_reading) {
  int doubted = 0, all = 0;
  for (std::size_t i = 0; i < curve.judgements.size(); ++i) {
    if (i == planted) continue;
    ++all;
    doubted += curve.judgements[i].doubt >= least ? 1 : 0;
  }
  return static_cast<double>(doubted) / all;
}

enum class Where { anywhere, inside, end };

// Spoils one reading and says which.
std::size_t plant(Piano& p, const Plan& plan, int i, Where where) {
  workshop::Chance chance(planting_seed + plan.first_seed + static_cast<std::uint64_t>(i));
  std::vector<std::size_t> places;
  for (std::size_t r = 0; r < p.readings.size(); ++r) {
    const Key key = p.readings[r].key;
    const bool at_end = std::ranges::any_of(
        p.line.sections, [&](const Section& s) { return key == s.first || key == s.last; });
    if (where == Where::anywhere || at_end == (where == Where::end)) places.push_back(r);
  }
  const auto r =
      places[static_cast<std::size_t>(chance.between(0, static_cast<int>(places.size()) - 1))];
  p.readings[r].height += chance.coin() ? plan.planted : -plan.planted;
  return r;
}

}  // namespace

Honest try_honest(const Plan& plan) {
  std::vector<double> count, rms, coverage, flags;
  for (int i = 0; i < plan.pianos; ++i) {
    const Piano p = make_piano(plan, i);
    const FairCurve curve = *fair(p.line.sections, p.readings);
    count.push_back(static_cast<double>(p.readings.size()));
    rms.push_back(rms_error(p, curve));
    coverage.push_back(covered(p, curve));
    flags.push_back(share_doubted(curve, Doubt::flag));
  }
  Honest out{mean_of(count), mean_of(rms), 0, mean_of(coverage), mean_of(flags)};
  std::ranges::sort(rms);
  out.rms_95 = rms[rms.size() * 95 / 100];
  return out;
}

Planted try_planted(const Plan& plan, bool at_end) {
  std::vector<double> flagged, flags, rms;
  for (int i = 0; i < plan.pianos; ++i) {
    Piano p = make_piano(plan, i);
    const std::size_t planted = plant(p, plan, i, at_end ? Where::end : Where::inside);
    const FairCurve curve = *fair(p.line.sections, p.readings);
    flagged.push_back(curve.judgements[planted].doubt >= Doubt::flag ? 1 : 0);
    flags.push_back(share_doubted(curve, Doubt::flag, planted));
    rms.push_back(rms_error(p, curve));
  }
  return {mean_of(flagged), mean_of(flags), mean_of(rms)};
}

Followed try_followed(const Plan& plan) {
  std::vector<double> settled, wrong, rms;
  for (int i = 0; i < plan.pianos; ++i) {
    Piano p = make_piano(plan, i);
    const std::size_t planted = plant(p, plan, i, Where::anywhere);
    workshop::Chance chance(2 * planting_seed + plan.first_seed + static_cast<std::uint64_t>(i));
    FairCurve curve = *fair(p.line.sections, p.readings);
    for (int more = 0; more < readings_more; ++more) {
      const auto taken = read(plan, p.line, {curve.next.front().key}, chance);
      p.readings.push_back(taken.front());
      curve = *fair(p.line.sections, p.readings);
    }
    const ReadingJudgement& j = curve.judgements[planted];
    settled.push_back(j.doubt == Doubt::wrong && j.chance_wrong >= settled_from ? 1 : 0);
    wrong.push_back(share_doubted(curve, Doubt::wrong, planted));
    rms.push_back(rms_error(p, curve));
  }
  return {mean_of(settled), mean_of(wrong), mean_of(rms)};
}

}  // namespace batten::trial
