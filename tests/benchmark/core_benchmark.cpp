// SPDX-License-Identifier: GPL-3.0-or-later
//
// Drawn cores: the whole burnback of one, with its events, and a firing beside that of a round one.
#include <benchmark/benchmark.h>

#include "benchmark/drawn_core.hpp"
#include "firing/example_motor.hpp"
#include "grainwright/firing/prepared_motor.hpp"
#include "grainwright/firing/steady.hpp"

namespace {

using namespace grainwright;

// One segment with a core of so many corners; with a round one for none, and below none for a stack
// of so many unlike round ones.
Motor motor_of(long corners) {
  Motor motor = example::whole_motor();
  motor.grain.layers.resize(1);
  Segment& segment = motor.grain.layers[0].segment;
  segment.inhibited = {Face::outer};
  if (corners > 0) segment = with_core(segment, drawn_core(corners, segment.outer_diameter));
  for (long i = 1; i < -corners; ++i) {
    motor.grain.layers.push_back(motor.grain.layers.back());
    motor.grain.layers.back().segment.core_diameter *= 0.985;
  }
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

void firing_with_curve(benchmark::State& state) {
  const Motor motor = motor_of(state.range(0));
  const PreparedMotor ready(motor);
  for (auto _ : state) benchmark::DoNotOptimize(fire_steady(ready));
}

BENCHMARK(whole_burnback)->ArgName("corners")->Arg(0)->Arg(20)->Arg(200);
BENCHMARK(firing_sums)->ArgName("corners")->Arg(-12)->Arg(0)->Arg(20)->Arg(200);
BENCHMARK(firing_with_curve)->ArgName("corners")->Arg(-12)->Arg(0)->Arg(20)->Arg(200);
BENCHMARK(whole_firing)->ArgName("corners")->Arg(0)->Arg(20)->Arg(200);

}  // namespace
