// SPDX-License-Identifier: GPL-3.0-or-later
//
// Figures held against limits, in numbers and in words.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "grainwright/firing/firing.hpp"
#include "grainwright/flight/flight.hpp"
#include "grainwright/quantity.hpp"
#include "grainwright/search/wish.hpp"

namespace grainwright::cli {

/// How near to a limit a figure is called near.
inline constexpr double near_limit = 0.10;

/// One limit: a figure is to stay under a ceiling, or over a floor.
struct Limit {
  std::string_view key;   ///< in the job, "limits.pressure"
  std::string_view what;  ///< "peak pressure"
  Dimension dimension = Dimension::ratio;
  bool ceiling = true;
  double value = 0;                   ///< SI
  double Summary::*figure = nullptr;  ///< what it limits, where that is a figure of a firing
  double Flight::*flown = nullptr;    ///< likewise, of a flight
};

/// The limits that are set, and the bounds that the wish sets.
[[nodiscard]] std::vector<Limit> set_limits(const Limits& limits);
[[nodiscard]] std::vector<Limit> set_bounds(const Wish& wish);

/// The dimension of a job key that limits something; a ratio where no other is known.
[[nodiscard]] Dimension dimension_of_limit(std::string_view key);

struct Check {
  Limit limit;
  double value = 0;  ///< SI
  [[nodiscard]] bool broken() const;
  [[nodiscard]] bool near() const;  ///< within `near_limit` of it, and not broken
};

/// Each limit of a firing with its figure; a motor without a port has no port figures to check.
[[nodiscard]] std::vector<Check> checked(const std::vector<Limit>& limits, const Summary& summary);

/// Each limit of a flight with its figure.
[[nodiscard]] std::vector<Check> checked(const std::vector<Limit>& limits, const Flight& flight);

[[nodiscard]] bool any_broken(const std::vector<Check>& checks);

/// "peak pressure 3.1 MPa, ceiling 4 MPa: 78 % of it".
[[nodiscard]] std::string sentence(const Check& check, UnitSystem units);
/// "peak pressure at most 4 MPa".
[[nodiscard]] std::string sentence(const Limit& limit, UnitSystem units);

}  // namespace grainwright::cli
