// SPDX-License-Identifier: GPL-3.0-or-later
//
// A log of ten million rows read and cleaned, and the fit of a log of three thousand.
#include <benchmark/benchmark.h>

#include <string>

#include "stand/synthetic.hpp"

namespace {

namespace gw = grainwright;

std::string text_of(long rows) {
  std::string text = "time_s,force_N\n";
  for (long i = 0; i < rows; ++i) {
    const bool burning = i > rows / 5 && i < 4 * rows / 5;
    text += std::to_string(static_cast<double>(i) * 1e-6) + ',' +
            std::to_string((burning ? 320.0 : 20.0) + 0.25 * static_cast<double>(i % 7)) + '\n';
  }
  return text;
}

void reading(benchmark::State& state) {
  const std::string text = text_of(state.range(0));
  for (auto _ : state) {
    benchmark::DoNotOptimize(gw::cleaned(gw::parse_log(text, "log")));
  }
  state.SetItemsProcessed(state.iterations() * state.range(0));
}
BENCHMARK(reading)->Arg(100'000)->Arg(10'000'000)->Unit(benchmark::kMillisecond);

void fitting(benchmark::State& state) {
  const gw::Shot shot{
      synthetic::motor(), {}, gw::cleaned(synthetic::log_of(synthetic::motor(), {.noise = 3}))};
  for (auto _ : state) benchmark::DoNotOptimize(gw::fit({shot}));
}
BENCHMARK(fitting)->Unit(benchmark::kMillisecond);

}  // namespace
