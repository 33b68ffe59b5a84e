// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cmath>
#include <numbers>
#include <random>

#include "grainwright/grain/core.hpp"

/// A star of long and short radii, half as many points as corners; the short ones differ, so that
/// no two events coincide. 20 corners are a drawn star's, 200 a tracing's.
inline grainwright::Core drawn_core(long corners, double outer_diameter) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> radius(0.22, 0.3);
  grainwright::Ring ring;
  for (long i = 0; i < corners; ++i) {
    const double angle =
        2 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(corners);
    const double r = outer_diameter / 2 * (i % 2 == 0 ? 0.6 : radius(random));
    ring.push_back({{r * std::cos(angle), r * std::sin(angle)}, 0});
  }
  return {grainwright::DrawnCore{grainwright::Outline{{grainwright::Region{ring, {}}}}}};
}
