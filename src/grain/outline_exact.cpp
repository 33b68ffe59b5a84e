// SPDX-License-Identifier: GPL-3.0-or-later
#include "outline_exact.hpp"

#include <CGAL/Arr_segment_traits_2.h>
#include <CGAL/Exact_predicates_exact_constructions_kernel.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/General_polygon_set_2.h>
#include <CGAL/Gps_circle_segment_traits_2.h>
#include <CGAL/Polygon_2_algorithms.h>
#include <CGAL/Surface_sweep_2_algorithms.h>

#include <algorithm>
#include <iterator>
#include <numbers>
#include <utility>

#include "ring.hpp"

namespace grainwright::exact {
namespace {

using Kernel = CGAL::Exact_predicates_exact_constructions_kernel;
using Traits = CGAL::Gps_circle_segment_traits_2<Kernel>;
using Set = CGAL::General_polygon_set_2<Traits>;
using Polygon = Traits::General_polygon_2;
using Curve = Traits::Curve_2;

// The common case at a fraction of the cost: filtered predicates, no constructions.
bool is_simple(const Ring& ring) {
  using Filtered = CGAL::Exact_predicates_inexact_constructions_kernel;
  std::vector<Filtered::Point_2> corners;
  for (const Corner& corner : ring) {
    if (corner.turn != 0) return false;
    corners.emplace_back(corner.at.x, corner.at.y);
  }
  return CGAL::is_simple_2(corners.begin(), corners.end(), Filtered());
}

// CGAL's sweep leaves out points where edges only end, and with them edges drawn twice.
std::vector<Point> shared_corners(const std::vector<Ring>& rings) {
  std::vector<Point> corners;
  for (const Ring& ring : rings) {
    for (const Corner& corner : ring) corners.push_back(corner.at);
  }
  std::sort(corners.begin(), corners.end(),
            [](Point a, Point b) { return std::pair(a.x, a.y) < std::pair(b.x, b.y); });
  std::vector<Point> shared;
  for (std::size_t i = 1; i < corners.size(); ++i) {
    if (corners[i] == corners[i - 1]) shared.push_back(corners[i]);
  }
  shared.erase(std::unique(shared.begin(), shared.end()), shared.end());
  return shared;
}

Kernel::Point_2 exact_point(Point p) {
  return {p.x, p.y};
}

bool is_circle(const Ring& ring) {
  return ring.size() == 2 && ring[0].turn == ring[1].turn &&
         std::abs(std::abs(ring[0].turn) - std::numbers::pi) < 1e-12;
}

void append(const Curve& curve, Polygon& polygon) {
  Traits traits;
  using Part = boost::variant<Traits::Point_2, Traits::X_monotone_curve_2>;
  std::vector<Part> parts;
  traits.make_x_monotone_2_object()(curve, std::back_inserter(parts));
  for (const Part& part : parts) polygon.push_back(boost::get<Traits::X_monotone_curve_2>(part));
}

Polygon exact_polygon(const Ring& ring) {
  Polygon polygon;
  if (is_circle(ring)) {
    Point centre = 0.5 * (ring[0].at + ring[1].at);
    Kernel::FT half = 0.5 * norm(ring[1].at - ring[0].at);
    append(Curve(Kernel::Circle_2(exact_point(centre), half * half, CGAL::COUNTERCLOCKWISE)),
           polygon);
  } else {
    for (const Edge& edge : edges_of(ring)) {
      append(Curve(exact_point(edge.from), exact_point(edge.to)), polygon);
    }
  }
  if (polygon.orientation() != CGAL::COUNTERCLOCKWISE) polygon.reverse_orientation();
  return polygon;
}

Set exact_region(const Region& region) {
  Set set(exact_polygon(region.outer));
  for (const Ring& hole : region.holes) set.difference(exact_polygon(hole));
  return set;
}

Point rounded(const Traits::Point_2& p) {
  return {CGAL::to_double(p.x()), CGAL::to_double(p.y())};
}

double turn_of(const Traits::X_monotone_curve_2& curve) {
  if (curve.is_linear()) return 0;
  auto circle = curve.supporting_circle();
  Point centre = {CGAL::to_double(circle.center().x()), CGAL::to_double(circle.center().y())};
  // An arc that is monotone in x turns by half a turn at most.
  double turn =
      std::abs(angle_between(rounded(curve.source()) - centre, rounded(curve.target()) - centre));
  return curve.orientation() == CGAL::COUNTERCLOCKWISE ? turn : -turn;
}

Ring rounded(const Polygon& polygon) {
  Ring ring;
  for (auto curve = polygon.curves_begin(); curve != polygon.curves_end(); ++curve) {
    ring.push_back({rounded(curve->source()), turn_of(*curve)});
  }
  return ring;
}

}  // namespace

std::vector<Point> meetings(const std::vector<Ring>& rings) {
  if (rings.size() == 1 && is_simple(rings.front())) return {};
  using Segments = CGAL::Arr_segment_traits_2<Kernel>;
  std::vector<Segments::Curve_2> segments;
  for (const Ring& ring : rings) {
    for (const Edge& edge : edges_of(ring)) {
      if (edge.turn == 0) segments.emplace_back(exact_point(edge.from), exact_point(edge.to));
    }
  }
  std::vector<Kernel::Point_2> found;
  CGAL::compute_intersection_points(segments.begin(), segments.end(), std::back_inserter(found));
  std::vector<Point> points = shared_corners(rings);
  for (const auto& p : found) points.push_back({CGAL::to_double(p.x()), CGAL::to_double(p.y())});
  return points;
}

bool inside(Point point, const Ring& ring) {
  std::vector<Kernel::Point_2> corners;
  for (const Corner& corner : ring) corners.push_back(exact_point(corner.at));
  return CGAL::bounded_side_2(corners.begin(), corners.end(), exact_point(point), Kernel()) !=
         CGAL::ON_UNBOUNDED_SIDE;
}

Outline united(const Outline& outline) {
  Set set;
  for (const Region& region : outline.voids) set.join(exact_region(region));
  std::vector<Traits::General_polygon_with_holes_2> found;
  set.polygons_with_holes(std::back_inserter(found));
  Outline out;
  out.through_wall = outline.through_wall;
  for (const auto& polygon : found) {
    Region region{rounded(polygon.outer_boundary()), {}};
    for (auto hole = polygon.holes_begin(); hole != polygon.holes_end(); ++hole) {
      region.holes.push_back(rounded(*hole));
    }
    out.voids.push_back(std::move(region));
  }
  return out;
}

}  // namespace grainwright::exact
