#include "records/shop.hpp"

#include "records/entry_rows.hpp"
#include "records/store.hpp"

#include <string_view>

namespace batten {

using sqlite::Statement;
using sqlite::Transaction;

std::map<std::string, std::string> Store::shop() {
  Statement rows = connection_.prepare("SELECT name, value FROM shop");
  std::map<std::string, std::string> all;
  while (rows.step()) all.emplace(rows.text(0), rows.text(1));
  return all;
}

Result<void> Store::set_shop(const std::string& name, const std::optional<std::string>& value) {
  if (name.empty()) return problem("A setting needs a name.", "", "Nothing was changed.");
  if (Result<void> texts = check_texts({name, value.value_or("")}); !texts) return texts;
  Transaction transaction(connection_);
  if (value) {
    connection_.run(
        "INSERT INTO shop (name, value) VALUES (?, ?) "
        "ON CONFLICT (name) DO UPDATE SET value = excluded.value",
        std::string_view(name), std::string_view(*value));
  } else {
    connection_.run("DELETE FROM shop WHERE name = ?", std::string_view(name));
  }
  transaction.commit();
  return {};
}

std::optional<Logo> Store::logo() {
  Statement row = connection_.prepare("SELECT media_type, bytes FROM logo");
  if (!row.step()) return std::nullopt;
  const auto bytes = row.bytes(1);
  return Logo{std::string(row.text(0)), {bytes.begin(), bytes.end()}};
}

Result<void> Store::set_logo(const std::optional<Logo>& logo) {
  if (logo && logo->media_type != "image/png" && logo->media_type != "image/jpeg")
    return problem("A logo is a PNG or a JPEG file.", "Choose another file.",
                   "Nothing was changed.");
  if (logo && (logo->bytes.empty() || logo->bytes.size() > most_logo_bytes))
    return problem(
        logo->bytes.empty() ? "The logo's file is empty." : "The logo's file is larger than 1 MB.",
        "Choose another file, or make it smaller.", "Nothing was changed.");
  Transaction transaction(connection_);
  connection_.run("DELETE FROM logo");
  if (logo)
    connection_.run("INSERT INTO logo (number, media_type, bytes) VALUES (1, ?, ?)",
                    std::string_view(logo->media_type), std::span<const std::uint8_t>(logo->bytes));
  transaction.commit();
  return {};
}

std::vector<KeptOutlook> Store::kept_outlooks() {
  Statement rows = connection_.prepare(
      "SELECT piano.id, revision, model, text FROM outlook "
      "JOIN piano ON piano.number = outlook.piano ORDER BY piano.number");
  std::vector<KeptOutlook> all;
  while (rows.step())
    all.push_back({read_uuid(rows, 0), rows.integer(1), std::string(rows.text(2)),
                   std::string(rows.text(3))});
  return all;
}

void Store::keep_outlooks(std::span<const KeptOutlook> outlooks) {
  if (outlooks.empty()) return;
  Transaction transaction(connection_);
  Statement insert = connection_.prepare(
      "INSERT INTO outlook (piano, revision, model, text) "
      "SELECT number, ?2, ?3, ?4 FROM piano WHERE id = ?1 "
      "ON CONFLICT (piano) DO UPDATE SET revision = excluded.revision, model = excluded.model, "
      "text = excluded.text");
  for (const KeptOutlook& one : outlooks) {
    insert.bind_all(value_of(one.piano), one.revision, std::string_view(one.model),
                    std::string_view(one.text));
    insert.finish();
  }
  transaction.commit();
}

}  // namespace batten
