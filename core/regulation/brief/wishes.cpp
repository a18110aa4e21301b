#include "core/regulation/brief/wishes.hpp"

#include "core/quantities/text.hpp"

#include <cassert>
#include <optional>
#include <string_view>

namespace batten {

namespace {

// Handbook spans: three makers' sheets and workshop articles. A hammer's rest that repeats within
// the blow's tolerance against neighbours can be set; that and the drop's band: no source.
constexpr NeedKind needs[] = {
    {"aftertouch", "aftertouch", 0.8, 1.6, 0, 5, Need::aftertouch, FigureSource::trade},
    {"blow", "blow", 44, 48, 30, 65, Need::blow, FigureSource::trade},
    {"dip", "dip", 9.5, 10.8, 6, 14, Need::dip, FigureSource::trade},
    {"sharp-dip", "dip of the sharps", 9.2, 10.5, 6, 14, Need::sharp_dip, FigureSource::trade},
    {"let-off", "let-off", 1, 3, 0.3, 6, Need::let_off, FigureSource::trade},
    {"drop", "drop", 0.8, 2, 0, 6, Need::drop, FigureSource::common_practice},
    {"check-distance", "check distance", 12, 16, 3, 40, Need::check_distance, FigureSource::trade},
    {"jack-clearance", "jack clearance", 0.1, 0.25, 0, 2, Need::jack_clearance,
     FigureSource::trade},
    {"rest-scatter", "scatter of the hammer's rest", 0, 0.25, 0, 5, Need::rest_scatter,
     FigureSource::common_practice},
};
static_assert(std::size(needs) == need_count);

// The first five units are the readings' own tolerances.
constexpr WantKind wants[] = {
    {"blow", "blow near the sheet's", "mm", 0.5, 1, Want::blow, FigureSource::trade},
    {"dip", "dip near the sheet's", "mm", 0.2, 1, Want::dip, FigureSource::trade},
    {"let-off", "let-off near the sheet's", "mm", 0.3, 1, Want::let_off, FigureSource::trade},
    {"drop", "drop near the sheet's", "mm", 0.4, 1, Want::drop, FigureSource::trade},
    {"aftertouch", "aftertouch in the middle of its band", "mm", 0.2, 0.25, Want::aftertouch,
     FigureSource::estimate},
    {"power", "no power lost", "%", 5, 1, Want::power, FigureSource::estimate},
    {"speed", "no later from key to string", "ms", 3, 0.5, Want::speed, FigureSource::estimate},
    {"timing", "key bottom against string as it was", "ms", 2, 1, Want::timing,
     FigureSource::estimate},
    {"repetition", "no slower repetition", "ms", 5, 1, Want::repetition, FigureSource::estimate},
};
static_assert(std::size(wants) == want_count);

constexpr std::string_view need_prefix = "need-", want_prefix = "want-";
constexpr double most_weight = 100;

template <class Kind, std::size_t n>
const Kind* kind_named(const Kind (&kinds)[n], std::string_view prefix, std::string_view name) {
  if (!name.starts_with(prefix)) return nullptr;
  for (const Kind& k : kinds)
    if (k.code == name.substr(prefix.size())) return &k;
  return nullptr;
}

std::string span_words(const NeedKind& kind) {
  return "It lies between " + print_number(kind.possible_low) + " and " +
         print_number(kind.possible_high) + " mm.";
}

Result<double> parse_end(const NeedKind& kind, std::string_view text) {
  auto length = parse_length(text);
  if (!length) return tl::unexpected(length.error());
  const double value = length->in(millimetre);
  if (!(value >= kind.possible_low && value <= kind.possible_high))
    return problem(
        "A " + std::string(kind.name) + " of " + std::string(text) + " cannot be asked for.",
        span_words(kind));
  return value;
}

// What stands behind `word` and a blank, if the text begins so.
std::optional<std::string_view> behind(std::string_view text, std::string_view word) {
  if (!text.starts_with(word)) return std::nullopt;
  return text.substr(word.size());
}

Result<Band> parse_band(const NeedKind& kind, std::string_view text) {
  while (text.starts_with(' ')) text.remove_prefix(1);
  Band band{kind.possible_low, kind.possible_high, true};
  const auto one = [&](std::string_view end, double Band::*side) -> Result<Band> {
    auto value = parse_end(kind, end);
    if (!value) return tl::unexpected(value.error());
    band.*side = *value;
    return band;
  };
  if (const auto low = behind(text, "at least ")) return one(*low, &Band::low);
  if (const auto high = behind(text, "at most ")) return one(*high, &Band::high);
  constexpr std::string_view to = " to ";
  const auto at = text.find(to);
  if (at == std::string_view::npos)
    return problem("\"" + std::string(text) + "\" is no band.",
                   "Write it as \"0.8 to 1.6\", \"at least 0.8\" or \"at most 1.6\".");
  auto low = parse_end(kind, text.substr(0, at));
  if (!low) return tl::unexpected(low.error());
  auto high = parse_end(kind, text.substr(at + to.size()));
  if (!high) return tl::unexpected(high.error());
  if (*low > *high)
    return problem("The band \"" + std::string(text) + "\" ends below where it begins.",
                   "Give the smaller figure first.");
  band.low = *low;
  band.high = *high;
  return band;
}

Result<double> parse_weight(std::string_view text) {
  auto weight = parse_number(text);
  if (!weight) return weight;
  if (!(*weight >= 0 && *weight <= most_weight))
    return problem("A weight of " + std::string(text) + " cannot be used.",
                   "Choose one from 0 (does not matter) to 100.");
  return weight;
}

tl::unexpected<Problem> about(const std::string& name, Problem p) {
  p.happened = "Setting " + name + ": " + p.happened;
  return tl::unexpected(std::move(p));
}

// Does nothing for names of other settings.
Result<void> take(const std::string& name, const std::string& value, BriefWishes& wishes) {
  if (const NeedKind* need = kind_named(needs, need_prefix, name)) {
    auto band = parse_band(*need, value);
    if (!band) return about(name, band.error());
    wishes.needs[index_of(need->id)] = *band;
  } else if (const WantKind* want = kind_named(wants, want_prefix, name)) {
    auto weight = parse_weight(value);
    if (!weight) return about(name, weight.error());
    wishes.wants[index_of(want->id)] = *weight;
  }
  return {};
}

BriefWishes usual_wishes() {
  BriefWishes wishes;
  for (const NeedKind& n : needs) wishes.needs[index_of(n.id)] = {n.low, n.high, false};
  for (const WantKind& w : wants) wishes.wants[index_of(w.id)] = w.weight;
  return wishes;
}

}  // namespace

std::span<const NeedKind> need_kinds() { return needs; }
std::span<const WantKind> want_kinds() { return wants; }

Result<BriefWishes> brief_wishes(const std::map<std::string, std::string>& on_record) {
  BriefWishes wishes = usual_wishes();
  for (const auto& [name, value] : on_record)
    if (auto done = take(name, value, wishes); !done) return tl::unexpected(done.error());
  return wishes;
}

Result<void> check_brief_setting(const std::string& name, const std::string& value) {
  if (!is_brief_setting(name))
    return problem("There is no need or want \"" + name + "\".",
                   "Write need- or want- and what it is of, as in need-aftertouch or want-power.");
  BriefWishes wishes = usual_wishes();
  return take(name, value, wishes);
}

bool is_brief_setting(const std::string& name) {
  return kind_named(needs, need_prefix, name) != nullptr ||
         kind_named(wants, want_prefix, name) != nullptr;
}

}  // namespace batten
