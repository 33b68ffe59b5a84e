// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a motor has to lift: the rocket around it, the rail that guides it, and the place.
#pragma once

#include <numbers>
#include <optional>
#include <vector>

#include "grainwright/error.hpp"
#include "grainwright/motor/atmosphere.hpp"

namespace grainwright {

/// A drag coefficient at one Mach number, on the body's cross-section.
struct DragPoint {
  double mach = 0;
  double coefficient = 0;
  bool operator==(const DragPoint&) const = default;
};

/// All of the rocket but its motor, and the rail that it starts from.
struct Airframe {
  double mass = 0;              ///< kg, of everything but the motor
  double hardware = 0;          ///< kg, of the motor without propellant: casing, closures, nozzle
  double diameter = 0;          ///< m, of the body
  std::vector<DragPoint> drag;  ///< rising in Mach; straight lines between, held beyond the ends
  double rail_length = 0;       ///< m, travelled until the last guide leaves the rail
  double rail_elevation = std::numbers::pi / 2;  ///< rad above the horizon
  double altitude = 0;                           ///< m, of the launch, above sea level
  std::optional<double> temperature = {};        ///< K, of the air there; none: the standard's

  bool operator==(const Airframe&) const = default;
  /// kg, with so much propellant in it.
  [[nodiscard]] double mass_with(double propellant) const { return mass + hardware + propellant; }
  /// m2, that the drag coefficient refers to.
  [[nodiscard]] double section() const { return std::numbers::pi / 4 * diameter * diameter; }
  /// At a Mach number: straight lines between the points, the end values beyond them.
  [[nodiscard]] double drag_coefficient(double mach) const;
  /// The air over the launch.
  [[nodiscard]] LocalAir air() const { return LocalAir(altitude, temperature); }
};

/// Rails flatter than this are refused, rad (30 deg): that is no launch upward.
inline constexpr double flattest_rail = std::numbers::pi / 6;
/// Altitudes over this are no launch site, m.
inline constexpr double highest_launch = 30'000;
/// Air temperatures that a launch may have, K (-60 and 80 degC).
inline constexpr double coldest_air = 213.15;
inline constexpr double hottest_air = 353.15;
/// Mach numbers that a drag table may reach.
inline constexpr double greatest_drag_mach = 25;

[[nodiscard]] std::vector<Complaint> complaints(const Airframe& airframe);

}  // namespace grainwright
