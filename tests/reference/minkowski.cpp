// SPDX-License-Identifier: GPL-3.0-or-later
#include "minkowski.hpp"

#include <CGAL/Exact_predicates_exact_constructions_kernel.h>
#include <CGAL/General_polygon_set_2.h>
#include <CGAL/Gps_circle_segment_traits_2.h>
#include <CGAL/Polygon_2.h>
#include <CGAL/approximated_offset_2.h>

#include <algorithm>
#include <cmath>
#include <iterator>

namespace reference {
namespace {

using Kernel = CGAL::Exact_predicates_exact_constructions_kernel;
using Traits = CGAL::Gps_circle_segment_traits_2<Kernel>;
using Set = CGAL::General_polygon_set_2<Traits>;
using Polygon = Traits::General_polygon_2;

Polygon disk(double radius) {
  Traits::Curve_2 circle(Kernel::Circle_2({0, 0}, Kernel::FT(radius) * radius));
  std::vector<boost::variant<Traits::Point_2, Traits::X_monotone_curve_2>> halves;
  Traits().make_x_monotone_2_object()(circle, std::back_inserter(halves));
  Polygon polygon;
  for (const auto& half : halves) polygon.push_back(boost::get<Traits::X_monotone_curve_2>(half));
  return polygon;
}

// Green's theorem, curve by curve: a chord, and what an arc adds to it.
void add(const Polygon& ring, double wall, Grown& sum) {
  for (auto curve = ring.curves_begin(); curve != ring.curves_end(); ++curve) {
    double x = CGAL::to_double(curve->source().x());
    double y = CGAL::to_double(curve->source().y());
    double x2 = CGAL::to_double(curve->target().x());
    double y2 = CGAL::to_double(curve->target().y());
    double chord = std::hypot(x2 - x, y2 - y);
    sum.area += (x * y2 - x2 * y) / 2;
    if (curve->is_linear()) {
      sum.front += chord;
      continue;
    }
    Kernel::Circle_2 circle = curve->supporting_circle();
    double radius = std::sqrt(CGAL::to_double(circle.squared_radius()));
    double half = std::asin(std::min(1.0, chord / (2 * radius)));  // of an arc under half a turn
    double sign = curve->orientation() == CGAL::COUNTERCLOCKWISE ? 1 : -1;
    sum.area += sign * radius * radius * (half - std::sin(half) * std::cos(half));
    bool is_wall = circle.squared_radius() == Kernel::FT(wall) * wall &&
                   circle.center() == Kernel::Point_2(0, 0);
    if (!is_wall) sum.front += 2 * half * radius;
  }
}

}  // namespace

Grown grown(const std::vector<grainwright::Point>& corners, double radius, double wall) {
  CGAL::Polygon_2<Kernel> polygon;
  for (grainwright::Point p : corners) polygon.push_back({p.x, p.y});
  Set set(CGAL::approximated_offset_2(polygon, Kernel::FT(radius), 1e-9));
  set.intersection(disk(wall));
  std::vector<Traits::General_polygon_with_holes_2> parts;
  set.polygons_with_holes(std::back_inserter(parts));
  Grown sum;
  for (const auto& part : parts) {
    add(part.outer_boundary(), wall, sum);
    for (auto hole = part.holes_begin(); hole != part.holes_end(); ++hole) add(*hole, wall, sum);
  }
  return sum;
}

}  // namespace reference
