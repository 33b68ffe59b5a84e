// SPDX-License-Identifier: GPL-3.0-or-later
//
// Questions about outlines that rounding must not answer. They are put to the CGAL library, whose
// headers stay in outline_exact.cpp; its polygon packages are GPL-3.0-or-later, hence so is this
// program.
#pragma once

#include <vector>

#include "grainwright/grain/outline.hpp"

namespace grainwright::exact {

/// Points where straight edges of the rings cross, touch or run along each other, beyond the corner
/// between neighbours; exactly found, then rounded, by rising x. Arcs: see crossings_of_arcs().
[[nodiscard]] std::vector<Point> meetings(const std::vector<Ring>& rings);

/// True where the point lies inside the polygon of a ring's corners or on it.
[[nodiscard]] bool inside(Point point, const Ring& ring);

/// The union of voids that are straight-edged polygons or whole circles (two half turns), which may
/// overlap. Rings come out anticlockwise outside, clockwise holes.
[[nodiscard]] Outline united(const Outline& outline);

}  // namespace grainwright::exact
