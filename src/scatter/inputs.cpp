// SPDX-License-Identifier: GPL-3.0-or-later
#include "inputs.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

namespace grainwright {
namespace {

Stray stray_of(const Spread& spread, double u) {
  return spread.share ? Stray{spread.factor(u), 0} : Stray{1, spread.departure(u)};
}

/// Layers whose cores come from one rod, by its diameter; solid ones need none.
std::vector<std::vector<std::size_t>> rods_of(const Grain& grain) {
  std::vector<std::vector<std::size_t>> rods;
  std::vector<double> diameters;
  for (std::size_t i = 0; i < grain.layers.size(); ++i) {
    const Segment& segment = grain.layers[i].segment;
    const double diameter = segment.core_diameter;
    if (segment.solid() || segment.core) continue;
    const auto known = std::ranges::find(diameters, diameter);
    if (known == diameters.end()) {
      diameters.push_back(diameter);
      rods.push_back({i});
    } else {
      rods[static_cast<std::size_t>(known - diameters.begin())].push_back(i);
    }
  }
  return rods;
}

}  // namespace

Inputs::Inputs(const Motor& motor, const Tolerances& tolerances, const std::vector<Fault>& faults)
    : rod_(rods_of(motor.grain)) {
  const std::size_t layers = motor.grain.layers.size();
  for (const Layer& layer : motor.grain.layers) count_root_.push_back(std::sqrt(layer.count));
  nominal_.core.resize(layers);
  nominal_.offset.resize(layers);
  nominal_.length.resize(layers);
  using Kind = InputKind;
  const std::pair<Kind, Spread Tolerances::*> plain[] = {
      {Kind::burn_rate, &Tolerances::burn_rate},
      {Kind::density, &Tolerances::density},
      {Kind::characteristic_velocity, &Tolerances::characteristic_velocity},
      {Kind::efficiency, &Tolerances::nozzle_efficiency},
      {Kind::temperature, &Tolerances::temperature},
      {Kind::throat, &Tolerances::throat},
      {Kind::core, &Tolerances::core},
      {Kind::core_offset, &Tolerances::core_offset},
      {Kind::length, &Tolerances::length},
  };
  for (const auto& [kind, spread] : plain) {
    const auto named = std::ranges::find(named_tolerances(), spread, &NamedTolerance::spread);
    const bool by_layer = kind == Kind::length || kind == Kind::core_offset;
    const std::size_t size = kind == Kind::core ? rod_.size() : by_layer ? layers : 1;
    add({.kind = kind,
         .name = std::string(named->name),
         .key = "tolerance." + std::string(named->key),
         .spread = tolerances.*spread,
         .size = size});
  }
  for (std::size_t i = 0; i < faults.size(); ++i) {
    probability_.push_back(faults[i].probability);
    if (faults[i].probability == 0) continue;
    add({.kind = Kind::fault,
         .name = described(faults[i], motor),
         .key = fmt::format("fault {}", i + 1),
         .spread = {.sigma = 1},
         .fault = i});
  }
}

void Inputs::add(Input input) {
  if (input.spread.none() || input.size == 0) return;
  input.first = dimensions_;
  dimensions_ += input.size;
  all_.push_back(std::move(input));
}

void Inputs::draw(std::span<const double> point, Draw& result) const {
  result = nominal_;
  for (const Input& input : all_) {
    for (std::size_t i = 0; i < input.size; ++i) move(input, i, point[input.first + i], result);
  }
}

void Inputs::move(const Input& input, std::size_t dimension, double u, Draw& draw) const {
  switch (input.kind) {
    case InputKind::burn_rate:
      draw.burn_rate = input.spread.factor(u);
      break;
    case InputKind::density:
      draw.density = input.spread.factor(u);
      break;
    case InputKind::characteristic_velocity:
      draw.characteristic_velocity = input.spread.factor(u);
      break;
    case InputKind::efficiency:
      draw.efficiency = input.spread.factor(u);
      break;
    case InputKind::temperature:
      draw.temperature = input.spread.departure(u);
      break;
    case InputKind::throat:
      draw.throat = stray_of(input.spread, u);
      break;
    case InputKind::core:
      for (std::size_t layer : rod_[dimension]) draw.core[layer] = stray_of(input.spread, u);
      break;
    case InputKind::core_offset:
      draw.offset[dimension] = std::abs(input.spread.departure(u));
      break;
    case InputKind::length:
      // Each segment strays for itself; while all burn, their mean is what counts.
      draw.length[dimension] = stray_of(input.spread.times(1 / count_root_[dimension]), u);
      break;
    case InputKind::fault:
      if (u > 1 - probability_[input.fault]) draw.faults |= FaultSet{1} << input.fault;
      break;
  }
}

void Inputs::hold(const Input& input, Draw& draw) const {
  if (input.kind == InputKind::fault) {
    draw.faults &= ~(FaultSet{1} << input.fault);
    return;
  }
  for (std::size_t i = 0; i < input.size; ++i) move(input, i, 0.5, draw);
}

}  // namespace grainwright
