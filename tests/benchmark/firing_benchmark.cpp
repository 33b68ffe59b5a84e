// SPDX-License-Identifier: GPL-3.0-or-later
//
// One steady firing: sums alone, from the job's motor on, and by a naive march; one transient and
// one axial firing with all they give.
#include <benchmark/benchmark.h>

#include <array>
#include <cmath>

#include "benchmark/naive_march.hpp"
#include "firing/example_motor.hpp"
#include "grainwright/firing/axial.hpp"
#include "grainwright/firing/prepared_motor.hpp"
#include "grainwright/firing/transient.hpp"

namespace {

using namespace grainwright;

// 3 equal or 4 unlike segments, a law of 1 or 5 pieces; throats that carry the burn across a joint
// of the law, exits that flow full all along.
Motor motor_of(const benchmark::State& state) {
  Motor motor = example::whole_motor();
  motor.grain.layers[0].count = 3;
  if (state.range(0) == 4) motor.grain = example::unlike_stack();
  motor.nozzle = {.throat_diameter = 0.009, .exit_diameter = 0.012};
  if (state.range(1) == 5) {
    motor.propellant = example::five_piece_propellant();
    motor.nozzle = {.throat_diameter = 0.011, .exit_diameter = 0.014};
  }
  return motor;
}

void sums(benchmark::State& state) {
  const Motor motor = motor_of(state);
  const Burnback burnback(motor.grain);
  const SteadyChamber chamber(motor.propellant, motor.nozzle, motor.day);
  const Summary summary = steady_summary(burnback, chamber);
  if (summary.lowest_pressure < chamber.thrust_law().full_flow_pressure()) {
    state.SkipWithError("the nozzle does not flow full all along");
  }
  for (auto _ : state) benchmark::DoNotOptimize(burn_sums(burnback.stretches(), chamber));
  state.counters["peak_MPa"] = summary.peak_pressure / 1e6;
  state.counters["lowest_MPa"] = summary.lowest_pressure / 1e6;
}

void from_motor(benchmark::State& state) {
  const Motor motor = motor_of(state);
  for (auto _ : state) {
    const Burnback burnback(motor.grain);
    const SteadyChamber chamber(motor.propellant, motor.nozzle, motor.day);
    benchmark::DoNotOptimize(burn_sums(burnback.stretches(), chamber));
  }
}

void whole_firing(benchmark::State& state) {
  const Motor motor = motor_of(state);
  for (auto _ : state) benchmark::DoNotOptimize(fire_steady(motor));
}

void transient_firing(benchmark::State& state) {
  const Motor motor = motor_of(state);
  for (auto _ : state) benchmark::DoNotOptimize(fire_transient(motor));
}

void axial_firing(benchmark::State& state) {
  Motor motor = motor_of(state);
  motor.grain.spacer = 2e-3;
  for (auto _ : state) benchmark::DoNotOptimize(fire_axial(motor, {.slices = 20}));
}

void naive(benchmark::State& state) {
  const Motor motor = motor_of(state);
  const Burnback burnback(motor.grain);
  const SteadyChamber chamber(motor.propellant, motor.nozzle, motor.day);
  const BurnSums exact = burn_sums(burnback.stretches(), chamber);
  BurnSums marched;
  for (auto _ : state) {
    marched = naive_march(motor, 1000);
    benchmark::DoNotOptimize(marched);
  }
  state.counters["time_error"] = std::abs(marched.time / exact.time - 1);
  state.counters["impulse_error"] = std::abs(marched.impulse / exact.impulse - 1);
}

// What eight calls of pow take, from values that no compiler can know: the floor under a firing.
void pow_floor(benchmark::State& state) {
  std::array<double, 8> areas = {0.030, 0.031, 0.032, 0.033, 0.034, 0.035, 0.036, 0.037};
  double power = 1.5385;
  for (auto _ : state) {
    benchmark::DoNotOptimize(areas);
    benchmark::DoNotOptimize(power);
    double sum = 0;
    for (double area : areas) sum += std::pow(area, power);
    benchmark::DoNotOptimize(sum);
  }
}

// {kinds of stack: 3 equal or 4 unlike segments, pieces of the burn law}.
void stacks_and_laws(benchmark::internal::Benchmark* bench) {
  for (int segments : {3, 4}) {
    for (int pieces : {1, 5}) bench->Args({segments, pieces});
  }
}

BENCHMARK(sums)->Apply(stacks_and_laws);
BENCHMARK(from_motor)->Apply(stacks_and_laws);
BENCHMARK(whole_firing)->Apply(stacks_and_laws);
BENCHMARK(transient_firing)->Apply(stacks_and_laws);
BENCHMARK(axial_firing)->Apply(stacks_and_laws);
BENCHMARK(naive)->Apply(stacks_and_laws);
BENCHMARK(pow_floor);

}  // namespace
