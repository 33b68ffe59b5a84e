// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/stand/figures.hpp"

#include <catch2/catch.hpp>
#include <numbers>

#include "stand/synthetic.hpp"
#include "support/checks.hpp"

namespace gw = grainwright;

namespace {

template <class Shape>
gw::Trace trace_of_shape(Shape&& shape, double to, double step) {
  gw::Trace trace;
  const gw::Log log = synthetic::log_of_shape(shape, 0, to, step);
  trace.time = log.time;
  trace.thrust = log.force;
  trace.end = to;
  trace.step = step;
  return trace;
}

double trapezoid(double t) {
  return std::clamp(std::min(t / 0.1, (2 - t) / 0.1), 0.0, 1.0) * 100;
}
double half_sine(double t) {
  return 100 * std::sin(std::numbers::pi * t / 2);
}

}  // namespace

TEST_CASE("Times, impulses and averages of a trapezoid") {
  const gw::StandFigures f = gw::figures_of(trace_of_shape(trapezoid, 2, 0.01));
  const auto expect = [](const char* what, double expected, double got) {
    checks::expect(std::string("trapezoid of 100 N over 2 s: ") + what, checks::closed_form,
                   expected, got, checks::relative(1e-12));
  };
  expect("total impulse, N s", 190, f.total_impulse.value);
  expect("10 % action time, s", 1.98, f.action_10.length());
  expect("5 % action time, s", 1.99, f.action_5.length());
  expect("impulse within 10 %, N s", 189.9, f.action_impulse_10.value);
  expect("impulse within 5 %, N s", 189.975, f.action_impulse_5.value);
  expect("total impulse / 10 % action time, N", 190 / 1.98,
         f.total_impulse.value / f.action_10.length());
  checks::expect("letter class of 190 N s", checks::from_memory("NFPA 1125"), "H", f.letter_class);
  expect("share of class H", 30.0 / 160, f.share_of_class);
}

TEST_CASE("Times and impulse of a half sine") {
  const gw::StandFigures f = gw::figures_of(trace_of_shape(half_sine, 2, 1e-4));
  const double tenth = 2 - 4 / std::numbers::pi * std::asin(0.1);
  const double twentieth = 2 - 4 / std::numbers::pi * std::asin(0.05);
  checks::expect("half sine over 2 s: 10 % action time, s", checks::closed_form, tenth,
                 f.action_10.length(), checks::relative(1e-7));
  checks::expect("half sine over 2 s: 5 % action time, s", checks::closed_form, twentieth,
                 f.action_5.length(), checks::relative(1e-7));
  for (const int steps : {20, 200}) {
    const double h = 2.0 / steps;
    const gw::Trace trace = trace_of_shape(half_sine, 2, h);
    // Trapezoidal rule of a half sine: 100 h cot(pi h / 4).
    checks::expect("half sine: trapezoidal rule in " + std::to_string(steps) + " steps, N s",
                   checks::closed_form, 100 * h / std::tan(std::numbers::pi * h / 4),
                   gw::integral(trace.time, trace.thrust, 0, 2), checks::relative(1e-12));
  }
}

TEST_CASE("The trapezoidal rule, even and uneven") {
  const double expected[] = {1.7539310925, 1.7272219046, 1.7205185922, 1.7188411286};
  int n = 2;
  for (const double value : expected) {
    std::vector<double> t, y;
    for (int i = 0; i <= n; ++i) {
      t.push_back(static_cast<double>(i) / n);
      y.push_back(std::exp(t.back()));
    }
    checks::expect("integral of exp over [0, 1] in " + std::to_string(n) + " trapezoids",
                   checks::closed_form, value, gw::integral(t, y, 0, 1), checks::absolute(6e-11));
    n *= 2;
  }
  const std::vector<double> t = {0, .1, .25, .3, .6, 1}, f = {0, 4, 10, 9, 8, 0};
  checks::expect("integral of uneven rows", checks::closed_form, 5.875, gw::integral(t, f, 0, 1),
                 checks::relative(1e-14));
  CHECK(gw::integral(t, f, 0.05, 0.7) ==
        Approx(gw::integral(t, f, 0.05, 0.2) + gw::integral(t, f, 0.2, 0.7)));
}

TEST_CASE("The aft tangent bisector meets the rounded corner where geometry says") {
  // Level 1, then slope -10 in axes u = t / 2 s; the corner at u = 0.95 rounded by a parabola.
  const auto shape = [](double t) {
    const double u = t / 2;
    if (u < 0.93) return 1.0;
    if (u < 0.97) return 1 - 10 * (u - 0.93) * (u - 0.93) / (2 * 0.04);
    return std::max(0.0, 1 - 10 * (u - 0.95));
  };
  const gw::Trace trace = trace_of_shape(shape, 2.1, 1e-4);
  const auto bisector = gw::aft_tangent_bisector(trace.time, trace.thrust, 2, 1);
  REQUIRE(bisector);
  checks::expect("bisector of a rounded corner, s", checks::closed_form, 1.879184, *bisector,
                 checks::absolute(1e-5));
  checks::expect("curve at the bisector, of the level", checks::closed_form, 0.988499,
                 shape(*bisector), checks::absolute(1e-5));
}

TEST_CASE("No bisector where nothing falls, and one on a regressive burn") {
  const gw::Trace flat = trace_of_shape([](double) { return 1.0; }, 2, 0.01);
  CHECK_FALSE(gw::aft_tangent_bisector(flat.time, flat.thrust, 2, 1));
  const auto regressive = [](double t) {
    return t < 1.9 ? 1 - 0.3 * t : std::max(0.0, 0.43 * (2 - t) / 0.1);
  };
  const gw::Trace trace = trace_of_shape(regressive, 2, 0.001);
  CHECK(gw::aft_tangent_bisector(trace.time, trace.thrust, 2, 1).value() ==
        Approx(1.9).margin(0.002));
}

TEST_CASE("A suspect scale widens everything that it weighs") {
  const gw::Trace trace = trace_of_shape(trapezoid, 2, 0.01);
  const gw::StandFigures f = gw::figures_of(trace, {.scale_error = 0.1, .propellant_mass = 0.1});
  for (const gw::WithError& figure :
       {f.total_impulse, f.action_impulse_10, f.peak_thrust, f.mean_thrust, *f.specific_impulse}) {
    CHECK(figure.error == Approx(0.1 * figure.value));
  }
  checks::expect("specific impulse of 190 N s from 0.1 kg, s", checks::closed_form, 1900 / 9.80665,
                 f.specific_impulse->value, checks::relative(1e-12));
}

TEST_CASE("Delivered c* is that of the motor whose pressure was logged") {
  const gw::Motor motor = synthetic::motor();
  const gw::Trace trace = gw::cleaned(synthetic::log_of(motor, {.rate = 5000, .pressure = true}));
  const double mass = motor.grain.propellant_volume() * motor.propellant.density();
  const gw::StandFigures f =
      gw::figures_of(trace, {.propellant_mass = mass, .throat_area = motor.nozzle.throat_area()});
  // What the tail below a tenth holds is left out.
  checks::expect("c* from a pressure log, m/s", "its own firing, invented", 900,
                 f.characteristic_velocity->value, checks::relative(0.01));
}

TEST_CASE("Figures of a log converge on those of its firing as rows get denser") {
  const gw::Firing truth = gw::fire_transient(synthetic::motor());
  double before = 1;
  for (const double rate : {500.0, 2000.0, 8000.0}) {
    const gw::Trace trace = gw::cleaned(synthetic::log_of(synthetic::motor(), {.rate = rate}));
    const double impulse = gw::figures_of(trace).total_impulse.value;
    const double off = std::abs(impulse / truth.summary.total_impulse - 1);
    CHECK(off < before);
    before = off;
  }
  CHECK(before < 2e-4);
}
