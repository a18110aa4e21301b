#include "core/action/stroke_group.hpp"

namespace batten::action::detail {

void run_group_base(const StrokeGroup& group) {
  run_group<mechanism::Lanes<mechanism::Isa::base>>(group);
}

}  // namespace batten::action::detail
