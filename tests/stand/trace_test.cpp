// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/stand/trace.hpp"

#include <catch2/catch.hpp>

#include "grainwright/error.hpp"
#include "stand/synthetic.hpp"
#include "support/checks.hpp"

namespace gw = grainwright;
using synthetic::log_of;
using synthetic::motor;

namespace {

double impulse_of(const gw::Trace& trace) {
  double sum = 0;
  for (std::size_t i = 1; i < trace.time.size(); ++i) {
    if (trace.time[i - 1] < 0 || trace.time[i] > trace.end) continue;
    sum += (trace.time[i] - trace.time[i - 1]) * (trace.thrust[i] + trace.thrust[i - 1]) / 2;
  }
  return sum;
}

std::string asked(gw::Log log, const gw::Handling& handling = {}) {
  try {
    static_cast<void>(gw::cleaned(std::move(log), handling));
  } catch (const gw::InputError& error) {
    return error.complaints().front().key;
  }
  return "nothing";
}

}  // namespace

TEST_CASE("Tare, drift and noise are taken off, and ignition is found") {
  const gw::Firing truth = gw::fire_transient(motor());
  const gw::Trace trace =
      gw::cleaned(log_of(motor(), {.noise = 1, .tare = 21, .drift = -2, .lit = 0.7}));
  CHECK(trace.ignition == Approx(0.7).margin(0.003));
  CHECK(trace.noise == Approx(1).epsilon(0.1));
  CHECK(trace.tare == Approx(21 - 2 * 0.35).margin(0.2));
  CHECK(trace.drift == Approx(-2 * trace.end).margin(0.2));
  checks::expect("impulse of a log with tare, drift and noise, N s", "its own firing, invented",
                 truth.summary.total_impulse, impulse_of(trace), checks::relative(3e-3));
}

TEST_CASE("A reading that falls with thrust is turned, in doubt it is asked for") {
  gw::Log log = log_of(motor(), {.tare = 5});
  for (double& f : log.force) f = -f;
  const gw::Trace trace = gw::cleaned(log);
  CHECK(trace.reversed);
  CHECK(trace.tare == Approx(-5));
  CHECK(*std::ranges::max_element(trace.thrust) > 100);
  const auto wave = [](double t) { return t < 0 || t > 2 ? 0.0 : 100 * std::sin(3.14159 * t); };
  CHECK(asked(synthetic::log_of_shape(wave, -1, 3, 1e-3)) == "thrust_reads");
}

TEST_CASE("The weight of what has burned is given back, upright either way") {
  const gw::Motor m = motor();
  const double mass = m.grain.propellant_volume() * m.propellant.density();
  const double weight = mass * gw::standard_gravity;
  const double truth = gw::fire_transient(m).summary.total_impulse;
  for (const double sign : {-1.0, 1.0}) {
    const gw::Log log = log_of(m, {.tare = 30, .weight = sign * weight});
    const auto position = sign < 0 ? gw::StandPosition::nozzle_up : gw::StandPosition::nozzle_down;
    const gw::Trace known = gw::cleaned(log, {.position = position, .propellant_mass = mass});
    CHECK(known.weight_change == Approx(sign * weight));
    CHECK(known.drift == Approx(0).margin(0.02));
    CHECK(impulse_of(known) == Approx(truth).epsilon(1e-3));
    // Without its mass the change of the reading at rest tells it.
    CHECK(gw::cleaned(log, {.position = position}).weight_change ==
          Approx(sign * weight).epsilon(1e-3));
  }
}

TEST_CASE("Rows that stand alone are set aside, and named, a real peak is not") {
  gw::Log log = log_of(motor(), {.noise = 0.5});
  for (const std::size_t i : {100U, 900U, 901U, 2500U}) log.force[i] += 400;
  log.force[1000] -= 300;
  const gw::Trace trace = gw::cleaned(log);
  CHECK(trace.spikes.count == 5);
  CHECK(trace.spikes.lines == std::vector<std::size_t>{102, 902, 903, 1002, 2502});
  CHECK(gw::cleaned(log, {.keep_spikes = true}).spikes.count == 0);
  // Five rows of thrust in all.
  gw::Log slow = synthetic::log_of_shape([](double) { return 0.0; }, 0, 4, 0.1);
  const double rows[] = {50, 100, 90, 70, 30};
  std::copy(std::begin(rows), std::end(rows), slow.force.begin() + 15);
  CHECK(gw::cleaned(slow).spikes.count == 0);
}

TEST_CASE("A gap in the burn is named with its place and length") {
  gw::Log log = log_of(motor(), {});
  const auto cut = [](auto& column) { column.erase(column.begin() + 800, column.begin() + 840); };
  cut(log.time);
  cut(log.force);
  cut(log.line);
  const gw::Trace trace = gw::cleaned(log);
  REQUIRE(trace.gaps.size() == 1);
  CHECK(trace.gaps.front().length == Approx(0.041));
  CHECK(trace.gaps.front().line == 842);
}

TEST_CASE("A scale at its end is seen, by its flat top or by what was said") {
  gw::Log log = log_of(motor(), {.noise = 0.5});
  const double most = *std::ranges::max_element(log.force);
  CHECK(gw::cleaned(log).clipped == 0);
  for (double& f : log.force) f = std::min(f, 0.8 * most);
  const gw::Trace trace = gw::cleaned(log);
  CHECK(trace.clipped > 50);
  CHECK_THAT(trace.remarks.front(), Catch::Contains("least values"));
  CHECK(gw::cleaned(log_of(motor(), {}), {.capacity = 0.8 * most}).clipped > 50);
}

TEST_CASE("Pressure before ignition is that of the air, gauge or absolute") {
  gw::Log log = log_of(motor(), {.pressure = true});
  const gw::Trace gauge = gw::cleaned(log);
  CHECK(gauge.pressure.front() == Approx(gw::standard_atmosphere));
  for (double& p : log.pressure) p += 99000;
  CHECK(gw::cleaned(log).pressure[700] == Approx(gauge.pressure[700]));
}

TEST_CASE("A log without a firing, without rest, or cut away is refused with what to give") {
  CHECK(asked(log_of(motor(), {}), {.from = 10, .to = 11}) == "from and to");
  CHECK(asked(synthetic::log_of_shape([](double) { return 7.0; }, 0, 1, 0.01)) == "log");
  CHECK(asked(log_of(motor(), {.lit = 0}), {.tare = 0.0}) == "nothing");
}

TEST_CASE("A log that ends while the motor burns says so") {
  const gw::Trace trace = gw::cleaned(log_of(motor(), {.lit = 0.5, .lasts = 0.8}));
  REQUIRE_FALSE(trace.remarks.empty());
  CHECK_THAT(trace.remarks.front(), Catch::Contains("least values"));
}

namespace {

std::string doubts_of(const gw::Log& log, const gw::Handling& handling = {}) {
  return gw::words_of(gw::cleaned(log, handling).doubts);
}

}  // namespace

TEST_CASE("No doubt is raised against a sound log, of one burn or another") {
  for (const double noise : {0.5, 2.0, 6.0}) {
    CHECK(doubts_of(log_of(motor(), {.noise = noise, .tare = 9})).empty());
    CHECK(doubts_of(log_of(synthetic::even_motor(), {.noise = noise, .tare = 9})).empty());
  }
}

TEST_CASE("A log that begins or ends in the burn is doubted, not read upside down") {
  const gw::Log log = log_of(motor(), {.noise = 1, .tare = 9});
  const auto part = [&](std::size_t from, std::size_t to) {
    gw::Log cut = log;
    const auto keep = [&](auto& column) {
      if (column.empty()) return;
      column.erase(column.begin() + static_cast<std::ptrdiff_t>(to), column.end());
      column.erase(column.begin(), column.begin() + static_cast<std::ptrdiff_t>(from));
    };
    keep(cut.time);
    keep(cut.force);
    keep(cut.line);
    return cut;
  };
  const gw::Trace begun = gw::cleaned(part(700, 3000));
  CHECK_FALSE(begun.reversed);
  CHECK_THAT(gw::words_of(begun.doubts), Catch::Contains("begins or ends in the burn"));
  CHECK_THAT(doubts_of(part(0, 900)), Catch::Contains("begins or ends in the burn"));
}

TEST_CASE("Two firings in one log are doubted, an igniter's push before one is not") {
  const gw::Log one = log_of(motor(), {.noise = 1});
  gw::Log two = one;
  for (std::size_t i = 0; i < one.time.size(); ++i) {
    two.time.push_back(one.time[i] + one.time.back() + 1e-3);
    two.force.push_back(one.force[i]);
    two.line.push_back(one.line[i]);
  }
  CHECK_THAT(doubts_of(two), Catch::Contains("more than one firing"));
  gw::Log pushed = one;
  const double most = *std::ranges::max_element(one.force);
  for (std::size_t i = 300; i < 312; ++i) pushed.force[i] += 0.3 * most;
  const gw::Trace trace = gw::cleaned(pushed);
  CHECK(trace.doubts.empty());
  CHECK(trace.ignition == Approx(0.5).margin(0.005));
}

TEST_CASE("A scale at its end is doubted though noise hides the flat top") {
  gw::Log log = log_of(motor(), {});
  const gw::Log noise = log_of(motor(), {.noise = 1.5});
  const double most = *std::ranges::max_element(log.force);
  for (std::size_t i = 0; i < log.force.size(); ++i) {
    const double jitter = noise.force[i] - log.force[i];
    log.force[i] = std::min(log.force[i], 0.8 * most) + jitter;
  }
  CHECK_THAT(doubts_of(log), Catch::Contains("scale at its end"));
}
