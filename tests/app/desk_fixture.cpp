#include "tests/app/desk_fixture.hpp"

#include "app/entries.hpp"

#include <memory>

namespace batten {

DeskTest::DeskTest() : desk_(*open_desk(folder_ / "journal.store", "Mira")) {
  auto clock = std::make_shared<std::int64_t>(1'790'000'000'000);
  desk_.now_ms = [clock] { return *clock += 1000; };
  piano_ = *add_piano(desk_, {"Studio grand", "Room 4", {}, "E2 bridge, A#4 strut, D6 strut"});
}

std::size_t DeskTest::entries_kept(const Piano& piano) { return history(desk_, piano)->size(); }

}  // namespace batten
