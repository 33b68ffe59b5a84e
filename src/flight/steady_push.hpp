// SPDX-License-Identifier: GPL-3.0-or-later
//
// The steady firing as a push, in the web: events of the burnback stand at the ends of legs.
#pragma once

#include <limits>
#include <span>

#include "ascent.hpp"
#include "grainwright/firing/steady.hpp"

namespace grainwright {

/// Of each step, where a million flights are asked for one figure.
inline constexpr double quick_tolerance = 1e-8;
inline constexpr double no_spacing = std::numeric_limits<double>::infinity();
/// For flights that nobody writes down.
inline constexpr auto unseen = [](Phase, const Motion::State&, const Forces&) {};

[[nodiscard]] inline Nozzled nozzled_of(const SteadyChamber& chamber) {
  return {chamber.ambient_pressure(), chamber.thrust_law().exit_area()};
}

/// The push of one stretch; `propellant` is what is left at its beginning, kg.
class SteadyPush {
 public:
  SteadyPush(const Stretch& stretch, const SteadyChamber& chamber, double propellant)
      : stretch_(stretch), chamber_(chamber), propellant_(propellant) {}

  [[nodiscard]] Push operator()(double web) const {
    const double area = stretch_.area(web);
    const auto& band = chamber_.band_of(area);
    const double pressure = band.pressure(area);
    const ThrustLaw& law = chamber_.thrust_law();
    const double thrust =
        band.full_flow ? law.per_pressure() * pressure - law.loss() : law(pressure);
    return {thrust, left(web), chamber_.slowness(band, area, pressure), band.full_flow};
  }
  [[nodiscard]] double left(double web) const {
    return propellant_ - chamber_.density() * (volume_to(web) - volume_to(stretch_.from));
  }

 private:
  [[nodiscard]] double volume_to(double web) const {
    const auto& c = stretch_.area.c;
    return web * (c[0] + web * (c[1] / 2 + web * c[2] / 3));
  }

  const Stretch& stretch_;
  const SteadyChamber& chamber_;
  double propellant_;
};

/// Follows a whole steady burn, or up to the phase `until`.
template <class Climb, class Visit>
void follow_steady(Climb& climb, std::span<const Stretch> stretches, const SteadyChamber& chamber,
                   double propellant, Phase until, double spacing, Visit&& visit) {
  for (const Stretch& stretch : stretches) {
    if (climb.phase() >= until) return;
    const SteadyPush push(stretch, chamber, propellant);
    climb.follow({stretch.from, stretch.to}, push, until, spacing, visit);
    propellant = push.left(stretch.to);
  }
}

}  // namespace grainwright
