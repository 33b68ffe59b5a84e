// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/strength/tube.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace grainwright {

double hoop_pressure(const Tube& tube, double stress) {
  return 2 * stress * tube.wall / (tube.outer_diameter - tube.wall);
}

double WallStress::von_mises() const {
  const double a = hoop - radial;
  const double b = radial - axial;
  const double c = axial - hoop;
  return std::sqrt((a * a + b * b + c * c) / 2);
}

double WallStress::tresca() const {
  return std::max({hoop, radial, axial}) - std::min({hoop, radial, axial});
}

WallStress lame(double inner_radius, double outer_radius, double inner_pressure,
                double outer_pressure, double radius) {
  const double a = inner_radius * inner_radius;
  const double b = outer_radius * outer_radius;
  const double axial = (inner_pressure * a - outer_pressure * b) / (b - a);
  const double bend = (inner_pressure - outer_pressure) * a * b / ((b - a) * radius * radius);
  return {.hoop = axial + bend, .radial = axial - bend, .axial = axial};
}

double bore_yield_pressure(const Tube& tube, double yield) {
  const double ratio = tube.inner_radius() / tube.outer_radius();
  return yield * (1 - ratio * ratio) / std::numbers::sqrt3;
}

double wall_yield_pressure(const Tube& tube, double yield) {
  return 2 / std::numbers::sqrt3 * yield * std::log(tube.outer_radius() / tube.inner_radius());
}

double faupel_pressure(const Tube& tube, double yield, double ultimate) {
  return wall_yield_pressure(tube, yield) * (2 - yield / ultimate);
}

double ductile_burst_pressure(const Tube& tube, double yield, double ultimate) {
  return std::min(hoop_pressure(tube, ultimate), faupel_pressure(tube, yield, ultimate));
}

}  // namespace grainwright
