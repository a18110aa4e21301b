#include "tests/records/samples.hpp"

#include <cerrno>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <limits>
#include <system_error>
#include <unistd.h>

namespace batten::samples {

namespace fs = std::filesystem;

Uuid identity(std::uint32_t family, std::uint32_t number) {
  Uuid id;
  for (std::size_t i = 0; i < 4; ++i) {
    id.bytes[i] = static_cast<std::uint8_t>(family >> (8 * (3 - i)) & 255U);
    id.bytes[12 + i] = static_cast<std::uint8_t>(number >> (8 * (3 - i)) & 255U);
  }
  return id;
}

Piano piano(std::uint32_t number) {
  return {identity(1, number),       "Piano " + std::to_string(number), "Großer Saal", 1, 88,
          1'700'000'000'000 + number};
}

Visit visit(std::uint32_t number) {
  return {identity(2, number), 1'700'000'100'000 + number, "visit " + std::to_string(number)};
}

Entry reading(std::uint32_t number, const Visit& of) {
  return {identity(3, number), of.id, 1'700'000'200'000 + number, "Ada",
          ReadingTaken{Reading::string_height, Key{static_cast<int>(number % 88) + 1},
                       190 + 0.001 * number, 0.1, "gauge 2", std::to_string(number) + " mm"}};
}

std::vector<Entry> every_kind(const Visit& of) {
  using Limits = std::numeric_limits<double>;
  std::uint32_t number = 0;
  std::vector<Entry> all;
  const auto add = [&](EntryContent content, std::int64_t at = 1, std::string who = "Ada") {
    all.push_back({identity(4, ++number), of.id, at, std::move(who), std::move(content)});
  };
  add(ReadingTaken{Reading::hammer_height, Key{40}, 145.25, 0.1, "gauge 1", "145,25"});
  add(ReadingTaken{Reading::humidity, std::nullopt, 47, 2, "", "47 %"});
  add(ReadingTaken{Reading::temperature, std::nullopt, -0.0, 1e-300, "Čidlo 7", "−0"});
  add(ReadingTaken{Reading::drop, Key{-8}, Limits::max(), Limits::denorm_min(), "", ""});
  add(ReadingTaken{Reading::drop, Key{95}, Limits::lowest(), Limits::max(), "", ""});
  add(ReadingTaken{Reading::drop, Key{1}, 0.1 + 0.2, Limits::epsilon(), "", "1 3/4\"\t½\n"});
  add(MoveMade{Adjuster::capstan, Key{88}, -0.015625, ""});
  add(MoveMade{Adjuster::balance_punchings, Key{2}, 1, "紙 0.1 mm, then 🎹"});
  add(MoveMade{Adjuster::damper_pedal_rod, std::nullopt, -2.5, "nut was loose"});
  add(MoveSkipped{Adjuster::drop_screw, Key{88}, "split button — 割れ"});
  add(MoveSkipped{Adjuster::shift_stop, std::nullopt, "no spanner"});
  add(MoveSkipped{Adjuster::damper_wire, std::nullopt, "no time"});
  add(PreparationNoted{PreparationItem::screws_tight, std::nullopt, PreparationState::done, ""});
  add(PreparationNoted{PreparationItem::hammers_spaced, Key{5}, PreparationState::waived, "worn"});
  add(PreparationNoted{PreparationItem::felts_sound, Key{6}, PreparationState::wanting, ""});
  add(PreparationNoted{PreparationItem::strings_level, Key{7}, PreparationState::found, ""});
  add(SettingChosen{"sections", "E2 bridge, A#4 strut"});
  add(SettingChosen{"empty", ""});
  add(Remark{Key{12}, "'); DROP TABLE entry; --"});
  add(Remark{std::nullopt, std::string("before\0after", 12)});
  add(Undo{identity(4, 1)}, std::numeric_limits<std::int64_t>::max(), "");
  add(Undo{identity(9, 9)}, std::numeric_limits<std::int64_t>::min(), "Zoë");
  return all;
}

Folder::Folder() {
  std::string name = (fs::temp_directory_path() / "batten-XXXXXX").string();
  if (mkdtemp(name.data()) == nullptr) {
    throw std::system_error(errno, std::generic_category(), name);
  }
  path_ = name;
}

Folder::~Folder() {
  std::error_code ignored;
  fs::permissions(path_, fs::perms::owner_all, ignored);
  fs::remove_all(path_, ignored);
}

std::string bytes_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

void write_bytes(const fs::path& file, const std::string& bytes) {
  std::ofstream out(file, std::ios::binary | std::ios::trunc);
  out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

}  // namespace batten::samples
