// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/grain/planar_front.hpp"

#include <algorithm>
#include <numbers>

#include "front_sum.hpp"
#include "outline_sites.hpp"

namespace grainwright {
namespace {

using std::numbers::pi;

// The cells of all sites must tile the propellant. Crossing or nearly touching edges break that,
// and so does any mistake of the kernel: nothing wrong gets past this.
constexpr double tiling = 1e-9;

// Rounding may carry a cosine past 1 where two circles touch.
double cosine(double value) {
  return std::clamp(value, -1.0, 1.0);
}

}  // namespace

PlanarFront::PlanarFront(const Outline& outline, double wall_radius) {
  TidyOutline tidy = tidied(outline, wall_radius);
  front::Boundary boundary = front::boundary_of(tidy.outline, wall_radius);
  if (boundary.sites.empty()) {
    throw InputError("outline", "a void that fills the tube", "a void that leaves propellant");
  }
  sum_ = std::make_shared<FrontSum>(
      FrontSum::Figure{std::move(boundary.sites), wall_radius, wall_radius, {}});
  if (std::abs(sum_->left(0) - boundary.section) > tiling * pi * wall_radius * wall_radius) {
    throw InputError("outline", "edges that cross, touch or nearly touch",
                     "rings whose edges stay clear of each other");
  }
}

double PlanarFront::perimeter(double web) const {
  return sum_->length(web);
}
std::optional<Quadratic> PlanarFront::formula(double web) const {
  return sum_->formula(web);
}
double PlanarFront::section(double web) const {
  return sum_->left(web);
}
double PlanarFront::burnout() const {
  return sum_->burnout();
}
std::span<const double> PlanarFront::events() const {
  return sum_->events();
}

std::vector<Stroke> PlanarFront::strokes(double web) const {
  return sum_->strokes(web);
}

OffCentre off_centre_core(double wall_radius, double core_radius, double offset, double web) {
  double r = core_radius + web;
  double e = std::abs(offset);
  if (r >= wall_radius + e) return {};
  double whole = pi * (wall_radius - r) * (wall_radius + r);
  if (r + e <= wall_radius) return {2 * pi * r, whole};
  // Half angles that the chord common to both circles cuts out of each.
  double at_core = std::acos(cosine((wall_radius * wall_radius - r * r - e * e) / (2 * e * r)));
  double at_wall =
      std::acos(cosine((wall_radius * wall_radius - r * r + e * e) / (2 * e * wall_radius)));
  double kept = pi - at_core;
  double lens = r * r * (kept + std::sin(at_core) * std::cos(at_core)) +
                wall_radius * wall_radius * (at_wall - std::sin(at_wall) * std::cos(at_wall));
  return {2 * r * kept, std::max(0.0, pi * wall_radius * wall_radius - lens)};
}

}  // namespace grainwright
