// SPDX-License-Identifier: GPL-3.0-or-later
//
// Questions about outlines that rounding must not answer. They are put to the CGAL library, whose
// headers stay in outline_exact.cpp; its polygon packages are GPL-3.0-or-later, hence so is this
// program.
#pragma once

#include <vector>

#include "grainwright/grain/outline.hpp"

namespace grainwright::exact {

/// Points where rings cross, touch or run along themselves or each other: where a straight edge meets
/// another elsewhere than at the corner between the two, and corners that come more than once.
/// Exactly found and then rounded. The insides of arcs are left out: see crossings_of_arcs().
[[nodiscard]] std::vector<Point> meetings(const std::vector<Ring>& rings);

/// True where the point lies inside the polygon of a ring's corners or on it.
[[nodiscard]] bool inside(Point point, const Ring& ring);

/// The union of voids that are straight-edged polygons or whole circles (two half turns), which may
/// overlap. Rings come out anticlockwise outside, clockwise holes.
[[nodiscard]] Outline united(const Outline& outline);

}  // namespace grainwright::exact
