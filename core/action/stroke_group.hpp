// Strokes of several notes side by side: what one source for each instruction set is made of.
#pragma once

#include "core/action/stroke_run.hpp"
#include "core/mechanism/pack.hpp"

namespace batten::action::detail {

// Alike models, one a lane, and a book for each of eight lanes; plain memory only, because sources
// compiled for other instruction sets must share no template with the rest.
struct StrokeGroup {
  const mechanism::Model<double>* const* models = nullptr;
  LaneBook* books = nullptr;
  int used = 0;  // 1 to 8
  const StrokeOptions* options = nullptr;
};

template <class Real>
void run_group(const StrokeGroup& group) {
  mechanism::Model<Real> model;
  for (int lane = 0; lane < RealTraits<Real>::width; ++lane)
    mechanism::put_lane(*group.models[lane < group.used ? lane : 0], model, lane);
  const Pressing<Real> rest = settle(model);
  run_strokes(model, rest, group.used, *group.options, group.books);
}

void run_group_base(const StrokeGroup& group);
void run_group_avx2(const StrokeGroup& group);
void run_group_avx512(const StrokeGroup& group);

}  // namespace batten::action::detail
