// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/flight/airframe.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "grainwright/quantity.hpp"

namespace grainwright {
namespace {

void check_drag(const std::vector<DragPoint>& drag, std::vector<Complaint>& found) {
  if (drag.empty()) found.push_back({"drag_coefficient", "none", "a number, or a table over Mach"});
  for (std::size_t i = 0; i < drag.size(); ++i) {
    const auto [mach, coefficient] = drag[i];
    constexpr double most = 1000;  // a parachute has about 1.5
    if (!(coefficient >= 0 && coefficient <= most)) {
      found.push_back(
          {"drag_coefficient", fmt::format("{}", coefficient), "0 or more, up to 1000"});
    }
    const bool rises = i == 0 ? mach >= 0 : mach > drag[i - 1].mach;
    if (!(rises && mach <= greatest_drag_mach)) {
      found.push_back({"drag_coefficient", fmt::format("Mach {}", mach),
                       fmt::format("Mach numbers that rise, from 0 to {}", greatest_drag_mach)});
    }
  }
}

}  // namespace

double Airframe::drag_coefficient(double mach) const {
  const auto after =
      std::ranges::find_if(drag, [&](const DragPoint& point) { return point.mach >= mach; });
  if (after == drag.begin()) return drag.front().coefficient;
  if (after == drag.end()) return drag.back().coefficient;
  const DragPoint& before = *std::prev(after);
  const double share = (mach - before.mach) / (after->mach - before.mach);
  return before.coefficient + share * (after->coefficient - before.coefficient);
}

std::vector<Complaint> complaints(const Airframe& airframe) {
  using enum Dimension;
  std::vector<Complaint> found;
  const auto require = [&](bool holds, const char* key, double given, Dimension dimension,
                           const char* allowed) {
    if (!holds) found.push_back({key, write_quantity(given, dimension), allowed});
  };
  const auto positive = [](double value) { return value > 0 && std::isfinite(value); };
  require(positive(airframe.mass), "mass", airframe.mass, mass, "a mass above zero");
  require(airframe.hardware >= 0 && std::isfinite(airframe.hardware), "motor_hardware",
          airframe.hardware, mass, "a mass, zero or more");
  require(positive(airframe.diameter), "diameter", airframe.diameter, length,
          "a diameter above zero");
  require(positive(airframe.rail_length), "rail_length", airframe.rail_length, length,
          "a length above zero");
  require(airframe.rail_elevation >= flattest_rail &&
              airframe.rail_elevation <= std::numbers::pi / 2 * (1 + 1e-12),
          "rail_elevation", airframe.rail_elevation, angle, "from 30 to 90 deg");
  require(airframe.altitude >= lowest_altitude && airframe.altitude <= highest_launch,
          "launch_altitude", airframe.altitude, length, "from -2000 m to 30 km above sea level");
  if (airframe.temperature) {
    require(*airframe.temperature >= coldest_air && *airframe.temperature <= hottest_air,
            "air_temperature", *airframe.temperature, temperature, "from -60 degC to 80 degC");
  }
  check_drag(airframe.drag, found);
  return found;
}

}  // namespace grainwright
