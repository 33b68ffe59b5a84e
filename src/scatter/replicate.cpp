// SPDX-License-Identifier: GPL-3.0-or-later
#include "replicate.hpp"

#include <algorithm>
#include <cmath>

namespace grainwright {
namespace {

double certainty(bool happens) {
  return happens ? 1 : 0;
}

/// That a motor's peak passes a pressure, all but its burn rate known.
double chance_over(double ceiling, const ScatterGround& ground, const QuickFiring& trial,
                   FaultSet faults, bool exact_rate) {
  if (trial.port_chokes()) return 1;
  const double pressure = ceiling / ground.trials.carry().raise(faults);
  const Spread& burn_rate = ground.tolerances.burn_rate;
  return exact_rate || burn_rate.none()
             ? certainty(trial.peak_pressure() > pressure)
             : burn_rate.part_above_factor(trial.burn_rate_for(pressure));
}

void add(Chances& sum, const Chances& more, double weight) {
  sum.over_ceiling += weight * more.over_ceiling;
  sum.anything_gives += weight * more.anything_gives;
  for (std::size_t p = 0; p < most_parts; ++p) {
    sum.part_gives[p] += weight * more.part_gives[p];
  }
}

std::size_t bin_of(const ScatterGround& ground, double pressure) {
  const double place = (pressure - ground.bins_from) / ground.bin;
  return static_cast<std::size_t>(std::clamp(place, 0.0, histogram_bins - 1.0));
}

/// The firings, and their percentiles.
void fire_block(const ScatterGround& ground, const SobolPoints& block, std::uint64_t index,
                Replicate& result) {
  const Scramble scramble(block.dimensions(), ground.seed, 2 * index);
  const double n = static_cast<double>(block.count());
  std::array<std::vector<double>, figure_count> figures;
  for (auto& column : figures) column.reserve(block.count());
  std::vector<double> point(block.dimensions());
  QuickFiring trial(ground.trials);
  Draw draw;
  for (std::size_t i = 0; i < block.count(); ++i) {
    scramble.fill(block, i, 0, point);
    ground.inputs.stray(point);
    ground.inputs.draw(point, draw);
    trial.take(draw);
    const QuickFigures fired = trial.figures();
    figures[0].push_back(fired.peak_pressure);
    figures[1].push_back(fired.peak_thrust);
    figures[2].push_back(fired.total_impulse);
    figures[3].push_back(fired.burn_time);
    result.mean += fired.peak_pressure / n;
    result.square += fired.peak_pressure * fired.peak_pressure / n;
    ++result.bins[bin_of(ground, fired.peak_pressure)];
    add(result.chances, chances_of(ground, trial, draw.faults, fired.burn_time), 1 / n);
    result.port_chokes += certainty(trial.port_chokes()) / n;
  }
  for (std::size_t f = 0; f < figure_count; ++f) {
    result.percentiles[f] = told_percentiles(figures[f]);
  }
}

/// Peak pressure with inputs exchanged, for their shares of its variance.
void exchange_inputs(const ScatterGround& ground, const SobolPoints& pairs,
                     const Scramble& scramble, Replicate& result) {
  std::vector<InputGroup> groups;
  for (const Input& input : ground.inputs.all()) groups.push_back({input.first, input.size});
  QuickFiring trial(ground.trials);
  Draw draw;
  const auto peak_pressure = [&](std::span<const double> departures) {
    ground.inputs.draw(departures, draw);
    trial.take(draw);
    return trial.peak_pressure();
  };
  result.variance = variance_sums(peak_pressure, groups, pairs, scramble,
                                  [&](std::span<double> point) { ground.inputs.stray(point); });
}

/// The chances with each input as drawn.
void hold_inputs(const ScatterGround& ground, const SobolPoints& pairs, const Scramble& scramble,
                 Replicate& result) {
  const double weight = 1 / static_cast<double>(pairs.count());
  const auto inputs = ground.inputs.all();
  const std::size_t parts = ground.holding ? ground.holding->parts() : 0;
  result.held.resize(inputs.size());
  result.strong_base.resize(parts);
  std::vector<double> point(pairs.dimensions() / 2);
  QuickFiring trial(ground.trials);
  const auto burn_time_of = [&](QuickFiring& fired) {
    return ground.holding ? fired.figures().burn_time : 0;
  };
  Draw draw;
  Draw held;
  for (std::size_t i = 0; i < pairs.count(); ++i) {
    scramble.fill(pairs, i, 0, point);
    ground.inputs.stray(point);
    ground.inputs.draw(point, draw);
    trial.take(draw);
    const double burn_time = burn_time_of(trial);
    add(result.held_base, chances_of(ground, trial, draw.faults, burn_time), weight);
    for (std::size_t p = 0; p < parts; ++p) {
      const Chances exact = chances_of(ground, trial, draw.faults, burn_time, {.part = p});
      result.strong_base[p] += weight * exact.anything_gives;
    }
    for (std::size_t k = 0; k < inputs.size(); ++k) {
      held = draw;
      ground.inputs.hold(inputs[k], held);
      trial.take(held);
      const bool burn_rate = inputs[k].kind == InputKind::burn_rate;
      add(result.held[k],
          chances_of(ground, trial, held.faults, burn_time_of(trial), {.burn_rate = burn_rate}),
          weight);
    }
  }
}

}  // namespace

const Spread& strength_of(const Tolerances& tolerances, HeldPart part) {
  switch (part) {
    case HeldPart::pipe:
      return tolerances.pipe_strength;
    case HeldPart::head:
      return tolerances.head_strength;
    case HeldPart::nozzle:
      break;
  }
  return tolerances.nozzle_strength;
}

Chances chances_of(const ScatterGround& ground, const QuickFiring& trial, FaultSet faults,
                   double burn_time, const Exact& exact) {
  Chances chances;
  if (ground.ceiling) {
    chances.over_ceiling = chance_over(*ground.ceiling, ground, trial, faults, exact.burn_rate);
  }
  if (!ground.holding) return chances;
  const Holding& holding = *ground.holding;
  const double gauge =
      trial.peak_pressure() * ground.trials.carry().raise(faults) - ground.ambient();
  for (std::size_t p = 0; p < holding.parts(); ++p) {
    const double load = gauge / holding.holds(p, faults, burn_time);
    const Spread& strength = strength_of(ground.tolerances, holding.as_drawn()[p].part);
    const double gives = trial.port_chokes() ? 1
                         : exact.part == p   ? certainty(load > 1)
                                             : strength.part_below_factor(load);
    chances.part_gives[p] = gives;
    chances.anything_gives += (1 - chances.anything_gives) * gives;
  }
  return chances;
}

Replicate replicate(const ScatterGround& ground, const SobolPoints& block, const SobolPoints& pairs,
                    std::uint64_t index) {
  Replicate result;
  fire_block(ground, block, index, result);
  result.made = true;
  if (index >= looking_replicates) return result;
  const Scramble scramble(pairs.dimensions(), ground.seed, 2 * index + 1);
  exchange_inputs(ground, pairs, scramble, result);
  hold_inputs(ground, pairs, scramble, result);
  result.looked = true;
  return result;
}

}  // namespace grainwright
