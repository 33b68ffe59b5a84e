// SPDX-License-Identifier: GPL-3.0-or-later
#include "throat.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "grainwright/error.hpp"
#include "grainwright/motor/gas.hpp"
#include "grainwright/quantity.hpp"

namespace grainwright {
namespace {

// A throat clogged to this part of its diameter counts as closed.
constexpr double least_opening = 0.1;

}  // namespace

Throat::Throat(const Motor& motor)
    : nozzle_(motor.nozzle),
      gamma_(motor.propellant.gamma),
      expansion_gamma_(motor.propellant.expansion_gamma),
      characteristic_velocity_(motor.propellant.characteristic_velocity),
      ambient_(motor.day.ambient_pressure),
      area_(motor.nozzle.throat_area()),
      law_(motor.nozzle, gamma_, expansion_gamma_, ambient_) {}

Nozzle Throat::nozzle_at(double time) const {
  // A straight hole wears along its whole length.
  Nozzle nozzle = nozzle_.drilled_to(nozzle_.throat_diameter + nozzle_.throat_growth * time);
  if (nozzle.throat_diameter < least_opening * nozzle_.throat_diameter) {
    throw InputError("throat_growth", write_quantity(nozzle_.throat_growth, Dimension::speed),
                     "slag that leaves the throat open to the end of the burn");
  }
  nozzle.exit_diameter = std::max(nozzle.exit_diameter, nozzle.throat_diameter);
  return nozzle;
}

ThrustLaw Throat::law_at(double time) const {
  return {nozzle_at(time), gamma_, expansion_gamma_, ambient_};
}

// Unchoked over choked outflow at the same pressure.
double Throat::unchoked_share(double pressure) const {
  const double k = gamma_;
  const double ratio = ambient_ / pressure;
  const double expanded = -std::expm1((k - 1) / k * std::log(ratio));
  const double flow = std::pow(ratio, 1 / k) * std::sqrt(2 * k / (k - 1) * expanded);
  return flow / choked_flow_function(k);
}

}  // namespace grainwright
