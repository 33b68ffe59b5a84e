// SPDX-License-Identifier: GPL-3.0-or-later
//
// One flight: whole, with its track, and the figures that a search asks a million times.
#include <benchmark/benchmark.h>

#include "firing/example_motor.hpp"
#include "flight/flights.hpp"
#include "grainwright/firing/transient.hpp"
#include "grainwright/flight/flight.hpp"

namespace {

using namespace grainwright;
using flights::heron;

/// A burnt-back motor, ready to be asked.
struct Ready {
  Motor motor = example::whole_motor();
  Burnback burnback{motor.grain};
  SteadyChamber chamber{motor.propellant, motor.nozzle, motor.day};
  double propellant = chamber.density() * burnback.propellant_volume(0);
};

void rail_alone(benchmark::State& state) {
  const Ready ready;
  const Airframe airframe = heron();
  for (auto _ : state) {
    benchmark::DoNotOptimize(
        rail_exit_speed(ready.burnback.stretches(), ready.chamber, ready.propellant, airframe));
  }
}
BENCHMARK(rail_alone)->Unit(benchmark::kMicrosecond);

void apogee_alone(benchmark::State& state) {
  const Ready ready;
  const Airframe airframe = heron();
  for (auto _ : state) {
    benchmark::DoNotOptimize(
        apogee(ready.burnback.stretches(), ready.chamber, ready.propellant, airframe));
  }
}
BENCHMARK(apogee_alone)->Unit(benchmark::kMicrosecond);

void whole_steady_flight(benchmark::State& state) {
  const Ready ready;
  const Airframe airframe = heron();
  for (auto _ : state) benchmark::DoNotOptimize(fly_steady(ready.motor, airframe));
}
BENCHMARK(whole_steady_flight)->Unit(benchmark::kMicrosecond);

void whole_transient_flight(benchmark::State& state) {
  const Ready ready;
  const Airframe airframe = heron();
  const Firing firing = fire_transient(ready.motor, {.points = 801});
  for (auto _ : state) benchmark::DoNotOptimize(fly(firing, ready.motor, airframe));
}
BENCHMARK(whole_transient_flight)->Unit(benchmark::kMicrosecond);

}  // namespace
