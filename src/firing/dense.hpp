// SPDX-License-Identifier: GPL-3.0-or-later
//
// One leg of an ordinary differential equation, followed by the Runge-Kutta pair of Dormand and
// Prince (J. Comput. Appl. Math. 6, 1980; Boost.odeint) with its own continuous extension.
#pragma once

#include <algorithm>
#include <boost/numeric/odeint/stepper/generation.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta_dopri5.hpp>
#include <cmath>

namespace grainwright {

/// What a leg is asked for.
struct Leg {
  double from = 0;
  double to = 0;
  double first_step = 0;
  double tolerance = 0;  ///< relative, of each component of the state
  double spacing = 0;    ///< points are no further apart than this
};

/// Follows `state` through a leg; visit(x, state) sees its points after the first, the last one
/// included. The system is never asked past `to`.
template <class State, class System, class Visit>
void follow(const Leg& leg, State& state, System&& system, Visit&& visit) {
  namespace odeint = boost::numeric::odeint;
  constexpr double nothing = 1e-30;  // absolute tolerance: every component is held relatively
  auto stepper =
      odeint::make_dense_output(nothing, leg.tolerance, odeint::runge_kutta_dopri5<State>());
  stepper.initialize(state, leg.from, std::min(leg.first_step, leg.to - leg.from));
  for (double done = leg.from; done < leg.to;) {
    if (done + stepper.current_time_step() > leg.to) {
      state = stepper.current_state();
      stepper.initialize(state, done, leg.to - done);
    }
    stepper.do_step(system);
    const double end = stepper.current_time();
    const double parts = std::ceil((end - done) / leg.spacing);
    for (double part = 1; part <= parts; ++part) {
      const double x = part == parts ? end : done + (end - done) * part / parts;
      stepper.calc_state(x, state);
      visit(x, state);
    }
    done = end;
  }
}

}  // namespace grainwright
