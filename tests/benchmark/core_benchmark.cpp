// SPDX-License-Identifier: GPL-3.0-or-later
//
// Drawn cores: the whole burnback of one, with its events, and a firing beside that of a round one.
#include <benchmark/benchmark.h>

#include <cmath>
#include <numbers>
#include <random>

#include "firing/example_motor.hpp"
#include "grainwright/firing/steady.hpp"
#include "grainwright/grain/core.hpp"

namespace {

using namespace grainwright;

// A star of long and short radii, half as many points as corners; the short ones differ, so that no
// two events coincide. 20 corners are a drawn star's, 200 a tracing's.
Core drawn_core(long corners, double outer_diameter) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> radius(0.22, 0.3);
  Ring ring;
  for (long i = 0; i < corners; ++i) {
    const double angle =
        2 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(corners);
    const double r = outer_diameter / 2 * (i % 2 == 0 ? 0.6 : radius(random));
    ring.push_back({{r * std::cos(angle), r * std::sin(angle)}, 0});
  }
  return {DrawnCore{Outline{{Region{ring, {}}}}}};
}

Motor motor_of(long corners) {
  Motor motor = example::whole_motor();
  motor.grain.layers.resize(1);
  Segment& segment = motor.grain.layers[0].segment;
  segment.inhibited = {Face::outer};
  if (corners > 0) segment = with_core(segment, drawn_core(corners, segment.outer_diameter));
  return motor;
}

void whole_burnback(benchmark::State& state) {
  const Grain grain = motor_of(state.range(0)).grain;
  std::size_t pieces = 0;
  for (auto _ : state) pieces = Burnback(grain).stretches().size();
  state.counters["pieces"] = static_cast<double>(pieces);
}

void firing_sums(benchmark::State& state) {
  const Motor motor = motor_of(state.range(0));
  const Burnback burnback(motor.grain);
  const SteadyChamber chamber(motor.propellant, motor.nozzle, motor.day);
  for (auto _ : state) benchmark::DoNotOptimize(burn_sums(burnback.stretches(), chamber));
}

void whole_firing(benchmark::State& state) {
  const Motor motor = motor_of(state.range(0));
  for (auto _ : state) benchmark::DoNotOptimize(fire_steady(motor));
}

BENCHMARK(whole_burnback)->ArgName("corners")->Arg(0)->Arg(20)->Arg(200);
BENCHMARK(firing_sums)->ArgName("corners")->Arg(0)->Arg(20)->Arg(200);
BENCHMARK(whole_firing)->ArgName("corners")->Arg(0)->Arg(20)->Arg(200);

}  // namespace
