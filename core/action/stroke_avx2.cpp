#include "core/action/stroke_group.hpp"

namespace batten::action::detail {

void run_group_avx2(const StrokeGroup& group) {
  run_group<mechanism::Lanes<mechanism::Isa::avx2>>(group);
}

}  // namespace batten::action::detail
