// On what an outlook rests. Internal to core/regulation/drift.
#pragma once

#include "core/regulation/drift/model.hpp"
#include "core/regulation/drift/outlook.hpp"

namespace batten::drift {

// Share of readings outside at which to come back, unless the user says (estimate, no source).
inline constexpr double usual_limit = 0.2;

OutlookGrounds grounds_of(const Model& model);

}  // namespace batten::drift
