// SPDX-License-Identifier: GPL-3.0-or-later
#include "parts.hpp"

#include <numbers>

namespace grainwright {
namespace {

Slab slab_of(const Material& material, double thickness, double temperature) {
  return {thickness, material.conductivity, material.density, material.specific_heat, temperature};
}

/// Layers of protection, then the part itself.
void stack_up(Part& part, const std::vector<Protection>& protection, const Material& own,
              double thickness, double temperature) {
  for (const Protection& layer : protection) {
    part.column.push_back(slab_of(layer.material, layer.thickness, temperature));
    part.own_depth += layer.thickness;
  }
  part.column.push_back(slab_of(own, thickness, temperature));
}

Part pipe_part(const Shell& shell, bool bare_from_lighting, double temperature) {
  Part part{.name = bare_from_lighting ? "pipe at the bare ends" : "pipe under the grain",
            .modes = tube_modes(shell.tube, shell.material),
            .coefficient = shell.coefficient,
            .bare_from_lighting = bare_from_lighting};
  stack_up(part, shell.liner, shell.material, shell.tube.wall, temperature);
  return part;
}

Part closure_part(const Shell& shell, const Closure& closure, PartLoad load, double temperature) {
  Part part{.name = load == PartLoad::head ? "head closure" : "nozzle seat",
            .load = load,
            .sealed_area = std::numbers::pi / 4 * closure.seal_diameter * closure.seal_diameter,
            .modes = modes_of(closure.joint, {.tube = shell.tube,
                                              .pipe = shell.material,
                                              .plug = closure.material,
                                              .thickness = closure.thickness}),
            .coefficient = closure.coefficient ? closure.coefficient : shell.coefficient};
  stack_up(part, closure.protection, closure.material, closure.thickness, temperature);
  return part;
}

}  // namespace

std::vector<JointMode> tube_modes(const Tube& tube, const Material& material) {
  std::vector<JointMode> modes;
  const auto add = [&](const char* name, double pressure) {
    modes.push_back({name, pressure, material, 0, tube.wall});
  };
  if (material.burst_stress > 0)
    add("short-time burst", hoop_pressure(tube, material.burst_stress));
  if (material.yield > 0 && material.ultimate > 0 && material.burst_stress <= 0) {
    add("yield at the bore", bore_yield_pressure(tube, material.yield));
    add("yield through the wall", wall_yield_pressure(tube, material.yield));
    add("burst", ductile_burst_pressure(tube, material.yield, material.ultimate));
  }
  return modes;
}

std::vector<Part> parts_of(const Shell& shell, bool bare_ends, double temperature) {
  std::vector<Part> parts = {pipe_part(shell, false, temperature)};
  if (bare_ends) parts.push_back(pipe_part(shell, true, temperature));
  if (shell.head) {
    parts.push_back(closure_part(shell, *shell.head, PartLoad::head, temperature));
  }
  if (shell.nozzle) {
    parts.push_back(closure_part(shell, *shell.nozzle, PartLoad::nozzle, temperature));
  }
  return parts;
}

}  // namespace grainwright
