// SPDX-License-Identifier: GPL-3.0-or-later
//
// One-dimensional isentropic flow of an ideal gas. Source: NACA Report 1135 (1953), equations 43 to
// 80; Sutton & Biblarz, Rocket Propulsion Elements, chapter 3. gamma > 1 throughout.
#pragma once

namespace grainwright {

/// Universal gas constant, J/(mol K) (CODATA 2018, exact).
inline constexpr double gas_constant = 8.31446261815324;
/// Standard gravity, m/s2 (exact by definition).
inline constexpr double standard_gravity = 9.80665;
/// Standard atmosphere, Pa (exact by definition).
inline constexpr double standard_atmosphere = 101325.0;

/// p/p0 at Mach number M.
[[nodiscard]] double pressure_ratio(double mach, double gamma);
/// Mach number at which p/p0 = ratio, 0 < ratio <= 1.
[[nodiscard]] double mach_of_pressure_ratio(double ratio, double gamma);
/// A/A* at Mach number M > 0.
[[nodiscard]] double area_ratio(double mach, double gamma);
/// Mach number at A/A* = ratio >= 1; on the supersonic or the subsonic branch, to 1e-14 relative.
[[nodiscard]] double supersonic_mach(double ratio, double gamma);
[[nodiscard]] double subsonic_mach(double ratio, double gamma);
/// Choked flow function: mass flow = p0 At choked_flow_function / sqrt(R T0).
[[nodiscard]] double choked_flow_function(double gamma);
/// c* = sqrt(R T0)/choked_flow_function, m/s. Temperature in K, molar mass in kg/mol.
[[nodiscard]] double characteristic_velocity(double flame_temperature, double molar_mass,
                                             double gamma);

}  // namespace grainwright
