// SPDX-License-Identifier: GPL-3.0-or-later
//
// How far a firing's thrust is from an asked profile: misfit^2 = mean over burn time of
// (F/F_mean - s)^2 = <F^2>/F_mean^2 - 2 <s F>/F_mean + <s^2>, each mean by the firing's own nodes.
#pragma once

#include <span>
#include <vector>

#include "grainwright/firing/nodes.hpp"
#include "grainwright/search/wish.hpp"

namespace grainwright {

/// Integrals over burn time of a firing against a profile.
struct FitSums {
  double time = 0;     ///< s
  double impulse = 0;  ///< N s
  double square = 0;   ///< integral of F^2 dt
  double asked = 0;    ///< integral of s F dt
};

/// A profile made ready to be compared with any number of firings. Not shared between threads: it
/// keeps its working space.
class ProfileFit {
 public:
  explicit ProfileFit(const Profile& profile);

  [[nodiscard]] FitSums sums(std::span<const Stretch> stretches, const SteadyChamber& chamber);
  [[nodiscard]] double misfit(const FitSums& sums) const;

  /// Integrals of pressure instead of thrust, for firings that keep to one band of the chamber.
  /// The same build in another throat of the same band power needs no new integrals: see `scaled`.
  [[nodiscard]] FitSums pressure_sums(std::span<const Stretch> stretches,
                                      const SteadyChamber& chamber);

  /// Sums of thrust = per_pressure P - loss from sums of pressure.
  [[nodiscard]] static FitSums thrust_sums(const FitSums& pressure, const ThrustLaw& law);
  /// Pressure sums of a throat from those of another one in bands of equal power: pressures all
  /// scale by `pressure_factor` and times by `time_factor`.
  [[nodiscard]] static FitSums scaled(const FitSums& pressure, double pressure_factor,
                                      double time_factor);

 private:
  template <class Value>
  FitSums integrate(std::span<const Stretch> stretches, const SteadyChamber& chamber,
                    Value&& value);
  [[nodiscard]] double asked_across_kinks(const FitSums& sums) const;

  Profile profile_;
  double mean_square_;
  double slope_;  // of a straight profile
  struct Part {
    BurnPiece piece;
    std::array<double, GaussRule::most> value;
  };
  std::vector<Part> parts_;
};

}  // namespace grainwright
