// SPDX-License-Identifier: GPL-3.0-or-later
//
// Peak pressures carried to the model that judges: against that model fired in full.
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "grainwright/firing/axial.hpp"
#include "grainwright/firing/transient.hpp"
#include "grainwright/parallel.hpp"
#include "grainwright/scatter/port_load.hpp"
#include "grainwright/scatter/scatter.hpp"
#include "grainwright/strength/change.hpp"
#include "motors.hpp"
#include "support/checks.hpp"

namespace gw = grainwright;
using checks::expect;
using motors::exact;
using motors::mm;
using motors::mpa;
using motors::normal;

namespace {

/// Transient, and axial for the head end; nothing where a port chokes.
std::optional<double> fired_in_full(const gw::Motor& motor) {
  const double transient = gw::fire_transient(motor).summary.peak_pressure;
  try {
    return std::max(transient, gw::fire_axial(motor).summary.peak_pressure);
  } catch (const gw::InputError&) {
    return std::nullopt;
  }
}

const gw::PeakJudge in_full = {"axial", fired_in_full};

/// Seven segments of 40 mm whose port is 1.15 times the throat.
gw::Motor seven() {
  gw::Motor motor = motors::motor();
  const double throat = 14 * mm;
  motor.grain = {
      {{{.length = 40 * mm, .outer_diameter = 38 * mm, .core_diameter = throat * std::sqrt(1.15)},
        7}},
      2 * mm};
  motor.nozzle = {.throat_diameter = throat, .exit_diameter = 28 * mm, .efficiency = 0.85};
  motor.day = {};
  return motor;
}

/// The same motor strayed as the trade's tolerances say, each segment's length by itself.
gw::Motor drawn_at_random(const gw::Motor& motor, std::mt19937_64& chance) {
  std::normal_distribution<double> z;
  std::uniform_real_distribution<double> within(-1, 1);
  gw::Motor one = gw::with_throat(motor, motor.nozzle.throat_diameter + 0.05 * mm * within(chance));
  const double warmth = std::exp(motor.propellant.temperature_sensitivity * 3 * within(chance));
  one.propellant.law = one.propellant.law.times(std::exp(0.05 * z(chance)) * warmth);
  one.propellant.ideal_density *= std::exp(0.01 * z(chance));
  one.propellant.characteristic_velocity *= std::exp(0.02 * z(chance));
  const gw::Layer layer = motor.grain.layers.front();
  const double core = 0.1 * mm * within(chance);
  one.grain.layers.clear();
  for (int i = 0; i < layer.count; ++i) {
    gw::Segment segment = layer.segment;
    segment.core_diameter += core;
    segment.length += 0.4 * mm * within(chance);
    one.grain.layers.push_back({segment, 1});
  }
  return one;
}

}  // namespace

TEST_CASE("The chance over the ceiling is that of motors fired in full, one by one") {
  const gw::Motor motor = seven();
  const double steady = gw::fire_steady(motor).summary.peak_pressure;
  const double ceiling = 1.11 * steady;
  constexpr std::size_t count = 2000;
  std::mt19937_64 chance(20);
  std::vector<gw::Motor> drawn;
  for (std::size_t i = 0; i < count; ++i) drawn.push_back(drawn_at_random(motor, chance));
  std::vector<char> over(count);
  gw::in_parallel(
      count, 0, [&](std::size_t i) { over[i] = fired_in_full(drawn[i]).value_or(1e9) > ceiling; },
      [](std::size_t) {});
  const double part = static_cast<double>(std::ranges::count(over, 1)) / count;
  const double error = 3 * std::sqrt(part * (1 - part) / count);

  gw::ScatterTask task{.motor = motor, .ceiling = ceiling};
  const auto quick = gw::scatter(task, {.samples = 16384});
  task.judge = in_full;
  const auto result = gw::scatter(task, {.samples = 16384});
  expect(
      "chance over 1.11 times the steady peak, port 1.15 times the throat, against plain Monte "
      "Carlo of 2000 motors fired by the transient and the axial model",
      "derived", part, result.over_ceiling->value, checks::absolute(error));
  CHECK(part > 0.6);
  // Steady peaks alone tell a builder almost nothing of it.
  CHECK(quick.over_ceiling->value < 0.15);
  CHECK(quick.judged.model == "steady");
  CHECK(result.judged.model == "axial");
  CHECK(result.judged.checked == 48);
  CHECK(result.judged.greatest_difference < 5e-3);
  CHECK(result.judged.raised <= result.judged.greatest_difference);
  CHECK(result.judged.ratio == Approx(*fired_in_full(motor) / steady).epsilon(1e-9));
  CHECK(result.as_drawn.peak_pressure == Approx(*fired_in_full(motor)).epsilon(1e-9));
  CHECK(result.port_chokes.value == 0);
}

TEST_CASE("A peak that is everywhere so many times the steady one is carried so") {
  gw::ScatterTask task{.motor = motors::motor(), .tolerances = exact()};
  task.tolerances.burn_rate = normal(0.05);
  const double steady = gw::fire_steady(task.motor).summary.peak_pressure;
  task.ceiling = 1.05 * steady;
  task.shell = motors::shell_that_holds(6 * mpa);
  task.judge = {"doubled", [](const gw::Motor& motor) {
                  return std::optional(1.2 * gw::fire_steady(motor).summary.peak_pressure);
                }};
  const auto result = gw::scatter(task, {.samples = 4096});
  expect(
      "chance over 1.05 of the steady peak where peaks are 1.2 of it, sigma of ln rate 0.05, n "
      "0.32",
      checks::closed_form, std::erfc(std::log(1.05 / 1.2) * 0.68 / 0.05 / std::sqrt(2.0)) / 2,
      result.over_ceiling->value, checks::relative(1e-4));
  expect("its median peak pressure over the steady one", checks::closed_form, 1.2,
         result.peak_pressure.p50.value / steady, checks::relative(2e-3));
  const auto unjudged = [&] {
    gw::ScatterTask plain = task;
    plain.judge.reset();
    return gw::scatter(plain, {.samples = 4096});
  }();
  // The load grows, what holds does not.
  CHECK(result.parts[0].ratio == Approx(unjudged.parts[0].ratio / 1.2).epsilon(1e-6));
  CHECK(result.parts[0].holds == Approx(unjudged.parts[0].holds).epsilon(1e-6));
  CHECK(result.peak_thrust.p50.value == Approx(unjudged.peak_thrust.p50.value));
  CHECK(result.judged.raised < 1e-9);
  expect("99 % of the peak pressure over the steady one as drawn", checks::closed_form,
         1.2 * 1.1865560, gw::pressure_at_confidence(task, 0.99, 8192) / steady,
         checks::relative(1e-3));
}

TEST_CASE("What the check in full finds higher raises the chance, never lowers it") {
  gw::ScatterTask task{.motor = motors::motor(), .tolerances = exact()};
  task.tolerances.burn_rate = normal(0.05);
  task.ceiling = 1.1 * gw::fire_steady(task.motor).summary.peak_pressure;
  const double rate = task.motor.propellant.law.rate(1 * mpa);
  const auto judged_by = [&](double more) {
    // Peaks that differ where the burn rate is not as drawn, which no port load tells.
    task.judge = {"odd", [=](const gw::Motor& motor) {
                    const bool as_drawn =
                        std::abs(motor.propellant.law.rate(1 * mpa) / rate - 1) < 1e-9;
                    return std::optional(gw::fire_steady(motor).summary.peak_pressure *
                                         (as_drawn ? 1 : more));
                  }};
    return gw::scatter(task, {.samples = 4096});
  };
  const auto higher = judged_by(1.1);
  const auto lower = judged_by(0.9);
  CHECK(higher.judged.raised == Approx(0.1).epsilon(1e-6));
  CHECK(higher.over_ceiling->value == Approx(0.5).epsilon(0.02));
  CHECK(higher.judged.over_in_full > higher.judged.over_carried);
  CHECK(higher.as_drawn.peak_pressure == Approx(*task.ceiling / 1.1).epsilon(1e-9));
  CHECK(higher.peak_pressure.p50.value == Approx(*task.ceiling / 1.1).epsilon(2e-3));
  CHECK(lower.judged.raised == 0);
  CHECK(lower.judged.greatest_difference == Approx(0.1).epsilon(1e-6));
}

TEST_CASE("Ports that may choke count as over the ceiling and as failing") {
  gw::ScatterTask task{.motor = seven(), .tolerances = exact()};
  // All gas but the last face's passes the last port.
  const gw::Segment& segment = task.motor.grain.layers.front().segment;
  const double d = segment.core_diameter;
  const double face = (38 * mm * 38 * mm - d * d) / 4;
  const double one = d * 40 * mm + 2 * face;
  expect("load of the last port, port 1.15 times the throat", checks::closed_form,
         (7 * one - face) / (7 * one) / 1.15, gw::port_load(task.motor), checks::relative(1e-12));

  task.ceiling = 100 * mpa;
  task.shell = motors::shell_that_holds(100 * mpa);
  task.faults = {{.kind = gw::FaultKind::wrong_core, .probability = 0.125, .diameter = 13 * mm}};
  for (const bool with_judge : {false, true}) {
    if (with_judge) task.judge = in_full;
    const auto result = gw::scatter(task, {.samples = 4096});
    CHECK(result.port_chokes.value == Approx(0.125).margin(1e-3));
    CHECK(result.over_ceiling->value == Approx(0.125).margin(1e-3));
    CHECK(result.anything_gives->value == Approx(0.125).margin(1e-3));
    CHECK(result.mistakes[0].firing.port_chokes);
    CHECK_FALSE(result.as_drawn.port_chokes);
  }
  task.faults.clear();
  task.motor = gw::with_throat(task.motor, 16 * mm);
  const auto choked = gw::scatter(task, {.samples = 1024});
  CHECK(choked.as_drawn.port_chokes);
  CHECK(choked.over_ceiling->value == 1);
}
