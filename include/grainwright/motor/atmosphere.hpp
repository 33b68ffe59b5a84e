// SPDX-License-Identifier: GPL-3.0-or-later
//
// The air at an altitude. Source: U.S. Standard Atmosphere 1976: hydrostatic layers in which the
// temperature is linear in geopotential height, with the constants of that work (its gas constant
// differs from CODATA's in the fifth digit). A real day differs by a few percent of pressure.
#pragma once

namespace grainwright {

struct Air {
  double temperature = 0;     ///< K
  double pressure = 0;        ///< Pa
  double density = 0;         ///< kg/m3
  double speed_of_sound = 0;  ///< m/s
};

/// Geometric altitudes, m, between which `air_at` answers.
inline constexpr double lowest_altitude = -2000;
inline constexpr double highest_altitude = 80'000;

/// Air at a geometric altitude above mean sea level, m. Throws InputError outside the range above.
[[nodiscard]] Air air_at(double altitude);

}  // namespace grainwright
