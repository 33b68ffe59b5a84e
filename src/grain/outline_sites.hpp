// SPDX-License-Identifier: GPL-3.0-or-later
//
// From a tidied outline to the sites its front starts from.
#pragma once

#include <vector>

#include "front_site.hpp"

namespace grainwright::front {

/// The burning boundary inside the wall, and the propellant there is to burn.
struct Boundary {
  std::vector<Site> sites;
  double section = 0;  ///< m2
};

[[nodiscard]] Boundary boundary_of(const Outline& tidy, double wall_radius);

/// The sites of one edge: one, or several where an arc is more than half a turn.
void add_edge(Point from, Point to, double turn, std::vector<Site>& sites);

/// The fan of normals at a corner, from one direction through `width`; nothing where width is not
/// above 0.
void add_fan(Point corner, Point first_normal, double width, std::vector<Site>& sites);

}  // namespace grainwright::front
