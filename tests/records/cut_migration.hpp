// A migration under a power cut at each of its operations.
#pragma once

#include "core/journal/entry.hpp"
#include "records/migrations.hpp"

#include <map>
#include <string>
#include <vector>

namespace batten::tests {

// `old`: the files of a disk with "/pianos.store" of version `from`, at rest. After each cut the
// store must be of one version or the other, whole, with `journal` for `piano`; and where it is of
// the new one, the copy of the old one must be there.
void cut_migration_everywhere(const std::map<std::string, std::string>& old,
                              const std::vector<Migration>& steps, int from, const Uuid& piano,
                              const std::vector<Entry>& journal);

}  // namespace batten::tests
