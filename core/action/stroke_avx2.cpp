#include "core/action/stroke_group.hpp"

// Without the instructions this source is compiled for elsewhere (a check of one source alone, another
// processor) there is nothing to make; strokes.cpp asks only where they are.
#if defined(__AVX2__)
namespace batten::action::detail {

void run_group_avx2(const StrokeGroup& group) {
  run_group<mechanism::Lanes<mechanism::Isa::avx2>>(group);
}

}  // namespace batten::action::detail
#endif
