// SPDX-License-Identifier: GPL-3.0-or-later
//
// The firing with its beginning and end: the chamber fills from the igniter's pressure, follows the
// grain with a lag, and blows down to ambient pressure.
//
// Mass balance of a well-mixed chamber whose free volume V grows as propellant burns:
//   d(P V / R T)/dt = density r(P) A - outflow,  dV/dt = r A
// which is dP/dt = [(density - gas density) r A - P At/c*] R T / V while the throat chokes. Source:
// NASA SP-8039; Sutton & Biblarz, Rocket Propulsion Elements, chapter on solid propellants. The gas
// keeps its flame temperature while the grain burns; during blow-down as chosen below. The whole
// grain lights at once, and the pressure is one throughout (see axial.hpp).
//
// While the grain burns the web is the independent variable, so that burnback events stand at the
// ends of integrations; afterwards it is the pressure. See docs/firing-transient.md.
#pragma once

#include <optional>

#include "grainwright/firing/firing.hpp"
#include "grainwright/firing/prepared_motor.hpp"
#include "grainwright/motor/motor.hpp"

namespace grainwright {

/// What heat the gas keeps while it blows down: two limits, between which a motor lies.
enum class BlowDown {
  isothermal,  ///< hot walls and condensed matter keep it at flame temperature; the longer tail
  adiabatic,   ///< it cools as it expands
};

/// How a firing begins and ends.
struct Lighting {
  /// Pa; none: ambient pressure plus `igniter_share` of the steady pressure at lighting.
  std::optional<double> igniter_pressure = {};
  /// m3 beside the ports and gaps of the stack, e.g. ahead of the nozzle; none: `entry_volume`.
  std::optional<double> spare_volume = {};
  BlowDown blow_down = BlowDown::isothermal;

  bool operator==(const Lighting&) const = default;
};
/// Common practice, no source.
inline constexpr double igniter_share = 0.05;

/// The cone of 45 degrees from the last segment's outside down to the throat, m3; common practice,
/// no source.
[[nodiscard]] double entry_volume(const Motor& motor);
/// Free volume before lighting, m3: ports, gaps, and what `spare_volume` says.
[[nodiscard]] double free_volume(const Motor& motor, const Lighting& lighting);
/// What is wrong with a lighting for this motor: pressure, volume.
[[nodiscard]] std::vector<Complaint> complaints(const Lighting& lighting, const Motor& motor);

/// How exactly to follow the chamber.
struct TransientOptions {
  Lighting lighting = {};
  int points = 201;  ///< of the curve over the web, at least; the rise and the tail add theirs
  double tolerance = 1e-7;  ///< relative, of each step
};

/// The whole firing, with `Firing::transient`. In the summary, burn time runs from lighting to the
/// end of the last web, and means are over it; impulse and the specific impulse include the tail;
/// initial and lowest pressure and thrust are those from the end of the rise on
/// (`TransientFigures::rise_end`; of the whole burn where there is none). Throws InputError with
/// the complaints of motor and lighting, or where slag closes the throat.
[[nodiscard]] Firing fire_transient(const PreparedMotor& motor,
                                    const TransientOptions& options = {});

}  // namespace grainwright
