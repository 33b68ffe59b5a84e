// SPDX-License-Identifier: GPL-3.0-or-later
//
// The air at an altitude. Source: U.S. Standard Atmosphere 1976: hydrostatic layers in which the
// temperature is linear in geopotential height, with the constants of that work (its gas constant
// differs from CODATA's in the fifth digit). A real day differs by a few percent of pressure.
#pragma once

#include <optional>

namespace grainwright {

/// Air at one altitude.
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

/// The air over one place on a warmer or colder day than the standard one: the temperature is off
/// by one step at every altitude, the pressure is the standard's at the place and hydrostatic from
/// there. Without a temperature, the standard day.
class LocalAir {
 public:
  /// Altitude in m, temperature in K. Throws InputError outside the range of `air_at`.
  explicit LocalAir(double altitude, std::optional<double> temperature = {});

  /// At a geometric altitude above sea level, m. Above `highest_altitude` there is no air left:
  /// pressure and density 0; under `lowest_altitude` it is that altitude's.
  [[nodiscard]] Air operator()(double altitude) const;

 private:
  double warmer_ = 0;           // K
  double pressure_factor_ = 1;  // on what the same layers would hold over standard sea level
};

}  // namespace grainwright
