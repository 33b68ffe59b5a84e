// SPDX-License-Identifier: GPL-3.0-or-later
#include "ports.hpp"

#include <algorithm>
#include <cmath>

#include "grainwright/grain/core.hpp"
#include "grainwright/motor/gas.hpp"

namespace grainwright {
namespace {

/// The layer whose port is the narrowest for the gas that has to pass it at ignition, as area over
/// that gas's share of the throat; with it the narrowest port of all.
struct Narrowest {
  ChokedPort for_its_gas;
  double share_ratio = std::numeric_limits<double>::infinity();
};

/// At a web, with the throat as wide as it is then.
void look_at(const PreparedMotor& motor, double web, double time, Narrowest& narrowest) {
  const std::vector<SegmentState> states = motor.burnback().states(web);
  const auto& layers = motor.motor().grain.layers;
  const double all = motor.burnback().burning_area(web);
  Nozzle nozzle = motor.motor().nozzle;
  nozzle.throat_diameter += nozzle.throat_growth * time;
  const double throat = nozzle.throat_area();
  double headward = 0;
  for (std::size_t i = 0; i < layers.size(); ++i) {
    headward += layers[i].count * states[i].burning_area;
    const bool has_port = !layers[i].segment.solid() || layers[i].segment.bare(Face::outer);
    if (!has_port || states[i].port_area <= 0 || headward <= 0) continue;
    const double ratio = states[i].port_area / throat;
    if (ratio * all / headward >= narrowest.share_ratio) continue;
    narrowest.share_ratio = ratio * all / headward;
    narrowest.for_its_gas = {i, time, ratio};
  }
}

/// A port is narrowest at ignition, unless its throat wears wider or its core does not burn.
Narrowest narrowest_of(const PreparedMotor& motor) {
  constexpr int moments = 8;
  Narrowest narrowest;
  look_at(motor, 0, 0, narrowest);
  if (motor.motor().nozzle.throat_growth <= 0) return narrowest;
  for (int i = 1; i <= moments; ++i) {
    const double share = i / (moments + 0.01);  // at burnout itself nothing burns any more
    look_at(motor, share * motor.burnback().burnout(), share * motor.steady().burn_time, narrowest);
  }
  return narrowest;
}

// All gas through a port as narrow as the narrowest for its gas, the speed lost at its end: adding
// mass keeps p + rho u^2 (A. H. Shapiro, The Dynamics and Thermodynamics of Compressible Fluid
// Flow, vol. 1, simple mass addition, from memory), so the head end stands at p (1 + gamma M^2)
// where the nozzle gets p. Both err to the safe side.
void estimate(const PreparedMotor& motor, Ports& ports) {
  const Narrowest narrowest = narrowest_of(motor);
  if (std::isinf(narrowest.share_ratio)) return;
  if (narrowest.share_ratio <= 1) {
    ports.flow = PortFlow::chokes;
    ports.choked = narrowest.for_its_gas;
    return;
  }
  const double gamma = motor.motor().propellant.gamma;
  ports.flow = PortFlow::estimated;
  ports.mach = subsonic_mach(narrowest.share_ratio, gamma);
  ports.head_ratio = 1 + gamma * ports.mach * ports.mach;
}

}  // namespace

PortStudy glance_at_ports(const PreparedMotor& motor) {
  PortStudy study;
  study.ports.mass_flux = motor.steady().peak_mass_flux;
  estimate(motor, study.ports);
  if (study.ports.flow == PortFlow::estimated) {
    study.ports.flow = PortFlow::none;
    study.ports.head_ratio = 1;
  }
  return study;
}

PortStudy study_ports(const PreparedMotor& motor, const AxialOptions& options) {
  PortStudy study;
  study.ports.mass_flux = motor.steady().peak_mass_flux;
  const auto shown = [](const Layer& layer) { return shown_by_planes(layer.segment); };
  if (!std::ranges::all_of(motor.motor().grain.layers, shown)) {
    estimate(motor, study.ports);
    return study;
  }
  study.axial = fire_axial(motor, options);
  const AxialFigures& figures = *study.axial->axial;
  if (figures.choked) {
    study.ports.flow = PortFlow::chokes;
    study.ports.choked = figures.choked;
    return study;
  }
  study.ports.mass_flux = std::max(study.ports.mass_flux, study.axial->summary.peak_mass_flux);
  if (motor.steady().port_to_throat == 0) return study;
  study.ports.flow = PortFlow::followed;
  study.ports.mach = figures.peak_port_mach;
  study.ports.head_ratio = 1 + figures.peak_head_excess;
  return study;
}

}  // namespace grainwright
