// SPDX-License-Identifier: GPL-3.0-or-later
//
// Curved edges: what the exact predicates, which are for straight ones, do not answer.
#pragma once

#include <vector>

#include "ring.hpp"

namespace grainwright {

[[nodiscard]] bool holds_arcs(const Ring& ring);
/// Two half turns.
[[nodiscard]] bool is_circle(const Ring& ring);

/// The ring with each arc replaced by chords, fine enough to tell inside from outside.
[[nodiscard]] Ring straightened(const Ring& ring);

/// The point of an edge that is farthest from the axis.
[[nodiscard]] Point farthest_point(const Edge& edge);

/// Points where an arc meets another edge elsewhere than at a shared corner; to rounding.
[[nodiscard]] std::vector<Point> crossings_of_arcs(const std::vector<Ring>& rings);

/// True where disks around the voids are apart, so that nothing can overlap.
[[nodiscard]] bool clear_of_each_other(const std::vector<Region>& voids);

}  // namespace grainwright
