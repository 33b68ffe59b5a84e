// SPDX-License-Identifier: GPL-3.0-or-later
//
// The quasi-steady firing: at every web the chamber pressure is the one at which the grain makes as
// much gas as the throat passes, P At / c* = density r(P) A.  Source: Sutton & Biblarz, Rocket
// Propulsion Elements, chapter on solid propellants; NASA SP-8039. It leaves out filling and
// blow-down of the chamber, flow along the port, erosion and throat wear.
//
// In the web domain dt/dx = 1/r = density c* A / (At P(A)), smooth between burnback events, so that
// a few Gauss-Legendre nodes a piece suffice; see nodes.hpp and docs/firing.md.
#pragma once

#include <cmath>
#include <optional>
#include <span>
#include <vector>

#include "grainwright/firing/firing.hpp"
#include "grainwright/grain/burnback.hpp"
#include "grainwright/motor/motor.hpp"

namespace grainwright {

/// A propellant, a throat and a day, made ready to burn any number of grains: load thresholds
/// rewritten as burning areas.
class SteadyChamber {
 public:
  /// The day's temperature decides the burn rate, its ambient pressure the thrust.
  SteadyChamber(const Propellant& propellant, const Nozzle& nozzle, const Day& day);

  /// One band of burning area in which one formula gives pressure, slowness and thrust.
  struct Band {
    double from = 0;   ///< m2
    double to = 0;     ///< m2
    double power = 0;  ///< P = scale * A^power; 0 where the pressure stays put
    double scale = 0;
    double slowness = 0;    ///< s/m where it is constant (burning at ambient pressure), else 0
    bool full_flow = true;  ///< thrust = per_pressure P - loss; else ask the thrust law

    [[nodiscard]] double pressure(double area) const {
      return power == 0 ? scale : scale * std::pow(area, power);
    }
  };
  /// In rising order of area, without gaps.
  [[nodiscard]] std::span<const Band> bands() const { return bands_; }
  /// The band of a burning area; a limit belongs to the band below it.
  [[nodiscard]] const Band& band_of(double burning_area) const;

  /// Pa at a burning area in m2. Not below ambient pressure: what burns slower than that burns at
  /// it.
  [[nodiscard]] double pressure(double burning_area) const {
    return band_of(burning_area).pressure(burning_area);
  }
  /// Seconds per metre of web (1/r) in a band at a burning area and its pressure.
  [[nodiscard]] double slowness(const Band& band, double burning_area, double pressure) const {
    return band.slowness > 0 ? band.slowness : mass_per_pressure_ * burning_area / pressure;
  }
  /// The largest burning area whose pressure does not exceed this, m2: the inverse of `pressure`.
  [[nodiscard]] double area_at(double pressure) const;
  /// Density c* / At: integral of P dt = this times the volume burned, above ambient pressure.
  [[nodiscard]] double mass_per_pressure() const { return mass_per_pressure_; }
  [[nodiscard]] const ThrustLaw& thrust_law() const { return thrust_; }
  [[nodiscard]] const BurnLaw& law() const { return law_; }
  /// Of the rate along the web; none where it does not change.
  [[nodiscard]] const std::optional<WebFactor>& web_factor() const { return web_factor_; }
  /// The same at a share of the web: what the burning area is multiplied with to find the pressure.
  [[nodiscard]] double factor(double share) const {
    return web_factor_ ? (*web_factor_)(share) : 1;
  }
  [[nodiscard]] double throat_area() const { return throat_area_; }
  [[nodiscard]] double density() const { return density_; }
  [[nodiscard]] double ambient_pressure() const { return ambient_; }

 private:
  BurnLaw law_;
  std::optional<WebFactor> web_factor_;
  ThrustLaw thrust_;
  double throat_area_;
  double density_;
  double ambient_;
  double mass_per_pressure_;
  std::vector<Band> bands_;
};

/// The stretches that burn under the plain law as these do under a factor over the web. With
/// dy = dx / f(x) the law is that of y, and the area A f: the gas that is made and the volume that
/// is gone are the same. Each is cut so finely that quadratics of the same volume serve to 1e-6;
/// without a factor they are as given. `burnout` is the web of the whole motor, m.
[[nodiscard]] std::vector<Stretch> even_rate(std::span<const Stretch> stretches,
                                             const std::optional<WebFactor>& factor,
                                             double burnout);

/// Burn time and impulse alone: what a search or a scatter asks a million times.
struct BurnSums {
  double time = 0;     ///< s
  double impulse = 0;  ///< N s
};
/// Relative error under 1e-9 (a test holds it).
[[nodiscard]] BurnSums burn_sums(std::span<const Stretch> stretches, const SteadyChamber& chamber);

/// Greatest mass flux in any port over the burn, kg/(m2 s): at the nozzle end of each layer, where
/// all gas made headward has gathered; looked at in even steps between events. 0 where there is no
/// port.
[[nodiscard]] double peak_mass_flux(const Burnback& burnback, const SteadyChamber& chamber);

/// Figures without the curve; nothing is checked.
[[nodiscard]] Summary steady_summary(const Burnback& burnback, const SteadyChamber& chamber);

/// How finely to draw the curve.
struct SteadyOptions {
  int points = 201;  ///< of the curve, spread over the web; events are added, twice where A jumps
};

}  // namespace grainwright
