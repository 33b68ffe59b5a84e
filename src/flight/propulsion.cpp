// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>

#include "grainwright/flight/flight.hpp"

namespace grainwright {

Propulsion propulsion_of(const Firing& firing, const Motor& motor) {
  const Curve& curve = firing.curve;
  const ThrustLaw law(motor.nozzle, motor.propellant.gamma, motor.propellant.expansion_gamma,
                      motor.day.ambient_pressure);
  Propulsion propulsion;
  propulsion.time = curve.time;
  propulsion.thrust = curve.thrust;
  propulsion.ambient_pressure = motor.day.ambient_pressure;
  propulsion.exit_area = law.exit_area();
  propulsion.burnout = firing.summary.burn_time;
  if (firing.transient) propulsion.settled = firing.transient->rise_end.value_or(0);
  double out = 0;
  for (std::size_t i = 0; i < curve.time.size(); ++i) {
    if (i > 0) {
      out += (curve.pressure[i] + curve.pressure[i - 1]) / 2 * (curve.time[i] - curve.time[i - 1]);
    }
    propulsion.propellant.push_back(out);
    propulsion.flows_full.push_back(curve.pressure[i] >= law.full_flow_pressure());
  }
  for (double& left : propulsion.propellant) {
    left = firing.summary.propellant_mass * (1 - left / out);
  }
  return propulsion;
}

}  // namespace grainwright
