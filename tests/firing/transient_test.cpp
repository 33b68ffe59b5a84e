// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/firing/transient.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "firing/motors.hpp"
#include "grainwright/firing/prepared_motor.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using checks::absolute;
using checks::closed_form;
using checks::expect;
using checks::relative;
using std::numbers::pi;

namespace {

// The curve at a time, by the parabola through the three nearest points.
double pressure_at(const Curve& curve, double time) {
  const auto after = std::ranges::lower_bound(curve.time, time);
  auto i = static_cast<std::size_t>(after - curve.time.begin());
  i = std::clamp<std::size_t>(i, 1, curve.time.size() - 2);
  double value = 0;
  for (std::size_t a = i - 1; a <= i + 1; ++a) {
    double weight = 1;
    for (std::size_t b = i - 1; b <= i + 1; ++b) {
      if (b != a) weight *= (time - curve.time[b]) / (curve.time[a] - curve.time[b]);
    }
    value += weight * curve.pressure[a];
  }
  return value;
}

double mass_error(const Firing& firing) {
  const TransientFigures& figures = *firing.transient;
  const double made = firing.summary.propellant_mass + figures.gas_at_lighting;
  return (figures.gas_out + figures.gas_left) / made - 1;
}

// Almost no grain beside the free volume, so that the volume stays put: a thin disc that burns at
// one end. Filling time 4.879434 ms.
Motor bottle() {
  Motor motor{.grain = {.layers = {{{.length = 1e-4,
                                     .outer_diameter = 0.04,
                                     .inhibited = {Face::outer, Face::head}},
                                    1}}},
              .propellant = motors::plain(0.4),
              .nozzle = motors::nozzle(0.012),
              .day = {.ambient_pressure = 0}};
  motor.propellant.characteristic_velocity = 900;
  motor.propellant.gamma = 1.13;
  motor.propellant.ideal_density = 1e7;  // so that what little burns makes gas enough
  return motor;
}

}  // namespace

TEST_CASE("filling follows its closed form") {
  Motor motor = bottle();
  // A rate such that 5 MPa balances: density r A = P At / c*.
  const double area = pi / 4 * 0.04 * 0.04;
  const double rate = 5e6 * motor.nozzle.throat_area() / 900 / (1e7 * area);
  motor.propellant.law = BurnLaw({{.rate = rate, .at = 5e6, .exponent = 0.4}});
  TransientOptions options;
  options.lighting = {.igniter_pressure = 0.5e6, .spare_volume = 2e-4};
  options.points = 20001;
  const Firing firing = fire_transient(motor, options);
  expect("filling time, ms", closed_form, 4.879434, firing.transient->filling_time * 1e3,
         relative(1e-7));
  // The gas that takes the place of what burned, and the volume that opens, are 1e-6 here.
  for (const auto& [ms, expected] :
       {std::pair{1., 0.819346}, {2., 1.151909}, {5., 2.105116}, {10., 3.312095}}) {
    expect("pressure after " + std::to_string(static_cast<int>(ms)) + " ms of filling, MPa",
           closed_form + ", Bernoulli's equation for r = a P^n", expected,
           pressure_at(firing.curve, ms * 1e-3) / 1e6, relative(6e-6));
  }
}

TEST_CASE("blow-down follows its closed forms") {
  Motor motor = bottle();
  TransientOptions options;
  const bool isothermal = GENERATE(true, false);
  // At burnout the volume is 2e-4 m3.
  options.lighting = {.igniter_pressure = 5e6,
                      .spare_volume = 2e-4 - 1e-4 * pi / 4 * 0.04 * 0.04,
                      .blow_down = isothermal ? BlowDown::isothermal : BlowDown::adiabatic};
  options.points = 2001;
  const Firing firing = fire_transient(motor, options);
  const Curve& curve = firing.curve;
  const double burnout = firing.summary.burn_time;
  const auto first = static_cast<std::size_t>(std::ranges::find(curve.burning_area, 0.0) -
                                              curve.burning_area.begin());
  const double pressure = curve.pressure[first];
  // Between points ln P goes straight.
  const auto after = static_cast<std::size_t>(std::ranges::lower_bound(curve.time, burnout + 5e-3) -
                                              curve.time.begin());
  const double share =
      (burnout + 5e-3 - curve.time[after - 1]) / (curve.time[after] - curve.time[after - 1]);
  const double tail = std::pow(curve.pressure[after - 1], 1 - share) *
                      std::pow(curve.pressure[after], share) / pressure;
  if (isothermal) {
    expect("pressure 5 ms after burnout / at burnout, isothermal", closed_form, .358901, tail,
           relative(2e-6));
  } else {
    expect("pressure 5 ms after burnout / at burnout, adiabatic", closed_form, .325957, tail,
           relative(1e-4));
  }
  // Points of the tail themselves, without interpolation.
  const double tau = 2e-4 / (motor.propellant.gas_heat() * motor.nozzle.throat_area() / 900);
  for (std::size_t i = first; i < curve.time.size(); ++i) {
    const double t = (curve.time[i] - burnout) / tau;
    const double k = 1.13;
    const double expected =
        isothermal ? std::exp(-t) : std::pow(1 + (k - 1) / 2 * t, -2 * k / (k - 1));
    REQUIRE(curve.pressure[i] / pressure == Approx(expected).epsilon(1e-6));
  }
}

TEST_CASE("the gas that stays behind takes from the outflow") {
  // An end burner of constant area, rate independent of pressure: outflow = (density - gas density)
  // r A once the pressure has settled.
  Motor motor = motors::end_burner(0.01);
  Segment& segment = motor.grain.layers.front().segment;
  segment.outer_diameter = 0.130;
  motor.propellant = {
      .name = "end burner",
      .ideal_density = 1530,
      .characteristic_velocity = characteristic_velocity(3600, 25.5e-3, motor.propellant.gamma),
      .gamma = 1.2,
      .expansion_gamma = 1.2,
      .law = BurnLaw({{.rate = 14.5e-3, .at = 8.5e6, .exponent = 0}})};
  const double made = 1530 * 14.5e-3 * pi / 4 * 0.13 * 0.13;
  const double gas_density = 8.5e6 / motor.propellant.gas_heat();
  expect("gas density at 8.5 MPa, kg/m3", closed_form, 7.2414, gas_density, relative(1e-5));
  const double out = made * (1 - gas_density / 1530);
  motor.nozzle =
      motors::nozzle(std::sqrt(out * motor.propellant.characteristic_velocity / 8.5e6 * 4 / pi));
  const Firing firing = fire_transient(motor);
  const double settled = firing.curve.pressure[firing.curve.pressure.size() / 2];
  const double flow =
      settled * motor.nozzle.throat_area() / motor.propellant.characteristic_velocity;
  const std::string source =
      "closed form, storage term of the mass balance; inputs as in an end "
      "burner of Fox & McDonald's kind";
  expect("gas made by the end burner, kg/s", source, .294467, made, relative(2e-6));
  expect("outflow of the end burner, kg/s", source, .293073, flow, relative(3e-6));
  expect("thrust of the end burner at 2400 m/s, N", source, 703.37, flow * 2400, absolute(0.006));
  expect("the same without the storage term, N", source, 706.72, made * 2400, absolute(0.006));
  expect("settled pressure of the end burner, MPa", source, 8.5, settled / 1e6, relative(1e-6));
}

TEST_CASE("a throat that does not choke passes what isentropic flow to ambient pressure does") {
  // An end burner whose rate does not depend on pressure, so dense that no gas counts as left
  // behind.
  Motor motor = motors::end_burner(0.01);
  const double pressure = 1.3 * motor.day.ambient_pressure;
  const double k = motor.propellant.gamma;
  const double back = 1 / 1.3;
  const double flow = pressure * motor.nozzle.throat_area() *
                      std::sqrt(2 * k / ((k - 1) * motor.propellant.gas_heat()) *
                                (std::pow(back, 2 / k) - std::pow(back, (k + 1) / k)));
  motor.propellant.ideal_density = 1e6;
  motor.propellant.law =
      BurnLaw({{.rate = flow / (1e6 * pi / 4 * 0.04 * 0.04), .at = 1e6, .exponent = 0}});
  const Firing firing = fire_transient(motor);
  expect("settled pressure of an unchoked motor / ambient pressure",
         "closed form; Sutton & Biblarz, RPE, equation 3-16 with continuity", 1.3,
         firing.curve.pressure[firing.curve.pressure.size() / 2] / motor.day.ambient_pressure,
         relative(1e-5));
}

TEST_CASE("mass burned is mass out and mass left") {
  Motor grown = motors::four_segments();
  grown.nozzle.throat_growth = 3e-4;
  Motor clogged = motors::four_segments();
  clogged.nozzle.throat_growth = -2e-4;
  Motor jumping = motors::four_segments();
  jumping.propellant = motors::five_pieces();
  for (const Motor& motor : {motors::four_segments(), motors::unlike(), motors::end_burner(3e-3),
                             motors::mono_core(1.8), grown, clogged, jumping}) {
    for (BlowDown kind : {BlowDown::isothermal, BlowDown::adiabatic}) {
      TransientOptions options;
      options.lighting.blow_down = kind;
      const Firing firing = fire_transient(motor, options);
      expect("mass out and left / mass burned and lit", "conservation of mass", 1,
             1 + mass_error(firing), checks::absolute(1e-8));
    }
  }
}

TEST_CASE("impulse and burn time of the curve are those of the summary") {
  for (const Motor& motor : {motors::four_segments(), motors::unlike()}) {
    TransientOptions options;
    options.points = 20001;
    const Firing firing = fire_transient(motor, options);
    CHECK(motors::under(firing.curve.time, firing.curve.thrust) ==
          Approx(firing.summary.total_impulse).epsilon(2e-6));
    const auto last_burning =
        std::ranges::find_if(firing.curve.burning_area, [](double area) { return area == 0; });
    const auto i = static_cast<std::size_t>(last_burning - firing.curve.burning_area.begin());
    CHECK(firing.curve.time[i] == firing.summary.burn_time);
    CHECK(firing.curve.pressure.back() < 1.002 * motor.day.ambient_pressure);
  }
}

TEST_CASE("a tighter tolerance brings the answer nearer") {
  const Motor motor = motors::unlike();
  const auto at = [&](double tolerance) {
    return fire_transient(motor, {.tolerance = tolerance}).summary;
  };
  const Summary exact = at(1e-12);
  double before = 1;
  for (double tolerance : {1e-4, 1e-6, 1e-8, 1e-10}) {
    const double error = std::abs(at(tolerance).burn_time / exact.burn_time - 1);
    CHECK(error < 10 * tolerance);
    CHECK(error < before);
    before = error;
  }
  const Summary usual = fire_transient(motor).summary;
  CHECK(usual.total_impulse == Approx(exact.total_impulse).epsilon(1e-7));
  CHECK(usual.peak_pressure == Approx(exact.peak_pressure).epsilon(5e-7));
}

TEST_CASE("without free volume the transient is the steady firing") {
  // Density up and rate down by one factor leave the steady pressure and stretch the burn, so the
  // filling time tends to nothing beside it.
  const auto difference = [](double factor) {
    Motor motor = motors::unlike();
    motor.propellant.ideal_density *= factor;
    motor.propellant.law = motor.propellant.law.times(1 / factor);
    const Summary steady = fire_steady(motor).summary;
    const Summary transient = fire_transient(motor).summary;
    return std::pair{transient.burn_time / steady.burn_time - 1,
                     transient.mean_pressure / steady.mean_pressure - 1};
  };
  const auto [time_1, pressure_1] = difference(10);
  const auto [time_2, pressure_2] = difference(100);
  CHECK(time_1 / time_2 == Approx(10).epsilon(0.05));
  CHECK(pressure_1 / pressure_2 == Approx(10).epsilon(0.05));
  CHECK(std::abs(time_2) < 1e-4);
}

TEST_CASE("a small end chamber settles at the steady pressure") {
  const Motor motor = motors::end_burner(3e-3);
  TransientOptions options;
  options.lighting.spare_volume = 1e-9;
  const Firing firing = fire_transient(motor, options);
  CHECK(*firing.transient->rise_end < 1e-3);
  CHECK(firing.summary.burn_time == Approx(fire_steady(motor).summary.burn_time).epsilon(2e-3));
}

TEST_CASE("a rise reads off the filling curve") {
  // n = 0: P = Peq + (P0 - Peq) exp(-t / tau), from P0 = 0.05 Peq in a constant volume.
  Motor motor = bottle();
  const double area = pi / 4 * 0.04 * 0.04;
  const double rate = 5e6 * motor.nozzle.throat_area() / 900 / (1e7 * area);
  motor.propellant.law = BurnLaw({{.rate = rate, .at = 5e6, .exponent = 0}});
  TransientOptions options;
  options.lighting.spare_volume = 2e-4;
  const Firing firing = fire_transient(motor, options);
  const TransientFigures& figures = *firing.transient;
  const double tau = figures.filling_time;
  CHECK(figures.igniter_pressure == Approx(igniter_share * 5e6));
  expect("rise from 10 to 90 % / filling time", closed_form, std::log(9), *figures.rise_time / tau,
         relative(1e-3));
  expect("delay to 90 % / filling time", closed_form, std::log(9.5), *figures.delay / tau,
         relative(1e-3));
  expect("end of the rise at 99 % / filling time", closed_form, std::log(95),
         *figures.rise_end / tau, relative(2e-3));
}

TEST_CASE("figures of the tail and the action") {
  const Firing firing = fire_transient(motors::four_segments());
  const TransientFigures& figures = *firing.transient;
  CHECK(figures.tail_off_time > 0);
  CHECK(figures.tail_off_time < 20 * figures.filling_time);
  CHECK(figures.action_time < firing.curve.time.back());
  CHECK(figures.action_time + *figures.delay > firing.summary.burn_time);
  TransientOptions adiabatic;
  adiabatic.lighting.blow_down = BlowDown::adiabatic;
  const Firing cooled = fire_transient(motors::four_segments(), adiabatic);
  CHECK(cooled.transient->tail_off_time < figures.tail_off_time);
  CHECK(cooled.summary.total_impulse < firing.summary.total_impulse);
}

TEST_CASE("free volume is ports, gaps and the entry") {
  const Motor motor = motors::four_segments();
  const double ports = 4 * 0.085 * pi / 4 * 0.02 * 0.02;
  const double gaps = 3 * 2e-3 * pi / 4 * 0.05 * 0.05;
  CHECK(free_volume(motor, {.spare_volume = 1e-5}) == Approx(ports + gaps + 1e-5));
  const double entry = pi / 3 * (0.025 - 0.007) * (0.025 * 0.025 + 0.025 * 0.007 + 0.007 * 0.007);
  CHECK(entry_volume(motor) == Approx(entry));
  CHECK(fire_transient(motor).transient->free_volume == Approx(ports + gaps + entry));
}

TEST_CASE("a throat that wears lowers the late pressure, one that clogs raises it") {
  Motor motor = motors::four_segments();
  const double mean = fire_transient(motor).summary.mean_pressure;
  motor.nozzle.throat_growth = 2e-4;
  const Firing worn = fire_transient(motor);
  CHECK(worn.summary.mean_pressure < 0.95 * mean);
  CHECK(worn.curve.kn.back() == 0);
  motor.nozzle.throat_growth = -2e-4;
  CHECK(fire_transient(motor).summary.mean_pressure > 1.05 * mean);
  motor.nozzle.throat_growth = -1e-2;
  CHECK_THROWS_WITH(fire_transient(motor), Catch::Contains("throat_growth"));
}

TEST_CASE("a warm grain burns faster, by the sensitivity of pressure at one Kn") {
  for (const auto& [exponent, expected] : {std::pair{0.3, 1.058807}, {0.5, 1.083287}}) {
    Motor motor = motors::end_burner(3e-3);
    motor.propellant.temperature_sensitivity = 0.002;
    motor.propellant.law = BurnLaw({{.rate = 3e-3, .at = 1e6, .exponent = exponent}});
    // Dense enough that the gas left behind does not count.
    motor.propellant.ideal_density = 1e6;
    motor.propellant.law = motor.propellant.law.times(1e-3);
    const double cold = fire_transient(motor).summary.peak_pressure;
    motor.day.temperature += 20;
    expect("pressure 20 K warmer / at the law's temperature, sigma_p 0.002 1/K, n " +
               std::to_string(exponent).substr(0, 3),
           "closed form, exp(sigma_p dT / (1 - n))", expected,
           fire_transient(motor).summary.peak_pressure / cold, relative(3e-5));
  }
}

TEST_CASE("a lighting that cannot be is refused with its key") {
  const Motor motor = motors::four_segments();
  const auto fire = [&](Lighting lighting) {
    return fire_transient(motor, {.lighting = lighting});
  };
  CHECK_THROWS_WITH(fire({.igniter_pressure = 5e4}), Catch::Contains("igniter_pressure"));
  CHECK_THROWS_WITH(fire({.spare_volume = -1}), Catch::Contains("spare_volume"));
  Motor solid = motors::end_burner(3e-3);
  CHECK_THROWS_WITH(fire_transient(solid, {.lighting = {.spare_volume = 0}}),
                    Catch::Contains("spare_volume"));
  solid.day.temperature = 200;
  CHECK_THROWS_WITH(fire_transient(solid), Catch::Contains("temperature"));
}

TEST_CASE("a pressure that sits on a joint of the law is followed, not lost") {
  // The rate falls by a twentieth at 2 MPa; the load wants a pressure that neither piece has.
  Motor motor = motors::end_burner(3e-3);
  motor.propellant.law = BurnLaw({{.rate = 4e-3, .at = 1e6, .exponent = 0.2, .to = 2e6},
                                  {.rate = 3.8e-3, .at = 1e6, .exponent = 0.2, .from = 2e6}});
  const double load = 2e6 / (motor.propellant.law.rate(2e6) * 0.975);
  const double area = pi / 4 * 0.04 * 0.04;
  motor.nozzle = motors::nozzle(std::sqrt(1770 * 1500 * area / load * 4 / pi));
  const Firing firing = fire_transient(motor);
  CHECK(firing.summary.peak_pressure == Approx(2e6).epsilon(0.01));
  CHECK(firing.curve.time.size() < 6000);
}
