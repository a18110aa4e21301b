#include "tests/records/power_cut_disk.hpp"

#include <algorithm>
#include <array>
#include <cstring>
#include <new>
#include <optional>

namespace batten::tests {
namespace {

constexpr int folder_synced_kinds =
    SQLITE_OPEN_MAIN_JOURNAL | SQLITE_OPEN_SUPER_JOURNAL | SQLITE_OPEN_WAL;

}  // namespace

// The functions SQLite calls, with access to the disk's insides.
struct DiskCalls {
  using Disk = PowerCutDisk;
  using File = Disk::File;
  using Handle = Disk::Handle;

  // What SQLite allocates for each open file; the handle is built inside it.
  struct Slot {
    sqlite3_file base;
    Disk* disk;
    alignas(Handle) std::array<std::byte, sizeof(Handle)> handle;
  };

  static Slot& slot(sqlite3_file* file) { return *reinterpret_cast<Slot*>(file); }
  static Disk& disk(sqlite3_file* file) { return *slot(file).disk; }
  static Disk& disk(sqlite3_vfs* vfs) { return *static_cast<Disk*>(vfs->pAppData); }
  static Handle& handle(sqlite3_file* file) {
    return *std::launder(reinterpret_cast<Handle*>(slot(file).handle.data()));
  }
  static File& data(sqlite3_file* file) { return *handle(file).file; }

  // --- files ---

  static int close(sqlite3_file* file) {
    data(file).locks.erase(&handle(file));
    handle(file).~Handle();
    return SQLITE_OK;
  }

  static int read(sqlite3_file* file, void* buffer, int amount, sqlite3_int64 offset) {
    if (disk(file).off_) return SQLITE_IOERR_READ;
    const std::string& image = data(file).now;
    const auto wanted = static_cast<std::size_t>(amount);
    const std::size_t start = std::min(static_cast<std::size_t>(offset), image.size());
    const std::size_t count = std::min(wanted, image.size() - start);
    std::memcpy(buffer, image.data() + start, count);
    std::memset(static_cast<char*>(buffer) + count, 0, wanted - count);
    return count == wanted ? SQLITE_OK : SQLITE_IOERR_SHORT_READ;
  }

  static int change(sqlite3_file* file, Disk::Change change, int error) {
    Disk& disk_ = disk(file);
    const bool on_before = !disk_.off_;
    const bool goes_on = disk_.operate();
    // The write during which the power goes may get as far as any.
    if (on_before) {
      Disk::apply(data(file).now, change);
      data(file).unsynced.push_back(std::move(change));
    }
    return goes_on ? SQLITE_OK : error;
  }

  static int write(sqlite3_file* file, const void* bytes, int amount, sqlite3_int64 offset) {
    const auto start = static_cast<std::size_t>(offset);
    const auto count = static_cast<std::size_t>(amount);
    const std::size_t size = data(file).now.size();
    const std::size_t growth = std::max(size, start + count) - size;
    if (growth > 0 && disk(file).used_space() + growth > disk(file).space_) return SQLITE_FULL;
    return change(file, {false, start, {static_cast<const char*>(bytes), count}},
                  SQLITE_IOERR_WRITE);
  }

  static int truncate(sqlite3_file* file, sqlite3_int64 size) {
    return change(file, {true, static_cast<std::size_t>(size), {}}, SQLITE_IOERR_TRUNCATE);
  }

  static int sync(sqlite3_file* file, int) {
    Disk& disk_ = disk(file);
    if (!disk_.operate()) return SQLITE_IOERR_FSYNC;
    data(file).durable = data(file).now;
    data(file).unsynced.clear();
    if (handle(file).syncs_folder) disk_.durable_ = disk_.now_;
    handle(file).syncs_folder = false;
    return SQLITE_OK;
  }

  static int size(sqlite3_file* file, sqlite3_int64* size) {
    if (disk(file).off_) return SQLITE_IOERR_FSTAT;
    *size = static_cast<sqlite3_int64>(data(file).now.size());
    return SQLITE_OK;
  }

  // --- locks on the file (sqlite.org/lockingv3.html) ---

  // The strongest lock another handle holds.
  static int strongest_other(sqlite3_file* file) {
    int strongest = SQLITE_LOCK_NONE;
    for (const auto& [other, level] : data(file).locks) {
      if (other != &handle(file)) strongest = std::max(strongest, level);
    }
    return strongest;
  }

  static int set_level(sqlite3_file* file, int level) {
    handle(file).level = level;
    data(file).locks[&handle(file)] = level;
    return SQLITE_OK;
  }

  static int lock(sqlite3_file* file, int level) {
    if (disk(file).off_) return SQLITE_IOERR_LOCK;
    if (handle(file).level >= level) return SQLITE_OK;
    const int other = strongest_other(file);
    if (level == SQLITE_LOCK_SHARED && other >= SQLITE_LOCK_PENDING) return SQLITE_BUSY;
    if (level >= SQLITE_LOCK_RESERVED && other >= SQLITE_LOCK_RESERVED) return SQLITE_BUSY;
    if (level == SQLITE_LOCK_EXCLUSIVE && other >= SQLITE_LOCK_SHARED) {
      set_level(file, SQLITE_LOCK_PENDING);
      return SQLITE_BUSY;
    }
    return set_level(file, level);
  }

  static int unlock(sqlite3_file* file, int level) { return set_level(file, level); }

  static int check_reserved(sqlite3_file* file, int* reserved) {
    *reserved = strongest_other(file) >= SQLITE_LOCK_RESERVED ? 1 : 0;
    return SQLITE_OK;
  }

  // --- shared memory of the log (sqlite.org/walformat.html, section 2) ---

  static int shm_map(sqlite3_file* file, int region, int size, int extend,
                     volatile void** address) {
    *address = nullptr;
    if (disk(file).off_) return SQLITE_IOERR_SHMMAP;
    auto& regions = data(file).shared_memory.regions;
    const auto index = static_cast<std::size_t>(region);
    if (index >= regions.size() && extend == 0) return SQLITE_OK;
    while (index >= regions.size()) {
      regions.push_back(std::make_unique<std::vector<char>>(static_cast<std::size_t>(size), '\0'));
    }
    data(file).shared_memory.shared.try_emplace(&handle(file), 0U);
    *address = regions[index]->data();
    return SQLITE_OK;
  }

  static int shm_lock(sqlite3_file* file, int offset, int count, int flags) {
    auto& memory = data(file).shared_memory;
    const Handle* self = &handle(file);
    const unsigned mask = ((1U << static_cast<unsigned>(count)) - 1U)
                          << static_cast<unsigned>(offset);
    if ((flags & SQLITE_SHM_UNLOCK) != 0) {
      memory.shared[self] &= ~mask;
      memory.exclusive[self] &= ~mask;
      return SQLITE_OK;
    }
    if (disk(file).off_) return SQLITE_IOERR_SHMLOCK;
    const bool exclusive = (flags & SQLITE_SHM_EXCLUSIVE) != 0;
    for (const auto& [other, bits] : memory.exclusive) {
      if (other != self && (bits & mask) != 0) return SQLITE_BUSY;
    }
    for (const auto& [other, bits] : memory.shared) {
      if (exclusive && other != self && (bits & mask) != 0) return SQLITE_BUSY;
    }
    (exclusive ? memory.exclusive : memory.shared)[self] |= mask;
    return SQLITE_OK;
  }

  static void shm_barrier(sqlite3_file*) {}

  static int shm_unmap(sqlite3_file* file, int) {
    auto& memory = data(file).shared_memory;
    memory.shared.erase(&handle(file));
    memory.exclusive.erase(&handle(file));
    if (memory.shared.empty()) memory.regions.clear();
    return SQLITE_OK;
  }

  static int file_control(sqlite3_file*, int, void*) { return SQLITE_NOTFOUND; }
  static int sector_size(sqlite3_file*) { return static_cast<int>(Disk::sector); }
  static int characteristics(sqlite3_file* file) {
    return disk(file).overwrite_ == Disk::Overwrite::safe ? SQLITE_IOCAP_POWERSAFE_OVERWRITE : 0;
  }

  // --- the folder ---

  static int open(sqlite3_vfs* vfs, const char* name, sqlite3_file* file, int flags, int* out) {
    static const sqlite3_io_methods methods{2,
                                            close,
                                            read,
                                            write,
                                            truncate,
                                            sync,
                                            size,
                                            lock,
                                            unlock,
                                            check_reserved,
                                            file_control,
                                            sector_size,
                                            characteristics,
                                            shm_map,
                                            shm_lock,
                                            shm_barrier,
                                            shm_unmap,
                                            nullptr,
                                            nullptr};
    file->pMethods = nullptr;
    Disk& disk_ = disk(vfs);
    if (disk_.off_) return SQLITE_CANTOPEN;
    std::shared_ptr<File> data = std::make_shared<File>();  // of no name: a scratch file
    if (name != nullptr) {
      const auto found = disk_.now_.find(name);
      if (found == disk_.now_.end()) {
        if ((flags & SQLITE_OPEN_CREATE) == 0) return SQLITE_CANTOPEN;
        disk_.now_[name] = data;
        if (!disk_.operate()) return SQLITE_CANTOPEN;
      } else {
        data = found->second;
      }
    }
    Slot& slot_ = slot(file);
    slot_.disk = &disk_;
    const bool syncs_folder =
        (flags & SQLITE_OPEN_CREATE) != 0 && (flags & folder_synced_kinds) != 0;
    new (slot_.handle.data()) Handle{std::move(data), SQLITE_LOCK_NONE, syncs_folder};
    file->pMethods = &methods;
    if (out != nullptr) *out = flags;
    return SQLITE_OK;
  }

  static int remove(sqlite3_vfs* vfs, const char* name, int sync_folder) {
    Disk& disk_ = disk(vfs);
    if (disk_.off_) return SQLITE_IOERR_DELETE;
    if (disk_.now_.erase(name) == 0) return SQLITE_IOERR_DELETE_NOENT;
    if (!disk_.operate()) return SQLITE_IOERR_DELETE;
    if (sync_folder != 0) disk_.durable_ = disk_.now_;
    return SQLITE_OK;
  }

  static int access(sqlite3_vfs* vfs, const char* name, int, int* there) {
    if (disk(vfs).off_) return SQLITE_IOERR_ACCESS;
    // As the Unix layer answers: an empty file counts as none.
    const auto found = disk(vfs).now_.find(name);
    *there = found != disk(vfs).now_.end() && !found->second->now.empty() ? 1 : 0;
    return SQLITE_OK;
  }

  static int full_path(sqlite3_vfs*, const char* name, int room, char* out) {
    sqlite3_snprintf(room, out, "%s", name);
    return SQLITE_OK;
  }

  static int randomness(sqlite3_vfs*, int count, char* out) {
    std::memset(out, 7, static_cast<std::size_t>(count));
    return count;
  }
  static int sleep(sqlite3_vfs*, int microseconds) { return microseconds; }
  static int current_time(sqlite3_vfs*, double* julian_day) {
    *julian_day = 2460000.5;
    return SQLITE_OK;
  }
  static int last_error(sqlite3_vfs*, int, char*) { return 0; }

  static std::unique_ptr<sqlite3_vfs> make(Disk* disk, const std::string& name) {
    auto vfs = std::make_unique<sqlite3_vfs>();
    vfs->iVersion = 1;
    vfs->szOsFile = static_cast<int>(sizeof(Slot));
    vfs->mxPathname = 512;
    vfs->zName = name.c_str();
    vfs->pAppData = disk;
    vfs->xOpen = open;
    vfs->xDelete = remove;
    vfs->xAccess = access;
    vfs->xFullPathname = full_path;
    vfs->xRandomness = randomness;
    vfs->xSleep = sleep;
    vfs->xCurrentTime = current_time;
    vfs->xGetLastError = last_error;
    return vfs;
  }
};

PowerCutDisk::PowerCutDisk(Overwrite overwrite) : overwrite_(overwrite) {
  static int count = 0;
  name_ = "power-cut-disk-" + std::to_string(++count);
  vfs_ = DiskCalls::make(this, name_);
  sqlite3_vfs_register(vfs_.get(), 0);
}

PowerCutDisk::~PowerCutDisk() { sqlite3_vfs_unregister(vfs_.get()); }

bool PowerCutDisk::operate() {
  if (off_) return false;
  if (++operations_ >= cut_at_) off_ = true;
  return !off_;
}

void PowerCutDisk::apply(std::string& image, const Change& change) {
  if (change.truncation) {
    image.resize(change.offset);
    return;
  }
  const std::size_t end = change.offset + change.bytes.size();
  if (end > image.size()) image.resize(end);
  std::copy(change.bytes.begin(), change.bytes.end(),
            image.begin() + static_cast<std::ptrdiff_t>(change.offset));
}

std::string PowerCutDisk::survivor(const File& file, std::mt19937_64& chance) {
  constexpr std::array keep_chances{0.0, 0.1, 0.5, 0.9, 1.0};
  const double keep = keep_chances[chance() % keep_chances.size()];
  const bool reorder = chance() % 2 == 0;
  std::bernoulli_distribution is_kept(keep);
  std::bernoulli_distribution is_torn(0.3);
  std::bernoulli_distribution half(0.5);

  // Writes fall apart into sectors, of which a torn one keeps some.
  std::vector<Change> kept;
  for (const Change& change : file.unsynced) {
    if (!is_kept(chance)) continue;
    if (change.truncation || !is_torn(chance)) {
      kept.push_back(change);
      continue;
    }
    const std::size_t end = change.offset + change.bytes.size();
    for (std::size_t at = change.offset; at < end;) {
      const std::size_t next = std::min(end, (at / sector + 1) * sector);
      if (half(chance)) {
        kept.push_back({false, at, change.bytes.substr(at - change.offset, next - at)});
      }
      at = next;
    }
  }
  if (reorder) std::shuffle(kept.begin(), kept.end(), chance);
  std::string image = file.durable;
  for (const Change& change : kept) apply(image, change);
  return image;
}

void PowerCutDisk::restart(std::uint64_t seed) {
  std::mt19937_64 chance(seed);
  Names survived;
  Names all = durable_;
  all.insert(now_.begin(), now_.end());
  for (const auto& [name, either] : all) {
    // A name whose change was not synced: as before or as after.
    const Names& from = chance() % 2 == 0 ? now_ : durable_;
    const auto found = from.find(name);
    if (found == from.end()) continue;
    auto file = std::make_shared<File>();
    file->now = survivor(*found->second, chance);
    file->durable = file->now;
    survived[name] = std::move(file);
  }
  now_ = survived;
  durable_ = survived;
  off_ = false;
  cut_at_ = never;
}

std::size_t PowerCutDisk::used_space() const {
  std::size_t used = 0;
  for (const auto& [name, file] : now_) used += file->now.size();
  return used;
}

std::map<std::string, std::string> PowerCutDisk::contents() const {
  std::map<std::string, std::string> all;
  for (const auto& [name, file] : now_) all[name] = file->now;
  return all;
}

void PowerCutDisk::put(const std::string& name, const std::string& bytes) {
  auto file = std::make_shared<File>();
  file->now = bytes;
  file->durable = bytes;
  now_[name] = file;
  durable_[name] = file;
}

}  // namespace batten::tests
