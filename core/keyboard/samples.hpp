// Which notes to gauge first, and in which order the rest is filled in between them.
#pragma once

#include <vector>

#include "core/keyboard/compass.hpp"

namespace batten {

// Ends of every section and the Bs and Es between (common practice, no source); rising order, no
// doubles. A B or E next to a section end is kept.
std::vector<Key> propose_samples(const std::vector<Section>& sections);

// The same and one more natural an octave: about 28 on a full keyboard. The natural is one or two keys
// in from a section's end where there is such a one, because a wrong reading at an end shows only
// against a neighbour; else the one farthest from the samples around it.
std::vector<Key> propose_fuller_samples(const std::vector<Section>& sections);

// The notes of one section that are not samples, in the order that never walks down a slope: in each
// gap between samples the middle first, then the middles of the halves, and so on; gaps from the
// bass up. `samples` rising; those outside the section are ignored. A stretch outside the outermost
// samples is treated as a gap as well. Of two middles the lower.
std::vector<Key> fill_by_halves(const Section& section, const std::vector<Key>& samples);

// The whole working order: all samples from the bass up, then each section filled by halves.
std::vector<Key> working_order(const std::vector<Section>& sections,
                               const std::vector<Key>& samples);

}  // namespace batten
