// SPDX-License-Identifier: GPL-3.0-or-later
#include "benchmark/naive_march.hpp"

#include <algorithm>
#include <cmath>

namespace grainwright {
namespace {

double pressure_at(const BurnLaw& law, double load) {
  for (const LawPiece& piece : law.pieces()) {
    double coefficient = piece.rate * std::pow(piece.at, -piece.exponent);
    double pressure = std::pow(coefficient * load, 1 / (1 - piece.exponent));
    if (pressure <= piece.to) return std::max(pressure, piece.from);
  }
  return law.highest();
}

}  // namespace

BurnSums naive_march(const Motor& motor, int steps) {
  const BurnLaw law = motor.propellant.law_at(motor.day.temperature);
  const ThrustLaw thrust(motor.nozzle, motor.propellant.gamma, motor.propellant.expansion_gamma,
                         motor.day.ambient_pressure);
  const double mass_per_pressure = motor.propellant.density() *
                                   motor.propellant.characteristic_velocity /
                                   motor.nozzle.throat_area();
  double burnout = 0;
  for (const Layer& layer : motor.grain.layers) {
    burnout = std::max(burnout, burnout_web(layer.segment));
  }
  BurnSums sums;
  double slowness_before = 0;
  double thrust_before = 0;
  for (int i = 0; i <= steps; ++i) {
    const double web = burnout * i / steps;
    double area = 0;
    for (const Layer& layer : motor.grain.layers) {
      area += layer.count * state_at(layer.segment, web).burning_area;
    }
    const double load = mass_per_pressure * area;
    const double pressure = std::max(pressure_at(law, load), motor.day.ambient_pressure);
    const double slowness = load / pressure;
    const double force = thrust(pressure);
    if (i > 0) {
      const double step = burnout / steps / 2;
      sums.time += step * (slowness + slowness_before);
      sums.impulse += step * (slowness * force + slowness_before * thrust_before);
    }
    slowness_before = slowness;
    thrust_before = force;
  }
  return sums;
}

}  // namespace grainwright
