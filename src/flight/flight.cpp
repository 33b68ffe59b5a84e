// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/flight/flight.hpp"

#include <fmt/format.h>

#include "ascent.hpp"
#include "grainwright/quantity.hpp"
#include "steady_push.hpp"

namespace grainwright {
namespace {

// Writes down a flight as it goes.
class Log {
 public:
  Log(Flight& flight, double settled) : flight_(flight), settled_(settled) {}

  void operator()(Phase phase, const Motion::State& state, const Forces& forces) {
    if (phase == Phase::over && before_ == Phase::over) return;
    note_rail(phase, state, forces);
    before_ = phase;
    const double speed = std::hypot(state[Motion::forward], state[Motion::upward]);
    Track& track = flight_.track;
    track.time.push_back(state[Motion::time]);
    track.height.push_back(state[Motion::height]);
    track.downrange.push_back(state[Motion::downrange]);
    track.speed.push_back(speed);
    track.acceleration.push_back(forces.along);
    track.mach.push_back(forces.mach);
    track.thrust.push_back(forces.thrust);
    track.drag.push_back(forces.drag);
    track.mass.push_back(forces.mass);
    if (phase == Phase::waiting) return;
    flight_.peak_speed = std::max(flight_.peak_speed, speed);
    flight_.peak_mach = std::max(flight_.peak_mach, forces.mach);
    flight_.peak_acceleration = std::max(flight_.peak_acceleration, forces.along);
  }

 private:
  void note_rail(Phase phase, const Motion::State& state, const Forces& forces) {
    const double ratio = forces.thrust / (forces.mass * standard_gravity);
    const double now = state[Motion::time];
    if (phase == Phase::on_rail && before_ != Phase::on_rail) {
      flight_.first_motion = now;
      flight_.thrust_to_weight = 0;
    }
    const bool leaves = before_ == Phase::on_rail && phase == Phase::free;
    if (leaves) {
      flight_.rail_exit_time = now;
      flight_.rail_exit_speed = std::hypot(state[Motion::forward], state[Motion::upward]);
      flight_.rail_exit_acceleration = forces.along;
      flight_.exit_thrust_to_weight = ratio;
    }
    if (!leaves && (phase != Phase::on_rail || now < settled_)) return;
    if (flight_.thrust_to_weight == 0) {
      flight_.thrust_to_weight = flight_.least_thrust_to_weight = ratio;
    }
    flight_.least_thrust_to_weight = std::min(flight_.least_thrust_to_weight, ratio);
  }

  Flight& flight_;
  double settled_;
  Phase before_ = Phase::waiting;
};

template <class Climb>
void note_burnout(Flight& flight, const Climb& climb) {
  if (climb.phase() != Phase::free) return;
  flight.burnout_time = climb.state()[Motion::time];
  flight.burnout_speed = climb.speed();
  flight.burnout_height = climb.state()[Motion::height];
}

template <class Climb>
void note_end(Flight& flight, const Climb& climb) {
  if (climb.phase() != Phase::over) {
    flight.end = climb.moved() ? FlightEnd::stays_on_rail : FlightEnd::never_lifts;
    return;
  }
  flight.end = FlightEnd::apogee;
  flight.apogee = climb.state()[Motion::height];
  flight.apogee_time = climb.state()[Motion::time];
  flight.apogee_downrange = climb.state()[Motion::downrange];
  if (flight.burnout_time > 0) flight.best_delay = flight.apogee_time - flight.burnout_time;
}

void remark(Flight& flight, const Airframe& airframe) {
  constexpr double transonic = 0.8;
  constexpr double high = 30'000;
  const auto say = [&](std::string words) { flight.remarks.push_back(std::move(words)); };
  if (flight.end == FlightEnd::apogee && flight.burnout_time == 0) {
    say("the rocket tops out while its motor still burns");
  }
  if (flight.peak_mach > transonic && airframe.drag.size() == 1) {
    say(
        fmt::format("Mach {:.2f}: drag rises steeply near the speed of sound, and one drag "
                    "coefficient cannot say it; give a table over Mach",
                    flight.peak_mach));
  }
  if (airframe.altitude + flight.apogee > high) {
    say("over 30 km above sea level gravity is weaker than it is taken here");
  }
}

void require_sound(const Airframe& airframe) {
  if (auto found = complaints(airframe); !found.empty()) throw InputError(std::move(found));
}

// 100 000 times gravity: no rocket holds together, and no step is short enough to follow it.
constexpr double hardest_push = 1e6;  // m/s2

void require_followable(const Propulsion& propulsion, const Airframe& airframe) {
  const double thrust = std::ranges::max(propulsion.thrust);
  if (thrust <= hardest_push * airframe.mass_with(0)) return;
  throw InputError("airframe.mass",
                   show(airframe.mass_with(0), Dimension::mass, UnitSystem::si) +
                       " empty under a thrust of " + show(thrust, Dimension::force, UnitSystem::si),
                   "a push of at most 100 000 times gravity");
}

// The flight of what `follow_legs(climb, log)` pushes.
template <class AirThere, class FollowLegs>
Flight flown(const Airframe& airframe, const AirThere& air, const Nozzled& nozzled, double settled,
             double propellant, const FlightOptions& options, FollowLegs&& follow_legs) {
  Flight flight;
  flight.liftoff_mass = airframe.mass_with(propellant);
  Ascent<AirThere> climb(airframe, air, nozzled, options.tolerance);
  Log log(flight, settled);
  follow_legs(flight, climb, log);
  note_end(flight, climb);
  remark(flight, airframe);
  return flight;
}

}  // namespace

Flight fly(const Propulsion& propulsion, const Airframe& airframe, const AirAt& air,
           const FlightOptions& options) {
  require_sound(airframe);
  require_followable(propulsion, airframe);
  const auto follow_legs = [&](Flight& flight, auto& climb, Log& log) {
    const std::vector<double>& time = propulsion.time;
    for (std::size_t i = 1; i < time.size() && climb.phase() != Phase::over; ++i) {
      const double span = time[i] - time[i - 1];
      if (!(span > 0)) continue;
      const bool full = propulsion.flows_full[i - 1] != 0 && propulsion.flows_full[i] != 0;
      const auto push = [&, i](double at) {
        const auto between = [&](const std::vector<double>& column) {
          return std::lerp(column[i - 1], column[i], (at - time[i - 1]) / span);
        };
        return Push{between(propulsion.thrust), between(propulsion.propellant), 1, full};
      };
      climb.follow({time[i - 1], time[i]}, push, Phase::over, options.spacing, log);
      if (flight.burnout_time == 0 && time[i] >= propulsion.burnout) note_burnout(flight, climb);
    }
    climb.coast(propulsion.propellant.back(), options.spacing, log);
  };
  return flown(airframe, air, {propulsion.ambient_pressure, propulsion.exit_area},
               propulsion.settled, propulsion.propellant.front(), options, follow_legs);
}

Flight fly(const Firing& firing, const Motor& motor, const Airframe& airframe,
           const FlightOptions& options) {
  require_sound(airframe);
  return fly(propulsion_of(firing, motor), airframe, airframe.air(), options);
}

Flight fly_steady(const PreparedMotor& motor, const Airframe& airframe,
                  const FlightOptions& options) {
  require_sound(airframe);
  const SteadyChamber& chamber = motor.chamber();
  const double propellant = motor.steady().propellant_mass;
  const LocalAir air = airframe.air();
  const std::vector<Stretch> stretches =
      even_rate(motor.burnback().stretches(), chamber.web_factor(), motor.burnback().burnout());
  const auto follow_legs = [&](Flight& flight, auto& climb, Log& log) {
    follow_steady(climb, stretches, chamber, propellant, Phase::over, options.spacing, log);
    note_burnout(flight, climb);
    climb.coast(0, options.spacing, log);
  };
  return flown(airframe, air, nozzled_of(chamber), 0, propellant, options, follow_legs);
}

double rail_exit_speed(std::span<const Stretch> stretches, const SteadyChamber& chamber,
                       double propellant, const Airframe& airframe) {
  // Light work: the rail is so short that its air is one.
  const Air there = airframe.air()(airframe.altitude);
  const auto air = [&](double) { return there; };
  Ascent climb(airframe, air, nozzled_of(chamber), quick_tolerance);
  follow_steady(climb, stretches, chamber, propellant, Phase::free, no_spacing, unseen);
  return climb.phase() == Phase::free ? climb.speed() : 0;
}

double apogee(std::span<const Stretch> stretches, const SteadyChamber& chamber, double propellant,
              const Airframe& airframe) {
  const LocalAir air = airframe.air();
  Ascent climb(airframe, air, nozzled_of(chamber), quick_tolerance);
  follow_steady(climb, stretches, chamber, propellant, Phase::over, no_spacing, unseen);
  climb.coast(0, no_spacing, unseen);
  return climb.phase() == Phase::over ? climb.state()[Motion::height] : 0;
}

}  // namespace grainwright
