// SPDX-License-Identifier: GPL-3.0-or-later
//
// A conical or straight nozzle and the thrust it makes.
// Ideal thrust: Sutton & Biblarz, Rocket Propulsion Elements, equations 3-29 and 3-30, with the
// exit velocity written by its own expansion gamma: gas that carries solids is hotter for longer
// than the chamber mixture would say, and published sugar-propellant impulse reproduces only so.
// Divergence (1 + cos alpha)/2 on the momentum term, RPE equation 3-34. Separation where the wall
// pressure falls under 0.4 ambient: Summerfield, Foster & Swan, Jet Propulsion 24 (1954).
#pragma once

#include <algorithm>
#include <vector>

#include "grainwright/error.hpp"

namespace grainwright {

/// Wall pressure over ambient at which the flow leaves the wall.
inline constexpr double separation_ratio = 0.4;

/// A conical nozzle, or a straight hole.
struct Nozzle {
  double throat_diameter = 0;  ///< m
  double exit_diameter = 0;    ///< m; equal to the throat for a straight hole
  double half_angle = 0;       ///< rad
  double efficiency = 1;       ///< measured / ideal thrust coefficient
  double throat_growth = 0;    ///< m/s, of the diameter: wear above 0, slag that settles below it

  bool operator==(const Nozzle&) const = default;
  /// A hole without a cone.
  [[nodiscard]] bool straight() const { return exit_diameter == throat_diameter; }
  /// With another throat, m: a straight hole stays one, a cone keeps its exit.
  [[nodiscard]] Nozzle drilled_to(double throat) const;
  /// m2.
  [[nodiscard]] double throat_area() const;
  /// Exit area over throat area.
  [[nodiscard]] double expansion_ratio() const;
};

[[nodiscard]] std::vector<Complaint> complaints(const Nozzle& nozzle);

/// Thrust of one nozzle on one gas as a function of chamber pressure.
/// From `full_flow_pressure` on thrust is `per_pressure * P - loss`, exactly.
class ThrustLaw {
 public:
  /// `gamma` to the throat, `expansion_gamma` past it; pressure in Pa, absolute.
  ThrustLaw(const Nozzle& nozzle, double gamma, double expansion_gamma, double ambient_pressure);

  /// N at a chamber pressure in Pa; never below 0.
  [[nodiscard]] double operator()(double pressure) const;
  /// F/(P At).
  [[nodiscard]] double coefficient(double pressure) const;
  [[nodiscard]] double per_pressure() const { return per_pressure_; }  ///< m2
  [[nodiscard]] double loss() const { return loss_; }                  ///< N
  /// By how much thrust grows as ambient pressure falls while the nozzle flows full, m2: its exit
  /// area times the efficiency.
  [[nodiscard]] double exit_area() const { return exit_area_; }
  /// Chamber pressure under which the flow separates inside the nozzle, Pa; 0 in vacuum.
  [[nodiscard]] double separation_pressure() const { return separation_pressure_; }
  /// Chamber pressure under which the throat no longer chokes, Pa; 0 in vacuum.
  [[nodiscard]] double choking_pressure() const { return choking_pressure_; }
  /// Where the nozzle both chokes and flows full, Pa.
  [[nodiscard]] double full_flow_pressure() const {
    return std::max(separation_pressure_, choking_pressure_);
  }
  /// Exit pressure over chamber pressure while flowing full.
  [[nodiscard]] double exit_pressure_ratio() const { return exit_ratio_; }

 private:
  // Gas expanded past the throat to a pressure over chamber pressure.
  struct Expanded {
    double momentum;  // its thrust over P At
    double area;      // A/At
  };
  [[nodiscard]] Expanded expanded_to(double pressure_ratio) const;
  [[nodiscard]] double choked(double pressure) const;
  double throat_area_;
  double ambient_;
  double gamma_;
  double expansion_gamma_;
  double gamma_flow_;      // choked flow function of the chamber gas
  double expansion_flow_;  // and of the expanding gas
  double divergence_;
  double efficiency_;
  double exit_ratio_ = 0;
  double per_pressure_ = 0;
  double exit_area_ = 0;
  double loss_ = 0;
  double separation_pressure_ = 0;
  double choking_pressure_ = 0;
  double thrust_at_choking_ = 0;
};

}  // namespace grainwright
