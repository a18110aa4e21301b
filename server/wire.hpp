// A response as bytes, with the lines every one of them carries.
#pragma once

#include "server/http.hpp"

#include <string>

namespace batten::server {

// Status line and head lines up to the empty one. `closing`: the connection ends behind it.
std::string print_head(const Response& response, bool closing);
// The head of an endless event stream.
std::string print_stream_head();

}  // namespace batten::server
