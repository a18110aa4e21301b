// A composed page as JSON: {"title","head","blocks"}, a block with its "kind" and what that has.
#pragma once

#include "core/regulation/handover/page.hpp"
#include "json/values.hpp"

namespace batten {

Json page_json(const ComposedPage& page);

}  // namespace batten
