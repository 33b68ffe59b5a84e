// SPDX-License-Identifier: GPL-3.0-or-later
#include "traces.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "grainwright/parallel.hpp"
#include "grainwright/polyline.hpp"

namespace grainwright {
namespace {

constexpr std::size_t replicates = 8;
constexpr unsigned log2_block = 9;
constexpr std::size_t block = std::size_t{1} << log2_block;
constexpr int curve_points = 49;
constexpr std::size_t band_points = 121;
constexpr std::size_t heat_checks = 16;
// Apart from those of the main replicates, which count up from 0.
constexpr std::uint64_t first_scramble = std::uint64_t{1} << 40U;

struct Traced {
  std::vector<std::vector<double>> thrust;  ///< at each moment, a firing each
  std::vector<double> rail_speed;
};

class Tracer {
 public:
  Tracer(const ScatterGround& ground, const std::optional<Airframe>& airframe,
         std::vector<double> times)
      : ground_(ground),
        airframe_(airframe),
        times_(std::move(times)),
        dimensions_(std::max<std::size_t>(1, ground.inputs.dimensions())),
        points_(dimensions_, log2_block) {}

  [[nodiscard]] Draw draw(std::size_t replicate, std::size_t index) const {
    const Scramble scramble(dimensions_, ground_.seed, first_scramble + replicate);
    std::vector<double> point(dimensions_);
    scramble.fill(points_, index, 0, point);
    ground_.inputs.stray(point);
    Draw draw;
    ground_.inputs.draw(point, draw);
    return draw;
  }

  [[nodiscard]] Traced replicate(std::size_t replicate) const {
    Traced traced{std::vector<std::vector<double>>(times_.size()), {}};
    QuickFiring trial(ground_.trials);
    for (std::size_t i = 0; i < block; ++i) {
      trial.take(draw(replicate, i));
      const Curve curve = trial.curve(curve_points);
      for (std::size_t t = 0; t < times_.size(); ++t) {
        traced.thrust[t].push_back(polyline_at(curve.time, curve.thrust, times_[t]));
      }
      if (airframe_) traced.rail_speed.push_back(trial.rail_speed(*airframe_));
    }
    return traced;
  }

 private:
  const ScatterGround& ground_;
  const std::optional<Airframe>& airframe_;
  std::vector<double> times_;
  std::size_t dimensions_;
  SobolPoints points_;
};

ThrustBand band_of(const std::vector<Traced>& traced, const std::vector<double>& times,
                   unsigned threads) {
  const std::vector<double> none(times.size());
  ThrustBand band{times, none, none, none};
  in_parallel(
      times.size(), threads,
      [&](std::size_t t) {
        std::vector<double> all;
        all.reserve(replicates * block);
        for (const Traced& one : traced) {
          all.insert(all.end(), one.thrust[t].begin(), one.thrust[t].end());
        }
        const auto told = told_percentiles(all);
        band.p5[t] = told[0];
        band.p50[t] = told[1];
        band.p95[t] = told[2];
      },
      [](std::size_t) {});
  return band;
}

Percentiles rail_percentiles(std::vector<Traced>& traced) {
  std::array<std::vector<double>, 3> told;
  for (Traced& one : traced) {
    const auto of_one = told_percentiles(one.rail_speed);
    for (std::size_t i = 0; i < told.size(); ++i) told[i].push_back(of_one[i]);
  }
  return {estimate_of(told[0]), estimate_of(told[1]), estimate_of(told[2])};
}

double least_ratio(const std::vector<PartState>& states) {
  return std::ranges::min_element(states, {}, &PartState::ratio)->ratio;
}

double quick_ratio(const ScatterGround& ground, const Draw& draw) {
  QuickFiring trial(ground.trials);
  trial.take(draw);
  const double gauge = trial.peak_pressure() - ground.ambient();
  const double burn_time = trial.figures().burn_time;
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t p = 0; p < ground.holding->parts(); ++p) {
    least = std::min(least, ground.holding->holds(p, draw.faults, burn_time) / gauge);
  }
  return least;
}

HeatCheck heat_check(const ScatterGround& ground, const ScatterTask& task, const Tracer& tracer,
                     unsigned threads) {
  std::vector<double> errors(heat_checks);
  in_parallel(
      heat_checks, threads,
      [&](std::size_t i) {
        const Draw draw = tracer.draw(0, i);
        const double full = least_ratio(states_of(margins_of(*task.shell, ground.trials, draw)));
        errors[i] = std::abs(quick_ratio(ground, draw) / full - 1);
      },
      [](std::size_t) {});
  return {static_cast<int>(heat_checks), std::ranges::max(errors)};
}

}  // namespace

void trace(const ScatterGround& ground, const ScatterTask& task, unsigned threads,
           ScatterResult& result) {
  // To where the last of all but one in twenty has burned out, and as much again.
  const double end = 2 * result.burn_time.p95.value - result.burn_time.p50.value;
  std::vector<double> times;
  for (std::size_t i = 0; i < band_points; ++i) {
    times.push_back(end * 1.02 * static_cast<double>(i) / (band_points - 1));
  }
  const Tracer tracer(ground, task.airframe, times);
  std::vector<Traced> traced(replicates);
  in_parallel(
      replicates, threads, [&](std::size_t i) { traced[i] = tracer.replicate(i); },
      [](std::size_t) {});
  result.thrust = band_of(traced, times, threads);
  if (task.airframe) result.rail_speed = rail_percentiles(traced);
  if (task.shell) result.heat = heat_check(ground, task, tracer, threads);
}

}  // namespace grainwright
