// SPDX-License-Identifier: GPL-3.0-or-later
//
// A point mass that waits on its pad, slides up its rail and flies to the top of its path, leg by
// leg of whatever pushes it. A leg's variable is the time, or the web of a steady firing.
#pragma once

#include <algorithm>
#include <array>
#include <boost/math/tools/toms748_solve.hpp>
#include <boost/numeric/odeint/stepper/controlled_runge_kutta.hpp>
#include <boost/numeric/odeint/stepper/generation.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta_dopri5.hpp>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numbers>
#include <utility>

#include "grainwright/flight/airframe.hpp"
#include "grainwright/motor/gas.hpp"

namespace grainwright {

/// What the motor does at one value of its leg's variable.
struct Push {
  double thrust = 0;        ///< N, at the motor's ambient pressure
  double propellant = 0;    ///< kg left
  double pace = 1;          ///< seconds per unit of the variable
  bool flows_full = false;  ///< the nozzle does, so that altitude adds thrust
};

/// How thrust depends on the air outside.
struct Nozzled {
  double ambient_pressure = standard_atmosphere;  ///< Pa, of the thrust as given
  double exit_area = 0;                           ///< m2, times efficiency
};

struct AscentLeg {
  double from = 0;
  double to = 0;
  bool last = false;  ///< nothing pushes any more, so that a rocket at rest stays so
};

enum class Phase { waiting, on_rail, free, over };

struct Motion {
  enum Part : std::size_t { time, downrange, height, forward, upward };
  using State = std::array<double, 5>;
};

/// What acts at one moment.
struct Forces {
  double thrust = 0;  ///< N
  double drag = 0;    ///< N
  double mass = 0;    ///< kg
  double mach = 0;
  double along = 0;    ///< m/s2, along the path
  double forward = 0;  ///< m/s2, level
  double upward = 0;   ///< m/s2
};

/// `AirThere` gives the Air at an altitude above sea level.
template <class AirThere>
class Ascent : public Motion {
 public:
  Ascent(const Airframe& airframe, const AirThere& air, const Nozzled& nozzled, double tolerance)
      : airframe_(airframe),
        air_(air),
        nozzled_(nozzled),
        tolerance_(tolerance),
        cosine_(airframe.rail_elevation == std::numbers::pi / 2
                    ? 0
                    : std::cos(airframe.rail_elevation)),
        sine_(std::sin(airframe.rail_elevation)),
        section_(airframe.section()),
        launch_air_(air(airframe.altitude)) {}

  [[nodiscard]] Phase phase() const { return phase_; }
  [[nodiscard]] const State& state() const { return state_; }
  [[nodiscard]] double speed() const { return std::hypot(state_[forward], state_[upward]); }
  [[nodiscard]] bool moved() const { return moved_; }

  /// Follows one leg, or what is left of it when the phase reaches `until`, in steps no longer than
  /// `spacing` seconds. visit(phase, state, forces) sees where each phase begins and each step
  /// ends.
  template <class PushAt, class Visit>
  void follow(const AscentLeg& leg, const PushAt& push_at, Phase until, double spacing,
              Visit&& visit);
  /// From the last leg on, without a push.
  template <class Visit>
  void coast(double propellant, double spacing, Visit&& visit) {
    // The rail is at least half as steep as the fall, so that four times the free climb is enough.
    const double climb = state_[upward] / standard_gravity;
    const double end = state_[time] + 4 * climb + 1;
    constexpr double most_points = 5000;
    const auto none = [&](double) { return Push{.propellant = propellant}; };
    step_ = std::max(1e-3, climb / 8);
    follow({state_[time], end, true}, none, Phase::over, std::max(spacing, climb / most_points),
           visit);
  }

  [[nodiscard]] Forces forces(const Push& push, const State& y, Phase phase) const;

 private:
  using Stepper = boost::numeric::odeint::runge_kutta_dopri5<State>;
  static constexpr int root_bits = 44;
  static constexpr std::uintmax_t most_rounds = 60;
  // Of each component, m and m/s.
  static constexpr double absolute_tolerance = 1e-10;

  [[nodiscard]] double travelled(const State& y) const {
    return y[downrange] * cosine_ + y[height] * sine_;
  }
  // Acceleration along the rail of a rocket at rest.
  [[nodiscard]] double lift(const Push& push) const {
    return forces(push, State{}, Phase::on_rail).along;
  }
  // What ends the phase where it reaches 0 from below.
  [[nodiscard]] double to_go(const State& y) const {
    switch (phase_) {
      case Phase::on_rail:
        return travelled(y) - airframe_.rail_length;
      case Phase::free:
        return -y[upward];
      default:
        return -1;
    }
  }
  void end_phase() { phase_ = phase_ == Phase::on_rail ? Phase::free : Phase::over; }
  // A quarter of what the rail takes at so much acceleration.
  [[nodiscard]] double first_step(const Push& push) const {
    const double acceleration = std::max(lift(push), standard_gravity / 100);
    return std::sqrt(2 * airframe_.rail_length / acceleration) / 4 / push.pace;
  }
  // Back on its pad, to wait for more thrust.
  void rest() {
    phase_ = Phase::waiting;
    state_ = {state_[time], 0, 0, 0, 0};
  }
  template <class PushAt>
  double wait(const AscentLeg& leg, double from, const PushAt& push_at);
  template <class System>
  double one_step(double from, double to, double most, System&& system);

  const Airframe& airframe_;
  const AirThere& air_;
  Nozzled nozzled_;
  double tolerance_;
  double cosine_, sine_, section_;
  Air launch_air_;
  Phase phase_ = Phase::waiting;
  State state_ = {};
  bool moved_ = false;
  double step_ = std::numeric_limits<double>::infinity();  // to try next, in the leg's variable
};

template <class AirThere>
Forces Ascent<AirThere>::forces(const Push& push, const State& y, Phase phase) const {
  const bool railed = phase != Phase::free;
  const Air air = railed ? launch_air_ : air_(airframe_.altitude + y[height]);
  const double speed = std::hypot(y[forward], y[upward]);
  const bool turns = !railed && speed > 0;
  const double level = turns ? y[forward] / speed : cosine_;
  const double climb = turns ? y[upward] / speed : sine_;
  Forces acting;
  acting.thrust = push.thrust;
  if (push.flows_full) {
    acting.thrust += nozzled_.exit_area * (nozzled_.ambient_pressure - air.pressure);
  }
  acting.mach = speed / air.speed_of_sound;
  acting.drag =
      air.density * speed * speed / 2 * airframe_.drag_coefficient(acting.mach) * section_;
  acting.mass = airframe_.mass_with(push.propellant);
  const double pushed = (acting.thrust - acting.drag) / acting.mass;
  acting.along = pushed - standard_gravity * climb;
  if (phase == Phase::waiting) acting.along = 0;
  acting.forward = railed ? acting.along * cosine_ : pushed * level;
  acting.upward = railed ? acting.along * sine_ : pushed * climb - standard_gravity;
  return acting;
}

// Where in the leg the push lifts it, and sets it off; the leg's end where it does not.
template <class AirThere>
template <class PushAt>
double Ascent<AirThere>::wait(const AscentLeg& leg, double from, const PushAt& push_at) {
  const auto net = [&](double at) { return lift(push_at(at)); };
  const double at_start = net(from);
  const double at_end = net(leg.to);
  if (at_start <= 0 && at_end <= 0) return leg.to;
  phase_ = Phase::on_rail;
  moved_ = true;
  if (at_start > 0) return from;
  std::uintmax_t rounds = most_rounds;
  return boost::math::tools::toms748_solve(net, from, leg.to, at_start, at_end,
                                           boost::math::tools::eps_tolerance<double>(root_bits),
                                           rounds)
      .second;
}

// One step towards `to`, cut short where the phase ends; returns where it has come to.
template <class AirThere>
template <class System>
double Ascent<AirThere>::one_step(double from, double to, double most, System&& system) {
  namespace odeint = boost::numeric::odeint;
  auto stepper = odeint::make_controlled(absolute_tolerance, tolerance_, Stepper());
  const State before = state_;
  double at = from;
  const double wanted = std::min({step_, most, to - from});
  double step = wanted;
  while (stepper.try_step(system, state_, at, step) == odeint::fail) continue;
  const bool clipped = wanted < step_ && at - from == wanted;
  step_ = clipped ? std::max(step, step_) : step;
  if (to - at < 1e-13 * std::abs(to)) at = to;
  if (to_go(state_) < 0) return at;
  const double over = to_go(state_);
  const auto left = [&](double part) {
    State there = before;
    Stepper().do_step(system, there, from, part);
    return to_go(there);
  };
  std::uintmax_t rounds = most_rounds;
  const double part = boost::math::tools::toms748_solve(
                          left, 0.0, at - from, to_go(before), over,
                          boost::math::tools::eps_tolerance<double>(root_bits), rounds)
                          .second;
  state_ = before;
  Stepper().do_step(system, state_, from, part);
  end_phase();
  return from + part;
}

template <class AirThere>
template <class PushAt, class Visit>
void Ascent<AirThere>::follow(const AscentLeg& leg, const PushAt& push_at, Phase until,
                              double spacing, Visit&& visit) {
  const auto show = [&](double at) { visit(phase_, state_, forces(push_at(at), state_, phase_)); };
  const auto system = [&](const State& y, State& slope, double at) {
    const Push push = push_at(at);
    const Forces acting = forces(push, y, phase_);
    slope = {push.pace, y[forward] * push.pace, y[upward] * push.pace, acting.forward * push.pace,
             acting.upward * push.pace};
  };
  for (double at = leg.from; at < leg.to && phase_ < until;) {
    double to = leg.to;
    const bool waits = phase_ == Phase::waiting;
    if (waits && leg.last) return;
    if (waits) {
      to = wait(leg, at, push_at);
      // The time passes all the same.
      const Phase next = std::exchange(phase_, Phase::waiting);
      if (state_[time] == 0 && at < to) show(at);
      while (at < to) at = one_step(at, to, spacing / push_at(at).pace, system);
      phase_ = next;
      step_ = first_step(push_at(at));
      show(at);
      continue;
    }
    const Phase before = phase_;
    at = one_step(at, to, spacing / push_at(at).pace, system);
    if (before == Phase::on_rail && state_[upward] < 0) rest();
    show(at);
  }
}

}  // namespace grainwright
