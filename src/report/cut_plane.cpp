// SPDX-License-Identifier: GPL-3.0-or-later
#include "cut_plane.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace grainwright {
namespace {

struct Circle {
  Point centre;
  double radius = 0;
};
Circle circle_of(const Stroke& arc) {
  const Point a = arc.from;
  const Point b = arc.to;
  const double chord = std::hypot(b.x - a.x, b.y - a.y);
  const double height = chord / (2 * std::tan(arc.turn / 2));
  return {{(a.x + b.x) / 2 - height * (b.y - a.y) / chord,
           (a.y + b.y) / 2 + height * (b.x - a.x) / chord},
          chord / (2 * std::sin(std::abs(arc.turn) / 2))};
}

// Whether an arc has a point in this direction from its centre.
bool turns_to(const Stroke& arc, Point centre, double direction) {
  double turned = direction - std::atan2(arc.from.y - centre.y, arc.from.x - centre.x);
  if (arc.turn < 0) turned = -turned;
  turned -= 2 * std::numbers::pi * std::floor(turned / (2 * std::numbers::pi));
  return turned <= std::abs(arc.turn);
}

// Where a stroke passes the plane x = 0: heights.
void add_crossings(const Stroke& stroke, std::vector<double>& heights) {
  const Point a = stroke.from;
  const Point b = stroke.to;
  if (stroke.turn == 0) {
    if ((a.x < 0) != (b.x < 0)) heights.push_back(a.y + (b.y - a.y) * a.x / (a.x - b.x));
    return;
  }
  const auto [centre, radius] = circle_of(stroke);
  const double square = radius * radius - centre.x * centre.x;
  if (square <= 0) return;
  for (const double side : {-1.0, 1.0}) {
    const double y = side * std::sqrt(square);
    if (turns_to(stroke, centre, std::atan2(y, -centre.x))) heights.push_back(centre.y + y);
  }
}

std::vector<Stroke> edges_of(const Outline& outline) {
  std::vector<Stroke> edges;
  const auto add = [&](const Ring& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      edges.push_back({ring[i].at, ring[(i + 1) % ring.size()].at, ring[i].turn});
    }
  };
  for (const Region& region : outline.voids) {
    add(region.outer);
    std::ranges::for_each(region.holes, add);
  }
  return edges;
}

// From a point to an edge, whose arcs are whole ones seen from their own side.
double distance(Point p, const Stroke& edge) {
  const Point a = edge.from;
  const Point b = edge.to;
  const double ends = std::min(std::hypot(p.x - a.x, p.y - a.y), std::hypot(p.x - b.x, p.y - b.y));
  const Point along = {b.x - a.x, b.y - a.y};
  const double chord = std::hypot(along.x, along.y);
  if (edge.turn == 0) {
    const double t = ((p.x - a.x) * along.x + (p.y - a.y) * along.y) / (chord * chord);
    if (t <= 0 || t >= 1) return ends;
    return std::abs((p.x - a.x) * along.y - (p.y - a.y) * along.x) / chord;
  }
  const auto [centre, radius] = circle_of(edge);
  if (!turns_to(edge, centre, std::atan2(p.y - centre.y, p.x - centre.x))) return ends;
  return std::abs(std::hypot(p.x - centre.x, p.y - centre.y) - radius);
}

}  // namespace

std::vector<double> crossings_of(const std::vector<Stroke>& strokes) {
  std::vector<double> heights;
  for (const Stroke& stroke : strokes) add_crossings(stroke, heights);
  std::ranges::sort(heights);
  return heights;
}

CutPlane::CutPlane(const Outline& outline, double radius)
    : edges_(edges_of(outline)), heights_(crossings_of(edges_)), radius_(radius) {}

std::vector<std::pair<double, double>> CutPlane::propellant(std::vector<double> front,
                                                            double web) const {
  front.push_back(-radius_);
  front.push_back(radius_);
  std::ranges::sort(front);
  std::vector<std::pair<double, double>> found;
  for (std::size_t i = 0; i + 1 < front.size(); ++i) {
    const double low = std::max(front[i], -radius_);
    const double high = std::min(front[i + 1], radius_);
    if (high > low && is_propellant((low + high) / 2, web)) found.push_back({low, high});
  }
  return found;
}

double CutPlane::telling() const {
  double above = 0;
  double below = 0;
  for (const auto& [low, high] : propellant(heights_, 0)) {
    above += std::max(high, 0.0) - std::max(low, 0.0);
    below += std::min(high, 0.0) - std::min(low, 0.0);
  }
  constexpr double unlike = 10;
  return unlike * std::abs(above - below) + above + below;
}

bool CutPlane::is_propellant(double y, double web) const {
  const auto below = std::ranges::count_if(heights_, [y](double height) { return height < y; });
  if (below % 2 == 1) return false;
  return web == 0 || std::ranges::none_of(edges_, [&](const Stroke& edge) {
           return distance({0, y}, edge) < web;
         });
}

// A hair beside any symmetry, where rounding would decide on which side of the plane a corner lies.
Outline turned_to_show(const Outline& outline, double radius) {
  constexpr int looks = 24;
  constexpr double beside = 1e-3;  // rad
  constexpr double better = 1.001;
  Outline best;
  double most = -1;
  for (int i = 0; i < looks; ++i) {
    Outline turned = rotated(outline, std::numbers::pi * i / looks + beside);
    const double here = CutPlane(turned, radius).telling();
    if (here <= most * better) continue;
    most = here;
    best = std::move(turned);
  }
  return best;
}

}  // namespace grainwright
