#include "app/bundle_job.hpp"

#include "app/action_job.hpp"
#include "app/line_job.hpp"
#include "exchange/bundle.hpp"

#include <algorithm>
#include <set>
#include <utility>

namespace batten {

Result<std::string> bundle_of(Desk& desk, const Piano& piano) {
  return guarded([&]() -> Result<std::string> {
    auto whole = desk.store.whole(piano.id);
    if (!whole) return tl::unexpected(std::move(whole.error()));
    return write_bundle(*whole);
  });
}

std::string bundle_name(const Piano& piano, std::int64_t now_ms) {
  std::string name;
  for (const char c : piano.name) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                       static_cast<unsigned char>(c) >= 0x80 || c == '-' || c == '_' ||
                       (c == ' ' && !name.empty());
    if (plain) name += c;
  }
  if (name.empty()) name = "piano";
  return name + " " + print_timestamp(now_ms).substr(0, 10) + ".batten.json";
}

namespace {

// Profiles that are files, set by entries which are not here yet.
Result<void> check_profiles(Desk& desk, const WholeJournal& from) {
  std::set<Uuid> known;
  if (auto there = desk.store.entries(from.piano.id))
    for (const Entry& e : *there) known.insert(e.id);
  for (const StampedEntry& e : from.entries) {
    const auto* setting = std::get_if<SettingChosen>(&e.entry.content);
    if (setting == nullptr || setting->name != action_profile_setting || known.contains(e.entry.id))
      continue;
    if (std::ranges::none_of(stored_profiles(),
                             [&](const StoredProfile& p) { return p.name == setting->value; }))
      return problem("The file sets an action profile of its own, which is a file too.",
                     "Take it in at the piano's machine: batten bundle --import FILE.",
                     "Nothing was changed.");
  }
  return {};
}

}  // namespace

Result<TakenBundle> take_bundle(Desk& desk, std::string_view text, std::string_view as,
                                bool from_afar) {
  return guarded([&]() -> Result<TakenBundle> {
    auto read = read_bundle(text);
    if (!read) return tl::unexpected(std::move(read.error()));
    if (from_afar)
      if (auto ok = check_profiles(desk, *read); !ok) return tl::unexpected(std::move(ok.error()));
    auto merged = desk.store.merge(*read, as);
    if (!merged) return tl::unexpected(std::move(merged.error()));
    auto revision = desk.store.revision(merged->piano.id);
    if (!revision) return tl::unexpected(std::move(revision.error()));
    return TakenBundle{std::move(*merged), std::move(read->piano.name), *revision};
  });
}

}  // namespace batten
