// SPDX-License-Identifier: GPL-3.0-or-later
//
// A hundred thousand firings of motors drawn alike, with strength.
#include <benchmark/benchmark.h>

#include "grainwright/scatter/scatter.hpp"
#include "scatter/motors.hpp"

namespace {

using namespace grainwright;

ScatterTask task() {
  ScatterTask task{.motor = motors::motor(), .ceiling = 5e6};
  task.motor.day.ambient_pressure = standard_atmosphere;
  task.shell = motors::shell_that_holds(9e6);
  return task;
}

// {samples; threads, 0 is all of the machine's}.
void whole_scatter(benchmark::State& state) {
  const ScatterTask what = task();
  for (auto _ : state) {
    benchmark::DoNotOptimize(scatter(what, {.samples = static_cast<std::size_t>(state.range(0)),
                                            .threads = static_cast<unsigned>(state.range(1))}));
  }
}
BENCHMARK(whole_scatter)
    ->Args({100'000, 0})
    ->Args({100'000, 1})
    ->Args({1'000'000, 0})
    ->Unit(benchmark::kMillisecond)
    ->MeasureProcessCPUTime()
    ->UseRealTime();

}  // namespace
