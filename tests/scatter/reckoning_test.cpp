// SPDX-License-Identifier: GPL-3.0-or-later
//
// How a scatter is reckoned: its points and threads, error bars, an early end, and what is read off
// quickly. What it says of motors is in scatter_test.cpp.
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "grainwright/firing/prepared_motor.hpp"
#include "grainwright/firing/transient.hpp"
#include "grainwright/scatter/points.hpp"
#include "grainwright/scatter/scatter.hpp"
#include "motors.hpp"
#include "support/checks.hpp"

namespace gw = grainwright;
using motors::exact;
using motors::mm;
using motors::mpa;
using motors::normal;

TEST_CASE("The same seed gives the same answer on any number of threads, another seed another") {
  gw::ScatterTask task{.motor = motors::motor(), .ceiling = 5 * mpa};
  task.shell = motors::shell_that_holds(6 * mpa);
  task.faults = gw::usual_faults(task.motor, {}, {});
  task.faults[0].probability = 0.02;
  task.judge = {"transient", [](const gw::Motor& motor) {
                  return std::optional(gw::fire_transient(motor).summary.peak_pressure);
                }};
  const auto one = gw::scatter(task, {.samples = 4096, .threads = 1});
  const auto four = gw::scatter(task, {.samples = 4096, .threads = 4});
  const auto other = gw::scatter(task, {.samples = 4096, .seed = 2});
  CHECK(one.peak_pressure.p95.value == four.peak_pressure.p95.value);
  CHECK(one.peak_pressure.p95.error == four.peak_pressure.p95.error);
  CHECK(one.over_ceiling->value == four.over_ceiling->value);
  CHECK(one.parts[0].chance.value == four.parts[0].chance.value);
  CHECK(one.thrust.p95 == four.thrust.p95);
  CHECK(one.histogram.share == four.histogram.share);
  CHECK(one.heat.greatest_error == four.heat.greatest_error);
  CHECK(one.judged.greatest_difference == four.judged.greatest_difference);
  CHECK(one.judged.checked == 48);
  for (std::size_t i = 0; i < one.shares.size(); ++i) {
    CHECK(one.shares[i].key == four.shares[i].key);
    CHECK(one.shares[i].total.value == four.shares[i].total.value);
  }
  CHECK(one.peak_pressure.p95.value != other.peak_pressure.p95.value);
  CHECK(one.peak_pressure.p95.value == Approx(other.peak_pressure.p95.value).epsilon(5e-3));
}

TEST_CASE("Scrambled points converge faster than chance") {
  // RMS error of the mean of an eight-fold lognormal product, by points a run.
  constexpr std::size_t dimensions = 8;
  const gw::Spread spread = normal(0.1);
  const double truth = std::exp(dimensions * 0.01 / 2);
  const auto rms = [&](unsigned log2, bool sobol) {
    constexpr int runs = 40;
    const gw::SobolPoints points(dimensions, log2);
    std::mt19937_64 chance(1);
    double squares = 0;
    for (std::uint64_t run = 0; run < runs; ++run) {
      const gw::Scramble scramble(dimensions, 5, run);
      double mean = 0;
      for (std::size_t i = 0; i < points.count(); ++i) {
        double product = 1;
        for (std::size_t d = 0; d < dimensions; ++d) {
          const double plain = (static_cast<double>(chance() >> 12U) + 0.5) * 0x1p-52;
          product *= spread.factor(sobol ? scramble.coordinate(points, i, d) : plain);
        }
        mean += product / static_cast<double>(points.count());
      }
      squares += (mean - truth) * (mean - truth) / runs;
    }
    return std::sqrt(squares);
  };
  // Sixteen times the points: chance gains a factor of 4.
  const double by_chance = rms(6, false) / rms(10, false);
  const double by_sobol = rms(6, true) / rms(10, true);
  CHECK(by_chance == Approx(4).epsilon(0.3));
  CHECK(by_sobol > 9);
  CHECK(rms(10, true) < rms(10, false) / 10);
}

TEST_CASE("More samples narrow the error bar, and only whole replicates are made") {
  const auto few = gw::scatter({.motor = motors::motor()}, {.samples = 1000});
  const auto many = gw::scatter({.motor = motors::motor()}, {.samples = 100'000});
  CHECK(few.samples >= 1000);
  CHECK(many.samples >= 100'000);
  CHECK(few.replicates >= 16);
  CHECK(many.peak_pressure.p50.error < few.peak_pressure.p50.error / 4);
}

TEST_CASE("The thrust band holds the firing as drawn") {
  const auto result = gw::scatter({.motor = motors::motor()}, {.samples = 4096});
  const auto& band = result.thrust;
  REQUIRE(band.time.size() == band.p5.size());
  for (std::size_t i = 0; i < band.time.size(); ++i) {
    CHECK(band.p5[i] <= band.p50[i]);
    CHECK(band.p50[i] <= band.p95[i]);
  }
  const double drawn = gw::fire_steady(motors::motor()).curve.thrust.front();
  CHECK(band.p50[0] == Approx(drawn).epsilon(0.01));
  CHECK(band.p95.back() == 0);
}

TEST_CASE("The quick reckoning of hot strength agrees with margins in full") {
  gw::Shell shell = motors::shell_that_holds(8 * mpa);
  shell.material.strength_at = {{296, 1}, {320, 0.4}, {333, 0.2}};
  shell.material.conductivity = 0.3;
  shell.liner.front().thickness = 0.8 * mm;
  gw::ScatterTask task{.motor = motors::motor(), .shell = shell};
  const auto result = gw::scatter(task, {.samples = 2048});
  CHECK(result.heat.firings > 0);
  CHECK(result.heat.greatest_error < 0.05);
}

TEST_CASE("An early end keeps what was fired") {
  std::stop_source stop;
  stop.request_stop();
  const auto result = gw::scatter({.motor = motors::motor()}, {.stop = stop.get_token()});
  CHECK(result.stopped);
  CHECK(result.replicates == 2);
  CHECK(result.samples < gw::ScatterOptions{}.samples);
  CHECK(result.mean_pressure.error > 0);
  CHECK(result.as_drawn.peak_pressure > 0);
}

TEST_CASE("Everything wrong with a scatter is said") {
  gw::ScatterTask task{.motor = motors::motor()};
  task.tolerances.density.sigma = -1;
  CHECK_THROWS_AS(gw::scatter(task), gw::InputError);
  task = {.motor = motors::motor()};
  task.faults.assign(65, {.kind = gw::FaultKind::wrong_throat, .diameter = 9 * mm});
  CHECK_THROWS_AS(gw::scatter(task), gw::InputError);
}
