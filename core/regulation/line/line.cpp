#include "core/regulation/line/line.hpp"

#include "core/numerics/weighted_mean.hpp"
#include "core/regulation/line/advise.hpp"
#include "core/regulation/line/aftertouch.hpp"
#include "core/regulation/line/gather.hpp"
#include "core/regulation/line/order.hpp"
#include "core/regulation/line/transfer.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

namespace batten {

namespace {

using namespace line;

Length hypot(Length a, Length b) { return Length::from_si(std::hypot(a.si(), b.si())); }

Length blow_target(const Section& s, const BlowTarget& t, Key key) {
  const double range = std::max(1, s.count() - 1);
  return t.at_first + (t.at_last - t.at_first) * ((key.number - s.first.number) / range);
}

// Strings and target of one note, as far as they are known.
NoteLine describe(Key key, const Line& line, const FairCurve& strings, const Readings& readings) {
  NoteLine n;
  n.key = key;
  n.section = section_of(line.settings.sections, key);
  const auto s = static_cast<std::size_t>(n.section);
  n.sample = std::ranges::binary_search(line.settings.samples, key);
  n.blow_target = blow_target(line.settings.sections[s], line.settings.blow[s], key);
  const FairPoint& fair = *strings.at(key);
  n.string_fair = fair.height;
  n.string_sd = fair.sd;
  n.target = fair.height - n.blow_target;
  n.target_sd = fair.sd;

  std::vector<double> read, read_sd;
  for (std::size_t i = 0; i < readings.strings.size(); ++i)
    if (readings.strings[i].key == key && strings.judgements[i].doubt != Doubt::wrong) {
      read.push_back(readings.strings[i].height.si());
      read_sd.push_back(readings.strings[i].uncertainty.si());
    }
  if (!read.empty()) {
    const WeightedMean mean = weighted_mean(read, read_sd);
    n.string_read = Length::from_si(mean.mean);
    n.string_read_sd = Length::from_si(mean.sd());
  }

  return n;
}

struct Deviation {
  Length hammer, hammer_sd;
  std::optional<Length> value, sd;  // nothing where no target is known
};

Deviation by_gauge(const NoteLine& n, const Measured& read, const Line& line,
                   const Transfer& transfer) {
  Deviation d{read.value, read.sd, {}, {}};
  if (line.settings.hammers_on_bench) {
    d.hammer += transfer.offset(n.key);
    d.hammer_sd = hypot(d.hammer_sd, transfer.sd(n.key));
  }
  if (std::isfinite(n.target_sd.si())) {
    d.value = d.hammer - n.target;
    d.sd = hypot(d.hammer_sd, n.target_sd);
  }
  return d;
}

// The block was held against the string itself: the line of the strings does not come in.
Deviation by_block(const NoteLine& n, const Measured& read) {
  const Length off = n.blow_target - read.value;
  return {n.target + off, read.sd, off, read.sd};
}

// Beyond this many combined standard deviations gauge and block do not speak of the same hammer.
constexpr double contradiction = 3;

// Fills hammer and deviation from the gauge or the block: of two visits the later, of one the
// gauge, unless they contradict each other.
void fill_deviation(NoteLine& n, Grounds& grounds, const Line& line, const Readings& readings,
                    const Transfer& transfer) {
  const auto gauge = readings.hammers.find(n.key);
  const auto block = readings.blows.find(n.key);
  const bool has_gauge = gauge != readings.hammers.end() && line.transfer.ready;
  const bool has_block = block != readings.blows.end();
  if (!has_gauge && !has_block) return;
  grounds.by_block = !has_gauge || (has_block && block->second.visit != gauge->second.visit &&
                                    block->second.place > gauge->second.place);
  const Deviation d =
      grounds.by_block ? by_block(n, block->second) : by_gauge(n, gauge->second, line, transfer);
  grounds.contradicted =
      grounds.by_block ? block->second.repeats_disagree : gauge->second.repeats_disagree;
  if (has_gauge && has_block && block->second.visit == gauge->second.visit && d.value) {
    const Deviation other = by_block(n, block->second);
    grounds.contradicted |= abs(*d.value - *other.value) > contradiction * hypot(*d.sd, *other.sd);
  }
  grounds.bench_unsure = line.settings.hammers_on_bench && !grounds.by_block &&
                         hypot(n.target_sd, transfer.sd(n.key)) > unsure_target;
  n.deviation = d.value;
  n.deviation_sd = d.sd;
  if (!grounds.by_block || std::isfinite(n.target_sd.si())) {
    n.hammer = d.hammer;
    n.hammer_sd = d.hammer_sd;
  }
}

// A doubtful string with no good reading beside it is not followed by its own hammer either; and a
// section read at too few keys could not contradict a slip.
bool strings_unsure(const NoteLine& n, const Line& line, const FairCurve& strings,
                    const Readings& readings) {
  bool doubtful = false, good = false;
  std::set<Key> keys;
  const Section& section = line.settings.sections[static_cast<std::size_t>(n.section)];
  for (std::size_t i = 0; i < readings.strings.size(); ++i) {
    const bool trusted = strings.judgements[i].doubt < Doubt::flag;
    const Key key = readings.strings[i].key;
    if (section.contains(key) && strings.judgements[i].doubt != Doubt::wrong) keys.insert(key);
    if (key == n.key) (trusted ? good : doubtful) = true;
  }
  return (doubtful && !good) || static_cast<int>(keys.size()) < fewest_string_keys;
}

// Scatter of the hammers about their line, from each one against the straight line between its two
// neighbours: sd of that is sqrt(1.5) times the scatter. Robust by the median.
double hammer_scatter(const std::vector<HeightReading>& hammers,
                      const std::vector<Section>& sections) {
  std::vector<double> size;
  for (std::size_t i = 1; i + 1 < hammers.size(); ++i) {
    const Key a = hammers[i - 1].key, b = hammers[i].key, c = hammers[i + 1].key;
    if (section_of(sections, a) != section_of(sections, c)) continue;
    const double t = double(b.number - a.number) / (c.number - a.number);
    const double between =
        (1 - t) * hammers[i - 1].height.in(millimetre) + t * hammers[i + 1].height.in(millimetre);
    size.push_back(std::abs(hammers[i].height.in(millimetre)-between));
  }
  constexpr double least_scatter = 0.1;  // mm: the gauge itself
  if (size.empty()) return least_scatter;
  const auto middle = size.begin() + static_cast<std::ptrdiff_t>(size.size() / 2);
  std::nth_element(size.begin(), middle, size.end());
  return std::max(least_scatter, 1.4826 * *middle / std::sqrt(1.5));
}

// What the eye sees: each hammer against the fair curve of the others around it.
Result<void> compare_neighbours(Line& line) {
  std::vector<HeightReading> hammers;
  for (const NoteLine& n : line.notes)
    if (n.hammer && n.verdict != Verdict::out_of_service)
      hammers.push_back({n.key, *n.hammer, 0.1 * millimetre});
  const double scatter = hammer_scatter(hammers, line.settings.sections);
  for (HeightReading& h : hammers) h.uncertainty = scatter * millimetre;
  // Scatter is what is looked for here, so nothing is learned about it and no hammer is "wrong".
  FairingOptions options;
  options.nodes = 1;
  options.wrong_share = 1e-9;
  auto curve = fair(line.settings.sections, hammers, options);
  if (!curve) return tl::unexpected(curve.error());
  for (std::size_t i = 0; i < hammers.size(); ++i) {
    const auto at = static_cast<std::size_t>(line.compass.position(hammers[i].key));
    line.notes[at].to_neighbours = hammers[i].height - curve->judgements[i].expected;
  }
  return {};
}

std::vector<Finding> make_findings(const Readings& readings, const FairCurve& strings) {
  std::vector<Finding> list;
  for (std::size_t i = 0; i < readings.strings.size(); ++i) {
    const ReadingJudgement& j = strings.judgements[i];
    if (j.doubt == Doubt::none) continue;
    list.push_back(
        {j.doubt == Doubt::ask ? Finding::Kind::reading_asked : Finding::Kind::reading_flagged,
         readings.strings[i].key, readings.strings[i].height, j.expected, j.expected_sd,
         j.chance_wrong});
  }
  for (const UnisonSpread& u : readings.unisons)
    list.push_back({Finding::Kind::unison_off_level, u.key, u.spread, Length(), Length(), 0});
  std::stable_sort(list.begin(), list.end(), [](const Finding& a, const Finding& b) {
    return std::pair(a.kind, a.key) < std::pair(b.kind, b.key);
  });
  return list;
}

struct Tally {
  std::vector<Length> to_target, to_neighbours;
  void add(const NoteLine& n) {
    if (n.verdict == Verdict::out_of_service || n.verdict == Verdict::read_again) return;
    if (n.deviation) to_target.push_back(*n.deviation);
    if (n.to_neighbours) to_neighbours.push_back(*n.to_neighbours);
  }
  static std::optional<Length> rms(const std::vector<Length>& v) {
    if (v.empty()) return std::nullopt;
    return evenness(v);
  }
};

void summarise(Line& line, const FairCurve& strings) {
  Tally all;
  for (std::size_t s = 0; s < line.settings.sections.size(); ++s) {
    SectionSummary sum;
    sum.section = line.settings.sections[s];
    sum.blow = line.settings.blow[s];
    sum.strings_read = strings.sections[s].reading_count;
    Tally tally;
    std::vector<Length> target_sds;
    for (int k = sum.section.first.number; k <= sum.section.last.number; ++k) {
      const NoteLine& n = line.at(Key{k});
      tally.add(n);
      all.add(n);
      target_sds.push_back(n.target_sd);
      sum.hammers_read += n.deviation || n.hammer ? 1 : 0;
      sum.moves += n.verdict == Verdict::move ? 1 : 0;
    }
    sum.evenness_to_target = Tally::rms(tally.to_target);
    sum.evenness_to_neighbours = Tally::rms(tally.to_neighbours);
    sum.target_sd_rms = evenness(target_sds);
    line.sections.push_back(sum);
  }
  line.evenness_to_target = Tally::rms(all.to_target);
  line.evenness_to_neighbours = Tally::rms(all.to_neighbours);
}

}  // namespace

Result<Line> calc_line(Compass compass, const Standing& standing) {
  auto settings = line_settings(compass, standing.settings);
  if (!settings) return tl::unexpected(settings.error());
  const Readings readings = gather(compass, standing);
  auto strings = fair(settings->sections, readings.strings);
  if (!strings) return tl::unexpected(strings.error());
  const Transfer transfer(compass, readings.transfers);

  Line line;
  line.compass = compass;
  line.settings = std::move(*settings);
  line.transfer =
      estimate_transfer(compass, line.settings.hammers_on_bench, readings.transfers, transfer);
  line.gate = make_gate(standing);
  line.findings = make_findings(readings, *strings);
  line.next_string = strings->next;
  line.noise_factor = strings->noise_factor;
  const std::vector<Length> aftertouch = reliable_aftertouch(compass, line.settings, standing);
  for (int i = 0; i < compass.count(); ++i) {
    NoteLine note = describe(compass.at(i), line, *strings, readings);
    Grounds grounds;
    grounds.aftertouch = aftertouch[static_cast<std::size_t>(i)];
    fill_deviation(note, grounds, line, readings, transfer);
    grounds.strings_unsure = strings_unsure(note, line, *strings, readings);
    advise(note, line.settings, readings, grounds);
    line.notes.push_back(note);
  }
  if (auto done = compare_neighbours(line); !done) return tl::unexpected(done.error());
  summarise(line, *strings);
  line.order = make_order(line);
  line.cautions = make_cautions(line);
  return line;
}

PreparationGate preparation_gate(const Standing& standing) { return line::make_gate(standing); }

}  // namespace batten
