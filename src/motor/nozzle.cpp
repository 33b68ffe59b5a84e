// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/motor/nozzle.hpp"

#include <cmath>
#include <numbers>

#include "grainwright/motor/gas.hpp"
#include "grainwright/quantity.hpp"

namespace grainwright {

using std::numbers::pi;

Nozzle Nozzle::drilled_to(double throat) const {
  Nozzle drilled = *this;
  drilled.throat_diameter = throat;
  if (straight()) drilled.exit_diameter = throat;
  return drilled;
}

double Nozzle::throat_area() const {
  return pi / 4 * throat_diameter * throat_diameter;
}

double Nozzle::expansion_ratio() const {
  const double ratio = exit_diameter / throat_diameter;
  return ratio * ratio;
}

std::vector<Complaint> complaints(const Nozzle& nozzle) {
  std::vector<Complaint> found;
  const auto shown = [](double metres) { return write_quantity(metres, Dimension::length); };
  if (!(std::isfinite(nozzle.throat_diameter) && nozzle.throat_diameter > 0)) {
    found.push_back({"throat", shown(nozzle.throat_diameter), "a diameter above zero"});
  }
  if (!(std::isfinite(nozzle.exit_diameter) && nozzle.exit_diameter >= nozzle.throat_diameter)) {
    found.push_back({"exit", shown(nozzle.exit_diameter),
                     "at least the throat's diameter of " + shown(nozzle.throat_diameter)});
  }
  if (!(nozzle.half_angle >= 0 && nozzle.half_angle < pi / 2)) {
    found.push_back({"half_angle", write_quantity(nozzle.half_angle, Dimension::angle),
                     "from 0 to under 90 deg"});
  }
  if (!(nozzle.efficiency > 0 && nozzle.efficiency <= 1)) {
    found.push_back({"efficiency", std::to_string(nozzle.efficiency), "above 0, up to 1"});
  }
  if (!std::isfinite(nozzle.throat_growth)) {
    found.push_back({"throat_growth", std::to_string(nozzle.throat_growth), "a finite speed"});
  }
  return found;
}

ThrustLaw::ThrustLaw(const Nozzle& nozzle, double gamma, double expansion_gamma,
                     double ambient_pressure)
    : throat_area_(nozzle.throat_area()),
      ambient_(ambient_pressure),
      gamma_(gamma),
      expansion_gamma_(expansion_gamma),
      gamma_flow_(choked_flow_function(gamma)),
      expansion_flow_(choked_flow_function(expansion_gamma)),
      // A straight hole has no cone to diverge in.
      divergence_(nozzle.exit_diameter > nozzle.throat_diameter
                      ? (1 + std::cos(nozzle.half_angle)) / 2
                      : 1),
      efficiency_(nozzle.efficiency) {
  const double expansion = nozzle.expansion_ratio();
  exit_ratio_ = pressure_ratio(supersonic_mach(expansion, expansion_gamma), expansion_gamma);
  per_pressure_ =
      efficiency_ * throat_area_ * (expanded_to(exit_ratio_).momentum + exit_ratio_ * expansion);
  exit_area_ = efficiency_ * throat_area_ * expansion;
  loss_ = ambient_ * exit_area_;
  choking_pressure_ = ambient_ / pressure_ratio(1, gamma);
  separation_pressure_ = separation_ratio * ambient_ / exit_ratio_;
  thrust_at_choking_ = choking_pressure_ > 0 ? choked(choking_pressure_) : 0;
}

// Mass flow P At / c* with c* = sqrt(R T0)/choked_flow_function(gamma), velocity and section by the
// expansion gamma (RPE equations 3-16 and 3-25). One power serves both: thrust is asked a thousand
// times a firing.
ThrustLaw::Expanded ThrustLaw::expanded_to(double ratio) const {
  const double k = expansion_gamma_;
  const double spent = -std::expm1((k - 1) / k * std::log(ratio));  // of the gas's enthalpy
  const double speed = std::sqrt(2 * k / (k - 1) * spent);          // over sqrt(R T0)
  return {divergence_ * gamma_flow_ * speed, expansion_flow_ * (1 - spent) / (ratio * speed)};
}

double ThrustLaw::operator()(double pressure) const {
  if (pressure <= ambient_) return 0;
  if (pressure < choking_pressure_) {
    // Subsonic throat: a jet of the gas's own dynamic pressure, gamma M^2 ambient, which meets the
    // choked formula where the throat chokes.
    const double mach = mach_of_pressure_ratio(ambient_ / pressure, gamma_);
    return thrust_at_choking_ * mach * mach;
  }
  return choked(pressure);
}

double ThrustLaw::choked(double pressure) const {
  if (pressure >= separation_pressure_) return per_pressure_ * pressure - loss_;
  // Separated: the nozzle ends, in effect, where the wall pressure is 0.4 ambient; past that the
  // wall is at ambient pressure and adds nothing.
  const double ratio = separation_ratio * ambient_ / pressure;
  const auto [momentum, area] = expanded_to(ratio);
  return efficiency_ * throat_area_ * (pressure * (momentum + ratio * area) - ambient_ * area);
}

double ThrustLaw::coefficient(double pressure) const {
  return (*this)(pressure) / (pressure * throat_area_);
}

}  // namespace grainwright
