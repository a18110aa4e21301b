#include "app/pianos.hpp"

#include "app/entries.hpp"

#include <algorithm>
#include <utility>

namespace batten {

Compass compass_of(const Piano& piano) {
  return Compass{Key{piano.lowest_key}, Key{piano.highest_key}};
}

namespace {

// Its first visit and its sections, unless they are there: a first asking may have been cut short.
Result<Piano> complete(Desk& desk, const Piano& piano, const NewPiano& wanted) {
  if (piano.name != wanted.name || piano.place != wanted.place ||
      compass_of(piano) != wanted.compass)
    return problem(
        "There is a piano of this identity already, \"" + piano.name + "\", with other details.",
        "Give the new one an identity of its own.", "Nothing was changed.");
  if (auto visit = current_visit(desk, piano); !visit) return tl::unexpected(visit.error());
  if (wanted.sections.empty()) return piano;
  auto now = standing(desk, piano);
  if (!now) return tl::unexpected(now.error());
  if (now->settings.contains("sections")) return piano;
  auto kept = choose_setting(desk, piano, "sections", wanted.sections);
  if (!kept) return tl::unexpected(kept.error());
  return piano;
}

}  // namespace

Result<Piano> add_piano(Desk& desk, const NewPiano& wanted) {
  return guarded([&]() -> Result<Piano> {
    if (!wanted.sections.empty()) {
      auto parsed = parse_sections(wanted.sections, wanted.compass);
      if (!parsed) return tl::unexpected(parsed.error());
    }
    if (!wanted.id.is_nil())
      if (auto there = desk.store.find_piano(to_text(wanted.id)); there && there->id == wanted.id)
        return complete(desk, *there, wanted);
    const Piano piano{wanted.id.is_nil() ? desk.new_id() : wanted.id,
                      wanted.name,
                      wanted.place,
                      wanted.compass.lowest.number,
                      wanted.compass.highest.number,
                      desk.now_ms()};
    if (auto added = desk.store.add_piano(piano); !added) return tl::unexpected(added.error());
    return complete(desk, piano, wanted);
  });
}

Result<std::vector<PianoSummary>> list_pianos(Desk& desk) {
  return guarded([&]() -> Result<std::vector<PianoSummary>> { return desk.store.pianos(); });
}

Result<Piano> choose_piano(Desk& desk, std::string_view text) {
  return guarded([&]() -> Result<Piano> {
    if (!text.empty()) return desk.store.find_piano(text);
    const std::vector<PianoSummary> all = desk.store.pianos();
    if (all.empty())
      return problem("There is no piano in this store yet.",
                     "Add one with \"batten add\", or look at the demo with \"batten demo\".");
    const auto last = std::max_element(all.begin(), all.end(), [](const auto& a, const auto& b) {
      const auto begun = [](const PianoSummary& p) {
        return p.latest_visit ? p.latest_visit->begun_ms : p.piano.added_ms;
      };
      return begun(a) < begun(b);
    });
    return last->piano;
  });
}

Result<Visit> begin_visit(Desk& desk, const Piano& piano, std::string title, const Uuid& id) {
  return guarded([&]() -> Result<Visit> {
    if (!id.is_nil()) {
      auto all = desk.store.visits(piano.id);
      if (!all) return tl::unexpected(all.error());
      for (const Visit& v : *all)
        if (v.id == id && v.title == title) return v;
    }
    auto latest = desk.store.latest_visit(piano.id);
    if (!latest) return tl::unexpected(latest.error());
    // A visit follows those there are, even where a clock was wrong; else entries would go on to
    // land in the older one.
    const std::int64_t after = *latest ? (*latest)->begun_ms + 1 : 0;
    const Visit visit{id.is_nil() ? desk.new_id() : id, std::max(desk.now_ms(), after),
                      std::move(title)};
    if (auto added = desk.store.add_visit(piano.id, visit); !added)
      return tl::unexpected(added.error());
    return visit;
  });
}

Result<Visit> current_visit(Desk& desk, const Piano& piano) {
  return guarded([&]() -> Result<Visit> {
    auto latest = desk.store.latest_visit(piano.id);
    if (!latest) return tl::unexpected(latest.error());
    if (*latest) return **latest;
    return begin_visit(desk, piano, "first visit");
  });
}

}  // namespace batten
