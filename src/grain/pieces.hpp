// SPDX-License-Identifier: GPL-3.0-or-later
//
// Quadratics of the web that stand for a burning area which is none: few, yet good for integrals
// over the web. Each burns exactly the volume that the front does, so that impulse carries no error
// of theirs, and misses the area by an error that is square to every straight line and parabola, so
// that burn time carries it only to second order. See docs/burnback.md.
#pragma once

#include <functional>
#include <span>
#include <vector>

#include "grainwright/grain/burnback.hpp"

namespace grainwright {

/// A stack's burning area (m2) and volume (m3) against web.
struct BentBurn {
  std::function<double(double)> area;
  std::function<double(double)> volume;
  double burnout = 0;       ///< m
  double whole_volume = 0;  ///< m3, at web 0
};

/// Pieces from one web to another with no event between them, graded toward both, where the area
/// may be as steep as a square root.
[[nodiscard]] std::vector<Stretch> pieces_of(const BentBurn& burn, double from, double to);

/// The same with neighbours made one wherever one quadratic is good enough, save across `kept`
/// webs.
[[nodiscard]] std::vector<Stretch> joined(std::span<const Stretch> pieces, const BentBurn& burn,
                                          std::span<const double> kept);

}  // namespace grainwright
