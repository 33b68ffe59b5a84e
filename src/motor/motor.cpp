// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/motor/motor.hpp"

#include <cmath>

#include "grainwright/quantity.hpp"

namespace grainwright {

namespace {

std::vector<Complaint> complaints_beside_grain(const Motor& motor) {
  std::vector<Complaint> found;
  for (const auto& more : {complaints(motor.propellant), complaints(motor.nozzle)}) {
    found.insert(found.end(), more.begin(), more.end());
  }
  if (!(motor.day.temperature >= coldest_grain && motor.day.temperature <= hottest_grain)) {
    found.push_back({"temperature", write_quantity(motor.day.temperature, Dimension::temperature),
                     "from -60 degC to 80 degC: no burn law here is known to hold outside that"});
  }
  if (!(std::isfinite(motor.day.ambient_pressure) && motor.day.ambient_pressure >= 0)) {
    found.push_back(
        {"ambient_pressure", std::to_string(motor.day.ambient_pressure), "zero (vacuum) or more"});
  }
  return found;
}

}  // namespace

std::vector<Complaint> complaints(const Motor& motor) {
  std::vector<Complaint> found = complaints(motor.grain);
  const std::vector<Complaint> more = complaints_beside_grain(motor);
  found.insert(found.end(), more.begin(), more.end());
  return found;
}

Burnback burnback_of(const Motor& motor) {
  // Only where all else is sound may the grain speak for itself, in the making of its fronts.
  if (!complaints_beside_grain(motor).empty()) throw InputError(complaints(motor));
  return Burnback(motor.grain);
}

}  // namespace grainwright
