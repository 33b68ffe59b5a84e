// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/strength/margins.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "grainwright/grain/core.hpp"
#include "grainwright/strength/gas_side.hpp"
#include "parts.hpp"

namespace grainwright {
namespace {

/// What the gas does over the firing, the same for every part.
struct Load {
  const Curve& curve;
  double ambient = 0;
  double peak_pressure = 0;     // absolute
  std::size_t peak = 0;         // index into the curve
  std::size_t burnout = 0;      // likewise, the last point at which something burns
  double burnt_through_at = 0;  // s
  double gas_temperature = 0;
  double coefficient = 0;  // estimated, at peak pressure

  [[nodiscard]] double gauge(std::size_t i) const {
    return std::max(curve.pressure[i] - ambient, 0.0);
  }
  /// N, or Pa on the pipe. By the balance of momentum between a section before the nozzle and its
  /// exit, a nozzle's seat carries the pressure on its sealed area less the thrust.
  [[nodiscard]] double on(const Part& part, std::size_t i) const {
    if (part.load == PartLoad::pressure) return gauge(i);
    return std::max(gauge(i) * part.sealed_area - thrust_on(part, i), 0.0);
  }
  [[nodiscard]] double thrust_on(const Part& part, std::size_t i) const {
    return part.load == PartLoad::nozzle ? curve.thrust[i] : 0;
  }
};

double estimated_coefficient(const Shell& shell, const Motor& motor, double pressure) {
  const ChamberGas gas = estimated_gas(motor.propellant, shell.gas_temperature.value_or(0));
  const double bore = 2 * shell.tube.inner_radius();
  const double throat = motor.nozzle.throat_diameter;
  const double ratio = std::max(bore * bore / (throat * throat), 1.0);
  if (shell.estimate == GasEstimate::pipe_flow) {
    return pipe_flow_coefficient(gas, pressure / (motor.propellant.characteristic_velocity * ratio),
                                 bore);
  }
  // The wall's own temperature matters little; half of the flame's stands for it.
  return bartz_coefficient(gas, throat, throat, pressure, {ratio, subsonic_mach(ratio, gas.gamma)},
                           gas.temperature / 2);
}

/// When the front of the first segment meets the wall.
double burn_through(const Grain& grain, const Curve& curve) {
  double web = std::numeric_limits<double>::infinity();
  for (const Layer& layer : grain.layers) web = std::min(web, web_to_wall(layer.segment));
  constexpr double rounding = 1e-9;
  const auto there = std::ranges::lower_bound(curve.web, web * (1 - rounding));
  if (there == curve.web.end()) return curve.time.back();
  return curve.time[static_cast<std::size_t>(there - curve.web.begin())];
}

Load load_of(const Shell& shell, const Motor& motor, const Curve& curve) {
  Load load{.curve = curve, .ambient = motor.day.ambient_pressure};
  load.peak =
      static_cast<std::size_t>(std::ranges::max_element(curve.pressure) - curve.pressure.begin());
  load.peak_pressure = curve.pressure[load.peak];
  for (std::size_t i = 0; i < curve.time.size(); ++i) {
    if (curve.burning_area[i] > 0) load.burnout = i;
  }
  load.burnt_through_at = burn_through(motor.grain, curve);
  load.gas_temperature = shell.gas_temperature.value_or(motor.propellant.flame_temperature);
  load.coefficient = estimated_coefficient(shell, motor, load.peak_pressure);
  return load;
}

/// Both estimates go with pressure to the power 0.8; a given coefficient is taken as it is. The gas
/// is gone when the curve ends.
GasSide gas_side_of(const Part& part, const Load& load) {
  GasSide gas{.temperature = load.gas_temperature};
  const double from = part.bare_from_lighting ? 0 : load.burnt_through_at;
  const auto coefficient = [&](std::size_t i) {
    const double share = load.curve.pressure[i] / load.peak_pressure;
    return part.coefficient.value_or(load.coefficient * std::pow(share, 0.8));
  };
  if (from > 0) gas.points = {{0, 0}, {from, 0}};
  for (std::size_t i = 0; i < load.curve.time.size(); ++i) {
    if (load.curve.time[i] >= from) gas.points.push_back({load.curve.time[i], coefficient(i)});
  }
  gas.points.push_back({load.curve.time.back(), 0});
  return gas;
}

/// The curve's times, and as many after it as show the heat on its way in: a few times what it
/// takes to cross the protection.
std::vector<double> watched_times(const Part& part, const Curve& curve) {
  constexpr int soak_points = 80;
  double crossing = 0;
  double depth = 0;
  for (const Slab& slab : part.column) {
    if (depth + slab.thickness > part.own_depth * (1 + 1e-9)) break;
    const double diffusivity = slab.conductivity / (slab.density * slab.specific_heat);
    crossing += slab.thickness / std::sqrt(diffusivity);
    depth += slab.thickness;
  }
  const double end = curve.time.back();
  const double soak = std::max(1.5 * crossing * crossing, 2 * end);
  std::vector<double> times = curve.time;
  for (int i = 1; i <= soak_points; ++i) {
    times.push_back(end + soak * std::pow(i / static_cast<double>(soak_points), 2));
  }
  return times;
}

PartHeat heat_of(const Part& part, const HeatRun& run, const Load& load) {
  const auto hottest = [&](std::size_t i) {
    double most = 0;
    for (const JointMode& mode : part.modes) {
      most = std::max(most, run.temperature(i, part.own_depth + mode.from));
    }
    return most;
  };
  PartHeat heat{.at_peak_pressure = hottest(load.peak), .at_burnout = hottest(load.burnout)};
  for (std::size_t i = 0; i < run.times().size(); ++i) {
    if (const double here = hottest(i); here > heat.greatest) {
      heat.greatest = here;
      heat.greatest_at = run.times()[i];
    }
  }
  return heat;
}

ModeMargin margin_of(const JointMode& mode, const Part& part, const HeatRun& run,
                     const Load& load) {
  ModeMargin worst{.mode = mode.name, .ratio = std::numeric_limits<double>::infinity()};
  worst.heat_known = !mode.material.strength_at.empty();
  const auto share = [&](double temperature) { return mode.material.strength_share(temperature); };
  double most_load = 0;
  for (std::size_t i = 0; i < load.curve.time.size(); ++i) {
    const double here = load.on(part, i);
    most_load = std::max(most_load, here);
    if (here <= 0) continue;
    const double capacity =
        mode.capacity * run.mean(i, part.own_depth + mode.from, part.own_depth + mode.to, share);
    if (capacity / here >= worst.ratio) continue;
    worst.load = here;
    worst.capacity = capacity;
    worst.ratio = capacity / here;
    worst.at = load.curve.time[i];
    worst.thrust = load.thrust_on(part, i);
    worst.temperature = run.temperature(i, part.own_depth + mode.from);
  }
  worst.cold_ratio = mode.capacity / most_load;
  return worst;
}

PartMargin margin_of(const Part& part, const Load& load) {
  const HeatRun run = conduct(part.column, gas_side_of(part, load), watched_times(part, load.curve),
                              {.longest_step = 1e9});
  PartMargin margin{.part = part.name,
                    .force = part.load != PartLoad::pressure,
                    .modes = {},
                    .heat = heat_of(part, run, load)};
  for (const JointMode& mode : part.modes) {
    margin.modes.push_back(margin_of(mode, part, run, load));
  }
  std::ranges::stable_sort(margin.modes, {}, &ModeMargin::ratio);
  return margin;
}

std::vector<std::string> remarks_on(const std::vector<Part>& parts) {
  std::vector<std::string> remarks;
  const auto say = [&](const std::string& remark) {
    if (remark.empty() || std::ranges::find(remarks, remark) != remarks.end()) return;
    remarks.push_back(remark);
  };
  for (const Part& part : parts) {
    for (const JointMode& mode : part.modes) {
      say(mode.material.caution);
      if (!mode.material.strength_at.empty()) continue;
      say(fmt::format("How {} weakens with heat is not known here: it is taken as strong as cold.",
                      mode.material.name));
    }
  }
  return remarks;
}

bool has_bare_ends(const Grain& grain) {
  return std::ranges::any_of(grain.layers, [](const Layer& layer) {
    return layer.segment.bare_ends() > 0 || layer.segment.bare(Face::outer);
  });
}

void check_curve(const Curve& curve) {
  const std::size_t size = curve.time.size();
  const bool sound = size > 1 && curve.web.size() == size && curve.pressure.size() == size &&
                     curve.thrust.size() == size && curve.burning_area.size() == size &&
                     curve.time.front() >= 0 && std::ranges::is_sorted(curve.time);
  if (!sound) throw InputError("curve", "columns that do not fit", "a firing's curve over time");
}

}  // namespace

Margins margins(const Shell& shell, const Motor& motor, const Curve& curve) {
  if (auto found = complaints(shell, motor); !found.empty()) throw InputError(std::move(found));
  check_curve(curve);
  const Load load = load_of(shell, motor, curve);
  const std::vector<Part> parts =
      parts_of(shell, has_bare_ends(motor.grain), motor.day.temperature);
  Margins result{.parts = {},
                 .factor = shell.factor,
                 .coefficient = shell.coefficient.value_or(load.coefficient),
                 .remarks = remarks_on(parts)};
  for (const Part& part : parts) result.parts.push_back(margin_of(part, load));
  std::ranges::stable_sort(result.parts, {},
                           [](const PartMargin& part) { return part.weakest().ratio; });
  result.allowed_pressure = load.ambient + load.gauge(load.peak) * result.ratio() / result.factor;
  return result;
}

HardestMargins margins_over(const Shell& shell, const Motor& motor,
                            const std::vector<Curve>& curves) {
  HardestMargins hardest{margins(shell, motor, curves.at(0))};
  for (std::size_t i = 1; i < curves.size(); ++i) {
    Margins other = margins(shell, motor, curves[i]);
    if (other.ratio() < hardest.margins.ratio()) hardest = {std::move(other), i};
  }
  return hardest;
}

ColdCeiling cold_ceiling(const Shell& shell, double ambient_pressure) {
  ColdCeiling lowest{.pressure = std::numeric_limits<double>::infinity()};
  for (const Part& part : parts_of(shell, false, 0)) {
    const double area = part.load == PartLoad::pressure ? 1 : part.sealed_area;
    for (const JointMode& mode : part.modes) {
      const double pressure = ambient_pressure + mode.capacity / area / shell.factor;
      if (pressure < lowest.pressure) {
        lowest = {.pressure = pressure,
                  .part = part.load == PartLoad::pressure ? "pipe" : part.name,
                  .mode = mode.name};
      }
    }
  }
  return lowest;
}

}  // namespace grainwright
