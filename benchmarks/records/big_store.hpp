// A store of 500 pianos with 40 visits of 100 readings each: 2 million readings.
#pragma once

#include "core/journal/entry.hpp"
#include "core/outcome/outcome.hpp"

#include <cstdint>
#include <filesystem>

namespace batten::benchmarks {

inline constexpr std::uint32_t pianos = 500;
inline constexpr std::uint32_t visits_per_piano = 40;
inline constexpr std::uint32_t readings_per_visit = 100;
inline constexpr std::uint32_t entries_per_piano = visits_per_piano * readings_per_visit;

// The piano of that number, 1…500; the same in every run.
Piano big_store_piano(std::uint32_t number);
// Sum of its readings' values, known without reading the store. Millimetres.
double big_store_checksum(std::uint32_t number);

// Ends the benchmark if the store refuses.
void must(const Result<void>& result);

// The store's file, made first if it is not there whole. About half a minute of work the first
// time.
std::filesystem::path big_store();

}  // namespace batten::benchmarks
