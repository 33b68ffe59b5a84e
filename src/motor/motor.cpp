// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/motor/motor.hpp"

#include <cmath>

namespace grainwright {

std::vector<Complaint> complaints(const Motor& motor) {
  std::vector<Complaint> found = complaints(motor.grain);
  for (const auto& more : {complaints(motor.propellant), complaints(motor.nozzle)}) {
    found.insert(found.end(), more.begin(), more.end());
  }
  if (!(std::isfinite(motor.day.temperature) && motor.day.temperature > 0)) {
    found.push_back({"temperature", std::to_string(motor.day.temperature), "above absolute zero"});
  }
  if (!(std::isfinite(motor.day.ambient_pressure) && motor.day.ambient_pressure >= 0)) {
    found.push_back(
        {"ambient_pressure", std::to_string(motor.day.ambient_pressure), "zero (vacuum) or more"});
  }
  return found;
}

}  // namespace grainwright
