#include "core/action/stroke_group.hpp"

namespace batten::action::detail {

void run_group_avx512(const StrokeGroup& group) {
  run_group<mechanism::Lanes<mechanism::Isa::avx512>>(group);
}

}  // namespace batten::action::detail
