// Whole files in and out.
#pragma once

#include "core/outcome/outcome.hpp"

#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>

namespace batten {

// Up to one block more than `most` bytes, so that who reads the text can refuse what is too long.
// Error: no such file, a folder, no permission.
Result<std::string> read_file(const std::filesystem::path& file, std::size_t most);

// Writes text to a file beside it first, so that an older file is whole or replaced.
Result<void> write_file(const std::filesystem::path& file, std::string_view text);

}  // namespace batten
