// A request's body, read with care: what is wrong with it is told by name.
#pragma once

#include "core/outcome/outcome.hpp"
#include "server/http.hpp"

#include <nlohmann/json_fwd.hpp>

#include <cstdint>
#include <initializer_list>
#include <string>
#include <string_view>

namespace batten::server {

// The body as a JSON object of known fields. Error: not JSON, no object, a field that is not known
// here, nested deeper than anything asked for.
Result<nlohmann::json> body_object(const Request& request,
                                   std::initializer_list<std::string_view> known);

// A field's text; empty where it is not there or null. Error: it is something else than text.
Result<std::string> text_in(const nlohmann::json& object, const std::string& field);

// JSON text of an object, with "revision" put in front.
std::string with_revision(const std::string& json, std::int64_t revision);

}  // namespace batten::server
