// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "grainwright/flight/flight.hpp"

namespace grainwright {
namespace {

/// Points of a firing, with one more wherever the nozzle begins or ceases to flow full: what
/// altitude adds to thrust begins and ends there.
class Points {
 public:
  Points(const Curve& curve, double full_flow, Propulsion& into)
      : curve_(curve), full_flow_(full_flow), into_(into) {}

  void take_all() {
    for (std::size_t i = 0; i < curve_.time.size(); ++i) {
      if (i > 0 && full(i) != full(i - 1)) {
        const double span = curve_.pressure[i] - curve_.pressure[i - 1];
        append(i, (full_flow_ - curve_.pressure[i - 1]) / span, true);
      }
      append(i, 1, full(i));
    }
  }
  /// Integral of the pressure, Pa s.
  [[nodiscard]] double out() const { return out_; }

 private:
  [[nodiscard]] bool full(std::size_t i) const { return curve_.pressure[i] >= full_flow_; }

  /// So much of the way from the point before to this one.
  void append(std::size_t i, double way, bool full) {
    const auto at = [&](const std::vector<double>& column) {
      return i == 0 ? column[0] : std::lerp(column[i - 1], column[i], way);
    };
    const double time = at(curve_.time);
    const double pressure = at(curve_.pressure);
    if (!into_.time.empty()) out_ += (pressure + pressure_) / 2 * (time - into_.time.back());
    pressure_ = pressure;
    into_.time.push_back(time);
    into_.thrust.push_back(at(curve_.thrust));
    into_.propellant.push_back(out_);
    into_.flows_full.push_back(full ? 1 : 0);
  }

  const Curve& curve_;
  double full_flow_;
  Propulsion& into_;
  double out_ = 0;
  double pressure_ = 0;
};

}  // namespace

Propulsion propulsion_of(const Firing& firing, const Motor& motor) {
  const ThrustLaw law(motor.nozzle, motor.propellant.gamma, motor.propellant.expansion_gamma,
                      motor.day.ambient_pressure);
  Propulsion propulsion;
  propulsion.ambient_pressure = motor.day.ambient_pressure;
  propulsion.exit_area = law.exit_area();
  propulsion.burnout = firing.summary.burn_time;
  if (firing.transient) propulsion.settled = firing.transient->rise_end.value_or(0);
  Points points(firing.curve, law.full_flow_pressure(), propulsion);
  points.take_all();
  for (double& left : propulsion.propellant) {
    left = firing.summary.propellant_mass * (1 - left / points.out());
  }
  return propulsion;
}

}  // namespace grainwright
