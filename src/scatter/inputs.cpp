// SPDX-License-Identifier: GPL-3.0-or-later
#include "inputs.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

namespace grainwright {
namespace {

Stray stray_of(const Spread& spread, double departure) {
  return spread.share ? Stray{spread.factor_of(departure), 0} : Stray{1, departure};
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
         .spread = Spread::within(Distribution::uniform, 1, false),
         .fault = i});
  }
}

void Inputs::add(Input input) {
  if (input.spread.none() || input.size == 0) return;
  input.first = spread_.size();
  for (std::size_t i = 0; i < input.size; ++i) {
    // Each segment's length strays for itself; while all burn, their mean is what counts.
    const bool mean = input.kind == InputKind::length;
    spread_.push_back(input.spread.times(mean ? 1 / count_root_[i] : 1));
  }
  all_.push_back(std::move(input));
}

void Inputs::stray(std::span<double> point) const {
  for (std::size_t d = 0; d < spread_.size(); ++d) point[d] = spread_[d].departure(point[d]);
}

void Inputs::draw(std::span<const double> departures, Draw& result) const {
  result = nominal_;
  for (const Input& input : all_) {
    for (std::size_t i = 0; i < input.size; ++i) {
      move(input, i, departures[input.first + i], result);
    }
  }
}

void Inputs::move(const Input& input, std::size_t dimension, double departure, Draw& draw) const {
  const Spread& spread = input.spread;
  switch (input.kind) {
    case InputKind::burn_rate:
      draw.burn_rate = spread.factor_of(departure);
      break;
    case InputKind::density:
      draw.density = spread.factor_of(departure);
      break;
    case InputKind::characteristic_velocity:
      draw.characteristic_velocity = spread.factor_of(departure);
      break;
    case InputKind::efficiency:
      draw.efficiency = spread.factor_of(departure);
      break;
    case InputKind::temperature:
      draw.temperature = departure;
      break;
    case InputKind::throat:
      draw.throat = stray_of(spread, departure);
      break;
    case InputKind::core:
      for (std::size_t layer : rod_[dimension]) draw.core[layer] = stray_of(spread, departure);
      break;
    case InputKind::core_offset:
      draw.offset[dimension] = std::abs(departure);
      break;
    case InputKind::length:
      draw.length[dimension] = stray_of(spread, departure);
      break;
    case InputKind::fault:
      // Of departures from -1 to 1, evenly.
      if (departure > 1 - 2 * probability_[input.fault]) {
        draw.faults |= FaultSet{1} << input.fault;
      }
      break;
  }
}

void Inputs::hold(const Input& input, Draw& draw) const {
  if (input.kind == InputKind::fault) {
    draw.faults &= ~(FaultSet{1} << input.fault);
    return;
  }
  for (std::size_t i = 0; i < input.size; ++i) move(input, i, 0, draw);
}

}  // namespace grainwright
