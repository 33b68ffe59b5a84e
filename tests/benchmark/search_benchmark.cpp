// SPDX-License-Identifier: GPL-3.0-or-later
//
// The proven search: two kinds, up to 6 segments, 5 mandrels, 10 throats, 1/16 in on 7.5 in.
#include <benchmark/benchmark.h>

#include "firing/example_motor.hpp"
#include "grainwright/search/search.hpp"

namespace {

using namespace grainwright;
using example::inch;

SearchTask task_of(bool five_pieces) {
  SearchTask task{
      .propellant = five_pieces
                        ? example::five_piece_propellant()
                        : Propellant{.name = "one piece",
                                     .ideal_density = 1889,
                                     .density_ratio = 0.95,
                                     .characteristic_velocity = 900,
                                     .gamma = 1.133,
                                     .expansion_gamma = 1.044,
                                     .law = BurnLaw({{.rate = 8.26e-3, .exponent = 0.319}})},
      .nozzle = {.throat_diameter = 0.375 * inch,
                 .exit_diameter = 0.75 * inch,
                 .half_angle = 0.2618,
                 .efficiency = 0.85},
      .outer_diameter = 1.45 * inch,
      .grain_room = 7.5 * inch,
      .shop = {},
      .limits = {},
      .wish = {}};
  task.shop.mandrels = {0.375 * inch, 0.5 * inch, 0.625 * inch, 0.75 * inch, 0.875 * inch};
  for (int sixty_fourths = 18; sixty_fourths < 28; ++sixty_fourths) {
    task.shop.throats.push_back(sixty_fourths * inch / 64);
  }
  task.shop.length_step = inch / 16;
  task.shop.spacer = inch / 16;
  task.shop.shortest_segment = 0.75 * inch;
  task.limits.pressure = 4e6;
  task.limits.port_to_throat = 2;
  task.wish.loading = 0.75;
  return task;
}

// {pieces of the burn law, threads; 0 is all of the machine's}.
void proven_search(benchmark::State& state) {
  const SearchTask task = task_of(state.range(0) == 5);
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
  SearchTask task = task_of(false);
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
