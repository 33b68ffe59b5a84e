// SPDX-License-Identifier: GPL-3.0-or-later
#include "remarks.hpp"

#include "grainwright/quantity.hpp"

namespace grainwright {

std::vector<std::string> remarks_on(const Summary& summary, const SteadyChamber& chamber) {
  std::vector<std::string> remarks = chamber.law().warnings();
  const auto pressure = [](double value) {
    return show(value, Dimension::pressure, UnitSystem::si, 3);
  };
  const ThrustLaw& thrust = chamber.thrust_law();
  if (summary.peak_pressure > chamber.law().highest()) {
    remarks.push_back("the burn law is published up to " + pressure(chamber.law().highest()) +
                      "; above it, its last piece is carried on");
  }
  if (summary.lowest_pressure < chamber.law().lowest()) {
    remarks.push_back("the burn law is published from " + pressure(chamber.law().lowest()) +
                      "; below it, its first piece is carried on");
  }
  if (summary.lowest_pressure < thrust.choking_pressure()) {
    remarks.push_back("the pressure falls under " + pressure(thrust.choking_pressure()) +
                      ", where the throat no longer chokes: the motor would chuff or go out, and "
                      "figures for that time mean little");
  }
  if (summary.lowest_pressure < thrust.separation_pressure()) {
    remarks.push_back(
        "under " + pressure(thrust.separation_pressure()) +
        " the exhaust leaves the wall inside this nozzle: the exit is too wide for it");
  }
  return remarks;
}

}  // namespace grainwright
