// SPDX-License-Identifier: GPL-3.0-or-later
//
// A drawn void grown by CGAL's Minkowski sums: the polygon is cut into convex ones, each is summed
// with a disk, and the sums are united. Nothing of that is in the kernel.
#pragma once

#include <vector>

#include "grainwright/grain/outline.hpp"

namespace reference {

struct Grown {
  double area = 0;   ///< of the grown void inside the wall
  double front = 0;  ///< length of its edge inside the wall
};

/// The polygon of the corners, anticlockwise and simple, grown by a radius and cut off at the wall
/// round the origin. Good for about 1e-9 lengths.
[[nodiscard]] Grown grown(const std::vector<grainwright::Point>& corners, double radius,
                          double wall);

}  // namespace reference
