// SPDX-License-Identifier: GPL-3.0-or-later
//
// Everything that decides how a motor burns.
#pragma once

#include "grainwright/grain/burnback.hpp"
#include "grainwright/grain/grain.hpp"
#include "grainwright/motor/gas.hpp"
#include "grainwright/motor/nozzle.hpp"
#include "grainwright/motor/propellant.hpp"

namespace grainwright {

/// Grain temperatures, K, that a motor may be fired at (-60 and 80 degC). Past them a sensitivity
/// measured in everyday weather says nothing, and castings crack or soften; common practice, no
/// source.
inline constexpr double coldest_grain = 213.15;
inline constexpr double hottest_grain = 353.15;

/// The day of the firing.
struct Day {
  double temperature = 293.15;                    ///< of the grain, K
  double ambient_pressure = standard_atmosphere;  ///< Pa
  bool operator==(const Day&) const = default;
};

/// All that a firing depends on.
struct Motor {
  Grain grain;
  Propellant propellant;
  Nozzle nozzle;
  Day day = {};
};

[[nodiscard]] std::vector<Complaint> complaints(const Motor& motor);

/// How the motor's grain burns back. Throws InputError with the motor's complaints.
[[nodiscard]] Burnback burnback_of(const Motor& motor);

}  // namespace grainwright
