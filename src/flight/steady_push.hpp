// SPDX-License-Identifier: GPL-3.0-or-later
//
// The steady firing as a push, in the web: events of the burnback stand at the ends of legs.
#pragma once

#include <limits>
#include <span>

#include "ascent.hpp"
#include "grainwright/firing/nodes.hpp"
#include "grainwright/firing/steady.hpp"

namespace grainwright {

/// Of each step, where a million flights are asked for one figure.
inline constexpr double quick_tolerance = 1e-9;
inline constexpr double no_spacing = std::numeric_limits<double>::infinity();
/// For flights that nobody writes down.
inline constexpr auto unseen = [](Phase, const Motion::State&, const Forces&) {};

[[nodiscard]] inline Nozzled nozzled_of(const SteadyChamber& chamber) {
  return {chamber.ambient_pressure(), chamber.thrust_law().exit_area()};
}

/// Volume burned from a stretch's beginning to a web in it, m3.
[[nodiscard]] inline double burned_to(const Stretch& stretch, double web) {
  const auto& c = stretch.area.c;
  const auto primitive = [&](double x) { return x * (c[0] + x * (c[1] / 2 + x * c[2] / 3)); };
  return primitive(web) - primitive(stretch.from);
}

/// The push of one stretch in one band of the chamber; `propellant` is what is left at the
/// stretch's beginning, kg.
class SteadyPush {
 public:
  SteadyPush(const Stretch& stretch, const SteadyChamber& chamber, const SteadyChamber::Band& band,
             double propellant)
      : stretch_(stretch), chamber_(chamber), band_(band), propellant_(propellant) {}

  [[nodiscard]] Push operator()(double web) const {
    const double area = stretch_.area(web);
    const double pressure = band_.pressure(area);
    const ThrustLaw& law = chamber_.thrust_law();
    const double thrust =
        band_.full_flow ? law.per_pressure() * pressure - law.loss() : law(pressure);
    return {thrust, left(web), chamber_.slowness(band_, area, pressure), band_.full_flow};
  }

 private:
  [[nodiscard]] double left(double web) const {
    return propellant_ - chamber_.density() * burned_to(stretch_, web);
  }

  const Stretch& stretch_;
  const SteadyChamber& chamber_;
  const SteadyChamber::Band& band_;
  double propellant_;
};

/// Follows a whole steady burn, or up to the phase `until`.
template <class Climb, class Visit>
void follow_steady(Climb& climb, std::span<const Stretch> stretches, const SteadyChamber& chamber,
                   double propellant, Phase until, double spacing, Visit&& visit) {
  for (const Stretch& stretch : stretches) {
    const AreaRange range = area_range(stretch);
    // Where the area enters another band the thrust may jump.
    const bool one_band = range.greatest <= chamber.band_of(range.least).to;
    for (double from = stretch.from; from < stretch.to;) {
      if (climb.phase() >= until) return;
      const double to = one_band ? stretch.to : detail::next_cut(stretch, range, chamber, from);
      const auto& band = chamber.band_of(stretch.area((from + to) / 2));
      climb.follow({from, to}, SteadyPush(stretch, chamber, band, propellant), until, spacing,
                   visit);
      from = to;
    }
    propellant -= chamber.density() * burned_to(stretch, stretch.to);
  }
}

}  // namespace grainwright
