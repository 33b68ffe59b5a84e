// SPDX-License-Identifier: GPL-3.0-or-later
#include "summing_up.hpp"

#include <algorithm>
#include <bit>
#include <cmath>

namespace grainwright {
namespace {

// Under this no chance is worth taming.
constexpr double negligible = 1e-9;

/// An estimate of whatever a function takes from each replicate.
template <class Take>
Estimate estimate(std::span<const Replicate> made, Take&& take) {
  std::vector<double> values;
  values.reserve(made.size());
  for (const Replicate& one : made) values.push_back(take(one));
  return estimate_of(values);
}

/// A chance that was never met has no error bar of its own; the trials say how large it may be.
template <class Take>
Estimate chance(std::span<const Replicate> made, double trials, Take&& take) {
  Estimate found = estimate(made, take);
  if (found.value == 0 && found.error == 0) found.error = chance_of_the_unseen(trials);
  return found;
}

Percentiles percentiles_of(std::span<const Replicate> made, std::size_t figure) {
  const auto at = [&](std::size_t i) {
    return estimate(made, [&](const Replicate& one) { return one.percentiles[figure][i]; });
  };
  return {at(0), at(1), at(2)};
}

void add_parts(std::span<const Replicate> made, const ScatterGround& ground,
               ScatterResult& result) {
  const double trials = static_cast<double>(result.samples);
  if (!ground.holding) return;
  const Holding& holding = *ground.holding;
  for (std::size_t p = 0; p < holding.parts(); ++p) {
    const PartState& state = holding.as_drawn()[p];
    result.parts.push_back(
        {name_of(state.part), state.mode,
         chance(made, trials, [&](const Replicate& one) { return one.chances.part_gives[p]; }),
         state.ratio, ground.ambient() + holding.holds(p, 0, result.as_drawn.burn_time)});
  }
  result.anything_gives =
      chance(made, trials, [](const Replicate& one) { return one.chances.anything_gives; });
  std::ranges::stable_sort(result.parts, [](const PartChance& a, const PartChance& b) {
    if (a.chance.value != b.chance.value) return a.chance.value > b.chance.value;
    return a.ratio < b.ratio;
  });
}

/// The indices of all replicates together; each replicate's own sums against the common variance
/// give the error bar.
Estimate index_of(std::span<const Replicate> made, std::vector<double> VarianceSums::*sums,
                  std::size_t input) {
  const double variance =
      estimate(made, [](const Replicate& one) { return one.variance.variance; }).value;
  if (variance == 0) return {};
  return estimate(made,
                  [&](const Replicate& one) { return (one.variance.*sums)[input] / variance; });
}

/// How much of the chance in the first line goes when an input is held.
struct Ranked {
  InputShare share;
  double relief = 0;
};

class Ranking {
 public:
  Ranking(std::span<const Replicate> made, const ScatterGround& ground, const ScatterResult& result)
      : made_(made), ground_(ground) {
    const double over = result.over_ceiling ? result.over_ceiling->value : 0;
    const double gives = result.anything_gives ? result.anything_gives->value : 0;
    lead_ = gives > over ? &Chances::anything_gives : &Chances::over_ceiling;
    by_chance_ = std::max(over, gives) > negligible;
    trials_ = static_cast<double>(result.samples);
  }

  [[nodiscard]] Ranked of_input(std::size_t k) const {
    const Input& input = ground_.inputs.all()[k];
    const bool mistake = input.kind == InputKind::fault;
    Ranked ranked;
    ranked.share.name = input.name;
    ranked.share.key = input.key;
    if (mistake) {
      ranked.share.probability = ground_.trials.faults()[input.fault].probability;
    } else {
      ranked.share.spread = input.spread;
    }
    ranked.share.alone = index_of(made_, &VarianceSums::alone, k);
    ranked.share.total = index_of(made_, &VarianceSums::total, k);
    const auto held = [&](double Chances::*what) {
      return chance(made_, trials_, [&](const Replicate& one) { return one.held[k].*what; });
    };
    if (ground_.ceiling) ranked.share.over_if_exact = held(&Chances::over_ceiling);
    if (ground_.holding) ranked.share.gives_if_exact = held(&Chances::anything_gives);
    ranked.relief = by_chance_ ? estimate(made_,
                                          [&](const Replicate& one) {
                                            return one.held_base.*lead_ - one.held[k].*lead_;
                                          })
                                     .value
                               : ranked.share.total.value;
    return ranked;
  }

  [[nodiscard]] Ranked of_strength(std::size_t p) const {
    const HeldPart part = ground_.holding->as_drawn()[p].part;
    const Spread& spread = strength_of(ground_.tolerances, part);
    const auto named = std::ranges::find_if(named_tolerances(), [&](const NamedTolerance& known) {
      return &(ground_.tolerances.*known.spread) == &spread;
    });
    Ranked ranked;
    ranked.share.name = named->name;
    ranked.share.key = "tolerance." + std::string(named->key);
    ranked.share.spread = spread;
    ranked.share.gives_if_exact =
        chance(made_, trials_, [&](const Replicate& one) { return one.strong_base[p]; });
    if (by_chance_ && lead_ == &Chances::anything_gives) {
      ranked.relief = estimate(made_, [&](const Replicate& one) {
                        return one.held_base.anything_gives - one.strong_base[p];
                      }).value;
    }
    return ranked;
  }

 private:
  std::span<const Replicate> made_;
  const ScatterGround& ground_;
  double Chances::*lead_ = nullptr;
  bool by_chance_ = false;
  double trials_ = 0;
};

void add_shares(std::span<const Replicate> made, const ScatterGround& ground,
                ScatterResult& result) {
  const Ranking ranking(made, ground, result);
  std::vector<Ranked> all;
  for (std::size_t k = 0; k < ground.inputs.all().size(); ++k) all.push_back(ranking.of_input(k));
  const std::size_t parts = ground.holding ? ground.holding->parts() : 0;
  for (std::size_t p = 0; p < parts; ++p) {
    const HeldPart part = ground.holding->as_drawn()[p].part;
    if (!strength_of(ground.tolerances, part).none()) all.push_back(ranking.of_strength(p));
  }
  std::ranges::stable_sort(all, std::greater<>(), &Ranked::relief);
  for (const Ranked& one : all) result.shares.push_back(one.share);
}

void add_histogram(std::span<const Replicate> made, const ScatterGround& ground,
                   ScatterResult& result) {
  result.histogram = {ground.bins_from, ground.bin, std::vector<double>(histogram_bins)};
  for (const Replicate& one : made) {
    for (std::size_t i = 0; i < histogram_bins; ++i) {
      result.histogram.share[i] +=
          static_cast<double>(one.bins[i]) / static_cast<double>(result.samples);
    }
  }
}

}  // namespace

SingleFiring fired_alone(const ScatterGround& ground, const std::optional<Airframe>& airframe,
                         FaultSet faults) {
  Draw draw = ground.inputs.nominal();
  draw.faults = faults;
  QuickFiring trial(ground.trials);
  trial.take(draw);
  const QuickFigures figures = trial.figures();
  SingleFiring firing;
  firing.peak_pressure = figures.peak_pressure;
  firing.peak_thrust = figures.peak_thrust;
  firing.total_impulse = figures.total_impulse;
  firing.burn_time = figures.burn_time;
  firing.port_chokes = trial.port_chokes();
  if (airframe) firing.rail_speed = trial.rail_speed(*airframe);
  if (!ground.holding) return firing;
  const auto& states =
      faults == 0
          ? ground.holding->as_drawn()
          : ground.holding->with_mistake(static_cast<std::size_t>(std::countr_zero(faults)));
  const PartState& weakest = *std::ranges::min_element(states, {}, &PartState::ratio);
  firing.gives_first = name_of(weakest.part);
  firing.mode = weakest.mode;
  firing.ratio = weakest.ratio;
  return firing;
}

void sum_up(std::span<const Replicate> made, const ScatterGround& ground, ScatterResult& result) {
  result.judged = ground.judged;
  result.port_chokes = estimate(made, [](const Replicate& one) { return one.port_chokes; });
  if (ground.may_choke && result.port_chokes.value == 0) {
    result.port_chokes.error = chance_of_the_unseen(static_cast<double>(result.samples));
  }
  result.peak_pressure = percentiles_of(made, 0);
  result.peak_thrust = percentiles_of(made, 1);
  result.total_impulse = percentiles_of(made, 2);
  result.burn_time = percentiles_of(made, 3);
  result.mean_pressure = estimate(made, [](const Replicate& one) { return one.mean; });
  const double mean = result.mean_pressure.value;
  result.sigma_pressure = estimate(made, [&](const Replicate& one) {
    return std::sqrt(std::max(0.0, one.square - (2 * one.mean - mean) * mean));
  });
  if (ground.ceiling) {
    result.over_ceiling = chance(made, static_cast<double>(result.samples),
                                 [](const Replicate& one) { return one.chances.over_ceiling; });
  }
  add_parts(made, ground, result);
  const auto looked = std::ranges::find(made, false, &Replicate::looked);
  add_shares(made.first(static_cast<std::size_t>(looked - made.begin())), ground, result);
  add_histogram(made, ground, result);
}

}  // namespace grainwright
