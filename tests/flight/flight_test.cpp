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
