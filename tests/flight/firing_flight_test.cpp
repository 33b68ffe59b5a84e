// SPDX-License-Identifier: GPL-3.0-or-later
//
// Flights of whole firings: the curve against the web, and what must hold for any of them.
#include <rapidcheck.h>

#include <catch2/catch.hpp>
#include <cmath>

#include "firing/example_motor.hpp"
#include "firing/motors.hpp"
#include "flights.hpp"
#include "grainwright/firing/prepared_motor.hpp"
#include "grainwright/firing/transient.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using flights::heron;

namespace {

/// An airframe and a motor that may be anything within reason.
struct Rocket {
  Motor motor = example::whole_motor();
  Airframe airframe = heron();
};

double between(double low, double high) {
  return low + (high - low) * *rc::gen::inRange(0, 1001) / 1000.0;
}

Rocket any_rocket() {
  Rocket rocket;
  rocket.motor = *rc::gen::element(motors::four_segments(), motors::unlike(), motors::mono_core(2),
                                   example::whole_motor());
  rocket.airframe.mass = between(0.5, 12);
  rocket.airframe.diameter = between(0.05, 0.2);
  rocket.airframe.rail_length = between(0.5, 6);
  rocket.airframe.rail_elevation = between(1.2, 1.57);
  rocket.airframe.altitude = between(0, 2500);
  return rocket;
}

double quick_speed(const Rocket& rocket) {
  const Burnback burnback(rocket.motor.grain);
  const SteadyChamber chamber(rocket.motor.propellant, rocket.motor.nozzle, rocket.motor.day);
  const double propellant = chamber.density() * burnback.propellant_volume(0);
  return rail_exit_speed(burnback.stretches(), chamber, propellant, rocket.airframe);
}

double quick_apogee(const Rocket& rocket) {
  const Burnback burnback(rocket.motor.grain);
  const SteadyChamber chamber(rocket.motor.propellant, rocket.motor.nozzle, rocket.motor.day);
  const double propellant = chamber.density() * burnback.propellant_volume(0);
  return apogee(burnback.stretches(), chamber, propellant, rocket.airframe);
}

}  // namespace

TEST_CASE("the figures that a search asks are those of the whole flight") {
  CHECK(rc::check("rail speed to 1e-7, apogee to 1e-6", [] {
    const Rocket rocket = any_rocket();
    const Flight flight = fly_steady(rocket.motor, rocket.airframe);
    RC_ASSERT(std::abs(quick_speed(rocket) - flight.rail_exit_speed) <=
              1e-7 * flight.rail_exit_speed);
    RC_ASSERT(std::abs(quick_apogee(rocket) - flight.apogee) <= 1e-6 * flight.apogee);
  }));
}

TEST_CASE("a steady firing flies alike through its curve and through its web") {
  for (const Motor& motor : {motors::four_segments(), motors::unlike(), motors::mono_core(2)}) {
    const Flight exact = fly_steady(motor, heron());
    double before = 1;
    for (int points : {101, 401, 1601}) {
      const Flight flight = fly(fire_steady(motor, {.points = points}), motor, heron());
      const double error = std::abs(flight.apogee / exact.apogee - 1);
      CHECK(error < 4.0 / (points * points));
      CHECK(error < before);
      CHECK(std::abs(flight.rail_exit_speed / exact.rail_exit_speed - 1) <
            40.0 / (points * points));
      before = error;
    }
  }
}

TEST_CASE("a firing with its rise leaves the rail a little later, and little slower") {
  const Motor motor = motors::four_segments();
  const Flight steady = fly_steady(motor, heron());
  const Firing firing = fire_transient(motor);
  const Flight flight = fly(firing, motor, heron());
  CHECK(flight.rail_exit_time > steady.rail_exit_time);
  CHECK(flight.rail_exit_speed < steady.rail_exit_speed);
  CHECK(flight.rail_exit_speed > 0.97 * steady.rail_exit_speed);
  CHECK(flight.first_motion > 0);
  CHECK(flight.burnout_time == Approx(firing.summary.burn_time).epsilon(1e-12));
  CHECK(flight.liftoff_mass == Approx(5 + firing.summary.propellant_mass).epsilon(1e-12));
  CHECK(flight.track.mass.back() == Approx(5).epsilon(1e-9));
}

TEST_CASE("the ideal speed of a rocket without air or weight to speak of") {
  // Thrust in the vacuum over the mass flow is the exhaust velocity; gravity's loss is g t.
  Motor motor = example::whole_motor();
  motor.day.ambient_pressure = 0;
  Airframe airframe = heron();
  airframe.drag = {{0, 0}};
  airframe.altitude = 30000;
  const Flight flight = fly_steady(motor, airframe);
  const Firing firing = fire_steady(motor);
  const double exhaust = firing.summary.total_impulse / firing.summary.propellant_mass;
  const double ideal =
      exhaust * std::log(flight.liftoff_mass / 5) - standard_gravity * firing.summary.burn_time;
  // What is left of the air's pressure at 30 km takes its part of the thrust.
  const double lost = air_at(30000).pressure * 0.014 * 0.014 * 6 * std::numbers::pi / 4 *
                      firing.summary.burn_time / 5.5;
  CHECK(flight.burnout_speed < ideal);
  CHECK(flight.burnout_speed > ideal - 1.2 * lost);
}

TEST_CASE("what holds for any rocket") {
  CHECK(rc::check("a heavier airframe leaves the rail slower and flies less high", [] {
    Rocket rocket = any_rocket();
    const Flight light = fly_steady(rocket.motor, rocket.airframe);
    rocket.airframe.mass *= between(1.05, 2);
    const Flight heavy = fly_steady(rocket.motor, rocket.airframe);
    RC_PRE(light.end == FlightEnd::apogee);
    RC_ASSERT(heavy.rail_exit_speed < light.rail_exit_speed);
    RC_ASSERT(heavy.thrust_to_weight < light.thrust_to_weight);
  }));
  CHECK(rc::check("a longer rail is left faster", [] {
    Rocket rocket = any_rocket();
    const double before = quick_speed(rocket);
    rocket.airframe.rail_length *= between(1.05, 2);
    RC_PRE(before > 0);
    RC_ASSERT(quick_speed(rocket) > before);
  }));
  CHECK(rc::check("more drag means less height", [] {
    Rocket rocket = any_rocket();
    const Flight slick = fly_steady(rocket.motor, rocket.airframe);
    RC_PRE(slick.end == FlightEnd::apogee);
    for (DragPoint& point : rocket.airframe.drag) point.coefficient *= between(1.1, 3);
    const Flight draggy = fly_steady(rocket.motor, rocket.airframe);
    RC_ASSERT(draggy.apogee < slick.apogee);
    RC_ASSERT(draggy.peak_speed < slick.peak_speed);
  }));
  CHECK(rc::check("the track is in order and its figures are its own", [] {
    const Rocket rocket = any_rocket();
    const Flight flight = fly_steady(rocket.motor, rocket.airframe);
    RC_PRE(flight.end == FlightEnd::apogee);
    const Track& track = flight.track;
    for (std::size_t i = 1; i < track.time.size(); ++i) {
      RC_ASSERT(track.time[i] >= track.time[i - 1]);
      RC_ASSERT(track.time[i] - track.time[i - 1] < 0.06);
      RC_ASSERT(track.height[i] >= track.height[i - 1]);
      RC_ASSERT(track.mass[i] <= track.mass[i - 1] * (1 + 1e-12));
    }
    RC_ASSERT(track.height.back() == flight.apogee);
    RC_ASSERT(track.time.back() == flight.apogee_time);
    RC_ASSERT(flight.least_thrust_to_weight <= flight.thrust_to_weight);
    RC_ASSERT(flight.least_thrust_to_weight <= flight.exit_thrust_to_weight);
    RC_ASSERT(flight.rail_exit_time < flight.apogee_time);
  }));
  CHECK(rc::check("without drag energy is kept after burnout", [] {
    Rocket rocket = any_rocket();
    rocket.airframe.drag = {{0, 0}};
    rocket.airframe.rail_elevation = std::numbers::pi / 2;
    const Flight flight = fly_steady(rocket.motor, rocket.airframe);
    RC_PRE(flight.end == FlightEnd::apogee && flight.burnout_time > 0);
    const double climbed = flight.burnout_speed * flight.burnout_speed / (2 * standard_gravity);
    RC_ASSERT(std::abs(flight.burnout_height + climbed - flight.apogee) <= 1e-8 * flight.apogee);
  }));
}

TEST_CASE("one drag coefficient near the speed of sound deserves a remark") {
  Airframe airframe = heron();
  airframe.mass = 0.2;
  airframe.hardware = 0.5;
  airframe.diameter = 0.055;
  CHECK(fly_steady(example::whole_motor(), airframe).remarks.empty());
  airframe.drag = {{0, 0.5}};
  const Flight flight = fly_steady(example::whole_motor(), airframe);
  CHECK(flight.peak_mach > 0.8);
  REQUIRE(flight.remarks.size() == 1);
  CHECK_THAT(flight.remarks.front(), Catch::Contains("table over Mach"));
}
