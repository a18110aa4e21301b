#include "app/fit_job.hpp"

#include "app/action_job.hpp"
#include "app/entries.hpp"
#include "app/files.hpp"
#include "core/numerics/weighted_mean.hpp"
#include "core/quantities/text.hpp"
#include "core/regulation/catalogue/readings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>

namespace batten {

namespace {

constexpr double mm = 1e-3, gf = 9.80665e-3;
// Where a centre's friction is drawn, from its pin (catalogue).
constexpr double friction_radius = 0.023;
constexpr double usual_rise_sd = 0.3 * mm;
constexpr std::size_t largest_pairs = 1U << 20;

struct Use {
  fit::What what;
  double si;  // of the catalogue's unit
  double action::Dimensions::*member = nullptr;
};
std::optional<Use> use_of(Reading reading) {
  using fit::What;
  switch (reading) {
    case Reading::blow:
      return Use{What::blow, mm};
    case Reading::let_off:
      return Use{What::let_off, mm};
    case Reading::drop:
      return Use{What::drop, mm};
    case Reading::dip:
    case Reading::sharp_dip:
      return Use{What::dip, mm};
    case Reading::aftertouch:
      return Use{What::aftertouch, mm};
    case Reading::down_weight:
      return Use{What::down_weight, gf};
    case Reading::up_weight:
      return Use{What::up_weight, gf};
    case Reading::hammer_centre_friction:
      return Use{What::dimension, gf * friction_radius, &action::Dimensions::hammer_friction};
    default:
      return std::nullopt;
  }
}

struct Taken {
  const ReadingTaken* reading;
  Uuid visit;
};

std::map<Key, std::vector<Taken>> since_last_turned(const Standing& standing,
                                                    std::vector<std::string>& put_aside) {
  std::map<Key, std::size_t> turned;
  for (std::size_t i = 0; i < standing.moves.size(); ++i)
    if (const auto& note = std::get<MoveMade>(standing.moves[i].content).note)
      turned[*note] = standing.move_places[i];
  std::map<Key, std::vector<Taken>> notes;
  std::size_t stale = 0, older = 0;
  for (std::size_t i = 0; i < standing.readings.size(); ++i) {
    const auto& r = std::get<ReadingTaken>(standing.readings[i].content);
    if (!r.note || !use_of(r.reading)) continue;
    const auto move = turned.find(*r.note);
    if (move != turned.end() && standing.reading_places[i] < move->second &&
        r.reading != Reading::hammer_centre_friction)
      ++stale;
    else
      notes[*r.note].push_back({&r, standing.readings[i].visit});
  }
  for (auto& [key, list] : notes) {
    const Uuid visit = list.back().visit;
    older += std::erase_if(list, [&](const Taken& t) { return t.visit != visit; });
  }
  if (stale > 0) put_aside.push_back(fmt::format("{} read before the note was turned", stale));
  if (older > 0) put_aside.push_back(fmt::format("{} of earlier visits", older));
  return notes;
}

std::vector<fit::Reading> averaged(Key key, const std::vector<Taken>& list) {
  std::map<Reading, std::pair<std::vector<double>, std::vector<double>>> repeats;
  for (const Taken& t : list) {
    // A sharp's dip is read at the sharp; either word is understood.
    const Reading kind =
        t.reading->reading == Reading::sharp_dip ? Reading::dip : t.reading->reading;
    repeats[kind].first.push_back(t.reading->value);
    repeats[kind].second.push_back(t.reading->uncertainty);
  }
  std::vector<fit::Reading> out;
  for (const auto& [kind, values] : repeats) {
    const Use use = *use_of(kind);
    const WeightedMean mean = weighted_mean(values.first, values.second);
    out.push_back({key, use.what, mean.mean * use.si, mean.sd() * use.si, 0, use.member});
  }
  return out;
}

bool tells(const std::vector<fit::Reading>& list) {
  const auto has = [&](fit::What what) {
    return std::ranges::any_of(list, [&](const fit::Reading& r) { return r.what == what; });
  };
  return has(fit::What::aftertouch) || has(fit::What::rise) ||
         (has(fit::What::down_weight) && has(fit::What::up_weight));
}

Result<fit::Reading> parse_rise(const std::vector<std::string>& words) {
  if (words.size() < 3 || words.size() > 4)
    return problem("There are not three or four words.",
                   "Write note, key depth and rise of the crown: \"C4 4 20.3\".");
  auto key = parse_key(words[0]);
  if (!key) return tl::unexpected(key.error());
  auto depth = parse_length(words[1]);
  if (!depth) return tl::unexpected(depth.error());
  auto rise = parse_length(words[2]);
  if (!rise) return tl::unexpected(rise.error());
  fit::Reading reading{*key, fit::What::rise, rise->si(), usual_rise_sd, depth->si()};
  if (words.size() == 4) {
    auto sd = parse_length(words[3]);
    if (!sd) return tl::unexpected(sd.error());
    reading.sd = sd->si();
  }
  if (!(reading.depth > 0) || reading.depth > 15 * mm || !(reading.sd > 0) || reading.value < 0 ||
      reading.value > 90 * mm)
    return problem("No action does that.",
                   "Depths lie above 0 and up to 15 mm, rises from 0 to 90 mm.");
  return reading;
}

}  // namespace

Result<std::vector<fit::Reading>> parse_rises(std::string_view text) {
  std::vector<fit::Reading> out;
  int number = 0;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    std::string_view line = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    ++number;
    // A remark stands apart: F#4 is a note.
    for (std::size_t k = 0; k < line.size(); ++k)
      if (line[k] == '#' && (k == 0 || line[k - 1] == ' ' || line[k - 1] == '\t')) {
        line = line.substr(0, k);
        break;
      }
    std::vector<std::string> words(1);
    for (const char c : line) {
      const bool between = c == ' ' || c == '\t' || c == '\r' || c == ';';
      if (!between)
        words.back() += c;
      else if (!words.back().empty())
        words.emplace_back();
    }
    if (words.back().empty()) words.pop_back();
    if (words.empty()) continue;
    auto reading = parse_rise(words);
    if (!reading) {
      Problem p = reading.error();
      p.happened = fmt::format("Line {}: {}", number, p.happened);
      return tl::unexpected(p);
    }
    out.push_back(*reading);
  }
  return out;
}

std::vector<fit::Reading> readings_to_fit(const Standing& standing,
                                          const std::vector<fit::Reading>& rises,
                                          std::vector<std::string>& put_aside) {
  std::map<Key, std::vector<fit::Reading>> notes;
  for (const auto& [key, list] : since_last_turned(standing, put_aside))
    notes[key] = averaged(key, list);
  for (const fit::Reading& r : rises) notes[r.note].push_back(r);
  std::vector<fit::Reading> out;
  std::size_t silent = 0;
  for (const auto& [key, list] : notes) {
    if (tells(list))
      out.insert(out.end(), list.begin(), list.end());
    else
      silent += list.size();
  }
  if (silent > 0)
    put_aside.push_back(fmt::format(
        "{} at notes without aftertouch, rises or both weights: they tell only of the screws",
        silent));
  return out;
}

Result<PianoFit> fit_piano(Desk& desk, const Piano& piano, const FitRequest& request) {
  Result<ProfileFile> base =
      request.profile.empty() ? profile_of(desk, piano) : find_profile(request.profile);
  if (!base && request.profile.empty()) base = find_profile("medium");
  if (!base) return tl::unexpected(base.error());
  std::vector<fit::Reading> rises;
  if (!request.pairs.empty()) {
    auto text = read_file(request.pairs, largest_pairs);
    if (!text) return tl::unexpected(text.error());
    auto parsed = parse_rises(*text);
    if (!parsed) return tl::unexpected(parsed.error());
    rises = *parsed;
  }
  auto stands = standing(desk, piano);
  if (!stands) return tl::unexpected(stands.error());
  PianoFit out;
  fit::Task task;
  task.base = base->profile;
  task.readings = readings_to_fit(*stands, rises, out.put_aside);
  if (task.readings.empty())
    return problem("No note of " + piano.name + " has been read so that its action can be fitted.",
                   "At a few samples read blow, let-off, drop, dip, aftertouch, down weight and up "
                   "weight.");
  return guarded([&]() -> Result<PianoFit> {
    auto fit = solve_fit(task);
    if (!fit) return tl::unexpected(fit.error());
    out.fit = std::move(*fit);
    out.base = base->profile.name;
    return out;
  });
}

ProfileFile fitted_profile(const Piano& piano, const PianoFit& fit) {
  ProfileFile out;
  out.profile = fit.fit.profile;
  out.profile.name = piano.name;
  out.profile.source = fmt::format(
      "Fitted from the profile {} to {} readings at {} notes. What they do not tell is "
      "as in {}.",
      fit.base, fit.fit.readings.size(), fit.fit.model.notes.size(), fit.base);
  out.description = fmt::format("The action of {}.", piano.name);
  return out;
}

}  // namespace batten
