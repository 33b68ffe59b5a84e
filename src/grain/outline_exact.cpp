// SPDX-License-Identifier: GPL-3.0-or-later
#include "outline_exact.hpp"

#include <CGAL/Exact_predicates_exact_constructions_kernel.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/General_polygon_set_2.h>
#include <CGAL/Gps_circle_segment_traits_2.h>
#include <CGAL/Polygon_2_algorithms.h>
#include <CGAL/box_intersection_d.h>

#include <algorithm>
#include <iterator>
#include <numbers>
#include <optional>
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

Kernel::Point_2 exact_point(Point p) {
  return {p.x, p.y};
}

template <typename ExactPoint>
Point rounded(const ExactPoint& p) {
  return {CGAL::to_double(p.x()), CGAL::to_double(p.y())};
}

// A straight edge, and where it comes in its ring.
struct Side {
  Kernel::Segment_2 segment;
  std::size_t ring;
  std::size_t place;
  std::size_t of;  // edges of the ring, arcs too

  bool is_next_to(const Side& other) const {
    return ring == other.ring &&
           ((place + 1) % of == other.place || (other.place + 1) % of == place);
  }
};

using Box = CGAL::Box_intersection_d::Box_with_handle_d<double, 2, std::vector<Side>::iterator>;

std::vector<Side> straight_sides(const std::vector<Ring>& rings) {
  std::vector<Side> sides;
  for (std::size_t r = 0; r < rings.size(); ++r) {
    std::vector<Edge> edges = edges_of(rings[r]);
    for (std::size_t i = 0; i < edges.size(); ++i) {
      if (edges[i].turn != 0) continue;
      Kernel::Segment_2 segment(exact_point(edges[i].from), exact_point(edges[i].to));
      sides.push_back({segment, r, i, edges.size()});
    }
  }
  return sides;
}

// A point that two sides have in common, beyond the corner between neighbours.
std::optional<Point> meeting(const Side& a, const Side& b) {
  auto common = CGAL::intersection(a.segment, b.segment);
  if (!common) return std::nullopt;
  if (auto* point = boost::get<Kernel::Point_2>(&*common)) {
    if (a.is_next_to(b)) return std::nullopt;
    return rounded(*point);
  }
  return rounded(boost::get<Kernel::Segment_2>(*common).min());
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
  std::vector<Side> sides = straight_sides(rings);
  std::vector<Box> boxes;
  for (auto side = sides.begin(); side != sides.end(); ++side) {
    boxes.emplace_back(side->segment.bbox(), side);
  }
  std::vector<Point> points;
  CGAL::box_self_intersection_d(boxes.begin(), boxes.end(), [&](const Box& a, const Box& b) {
    if (auto point = meeting(*a.handle(), *b.handle())) points.push_back(*point);
  });
  std::sort(points.begin(), points.end(),
            [](Point a, Point b) { return std::pair(a.x, a.y) < std::pair(b.x, b.y); });
  points.erase(std::unique(points.begin(), points.end()), points.end());
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
