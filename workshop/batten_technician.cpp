#include "workshop/batten_technician.hpp"

#include "core/journal/fold.hpp"
#include "core/regulation/influence/action_model.hpp"
#include "core/regulation/planning/amounts.hpp"
#include "core/regulation/planning/plan.hpp"
#include "profiles/profile_file.hpp"
#include "workshop/reference_pass.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <limits>
#include <map>
#include <optional>
#include <string>
#include <utility>

namespace batten::workshop {
namespace {

// No plan that comes to an end asks so often; a note read so often is left as it is.
constexpr int most_plans = 2000, most_readings_of_one = 15;

constexpr double usual_aftertouch = 1.2, usual_dip = 10.0, usual_sharp_dip = 9.7;

double median(std::vector<double> v) {
  const auto middle = v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2);
  std::ranges::nth_element(v, middle);
  return *middle;
}

action::Profile profile_named(std::string_view name) {
  for (const StoredProfile& s : stored_profiles())
    if (s.name == name)
      if (auto file = parse_profile(s.text, s.name)) return file->profile;
  assert(false);
  return {};
}

class Batten : public Technician {
 public:
  explicit Batten(const BattenStyle& style) : style_(style) {}
  std::string_view name() const override { return "Batten"; }

  void work(Hands& hands) override {
    hands_ = &hands;
    entries_.clear();
    read_.clear();
    targets_.clear();
    in_tool_.reset();
    begin();
    const Compass compass = hands.piano().compass();
    const Ratios ratios = read_samples();
    agree(ratios);
    const auto targets =
        targets_on_record(compass, hands.piano().sections(), fold(entries_).settings);
    assert(targets);
    const auto model = find_model(ratios, *targets);
    assert(model);
    for (int i = 0; i < most_plans; ++i) {
      const auto plan = calc_plan(compass, fold(entries_), *model, style_.options);
      assert(plan);
      if (i == 0 && !plan->order.derived.empty()) in_hand_ = plan->order.derived.front();
      if (!follow(*plan)) {
        for (const NoteState& note : plan->situation.notes) {
          const auto task = planning::make_task(plan->situation, *model, note);
          NoteTargets t{};
          for (std::size_t a = 0; a < aim_count; ++a)
            t[a] = task.target(static_cast<Eigen::Index>(a));
          targets_.push_back(t);
        }
        return;
      }
    }
    assert(false);
  }

 private:
  void record(EntryContent content) {
    Entry e;
    const std::size_t n = entries_.size() + 1;
    for (std::size_t b = 0; b < 8; ++b)
      e.id.bytes[15 - b] = static_cast<std::uint8_t>((n >> (8 * b)) & 0xff);
    e.visit.bytes[0] = 1;
    e.at_ms = static_cast<std::int64_t>(60'000 * hands_->tally().minutes);
    e.who = "workshop";
    e.content = std::move(content);
    entries_.push_back(std::move(e));
  }

  void begin() {
    const HiddenPiano& piano = hands_->piano();
    record(SettingChosen{"sections", print_sections(piano.sections())});
    record(SettingChosen{"undamped-from", note_name(piano.first_undamped())});
    record(SettingChosen{"key-height-target", "65 mm"});
    record(SettingChosen{"sharps-height-target", "12.2 mm"});
    for (const PreparationKind& k : preparation_kinds())
      record(PreparationNoted{k.id, std::nullopt, PreparationState::found, ""});
  }

  // Action ratios by R1, (blow − let-off)/(dip − aftertouch), of naturals and of sharps, per
  // section.
  struct Ratios {
    std::vector<double> naturals, sharps;
  };

  // A few notes of each section as they were found. A section's ratio is drawn toward that of all.
  Ratios read_samples() {
    const HiddenPiano& piano = hands_->piano();
    constexpr double own = 0.6;
    Ratios out;
    for (const bool sharps : {false, true}) {
      std::vector<double>& list = sharps ? out.sharps : out.naturals;
      std::vector<std::vector<double>> found;
      std::vector<double> all;
      for (const Section& section : piano.sections()) {
        std::vector<Key> keys;
        for (const double share : {0.12, 0.5, 0.88}) {
          Key k{section.first.number + static_cast<int>(share * (section.count() - 1))};
          if (is_sharp(k) != sharps) k = Key{k.number + 1};
          if (is_sharp(k) != sharps) k = Key{k.number - 2};
          if (is_sharp(k) == sharps && section.contains(k)) keys.push_back(k);
        }
        std::array<std::vector<double>, 4> read;
        constexpr std::array aims{Aim::blow, Aim::let_off, Aim::dip, Aim::aftertouch};
        for (std::size_t a = 0; a < aims.size(); ++a) {
          read[a] = hands_->read(keys, aims[a]);
          for (std::size_t i = 0; i < keys.size(); ++i)
            if (read[a][i] == read[a][i]) {
              record(ReadingTaken{reading_of(aims[a], keys[i]), keys[i], read[a][i],
                                  hands_->law().gauge[index_of(aims[a])], "", ""});
              write();
            }
        }
        found.emplace_back();
        for (std::size_t i = 0; i < keys.size(); ++i) {
          const double ratio = (read[0][i] - read[1][i]) / (read[2][i] - read[3][i]);
          if (!(ratio > 4 && ratio < 7)) continue;
          found.back().push_back(ratio);
          all.push_back(ratio);
        }
      }
      assert(!all.empty());
      const double middle = median(all);
      for (const auto& f : found)
        list.push_back(f.empty() ? middle : middle + own * (median(f) - middle));
    }
    return out;
  }

  // What `fit` and `brief` tell, from the arithmetic they rest on (R1), because those take seconds:
  // each section's dip so that the usual aftertouch comes of it, as far as a maker's dip can be
  // stretched, and the aftertouch that is then had.
  void agree(const Ratios& ratios) {
    constexpr double stretch = 0.6;
    const HiddenPiano& piano = hands_->piano();
    std::vector<Taper> dips, sharp_dips, afters;
    for (std::size_t i = 0; i < piano.sections().size(); ++i) {
      const Section& s = piano.sections()[i];
      const NoteTargets sheet = makers_sheet(piano, Key{(s.first.number + s.last.number) / 2});
      const double way = sheet[index_of(Aim::blow)] - sheet[index_of(Aim::let_off)];
      const auto dip_for = [&](double after, double ratio, double usual) {
        return std::clamp(after + way / ratio, usual - stretch, usual + stretch);
      };
      const double dip = dip_for(usual_aftertouch, ratios.naturals[i], usual_dip);
      const double after = dip - way / ratios.naturals[i];
      const double sharp = dip_for(after, ratios.sharps[i], usual_sharp_dip);
      dips.push_back({dip, dip});
      sharp_dips.push_back({sharp, sharp});
      afters.push_back({after, after});
    }
    record(SettingChosen{"dip-target", print_tapers(Reading::dip, dips)});
    record(SettingChosen{"sharp-dip-target", print_tapers(Reading::sharp_dip, sharp_dips)});
    record(SettingChosen{"aftertouch-target", print_tapers(Reading::aftertouch, afters)});
  }

  // The model of the profile nearest in kind with its keys' front arms such that its ratio is the
  // piano's; as it is, or of another kind, where that one cannot be regulated to the targets.
  std::optional<ActionModel> find_model(const Ratios& ratios, const Targets& targets) const {
    const Compass compass = hands_->piano().compass();
    std::vector<std::string_view> names{hands_->piano().looks_like()};
    for (const StoredProfile& s : stored_profiles()) names.push_back(s.name);
    for (const std::string_view name : names) {
      action::Profile profile = profile_named(name);
      auto plain = calc_action_model(profile, compass, targets);
      if (!plain) continue;
      double sum = 0;
      int count = 0;
      for (std::size_t i = 0; i < targets.sections.size(); ++i)
        for (Key k = targets.sections[i].first; k <= targets.sections[i].last; ++k.number)
          if (is_natural(k)) {
            sum += std::log(plain->at(k).ratio / ratios.naturals[i]);
            ++count;
          }
      const double longer = std::exp(sum / count);
      for (action::Anchor& a : profile.anchors) {
        a.dimensions.key_front *= longer;
        a.dimensions.front_rail *= longer;
      }
      auto likened = calc_action_model(profile, compass, targets);
      return likened ? std::move(*likened) : std::move(*plain);
    }
    return std::nullopt;
  }

  // Goes on with the pass in hand while there is anything in it, then to the next in working order,
  // and from the last to the first again, as one goes through a list; back at once only where an
  // earlier pass has more than a few steps. A tool once put away is taken up again only where what
  // is to be gained is worth the trouble. In a pass, first its readings, then as many moves as are
  // made at once. False: nothing is asked.
  bool follow(const Plan& plan) {
    if (plan.passes.empty()) return false;
    const auto rank = [&](Adjuster a) {
      const auto& order = plan.order.derived;
      return std::ranges::find(order, a) - order.begin();
    };
    std::size_t first = 0;
    while (first < plan.passes.size() && rank(plan.passes[first].adjuster) < rank(in_hand_))
      ++first;
    constexpr std::size_t a_few = 6;
    for (std::size_t i = 0; i < first; ++i)
      if (plan.passes[i].steps.size() > a_few) first = i;
    for (std::size_t i = 0; i < plan.passes.size(); ++i) {
      const Pass& pass = plan.passes[(first + i) % plan.passes.size()];
      std::map<Reading, std::vector<Key>> wanted;
      std::vector<MoveMeant> moves;
      for (const Instruction& step : pass.steps) {
        if (step.kind == Instruction::Kind::read) {
          if (read_[{step.reading, step.key}] < most_readings_of_one)
            wanted[step.reading].push_back(step.key);
        } else if (static_cast<int>(moves.size()) < style_.moves_at_once) {
          moves.push_back({step.key, step.adjuster, step.amount, step.after});
        }
      }
      if (wanted.empty() && (moves.empty() || !worth_it(pass))) continue;
      in_hand_ = pass.adjuster;
      for (const auto& [reading, keys] : wanted) take(reading, keys);
      if (wanted.empty()) make(moves);
      return true;
    }
    return false;
  }

  // Whether the tool is in hand, or brings more than it takes to have it there.
  bool worth_it(const Pass& pass) {
    const std::size_t a = index_of(pass.adjuster);
    if (in_tool_ == pass.adjuster) return true;
    double gain = 0;
    for (const Instruction& step : pass.steps)
      if (step.kind == Instruction::Kind::turn) {
        const double was = (step.before - step.target) / step.tolerance,
                     is = (step.at_the_end - step.target) / step.tolerance;
        gain += was * was - is * is;
      }
    return gain > style_.gain_per_minute * hands_->law().set_up_minutes[a];
  }

  // The first look at a note that is no sample is by eye, where that is told as quickly as the
  // skilled technician does it (not the blow, whose line is not set yet), and is written down as
  // that uncertain; whatever is asked again is gauged.
  void take(Reading reading, const std::vector<Key>& keys) {
    const auto aim = aim_of(reading);
    std::vector<Key> by_eye, by_gauge;
    for (const Key k : keys) {
      const bool first = read_[{reading, k}] == 0 && aim && *aim != Aim::blow;
      (style_.eye_first && first ? by_eye : by_gauge).push_back(k);
    }
    if (!by_eye.empty()) take(reading, by_eye, Way::eye);
    if (!by_gauge.empty()) take(reading, by_gauge, Way::gauge);
  }

  void take(Reading reading, const std::vector<Key>& keys, Way way) {
    const auto aim = aim_of(reading);
    const bool strings = reading == Reading::string_height;
    assert(aim || strings);
    constexpr std::size_t at_once = 8;
    for (std::size_t first = 0; first < keys.size(); first += at_once) {
      const std::span some = std::span(keys).subspan(first, std::min(at_once, keys.size() - first));
      const double before = hands_->tally().minutes;
      const auto values = strings ? hands_->read_strings(some) : hands_->read(some, *aim, way);
      const double sd =
          strings ? hands_->law().string_noise
                  : (way == Way::eye ? hands_->law().eye : hands_->law().gauge)[index_of(*aim)];
      std::vector<Key> stuck;
      for (std::size_t i = 0; i < some.size(); ++i) {
        ++read_[{reading, some[i]}];
        if (!(values[i] == values[i])) {
          stuck.push_back(some[i]);
          continue;
        }
        record(ReadingTaken{reading, some[i], values[i], sd, "", ""});
        write();
        // One after the other, as they were taken.
        entries_.back().at_ms = static_cast<std::int64_t>(
            60'000 * (before + (hands_->tally().minutes - before) * static_cast<double>(i + 1) /
                                   static_cast<double>(some.size())));
      }
      if (stuck.empty()) continue;
      for (const MoveMeant& m : reference::free_hammers(*hands_, stuck)) note(m);
    }
  }

  void make(const std::vector<MoveMeant>& moves) {
    // One tool at a time, each note once.
    std::vector<MoveMeant> some;
    const auto flush = [&] {
      if (some.empty()) return;
      hands_->take_up(some.front().adjuster);
      in_tool_ = some.front().adjuster;
      hands_->turn(some);
      for (const MoveMeant& m : some) note(m);
      some.clear();
    };
    for (const MoveMeant& m : moves) {
      const bool other = !some.empty() && some.front().adjuster != m.adjuster;
      if (other || std::ranges::find(some, m.key, &MoveMeant::key) != some.end()) flush();
      some.push_back(m);
    }
    flush();
  }

  void note(const MoveMeant& m) {
    MoveMade made;
    made.adjuster = m.adjuster;
    made.note = m.key;
    made.amount = m.amount;
    record(std::move(made));
    write();
  }
  void write() {
    if (style_.writes) hands_->write(1);
  }

  BattenStyle style_;
  Hands* hands_ = nullptr;
  std::optional<Adjuster> in_tool_;
  Adjuster in_hand_ = Adjuster::capstan;  // the pass at work
  std::vector<Entry> entries_;
  std::map<std::pair<Reading, Key>, int> read_;
};

}  // namespace

std::unique_ptr<Technician> batten_technician(const BattenStyle& style) {
  return std::make_unique<Batten>(style);
}

}  // namespace batten::workshop
