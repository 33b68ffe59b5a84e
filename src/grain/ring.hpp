// SPDX-License-Identifier: GPL-3.0-or-later
//
// Rings taken apart, for this room's own use.
#pragma once

#include <algorithm>
#include <vector>

#include "plane.hpp"

namespace grainwright {

/// One edge of a ring.
struct Edge {
  Point from;
  Point to;
  double turn = 0;

  /// Directions in which the edge leaves its first corner and reaches its last.
  [[nodiscard]] Point leaving() const { return along(-0.5 * turn); }
  [[nodiscard]] Point arriving() const { return along(0.5 * turn); }
  /// What this edge adds to the area about the origin (Green).
  [[nodiscard]] double area() const {
    double sum = 0.5 * wedge(from, to);
    if (turn == 0) return sum;
    double radius = arc_of(from, to, turn).radius;
    return sum + 0.5 * radius * radius * (turn - std::sin(turn));
  }

 private:
  [[nodiscard]] Point along(double more) const {
    Point chord = to - from;
    Point e = unit(more);
    return (1 / norm(chord)) * Point{e.x * chord.x - e.y * chord.y, e.y * chord.x + e.x * chord.y};
  }
};

[[nodiscard]] inline std::vector<Edge> edges_of(const Ring& ring) {
  std::vector<Edge> edges;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    edges.push_back({ring[i].at, ring[(i + 1) % ring.size()].at, ring[i].turn});
  }
  return edges;
}

/// Anticlockwise positive.
[[nodiscard]] inline double signed_area(const Ring& ring) {
  double sum = 0;
  for (const Edge& edge : edges_of(ring)) sum += edge.area();
  return sum;
}

/// Reads the ring backward: each edge then leaves its former end and turns the other way.
inline void reverse_ring(Ring& ring) {
  std::vector<double> turns;
  for (const Corner& corner : ring) turns.push_back(-corner.turn);
  std::reverse(ring.begin(), ring.end());
  for (std::size_t i = 0; i < ring.size(); ++i) {
    ring[i].turn = turns[(2 * ring.size() - 2 - i) % ring.size()];
  }
}

/// All rings of an outline.
[[nodiscard]] inline std::vector<Ring> rings_of(const Outline& outline) {
  std::vector<Ring> rings;
  for (const Region& region : outline.voids) {
    rings.push_back(region.outer);
    rings.insert(rings.end(), region.holes.begin(), region.holes.end());
  }
  return rings;
}

}  // namespace grainwright
