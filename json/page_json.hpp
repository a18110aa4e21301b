// A composed page as JSON: {"title","head","blocks"}, a block with its "kind", its "rank" and
// "least" (core/regulation/handover/page.hpp) and what its kind has; and what is said round the
// blocks: "number" holds {page} and {pages}, "more" (of one, of more) {count}.
#pragma once

#include "core/regulation/handover/page.hpp"
#include "json/values.hpp"

namespace batten {

Json page_json(const ComposedPage& page);

}  // namespace batten
