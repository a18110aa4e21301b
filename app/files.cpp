#include "app/files.hpp"

#include "app/desk.hpp"

#include <fcntl.h>
#include <fstream>
#include <system_error>
#include <unistd.h>
#include <vector>

namespace batten {

Result<std::string> read_file(const std::filesystem::path& file, std::size_t most) {
  std::ifstream in(file, std::ios::binary);
  if (!in || std::filesystem::is_directory(file))
    return problem("The file " + file.string() + " cannot be read.",
                   "Check its name and its permissions.");
  std::string text;
  std::vector<char> block(1 << 16);
  while (in.read(block.data(), static_cast<std::streamsize>(block.size())), in.gcount() > 0) {
    text.append(block.data(), static_cast<std::size_t>(in.gcount()));
    // One byte more than allowed is enough for the table reader to refuse it by name.
    if (text.size() > most) break;
  }
  return text;
}

Result<void> write_file(const std::filesystem::path& file, std::string_view text) {
  return guarded([&]() -> Result<void> {
    std::filesystem::path beside = file;
    beside += ".part";
    {
      std::ofstream out(beside, std::ios::binary);
      out.write(text.data(), static_cast<std::streamsize>(text.size()));
      out.flush();
      if (!out) {
        std::error_code ignored;
        std::filesystem::remove(beside, ignored);
        return problem("The file " + file.string() + " could not be written.",
                       "Check the folder, its permissions and the disk.",
                       "Nothing there was changed.");
      }
    }
    // On the disk before it has its name, so that a power cut leaves the one or the other.
    if (const int handle = ::open(beside.c_str(), O_RDONLY | O_CLOEXEC); handle >= 0) {
      ::fsync(handle);
      ::close(handle);
    }
    std::error_code failed;
    std::filesystem::rename(beside, file, failed);
    if (failed) {
      std::error_code ignored;
      std::filesystem::remove(beside, ignored);
      return problem(
          "The file " + file.string() + " could not be written: " + failed.message() + ".",
          "Name another file.", "What was there is unchanged.");
    }
    return {};
  });
}

}  // namespace batten
