// A note on the model as JSON: compact, for a screen that asks while a slider is dragged. Lengths
// are mm, forces gf, angles rad, times ms; what the model does not read is null.
#pragma once

#include "app/note_job.hpp"

#include <string>

namespace batten {

// What a note is to be, reads and may be moved; readings by the catalogue's codes.
std::string note_to_json(const NoteBench& bench);

// Readings with the moves, faults, the press curve, the outlines of every part and where the parts
// stand: at the depth asked for, and in rows of the press where there are any.
std::string what_if_to_json(const NoteBench& bench, const WhatIfRequest& request,
                            const NoteWhatIf& answer);

std::string strokes_to_json(const NoteBench& bench, const WhatIfRequest& request,
                            const StrokeRequest& asked, const std::vector<NamedStroke>& strokes);

}  // namespace batten
