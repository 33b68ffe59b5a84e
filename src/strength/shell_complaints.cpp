// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>
#include <cmath>

#include "grainwright/quantity.hpp"
#include "grainwright/strength/margins.hpp"
#include "parts.hpp"

namespace grainwright {
namespace {

using Found = std::vector<Complaint>;

void check_layers(Found& found, const std::string& key, const std::vector<Protection>& layers) {
  constexpr double thickest = 1;  // m; heat does not cross that in any burn
  for (const Protection& layer : layers) {
    if (!(std::isfinite(layer.thickness) && layer.thickness > 0 && layer.thickness <= thickest)) {
      found.push_back({key, show(layer.thickness, Dimension::length, UnitSystem::si),
                       "a thickness above zero, at most 1 m"});
    }
    if (layer.material.conducts()) continue;
    found.push_back({key, '"' + layer.material.name + '"',
                     "a material whose conductivity, density and specific_heat are known"});
  }
}

void check_closure(Found& found, const std::string& key, const Shell& shell,
                   const Closure& closure) {
  const auto shown = [](double metres) { return show(metres, Dimension::length, UnitSystem::si); };
  if (!(std::isfinite(closure.thickness) && closure.thickness > 0)) {
    found.push_back({key + ".thickness", shown(closure.thickness), "a length above zero"});
    return;
  }
  check_layers(found, key + ".protection", closure.protection);
  check_layers(found, key + ".material", {{closure.material, closure.thickness}});
  if (!(closure.seal_diameter > 0 && closure.seal_diameter <= shell.tube.outer_diameter)) {
    found.push_back(
        {key + ".seal_diameter", shown(closure.seal_diameter),
         "above zero, at most the pipe's outside, " + shown(shell.tube.outer_diameter)});
  }
  const Seat seat{shell.tube, shell.material, closure.material, closure.thickness};
  for (Complaint complaint : complaints(closure.joint, seat)) {
    if (!complaint.key.starts_with("casing.")) complaint.key = key + "." + complaint.key;
    found.push_back(std::move(complaint));
  }
}

/// Closures and grain room have to fit into a pipe whose length is known.
void check_length(Found& found, const Shell& shell) {
  const double needed = shell.grain_room + (shell.head ? shell.head->thickness : 0) +
                        (shell.nozzle ? shell.nozzle->thickness : 0);
  constexpr double rounding = 1e-9;
  if (shell.length == 0 || needed <= shell.length * (1 + rounding)) return;
  found.push_back({"casing.length", show(shell.length, Dimension::length, UnitSystem::si),
                   fmt::format("at least {}, the grain room and the closures together",
                               show(needed, Dimension::length, UnitSystem::si))});
}

}  // namespace

std::vector<Complaint> complaints(const Shell& shell) {
  Found found;
  if (!(std::isfinite(shell.factor) && shell.factor >= 1)) {
    found.push_back({"limits.factor", fmt::format("{}", shell.factor),
                     "1 or more: under 1 a part fails before its load is reached"});
  }
  if (!(shell.tube.wall > 0 && shell.tube.inner_radius() > 0)) {
    found.push_back({"casing.wall", show(shell.tube.wall, Dimension::length, UnitSystem::si),
                     "above zero, and under half of the outside diameter"});
    return found;
  }
  check_layers(found, "casing.material", {{shell.material, shell.tube.wall}});
  if (tube_modes(shell.tube, shell.material).empty()) {
    found.push_back({"casing.material", '"' + shell.material.name + '"',
                     "a material whose burst_stress is known, or yield and ultimate"});
  }
  check_layers(found, "casing.tube_material", shell.liner);
  check_length(found, shell);
  if (shell.head) check_closure(found, "closure.head", shell, *shell.head);
  if (shell.nozzle) check_closure(found, "closure.nozzle", shell, *shell.nozzle);
  return found;
}

std::vector<Complaint> complaints(const Shell& shell, const Motor& motor) {
  Found found = complaints(shell);
  if (shell.gas_temperature.value_or(motor.propellant.flame_temperature) <= 0) {
    found.push_back(
        {"heat.gas_temperature", "missing",
         "a temperature here, or flame_temperature in [propellant]: how hot is the gas?"});
  }
  return found;
}

}  // namespace grainwright
