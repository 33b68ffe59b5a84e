// SPDX-License-Identifier: GPL-3.0-or-later
//
// A burn rate that changes along the web: r = f(u) a P^n, u the share of the motor's web that has
// burned. Cast grains do so: the propellant near the core and near the wall is not quite that in
// between, and many motors show a hump in mid-web. Source of the effect: NASA SP-8075 (1971), solid
// propellant processing factors in rocket motor design, and the literature on the mid-web anomaly.
// Here f is the parabola through three numbers.
#pragma once

#include <vector>

#include "grainwright/error.hpp"

namespace grainwright {

/// What the law's rate is multiplied with, at three places of the web.
struct WebFactor {
  double start = 1;   ///< where the burn begins
  double middle = 1;  ///< half way
  double end = 1;     ///< at burnout

  /// At a share of the web, 0 to 1; held level outside.
  [[nodiscard]] double operator()(double share) const;
  /// Share of the time, at one pressure and over a factor of 1, in which a share of the web burns.
  [[nodiscard]] double passed(double share) const;
  /// The harmonic mean: the web over it burns as long, at one pressure, as with the factor.
  [[nodiscard]] double mean() const;
  /// Least and greatest over the web.
  [[nodiscard]] double least() const;
  [[nodiscard]] double greatest() const;
  /// The same shape with a harmonic mean of 1.
  [[nodiscard]] WebFactor levelled() const;

  bool operator==(const WebFactor&) const = default;
};

/// How far a factor may be from 1. Common practice, no source: what is further off is another
/// propellant.
inline constexpr double least_web_factor = 0.5;
inline constexpr double most_web_factor = 2;

/// What is wrong with one: a number, or the parabola between, out of these bounds.
[[nodiscard]] std::vector<Complaint> complaints(const WebFactor& factor);

}  // namespace grainwright
