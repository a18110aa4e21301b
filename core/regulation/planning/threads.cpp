#include "core/regulation/planning/threads.hpp"

#include <string_view>

namespace batten {
namespace {

constexpr std::string_view suffix = "-thread";

bool is_turned(Adjuster adjuster) { return kind_of(adjuster).unit == MoveUnit::turns; }

std::optional<Adjuster> adjuster_of(const std::string& name) {
  if (!name.ends_with(suffix)) return std::nullopt;
  for (std::size_t k = 0; k < note_adjuster_count; ++k) {
    const auto a = static_cast<Adjuster>(k);
    if (is_turned(a) && name == thread_setting(a)) return a;
  }
  return std::nullopt;
}

std::string_view trimmed(std::string_view text) {
  const auto from = text.find_first_not_of(" \t");
  if (from == std::string_view::npos) return {};
  return text.substr(from, text.find_last_not_of(" \t") - from + 1);
}

// The rotation of a positive move.
Result<Rotation> parse_thread(Adjuster adjuster, const std::string& value) {
  const AdjusterKind& kind = kind_of(adjuster);
  const auto refuse = [&] {
    return problem(
        "Setting " + thread_setting(adjuster) + ": \"" + value +
            "\" does not say which way to turn.",
        "Write what a turn does and the way the hand goes, seen from where it works: \"" +
            std::string(kind.positive) + " clockwise\" or \"" + std::string(kind.positive) +
            " counter-clockwise\".");
  };
  std::string_view text = trimmed(value);
  constexpr std::string_view with = "clockwise", against = "counter-clockwise",
                             against_too = "anticlockwise";
  Rotation hand{};
  std::string_view way;
  for (const std::string_view w : {against, against_too, with})
    if (way.empty() && text.ends_with(w)) way = w;
  if (way.empty()) return refuse();
  hand = way == with ? Rotation::clockwise : Rotation::counter_clockwise;
  text.remove_suffix(way.size());
  text = trimmed(text);
  if (text == kind.positive || text == "raise") return hand;
  if (text == kind.negative || text == "lower")
    return hand == Rotation::clockwise ? Rotation::counter_clockwise : Rotation::clockwise;
  return refuse();
}

}  // namespace

std::string thread_setting(Adjuster adjuster) {
  return std::string(kind_of(adjuster).code) + std::string(suffix);
}

std::optional<Rotation> Threads::of(Adjuster adjuster, double amount) const {
  if (index_of(adjuster) >= note_adjuster_count) return std::nullopt;
  const auto hand = positive[index_of(adjuster)];
  if (!hand || amount >= 0) return hand;
  return *hand == Rotation::clockwise ? Rotation::counter_clockwise : Rotation::clockwise;
}

bool is_thread_setting(const std::string& name) { return adjuster_of(name).has_value(); }

Result<void> check_thread_setting(const std::string& name, const std::string& value) {
  const auto adjuster = adjuster_of(name);
  if (!adjuster) {
    std::string known;
    for (std::size_t k = 0; k < note_adjuster_count; ++k)
      if (is_turned(static_cast<Adjuster>(k)))
        known += (known.empty() ? "" : ", ") + thread_setting(static_cast<Adjuster>(k));
    return problem("There is no setting \"" + name + "\".", "There are: " + known + ".");
  }
  if (auto hand = parse_thread(*adjuster, value); !hand) return tl::unexpected(hand.error());
  return {};
}

Result<Threads> threads_on_record(const std::map<std::string, std::string>& on_record) {
  Threads threads;
  for (const auto& [name, value] : on_record) {
    const auto adjuster = adjuster_of(name);
    if (!adjuster) continue;
    auto hand = parse_thread(*adjuster, value);
    if (!hand) return tl::unexpected(hand.error());
    threads.positive[index_of(*adjuster)] = *hand;
  }
  return threads;
}

}  // namespace batten
