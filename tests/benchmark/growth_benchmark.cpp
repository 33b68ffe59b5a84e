// SPDX-License-Identifier: GPL-3.0-or-later
//
// How the time grows with what is asked: segments, kinds of segment in a search, corners of a drawn
// core, firings of a scatter.
#include <benchmark/benchmark.h>

#include "benchmark/drawn_core.hpp"
#include "benchmark/shop.hpp"
#include "firing/example_motor.hpp"
#include "grainwright/firing/axial.hpp"
#include "grainwright/firing/transient.hpp"
#include "grainwright/scatter/scatter.hpp"
#include "grainwright/search/search.hpp"
#include "scatter/motors.hpp"

namespace {

using namespace grainwright;

// One length of grain in more and more slices, each with a core of its own, so that no two burn out
// together; they burn from the core alone.
Motor stack_of(long segments) {
  Motor motor = example::whole_motor();
  Segment segment = motor.grain.layers[0].segment;
  segment.inhibited = {Face::outer, Face::head, Face::nozzle};
  segment.length = 0.34 / static_cast<double>(segments);
  motor.grain.layers.clear();
  for (long i = 0; i < segments; ++i) {
    segment.core_diameter =
        0.018 + 0.006 * static_cast<double>(i + 1) / static_cast<double>(segments);
    motor.grain.layers.push_back({segment, 1});
  }
  return motor;
}

void steady_firing_of_segments(benchmark::State& state) {
  const Motor motor = stack_of(state.range(0));
  for (auto _ : state) {
    const Burnback burnback(motor.grain);
    const SteadyChamber chamber(motor.propellant, motor.nozzle, motor.day);
    benchmark::DoNotOptimize(burn_sums(burnback.stretches(), chamber));
  }
}

void transient_firing_of_segments(benchmark::State& state) {
  const Motor motor = stack_of(state.range(0));
  for (auto _ : state) benchmark::DoNotOptimize(fire_transient(motor));
}

void axial_firing_of_segments(benchmark::State& state) {
  const Motor motor = stack_of(state.range(0));
  for (auto _ : state) benchmark::DoNotOptimize(fire_axial(motor));
}

void search_with_kinds(benchmark::State& state) {
  SearchTask task = shop::task(false);
  task.shop.most_kinds = static_cast<int>(state.range(0));
  SearchResult result;
  for (auto _ : state) result = search(task);
  if (result.designs.empty()) state.SkipWithError("no design");
  state.counters["builds"] = static_cast<double>(result.builds);
}

void burnback_of_corners(benchmark::State& state) {
  Grain grain = example::whole_motor().grain;
  Segment& segment = grain.layers[0].segment;
  segment.inhibited = {Face::outer};
  segment = with_core(segment, drawn_core(state.range(0), segment.outer_diameter));
  for (auto _ : state) benchmark::DoNotOptimize(Burnback(grain).stretches().size());
}

void scatter_of_samples(benchmark::State& state) {
  ScatterTask task{.motor = motors::motor(), .ceiling = 5e6};
  task.motor.day.ambient_pressure = standard_atmosphere;
  task.shell = motors::shell_that_holds(9e6);
  for (auto _ : state) {
    benchmark::DoNotOptimize(scatter(task, {.samples = static_cast<std::size_t>(state.range(0))}));
  }
}

BENCHMARK(steady_firing_of_segments)->RangeMultiplier(4)->Range(1, 256)->UseRealTime();
BENCHMARK(transient_firing_of_segments)->RangeMultiplier(4)->Range(1, 64)->UseRealTime();
BENCHMARK(axial_firing_of_segments)->RangeMultiplier(4)->Range(1, 64)->UseRealTime();
BENCHMARK(search_with_kinds)->DenseRange(1, 3)->UseRealTime();
BENCHMARK(burnback_of_corners)
    ->Arg(10)
    ->Arg(20)
    ->Arg(50)
    ->Arg(100)
    ->Arg(200)
    ->Arg(500)
    ->UseRealTime();
BENCHMARK(scatter_of_samples)->RangeMultiplier(4)->Range(4096, 1'048'576)->UseRealTime();

}  // namespace
