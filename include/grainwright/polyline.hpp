// SPDX-License-Identifier: GPL-3.0-or-later
//
// A curve known at points, with straight lines between them.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <span>

namespace grainwright {

/// The curve through (x, y) at a place; `outside` before its first point and from its last one on.
/// x rises and is as long as y.
[[nodiscard]] inline double polyline_at(std::span<const double> x, std::span<const double> y,
                                        double at, double outside = 0) {
  const auto next = std::ranges::upper_bound(x, at);
  if (next == x.begin() || next == x.end()) return outside;
  const auto i = static_cast<std::size_t>(next - x.begin());
  return std::lerp(y[i - 1], y[i], (at - x[i - 1]) / (x[i] - x[i - 1]));
}

}  // namespace grainwright
