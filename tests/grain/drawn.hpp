// SPDX-License-Identifier: GPL-3.0-or-later
//
// Drawn voids for tests, in millimetres on a tube of radius 25.
#pragma once

#include <algorithm>
#include <boost/math/quadrature/tanh_sinh.hpp>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <random>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "grainwright/grain/planar_front.hpp"

namespace drawn {

using namespace grainwright;

inline constexpr double wall = 25;

/// " at web 2.5 mm", for the names of checks.
inline std::string at_web(double web) {
  std::ostringstream text;
  text << " at web " << web << " mm";
  return text.str();
}

inline Outline polygon(const std::vector<Point>& corners) {
  Ring ring;
  for (Point p : corners) ring.push_back({p, 0});
  return {{{ring, {}}}, false};
}

/// A polygon that is simple because its corners stand at rising angles.
inline Outline spiky(const std::vector<double>& radii) {
  std::vector<Point> corners;
  for (std::size_t i = 0; i < radii.size(); ++i) {
    double a = 2 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(radii.size());
    corners.push_back({radii[i] * std::cos(a), radii[i] * std::sin(a)});
  }
  return polygon(corners);
}

inline bool cross_each_other(Point a, Point b, Point c, Point d) {
  auto side = [](Point p, Point q, Point r) {
    return (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
  };
  return side(a, b, c) * side(a, b, d) <= 0 && side(c, d, a) * side(c, d, b) <= 0;
}

/// A winding polygon: random corners, uncrossed by turning stretches round until none crosses.
inline std::vector<Point> winding(std::size_t count, unsigned seed) {
  std::mt19937 random(seed);
  auto any = [&] { return static_cast<double>(random()) / 4294967296.0; };
  std::vector<Point> p;
  for (std::size_t i = 0; i < count; ++i) {
    double r = 16 * std::sqrt(any());
    double a = 2 * std::numbers::pi * any();
    p.push_back({r * std::cos(a), r * std::sin(a)});
  }
  auto length = [](Point a, Point b) { return std::hypot(a.x - b.x, a.y - b.y); };
  for (bool changed = true; changed;) {
    changed = false;
    for (std::size_t i = 0; i < count; ++i) {
      for (std::size_t j = i + 2; j < count && !(i == 0 && j == count - 1); ++j) {
        Point next = p[(j + 1) % count];
        if (!cross_each_other(p[i], p[i + 1], p[j], next)) continue;
        double gain = length(p[i], p[i + 1]) + length(p[j], next) - length(p[i], p[j]) -
                      length(p[i + 1], next);
        if (gain <= 1e-12) continue;
        std::reverse(p.begin() + static_cast<std::ptrdiff_t>(i + 1),
                     p.begin() + static_cast<std::ptrdiff_t>(j + 1));
        changed = true;
      }
    }
  }
  return p;
}

/// Integral of the perimeter to burnout. Between events it is smooth but may begin or end like a
/// root, which the tanh-sinh rule is made for.
inline double integral_of_perimeter(const PlanarFront& front) {
  boost::math::quadrature::tanh_sinh<double> rule;
  double sum = 0;
  double from = 0;
  for (double to : front.events()) {
    // Counted from the piece's start, where doubles are the closest.
    sum +=
        rule.integrate([&](double x) { return front.perimeter(from + x); }, 0.0, to - from, 1e-13);
    from = to;
  }
  return sum;
}

}  // namespace drawn
