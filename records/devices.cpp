#include "records/devices.hpp"

#include "records/entry_rows.hpp"
#include "records/sqlite/errors.hpp"
#include "records/store.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace batten {

using sqlite::Statement;
using sqlite::Transaction;

Result<Device> Store::add_device(Device device) {
  if (device.id.is_nil() || device.name.empty())
    return problem("A device needs an identity and a name.", "Say what you call it.");
  if (Result<void> texts = check_texts({device.name}); !texts) return tl::unexpected(texts.error());
  Transaction transaction(connection_);
  std::set<std::string> names;
  Statement rows = connection_.prepare("SELECT name FROM device WHERE revoked_ms IS NULL");
  while (rows.step()) names.emplace(rows.text(0));
  const std::string wanted = device.name;
  for (int i = 2; names.contains(device.name); ++i) device.name = fmt::format("{} {}", wanted, i);
  connection_.run(
      "INSERT INTO device (id, name, token_sha256, paired_ms, seen_ms) VALUES (?, ?, ?, ?, ?)",
      value_of(device.id), std::string_view(device.name),
      std::span<const std::uint8_t>(device.token_sha256), device.paired_ms, device.seen_ms);
  transaction.commit();
  return device;
}

std::vector<Device> Store::devices() {
  Statement rows = connection_.prepare(
      "SELECT id, name, token_sha256, paired_ms, seen_ms, revoked_ms FROM device "
      "ORDER BY paired_ms, number");
  std::vector<Device> all;
  while (rows.step()) {
    Device device{
        read_uuid(rows, 0), std::string(rows.text(1)), {}, rows.integer(3), rows.integer(4)};
    const auto digest = rows.bytes(2);
    if (digest.size() != device.token_sha256.size())
      sqlite::fail(FailureKind::damaged, "a device's digest");
    std::copy(digest.begin(), digest.end(), device.token_sha256.begin());
    if (!rows.is_null(5)) device.revoked_ms = rows.integer(5);
    all.push_back(std::move(device));
  }
  return all;
}

void Store::touch_device(const Uuid& id, std::int64_t seen_ms) {
  connection_.run("UPDATE device SET seen_ms = max(seen_ms, ?) WHERE id = ?", seen_ms,
                  value_of(id));
}

Result<Device> Store::revoke_device(const Uuid& id, std::int64_t now_ms) {
  Transaction transaction(connection_);
  connection_.run("UPDATE device SET revoked_ms = ? WHERE id = ? AND revoked_ms IS NULL", now_ms,
                  value_of(id));
  transaction.commit();
  for (Device& device : devices())
    if (device.id == id) return std::move(device);
  return problem(fmt::format("There is no device {}.", to_text(id)),
                 "List the devices to see which there are.", "Nothing was changed.");
}

std::int64_t Store::data_version() { return connection_.number("PRAGMA data_version"); }

}  // namespace batten
