// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/strength/material.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "grainwright/quantity.hpp"

namespace grainwright {
namespace {

template <class Points, class Of>
bool rises(const Points& points, Of of) {
  return std::ranges::adjacent_find(points, [&](const auto& a, const auto& b) {
           return !(of(a) < of(b));
         }) == points.end();
}

}  // namespace

double Material::strength_share(double temperature) const {
  if (strength_at.empty()) return 1;
  if (temperature <= strength_at.front().temperature) return strength_at.front().share;
  const auto above =
      std::ranges::lower_bound(strength_at, temperature, {}, &StrengthPoint::temperature);
  if (above == strength_at.end()) return 0;
  const StrengthPoint& below = *std::prev(above);
  const double part = (temperature - below.temperature) / (above->temperature - below.temperature);
  return std::lerp(below.share, above->share, part);
}

double Material::lap_shear(double cure_time) const {
  if (cure.empty()) return shear;
  const auto next = std::ranges::upper_bound(cure, cure_time, {}, &CurePoint::time);
  return next == cure.begin() ? 0 : std::prev(next)->shear;
}

std::vector<Complaint> complaints(const Material& material) {
  std::vector<Complaint> found;
  const auto not_negative = [&](const char* key, double value) {
    if (std::isfinite(value) && value >= 0) return;
    found.push_back({key, fmt::format("{}", value), "zero (not known) or more"});
  };
  not_negative("conductivity", material.conductivity);
  not_negative("density", material.density);
  not_negative("specific_heat", material.specific_heat);
  // Maraging steel, the strongest that pipes are made of, has about 2.4 GPa (common practice, no
  // source): more is a slip of units.
  constexpr double strongest = 3e9;
  const auto strength = [&](const char* key, double value) {
    not_negative(key, value);
    if (!(value > strongest)) return;
    found.push_back({key, show(value, Dimension::pressure, UnitSystem::si),
                     "at most 3 GPa (435 000 psi): no pipe metal is stronger"});
  };
  strength("yield", material.yield);
  strength("ultimate", material.ultimate);
  strength("shear", material.shear);
  strength("bearing", material.bearing);
  strength("rating_stress", material.rating_stress);
  strength("burst_stress", material.burst_stress);
  if (!rises(material.strength_at, [](const StrengthPoint& p) { return p.temperature; })) {
    found.push_back({"strength_at", "temperatures that do not rise", "each above the one before"});
  }
  if (!std::ranges::all_of(material.strength_at,
                           [](const StrengthPoint& p) { return p.share >= 0 && p.share <= 1; })) {
    found.push_back({"strength_at", "a share outside 0 to 1", "0 (nothing left) to 1 (cold)"});
  }
  if (!rises(material.cure, [](const CurePoint& p) { return p.time; })) {
    found.push_back({"cure", "times that do not rise", "each above the one before"});
  }
  if (!std::ranges::all_of(material.cure, [](const CurePoint& p) { return p.shear > 0; })) {
    found.push_back({"cure", "a shear that is not above zero", "shears above zero"});
  }
  return found;
}

}  // namespace grainwright
