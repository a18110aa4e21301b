#include "core/action/stroke_group.hpp"

// Without the instructions this source is compiled for elsewhere (a check of one source alone, another
// processor) there is nothing to make; strokes.cpp asks only where they are.
#if defined(__AVX512F__)
namespace batten::action::detail {

void run_group_avx512(const StrokeGroup& group) {
  run_group<mechanism::Lanes<mechanism::Isa::avx512>>(group);
}

}  // namespace batten::action::detail
#endif
