// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/flight/flight.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "flights.hpp"
#include "grainwright/motor/gas.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using checks::absolute;
using checks::expect;
using checks::relative;
using flights::constant;
using flights::even_air;
using flights::sled;

namespace {

constexpr double g0 = standard_gravity;
const std::string closed_form = "closed form";

// Mass 2 kg, all of it airframe, thrust for a second.
Flight slid(double thrust_to_weight, double rail, double elevation = std::numbers::pi / 2) {
  Airframe airframe = sled(2, rail);
  airframe.rail_elevation = elevation;
  return fly(constant(thrust_to_weight * 2 * g0, 3, 0), airframe, even_air);
}

}  // namespace

TEST_CASE("without drag or friction the rail ends at sqrt(2 (T/W - 1) g L)") {
  struct Row {
    double ratio, rail, speed;
  };
  for (const Row& row : {Row{3, 1.8, 8.4028},
                         {3, 3.0, 10.8480},
                         {5, 1.0, 8.8574},
                         {5, 1.8, 11.8834},
                         {5, 2.4, 13.7218},
                         {5, 3.0, 15.3414},
                         {10, 1.8, 17.8251}}) {
    const Flight flight = slid(row.ratio, row.rail);
    const std::string what = "rail exit speed at thrust/weight " +
                             std::to_string(static_cast<int>(row.ratio)) + " from " +
                             std::to_string(row.rail).substr(0, 3) + " m, m/s";
    expect(what, closed_form, row.speed, flight.rail_exit_speed, absolute(0.51e-4));
    const double exact = std::sqrt(2 * (row.ratio - 1) * g0 * row.rail);
    CHECK(flight.rail_exit_speed == Approx(exact).epsilon(1e-12));
    CHECK(flight.rail_exit_time == Approx(exact / ((row.ratio - 1) * g0)).epsilon(1e-12));
    CHECK(flight.rail_exit_acceleration == Approx((row.ratio - 1) * g0).epsilon(1e-12));
    for (double ratio :
         {flight.thrust_to_weight, flight.least_thrust_to_weight, flight.exit_thrust_to_weight}) {
      CHECK(ratio == Approx(row.ratio).epsilon(1e-12));
    }
  }
}

TEST_CASE("a push that nothing could hold is refused, not followed") {
  CHECK(slid(0.9e5, 2).rail_exit_speed > 0);
  CHECK_THROWS_AS(slid(1.1e5, 2), InputError);
}

TEST_CASE("a rail off the vertical carries less of the weight") {
  const double elevation = std::numbers::pi / 180 * 85;
  const Flight flight = slid(5, 1.8, elevation);
  expect("rail exit speed 5 deg off the vertical, thrust/weight 5 from 1.8 m, m/s", closed_form,
         11.8891, flight.rail_exit_speed, absolute(0.51e-4));
  CHECK(flight.rail_exit_speed ==
        Approx(std::sqrt(2 * (5 - std::sin(elevation)) * g0 * 1.8)).epsilon(1e-12));
}

TEST_CASE("a vertical boost without drag ends at the ideal burnout speed and height") {
  const Flight flight = fly(constant(200, 2, 0.24), sled(1.76, 0.5), even_air);
  expect("burnout speed without drag, m/s", closed_form, 193.4423, flight.burnout_speed,
         absolute(0.51e-4));
  expect("burnout height without drag, m", closed_form, 188.9043, flight.burnout_height,
         absolute(0.51e-4));
  expect("apogee without drag, m", closed_form, 2096.790, flight.apogee, absolute(0.51e-3));
  expect("time to apogee without drag, s", closed_form, 21.7256, flight.apogee_time,
         absolute(0.51e-4));
  const double exhaust = 200 / 0.12;
  CHECK(flight.burnout_speed == Approx(exhaust * std::log(2 / 1.76) - g0 * 2).epsilon(1e-9));
  CHECK(flight.best_delay == Approx(flight.burnout_speed / g0).epsilon(1e-9));
  CHECK(flight.apogee ==
        Approx(flight.burnout_height + flight.burnout_speed * flight.burnout_speed / (2 * g0))
            .epsilon(1e-9));
  CHECK(flight.liftoff_mass == Approx(2));
}

TEST_CASE("a vertical boost and coast against quadratic drag") {
  Airframe airframe = sled(1.88, 1e-9);
  airframe.drag = {{0, 0.5}};
  const double k = 0.5 * 1.225 * 0.5 * airframe.section();
  const Flight boost = fly(constant(200, 2, 0), airframe, even_air);
  const double terminal = std::sqrt((200 - 1.88 * g0) / k);
  expect("burnout speed against drag, m/s", closed_form, 182.4575, boost.burnout_speed,
         absolute(0.51e-4));
  expect("burnout height against drag, m", closed_form, 187.6827, boost.burnout_height,
         absolute(0.51e-4));
  CHECK(boost.burnout_speed == Approx(terminal * std::tanh(k * terminal * 2 / 1.88)).epsilon(1e-9));
  CHECK(boost.burnout_height ==
        Approx(1.88 / k * std::log(std::cosh(k * terminal * 2 / 1.88))).epsilon(1e-9));

  // The coast of a lighter rocket from that speed: all its mass but 1.76 kg leaves at burnout.
  Propulsion push = constant(200, 2, 0.12);
  push.time = {0, 2, 2 + 1e-12};
  push.thrust = {200, 200, 0};
  push.propellant = {0.12, 0.12, 0};
  push.flows_full = {0, 0, 0};
  airframe.mass = 1.76;
  const Flight coast = fly(push, airframe, even_air);
  const double v = coast.burnout_speed;
  const double climbed = 1.76 / (2 * k) * std::log(1 + k * v * v / (1.76 * g0));
  const double seconds = std::sqrt(1.76 / (k * g0)) * std::atan(v * std::sqrt(k / (1.76 * g0)));
  expect("height of the coast against drag, m", closed_form, 998.1304,
         coast.apogee - coast.burnout_height, absolute(0.51e-4));
  expect("time of the coast against drag, s", closed_form, 13.13329, coast.best_delay,
         absolute(0.51e-5));
  expect("apogee against drag, m", closed_form, 1185.813, coast.apogee, absolute(0.51e-3));
  CHECK(coast.apogee - coast.burnout_height == Approx(climbed).epsilon(1e-9));
  CHECK(coast.best_delay == Approx(seconds).epsilon(1e-9));
}

TEST_CASE("with elevation and no drag the coast is a parabola") {
  Airframe airframe = sled(2, 1);
  airframe.rail_elevation = std::numbers::pi / 3;
  // All thrust is spent on the rail.
  const Flight flight = fly(constant(6000, 0.02, 0), airframe, even_air);
  REQUIRE(flight.end == FlightEnd::apogee);
  const double push = 3000 - g0 * std::sin(airframe.rail_elevation);
  const double burned = push * 0.02;
  const double left = airframe.rail_length - burned * 0.02 / 2;
  const double v = std::sqrt(burned * burned - 2 * g0 * std::sin(airframe.rail_elevation) * left);
  CHECK(flight.rail_exit_speed == Approx(v).epsilon(1e-10));
  const double up = v * std::sin(airframe.rail_elevation);
  const double along = v * std::cos(airframe.rail_elevation);
  const double rail_top = airframe.rail_length * std::sin(airframe.rail_elevation);
  const double rail_end = airframe.rail_length * std::cos(airframe.rail_elevation);
  CHECK(flight.apogee == Approx(rail_top + up * up / (2 * g0)).epsilon(1e-10));
  CHECK(flight.apogee_downrange == Approx(rail_end + along * up / g0).epsilon(1e-10));
}

TEST_CASE("under thrust along the path a gravity turn keeps thrust's share of the speed") {
  // Without drag and with thrust n times the weight throughout, the speed and the angle from the
  // vertical keep v sin(angle) (tan(angle/2))^-n: closed form of the gravity turn.
  Airframe airframe = sled(2, 2);
  airframe.rail_elevation = std::numbers::pi / 180 * 80;
  const double n = 3;
  Propulsion push = constant(n * 2 * g0, 4, 0);
  const Flight flight = fly(push, airframe, even_air, {.tolerance = 1e-10, .spacing = 0.01});
  const Track& track = flight.track;
  const auto invariant = [&](std::size_t i) {
    // The angle, from neighbouring points of the track.
    const double angle = std::atan2(track.downrange[i + 1] - track.downrange[i - 1],
                                    track.height[i + 1] - track.height[i - 1]);
    return track.speed[i] * std::sin(angle) * std::pow(std::tan(angle / 2), -n);
  };
  std::size_t first = 0;
  while (track.time[first] < 0.5) ++first;
  const double kept = invariant(first);
  for (std::size_t i = first; track.time[i] < 3.9; i += 20) {
    INFO(track.time[i] << " s");
    CHECK(invariant(i) == Approx(kept).epsilon(2e-4));
  }
}

TEST_CASE("a rocket waits on its pad until thrust exceeds its weight") {
  Propulsion push = constant(0, 2, 0);
  push.thrust = {0, 4 * 2 * g0};
  push.time = {0, 2};
  const Flight flight = fly(push, sled(2, 0.5), even_air);
  // Thrust grows by two weights a second: equal to the weight at half a second.
  CHECK(flight.first_motion == Approx(0.5).epsilon(1e-12));
  CHECK(flight.thrust_to_weight == Approx(1).epsilon(1e-9));
  // From there v = g t^2 and s = g t^3 / 3.
  const double seconds = std::cbrt(3 * 0.5 / g0);
  CHECK(flight.rail_exit_time == Approx(0.5 + seconds).epsilon(1e-9));
  CHECK(flight.rail_exit_speed == Approx(g0 * seconds * seconds).epsilon(1e-9));
}

TEST_CASE("too little thrust never lifts, and too short a thrust stays on the rail") {
  const Flight heavy = fly(constant(1.9 * g0, 2, 0), sled(2, 1), even_air);
  CHECK(heavy.end == FlightEnd::never_lifts);
  CHECK(heavy.rail_exit_speed == 0);
  CHECK(heavy.apogee == 0);
  Propulsion brief = constant(4 * g0, 1, 0);
  brief.time = {0, 0.2, 0.2, 2};
  brief.thrust = {4 * g0, 4 * g0, 0, 0};
  brief.propellant = {0, 0, 0, 0};
  brief.flows_full = {0, 0, 0, 0};
  const Flight stuck = fly(brief, sled(2, 1), even_air);
  CHECK(stuck.end == FlightEnd::stays_on_rail);
  CHECK(stuck.rail_exit_speed == 0);
}

TEST_CASE("apogee before burnout is told, and leaves no delay") {
  Propulsion push = constant(5 * 2 * g0, 1, 0);
  push.time = {0, 0.5, 0.5, 30};
  push.thrust = {10 * g0, 10 * g0, 1, 1};
  push.propellant = {0, 0, 0, 0};
  push.flows_full = {0, 0, 0, 0};
  push.burnout = 30;
  const Flight flight = fly(push, sled(2, 1), even_air);
  CHECK(flight.end == FlightEnd::apogee);
  CHECK(flight.apogee_time < 30);
  CHECK(flight.best_delay == 0);
  REQUIRE(flight.remarks.size() == 1);
  CHECK_THAT(flight.remarks.front(), Catch::Contains("still burns"));
}

TEST_CASE("thinner air outside adds exit area times what is missing, while the nozzle flows full") {
  Propulsion push = constant(200, 2, 0);
  push.exit_area = 1e-4;
  push.ambient_pressure = 101325;
  const auto thin = [](double) { return Air{288, 61325, 0, 340}; };
  const double without = fly(push, sled(2, 1), thin).rail_exit_acceleration;
  push.flows_full = {1, 1};
  const double with = fly(push, sled(2, 1), thin).rail_exit_acceleration;
  CHECK(with - without == Approx(1e-4 * 40000 / 2).epsilon(1e-10));
}

TEST_CASE("the error of a flight falls with its tolerance, to the fifth order of the step") {
  Airframe airframe = sled(1.76, 0.5);
  airframe.drag = {{0, 0.5}, {0.3, 0.5}, {1, 0.7}};
  const Propulsion push = constant(200, 2, 0.24);
  const LocalAir air(0);
  const double exact = fly(push, airframe, air, {.tolerance = 1e-13, .spacing = 0.01}).apogee;
  double before = 1;
  for (double tolerance : {1e-3, 1e-5, 1e-7, 1e-9}) {
    const double apogee = fly(push, airframe, air, {.tolerance = tolerance, .spacing = 1e3}).apogee;
    const double error = std::abs(apogee / exact - 1);
    CHECK(error < 100 * tolerance);
    CHECK(error < before);
    before = error;
  }
  // Equal steps, short enough that the tolerance never rules.
  airframe.drag = {{0, 0.5}};
  const auto coarse = [&](double step) {
    return fly(push, airframe, air, {.tolerance = 1, .spacing = step}).burnout_height;
  };
  const double true_height = coarse(1e-3);
  const double ratio = (coarse(0.5) - true_height) / (coarse(0.25) - true_height);
  CHECK(std::log2(std::abs(ratio)) > 4);
}

TEST_CASE("a faulty airframe is refused, with every fault") {
  Airframe airframe = sled(0, -1);
  airframe.drag = {{0.5, 0.5}, {0.4, -1}};
  airframe.temperature = 1000;
  airframe.rail_elevation = 0.2;
  airframe.altitude = 1e6;
  airframe.hardware = -1;
  airframe.diameter = 0;
  try {
    (void)fly(constant(200, 2, 0), airframe, even_air);
    FAIL("accepted");
  } catch (const InputError& error) {
    CHECK(error.complaints().size() == 9);
  }
}
