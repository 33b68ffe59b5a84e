// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/scatter/scatter.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>

#include "grainwright/parallel.hpp"
#include "judging.hpp"
#include "replicate.hpp"
#include "summing_up.hpp"
#include "traces.hpp"

namespace grainwright {
namespace {

// Blocks are powers of two, as Sobol's points want it; so many replicates at least give an error
// bar.
constexpr std::size_t least_replicates = 16;
// These are made even for whoever stops a scatter at once: an answer without error bar is none.
constexpr std::size_t replicates_for_an_error_bar = 2;
constexpr unsigned least_log2_block = 4;
constexpr unsigned most_log2_block = 13;
// Pairs of points a replicate, for what each input does.
constexpr unsigned log2_pairs = 9;
// Share of the work that the replicates are, for progress.
constexpr double replicates_share = 0.9;

struct Plan {
  unsigned log2_block = 0;
  std::size_t replicates = 0;
};

Plan plan_for(std::size_t samples) {
  const std::size_t wanted = std::max<std::size_t>(1, samples / least_replicates);
  const unsigned fit = static_cast<unsigned>(std::bit_width(wanted)) - 1;
  const unsigned log2_block = std::clamp(fit, least_log2_block, most_log2_block);
  const std::size_t block = std::size_t{1} << log2_block;
  return {log2_block, std::max(least_replicates, (samples + block - 1) / block)};
}

/// Bins that reach four and a half sigmas to both sides, and past the worst mistake.
void set_bins(ScatterGround& ground, double log_sigma) {
  constexpr double sigmas = 4.5;
  QuickFiring trial(ground.trials);
  Draw draw = ground.inputs.nominal();
  trial.take(draw);
  const double as_drawn = trial.peak_pressure();
  double least = as_drawn;
  double most = as_drawn;
  for (const Input& input : ground.inputs.all()) {
    if (input.kind != InputKind::fault) continue;
    draw.faults = FaultSet{1} << input.fault;
    trial.take(draw);
    least = std::min(least, trial.peak_pressure());
    most = std::max(most, trial.peak_pressure());
  }
  ground.bins_from = least * std::exp(-sigmas * log_sigma);
  const double to = most * std::exp(sigmas * log_sigma);
  ground.bin = std::max(to - ground.bins_from, 1e-6 * to) / histogram_bins;
}

ScatterGround ground_of(const ScatterTask& task, const ScatterOptions& options) {
  ScatterGround ground{.trials = FiringGround(task.motor, task.faults),
                       .inputs = Inputs(task.motor, task.tolerances, task.faults),
                       .tolerances = task.tolerances,
                       .ceiling = task.ceiling,
                       .holding = {},
                       .seed = options.seed};
  if (task.judge) {
    ground.trials.carry() = carry_of(*task.judge, ground.trials, ground.inputs, options.threads);
  }
  const double log_sigma = log_pressure_sigma(task.motor, task.tolerances);
  if (task.shell) {
    ground.holding.emplace(*task.shell, ground.trials, ground.inputs.nominal(), log_sigma,
                           options.threads);
  }
  // After what the motor as drawn holds has been worked out: its own peak is not raised.
  if (task.judge) {
    ground.judged =
        check_in_full(task, ground.trials, ground.inputs, options.seed, options.threads);
  }
  ground.may_choke =
      ground.trials.carry().chokes(load_range(ground.trials, ground.inputs).greatest, 0);
  set_bins(ground, log_sigma);
  return ground;
}

std::vector<Replicate> replicates_of(const ScatterGround& ground, const Plan& plan,
                                     const ScatterOptions& options) {
  const std::size_t dimensions = std::max<std::size_t>(1, ground.inputs.dimensions());
  const SobolPoints block(dimensions, plan.log2_block);
  const SobolPoints pairs(2 * dimensions, log2_pairs);
  std::vector<Replicate> all(plan.replicates);
  in_parallel(
      all.size(), options.threads,
      [&](std::size_t i) {
        const bool needed = i < replicates_for_an_error_bar;
        if (needed || !options.stop.stop_requested()) all[i] = replicate(ground, block, pairs, i);
      },
      [&](std::size_t done) {
        if (!options.progress) return;
        options.progress(replicates_share * static_cast<double>(done) /
                         static_cast<double>(all.size()));
      });
  std::erase_if(all, [](const Replicate& one) { return !one.made; });
  return all;
}

}  // namespace

std::vector<Complaint> complaints(const ScatterTask& task) {
  std::vector<Complaint> found = complaints(task.motor);
  const auto take = [&](const std::vector<Complaint>& more) {
    found.insert(found.end(), more.begin(), more.end());
  };
  take(complaints(task.tolerances));
  if (!found.empty()) return found;
  if (task.shell) take(complaints(*task.shell, task.motor));
  if (task.airframe) take(complaints(*task.airframe));
  for (std::size_t i = 0; i < task.faults.size(); ++i) {
    take(complaints(task.faults[i], task.motor, i));
  }
  if (task.faults.size() > most_faults) {
    found.push_back({"fault", std::to_string(task.faults.size()) + " tables",
                     "at most " + std::to_string(most_faults)});
  }
  return found;
}

double log_pressure_sigma(const Motor& motor, const Tolerances& tolerances) {
  // Where one standard deviation of a normal distribution stands.
  constexpr double above = 0.8413447460685429;
  const FiringGround ground(motor, {});
  const Inputs inputs(motor, tolerances, {});
  QuickFiring trial(ground);
  Draw draw;
  std::vector<double> departures(inputs.dimensions());
  double squares = 0;
  for (std::size_t d = 0; d < departures.size(); ++d) {
    const auto log_peak = [&](double departure) {
      departures[d] = departure;
      inputs.draw(departures, draw);
      trial.take(draw);
      return std::log(trial.peak_pressure());
    };
    const Spread& spread = inputs.spreads()[d];
    // The two points lie at one sigma of a normal, and nearer or farther of another distribution.
    const double far = spread.departure(above);
    const double slope = (log_peak(far) - log_peak(-far)) / (2 * far / spread.sigma);
    squares += slope * slope;
    departures[d] = 0;
  }
  return std::sqrt(squares);
}

ScatterResult scatter(const ScatterTask& task, const ScatterOptions& options) {
  if (auto found = complaints(task); !found.empty()) throw InputError(std::move(found));
  const Plan plan = plan_for(options.samples);
  const ScatterGround ground = ground_of(task, options);
  const std::vector<Replicate> made = replicates_of(ground, plan, options);
  ScatterResult result;
  result.seed = options.seed;
  result.replicates = made.size();
  result.samples = made.size() << plan.log2_block;
  result.stopped = options.stop.stop_requested();
  result.ceiling = task.ceiling;
  result.as_drawn = fired_alone(ground, task.airframe, 0);
  for (std::size_t i = 0; i < task.faults.size(); ++i) {
    result.mistakes.push_back({task.faults[i], described(task.faults[i], task.motor),
                               fired_alone(ground, task.airframe, FaultSet{1} << i)});
  }
  std::ranges::stable_sort(result.mistakes, std::greater<>(),
                           [](const Mistake& mistake) { return mistake.firing.peak_pressure; });
  sum_up(made, ground, result);
  if (result.stopped) return result;
  trace(ground, task, options.threads, result);
  if (options.progress) options.progress(1);
  return result;
}

double pressure_at_confidence(const ScatterTask& task, double confidence, std::size_t samples) {
  if (auto found = complaints(task); !found.empty()) throw InputError(std::move(found));
  FiringGround ground(task.motor, task.faults);
  const Inputs inputs(task.motor, task.tolerances, task.faults);
  if (task.judge) ground.carry() = carry_of(*task.judge, ground, inputs, 0);
  const std::size_t dimensions = std::max<std::size_t>(1, inputs.dimensions());
  const SobolPoints points(dimensions, static_cast<unsigned>(std::bit_width(samples)) - 1);
  const Scramble scramble(dimensions, 0, 0);
  QuickFiring trial(ground);
  Draw draw;
  std::vector<double> point(dimensions);
  std::vector<double> peaks;
  for (std::size_t i = 0; i < points.count(); ++i) {
    scramble.fill(points, i, 0, point);
    inputs.stray(point);
    inputs.draw(point, draw);
    trial.take(draw);
    const bool chokes = task.judge && trial.port_chokes();
    peaks.push_back(chokes ? std::numeric_limits<double>::infinity() : trial.peak_pressure());
  }
  std::ranges::sort(peaks);
  return percentile(peaks, confidence);
}

}  // namespace grainwright
