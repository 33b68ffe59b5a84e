// SPDX-License-Identifier: GPL-3.0-or-later
//
// A factor over the web in all models: closed forms, and the models against each other.
#include <catch2/catch.hpp>
#include <cmath>

#include "grainwright/firing/axial.hpp"
#include "grainwright/firing/steady.hpp"
#include "grainwright/firing/transient.hpp"
#include "stand/synthetic.hpp"
#include "support/checks.hpp"

namespace gw = grainwright;

namespace {

gw::Motor motor_with(double exponent, std::optional<gw::WebFactor> factor) {
  gw::Motor motor = synthetic::even_motor();
  motor.propellant = invented::propellant(exponent);
  motor.propellant.web_factor = factor;
  return motor;
}

}  // namespace

TEST_CASE("With a rate of no pressure the burn lasts as the factor says, in every model") {
  // n = 0: dx = f(x) a dt, so the burn takes web / a times the mean of 1 / f: artanh(d) / d.
  const double d = 0.15;
  const gw::Motor motor = motor_with(0, gw::WebFactor{1 + d, 1, 1 - d});
  const double web = 12e-3;
  const double plain = web / motor.propellant.law.rate(2e6);
  const double truth = plain * std::atanh(d) / d;
  const double tight = 1e-6;
  checks::expect("burn time with a factor over the web, steady, s", checks::closed_form, truth,
                 gw::fire_steady(motor).summary.burn_time, checks::relative(tight));
  checks::expect("burn time with a factor over the web, transient, s", checks::closed_form, truth,
                 gw::fire_transient(motor).summary.burn_time, checks::relative(tight));
  checks::expect("burn time with a factor over the web, axial, s", checks::closed_form, truth,
                 gw::fire_axial(motor).summary.burn_time, checks::relative(1e-3));
}

TEST_CASE("The steady pressure is that of the area times the factor") {
  const gw::WebFactor factor{1.1, 1, 0.9};
  const gw::Motor motor = motor_with(0.3, factor);
  const gw::Firing firing = gw::fire_steady(motor);
  const gw::Curve& curve = firing.curve;
  const double throat = motor.nozzle.throat_area();
  for (std::size_t i = 0; i < curve.web.size(); i += 20) {
    // P = (density c* f a Kn)^(1 / (1 - n)), the law's rate a P^n.
    const double a = motor.propellant.law.rate(1);
    const double load = motor.propellant.density() * motor.propellant.characteristic_velocity * a *
                        factor(curve.web[i] / curve.web.back()) * curve.burning_area[i] / throat;
    checks::expect("steady pressure with a factor over the web, Pa", checks::closed_form,
                   std::pow(load, 1 / 0.7), curve.pressure[i], checks::relative(1e-9));
  }
}

TEST_CASE("A factor burns the same propellant: impulse over the pressure's integral is kept") {
  // The integral of P dt is density c* volume / throat area while it burns steadily.
  const gw::Motor motor = motor_with(0.3, gw::WebFactor{0.9, 1.05, 0.95});
  const gw::Summary summary = gw::fire_steady(motor).summary;
  const double volume = motor.grain.propellant_volume();
  checks::expect("mean pressure times burn time with a factor over the web, Pa s",
                 checks::closed_form,
                 motor.propellant.density() * motor.propellant.characteristic_velocity * volume /
                     motor.nozzle.throat_area(),
                 summary.mean_pressure * summary.burn_time, checks::relative(1e-9));
  // The transient chamber lags behind the steady one, and no more.
  CHECK(gw::fire_transient(motor).summary.peak_pressure ==
        Approx(summary.peak_pressure).epsilon(0.01));
  CHECK(gw::fire_transient(motor).summary.burn_time == Approx(summary.burn_time).epsilon(0.02));
}
