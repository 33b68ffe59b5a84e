// SPDX-License-Identifier: GPL-3.0-or-later
//
// How far a quantity strays from what it is drawn as: a distribution around it. Normal, uniform or
// triangular; told by one sigma or by limits. Source: closed form; the inverse normal is Boost's.
//
// A share ("5 %") of a normal distribution is taken in the logarithm: the factor is exp(0.05 z),
// its median 1, so that no factor falls to zero. Uniform and triangular shares are plain: 1 + 0.05.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "grainwright/error.hpp"

namespace grainwright {

enum class Distribution { normal, uniform, triangular };

/// "normal", "uniform" or "triangular"; and back, or nothing.
[[nodiscard]] std::string_view name_of(Distribution distribution);
[[nodiscard]] std::optional<Distribution> distribution_named(std::string_view name);

/// Limits of a normal distribution, which has none, are taken as so many sigmas: common practice in
/// machining, no source.
inline constexpr double sigmas_to_limits = 3;

/// Who says how wide a spread is.
enum class SpreadOrigin { given, measured, trade };

/// How one input strays.
struct Spread {
  Distribution distribution = Distribution::normal;
  double sigma = 0;   ///< one standard deviation; a share, or in the quantity's own SI unit
  bool share = true;  ///< of the quantity itself
  SpreadOrigin origin = SpreadOrigin::given;

  bool operator==(const Spread&) const = default;
  /// From plus-or-minus limits.
  [[nodiscard]] static Spread within(Distribution distribution, double limit, bool share);
  /// The farthest it can stray; for a normal distribution `sigmas_to_limits` sigmas.
  [[nodiscard]] double limit() const;
  /// Whether it does not stray at all.
  [[nodiscard]] bool none() const { return sigma == 0; }
  /// The same distribution with its width multiplied.
  [[nodiscard]] Spread times(double factor) const;

  /// The departure that a part `u` of all pieces stay below, 0 < u < 1; 0 at a half. Same unit as
  /// sigma.
  [[nodiscard]] double departure(double u) const;
  /// The part of all pieces whose departure is below this.
  [[nodiscard]] double part_below(double departure) const;
  /// The same as factors on the quantity; `share` must be set.
  [[nodiscard]] double factor(double u) const { return factor_of(departure(u)); }
  /// The factor that a departure is.
  [[nodiscard]] double factor_of(double departure) const;
  [[nodiscard]] double part_below_factor(double factor) const;
  [[nodiscard]] double part_above_factor(double factor) const;
  /// A quantity drawn as `nominal`, strayed.
  [[nodiscard]] double strayed(double nominal, double u) const {
    return share ? nominal * factor(u) : nominal + departure(u);
  }
};

/// A width that is no number or below 0, limits of a share that reach zero.
[[nodiscard]] std::vector<Complaint> complaints(const Spread& spread);

}  // namespace grainwright
