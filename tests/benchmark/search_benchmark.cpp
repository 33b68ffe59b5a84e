// SPDX-License-Identifier: GPL-3.0-or-later
//
// The proven search: two kinds, up to 6 segments, 5 mandrels, 10 throats, 1/16 in on 7.5 in.
#include <benchmark/benchmark.h>

#include "benchmark/shop.hpp"

namespace {

using namespace grainwright;

// {pieces of the burn law, threads; 0 is all of the machine's}.
void proven_search(benchmark::State& state) {
  const SearchTask task = shop::task(state.range(0) == 5);
  SearchResult result;
  for (auto _ : state) {
    result = search(task, {.threads = static_cast<unsigned>(state.range(1))});
  }
  if (!result.proven || result.designs.empty()) state.SkipWithError("no proven design");
  state.counters["builds"] = static_cast<double>(result.builds);
}
BENCHMARK(proven_search)
    ->Args({1, 1})
    ->Args({1, 0})
    ->Args({5, 1})
    ->Args({5, 0})
    ->UseRealTime()
    ->Unit(benchmark::kMillisecond);

// The same shop, asked for the rail by a rocket that the rail rules; {threads}.
void search_for_the_rail(benchmark::State& state) {
  SearchTask task = shop::task(false);
  task.wish.loading = 0;
  task.wish.for_the_rail = true;
  task.wish.rail_speed.least = 14;
  task.airframe = Airframe{
      .mass = 4, .hardware = 0.5, .diameter = 0.066, .drag = {{0, 0.5}}, .rail_length = 1.8};
  SearchResult result;
  for (auto _ : state) {
    result = search(task, {.threads = static_cast<unsigned>(state.range(0))});
  }
  if (!result.proven || result.designs.empty()) state.SkipWithError("no proven design");
  state.counters["builds"] = static_cast<double>(result.builds);
}
BENCHMARK(search_for_the_rail)->Arg(1)->Arg(0)->UseRealTime()->Unit(benchmark::kMillisecond);

}  // namespace
