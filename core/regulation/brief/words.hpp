// A brief told as a colleague would tell it: short sentences, plain words, units.
#pragma once

#include "core/regulation/brief/brief.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace batten {

// "dip", "blow", "let-off", "drop", "least".
std::string_view code_of(Way way);
// "dip only", "blow only", …, "a little of each".
std::string_view name_of(Way way);

// "Bass (C3) works at the sheet's figures: aftertouch 1.08 mm …", or what is wrong there and by how
// much.
std::vector<std::string> verdict_words(const RegisterBrief& brief);
// "Dip 0.30 mm deeper (10.30 mm): aftertouch 0.81 mm; 2 % less power, …".
std::string departure_words(const Departure& departure);
// "The need that cannot be met is aftertouch: …".
std::string unmet_words(const Unmet& unmet, const RegisterBrief& brief);
// One or two sentences over all registers.
std::string brief_words(const Brief& brief);

}  // namespace batten
