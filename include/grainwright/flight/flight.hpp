// SPDX-License-Identifier: GPL-3.0-or-later
//
// The ascent of a rocket from its pad to the top of its path: a point mass that waits until thrust
// lifts it, slides up the rail without friction, and then flies a gravity turn, in which thrust and
// drag act along the path; a vertical rail gives vertical flight.
//
//   m dv/dt = F - D along the path, and gravity,  D = density v^2 Cd(M) S / 2
// Source: Sutton & Biblarz, Rocket Propulsion Elements, chapter on flight performance. Gravity is
// the standard one at all heights, the earth flat, the air still: U.S. Standard Atmosphere 1976.
// Thrust grows by efficiency x exit area x fall of ambient pressure while the nozzle flows full.
// Integrated by the Runge-Kutta pair of Dormand and Prince (Boost.odeint); first motion, rail exit
// and apogee are found as roots of a step. See docs/flight.md.
#pragma once

#include <functional>
#include <span>
#include <string>
#include <vector>

#include "grainwright/firing/firing.hpp"
#include "grainwright/firing/prepared_motor.hpp"
#include "grainwright/firing/steady.hpp"
#include "grainwright/flight/airframe.hpp"
#include "grainwright/motor/motor.hpp"

namespace grainwright {

/// Thrust and propellant over time, straight lines between; columns of equal length.
struct Propulsion {
  std::vector<double> time;        ///< s, from lighting, rising
  std::vector<double> thrust;      ///< N, at `ambient_pressure`
  std::vector<double> propellant;  ///< kg left
  std::vector<char> flows_full;    ///< whether the nozzle does, so that altitude adds thrust
  double ambient_pressure = standard_atmosphere;  ///< Pa
  double exit_area = 0;                           ///< m2, times the nozzle's efficiency
  double settled = 0;  ///< s, when the thrust has risen to what the grain holds
  double burnout = 0;  ///< s, end of the last web
};
/// What a firing of a motor gives. Propellant leaves as the throat's flow, in proportion to chamber
/// pressure.
[[nodiscard]] Propulsion propulsion_of(const Firing& firing, const Motor& motor);

/// How a flight ended.
enum class FlightEnd {
  apogee,
  never_lifts,    ///< thrust never exceeds the weight along the rail
  stays_on_rail,  ///< it stops, and falls back to its pad, before the last guide leaves
};

/// The path; columns of equal length.
struct Track {
  std::vector<double> time;          ///< s, from lighting
  std::vector<double> height;        ///< m, above the launch
  std::vector<double> downrange;     ///< m
  std::vector<double> speed;         ///< m/s
  std::vector<double> acceleration;  ///< m/s2, along the path, gravity's part included
  std::vector<double> mach;
  std::vector<double> thrust;  ///< N
  std::vector<double> drag;    ///< N
  std::vector<double> mass;    ///< kg
};

/// SI, times from lighting, heights above the launch. What a flight has not reached is 0.
struct Flight {
  FlightEnd end = FlightEnd::never_lifts;
  double liftoff_mass = 0;  ///< kg, at lighting
  double first_motion = 0;  ///< s
  /// Thrust / weight at first motion, once the thrust has settled; where the rocket has to wait
  /// for its thrust, 1.
  double thrust_to_weight = 0;
  double least_thrust_to_weight = 0;  ///< from there to the rail's end
  double exit_thrust_to_weight = 0;   ///< as the last guide leaves
  double rail_exit_time = 0;
  double rail_exit_speed = 0;
  double rail_exit_acceleration = 0;  ///< m/s2, along the rail
  double peak_acceleration = 0;       ///< m/s2, along the path
  double peak_speed = 0;
  double peak_mach = 0;
  double burnout_time = 0;  ///< end of the last web
  double burnout_speed = 0;
  double burnout_height = 0;
  double apogee = 0;
  double apogee_time = 0;
  double apogee_downrange = 0;
  /// s from burnout to apogee; 0 where the top comes first.
  double best_delay = 0;
  Track track;
  /// What a reader of the figures must know: apogee before burnout, supersonic drag, ...
  std::vector<std::string> remarks;
};

/// How closely to follow a flight.
struct FlightOptions {
  double tolerance = 1e-10;  ///< relative, of each step
  double spacing = 0.05;     ///< s, points of the track are no further apart
};

/// The air at an altitude above sea level, m.
using AirAt = std::function<Air(double altitude)>;

/// The flight in any air. Throws InputError with the airframe's complaints, or where the thrust
/// exceeds 100 000 times gravity, which cannot be followed.
[[nodiscard]] Flight fly(const Propulsion& propulsion, const Airframe& airframe, const AirAt& air,
                         const FlightOptions& options = {});
/// The flight of a firing over the airframe's launch.
[[nodiscard]] Flight fly(const Firing& firing, const Motor& motor, const Airframe& airframe,
                         const FlightOptions& options = {});
/// The flight of the steady firing, followed in the web, without a curve between.
[[nodiscard]] Flight fly_steady(const PreparedMotor& motor, const Airframe& airframe,
                                const FlightOptions& options = {});

/// Speed, m/s, as the last guide leaves, of the steady firing; 0 where it never does. Costs some
/// microseconds, of which `propellant` (kg at lighting) and the chamber are known to the caller.
/// Nothing is checked. Good to 1e-7, as the apogee is to 1e-6.
[[nodiscard]] double rail_exit_speed(std::span<const Stretch> stretches,
                                     const SteadyChamber& chamber, double propellant,
                                     const Airframe& airframe);
/// Height, m above the launch, of the same firing's apogee; 0 where it stays on the rail.
[[nodiscard]] double apogee(std::span<const Stretch> stretches, const SteadyChamber& chamber,
                            double propellant, const Airframe& airframe);

}  // namespace grainwright
