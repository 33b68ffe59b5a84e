// SPDX-License-Identifier: GPL-3.0-or-later
//
// The throat over time: how much gas it passes and what thrust that makes, choked or not, while it
// wears or clogs.
#pragma once

#include "grainwright/motor/motor.hpp"

namespace grainwright {

class Throat {
 public:
  explicit Throat(const Motor& motor);

  /// m2. Throws InputError where slag would have closed the throat.
  [[nodiscard]] double area(double time) const {
    return nozzle_.throat_growth == 0 ? area_ : nozzle_at(time).throat_area();
  }
  /// N at a stagnation pressure in Pa.
  [[nodiscard]] double thrust(double pressure, double time) const {
    return nozzle_.throat_growth == 0 ? law_(pressure) : law_at(time)(pressure);
  }
  /// kg/s of chamber gas at flame temperature; 0 at ambient pressure and below. Unchoked flow:
  /// isentropic to ambient pressure in the throat (Sutton & Biblarz, Rocket Propulsion Elements,
  /// equation 3-24 with velocity 3-16).
  [[nodiscard]] double outflow(double pressure, double time) const {
    if (pressure <= ambient_) return 0;
    const double choked = pressure * area(time) / characteristic_velocity_;
    return pressure >= law_.choking_pressure() ? choked : choked * unchoked_share(pressure);
  }
  /// Choked outflow over pressure and area: 1/c*, s/m.
  [[nodiscard]] double per_area() const { return 1 / characteristic_velocity_; }
  [[nodiscard]] const ThrustLaw& first_law() const { return law_; }

 private:
  [[nodiscard]] double unchoked_share(double pressure) const;
  [[nodiscard]] Nozzle nozzle_at(double time) const;
  [[nodiscard]] ThrustLaw law_at(double time) const;

  Nozzle nozzle_;
  double gamma_;
  double expansion_gamma_;
  double characteristic_velocity_;
  double ambient_;
  double area_;
  ThrustLaw law_;  // of the first moment, which is all while nothing wears
};

}  // namespace grainwright
