// SPDX-License-Identifier: GPL-3.0-or-later
//
// Vectors of the plane, for this room's own use.
#pragma once

#include <cmath>

#include "grainwright/grain/outline.hpp"

namespace grainwright {

constexpr Point operator+(Point a, Point b) {
  return {a.x + b.x, a.y + b.y};
}
constexpr Point operator-(Point a, Point b) {
  return {a.x - b.x, a.y - b.y};
}
constexpr Point operator*(double k, Point a) {
  return {k * a.x, k * a.y};
}
constexpr double dot(Point a, Point b) {
  return a.x * b.x + a.y * b.y;
}
constexpr double wedge(Point a, Point b) {
  return a.x * b.y - a.y * b.x;
}
inline double norm(Point a) {
  return std::hypot(a.x, a.y);
}
inline Point unit(double angle) {
  return {std::cos(angle), std::sin(angle)};
}
inline double angle_of(Point a) {
  return std::atan2(a.y, a.x);
}
/// Signed angle from a to b, in (-pi, pi].
inline double angle_between(Point a, Point b) {
  return std::atan2(wedge(a, b), dot(a, b));
}
/// A quarter turn clockwise: from a ring's direction to the propellant at its right.
constexpr Point right_of(Point a) {
  return {a.y, -a.x};
}

/// The circle of an edge that is an arc.
struct ArcOf {
  Point centre;
  double radius;
};
inline ArcOf arc_of(Point from, Point to, double turn) {
  Point half = 0.5 * (to - from);
  double lift = 1 / std::tan(0.5 * turn);  // the centre stands left of a positive arc's chord
  return {from + half - lift * right_of(half), norm(half) / std::abs(std::sin(0.5 * turn))};
}

}  // namespace grainwright
