// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/scatter/scatter.hpp"

#include <boost/math/special_functions/erf.hpp>
#include <catch2/catch.hpp>
#include <cmath>

#include "grainwright/firing/prepared_motor.hpp"
#include "grainwright/grain/core.hpp"
#include "grainwright/scatter/points.hpp"
#include "motors.hpp"
#include "support/checks.hpp"

namespace gw = grainwright;
using motors::exact;
using motors::mm;
using motors::mpa;
using motors::normal;

namespace {

double part_over(double sigmas) {
  return std::erfc(sigmas / std::sqrt(2.0)) / 2;
}

double z_of(double part) {
  return -std::sqrt(2.0) * boost::math::erfc_inv(2 * part);
}

const gw::InputShare& share_of(const gw::ScatterResult& result, const std::string& key) {
  const auto found = std::ranges::find(result.shares, "tolerance." + key, &gw::InputShare::key);
  REQUIRE(found != result.shares.end());
  return *found;
}

/// The motor with one number changed, fired for good.
template <class Change>
gw::Summary fired(Change change) {
  gw::Motor motor = motors::motor();
  change(motor);
  return gw::fire_steady(motor).summary;
}

/// Percentiles of a scatter in which this alone strays.
gw::ScatterResult scattered(gw::Spread gw::Tolerances::*what, const gw::Spread& spread,
                            const gw::Motor& motor = motors::motor()) {
  gw::Tolerances tolerances = exact();
  tolerances.*what = spread;
  return gw::scatter({.motor = motor, .tolerances = tolerances}, {.samples = 65536, .threads = 1});
}

}  // namespace

TEST_CASE("Only the burn rate strays: peak pressure is lognormal with sigma / (1 - n)") {
  constexpr double sigma = 0.05;
  const double peak = fired([](gw::Motor&) {}).peak_pressure;
  const double spread = sigma / (1 - motors::exponent);
  gw::Tolerances tolerances = exact();
  tolerances.burn_rate = normal(sigma);
  const double ceiling = 1.2 * peak;
  const auto result = gw::scatter(
      {.motor = motors::motor(), .tolerances = tolerances, .ceiling = ceiling}, {.threads = 1});
  checks::expect("5 % of peak pressure / median, sigma of ln rate 0.05, n 0.32",
                 checks::closed_form, 0.8860826, result.peak_pressure.p5.value / peak,
                 checks::relative(2e-4));
  checks::expect("95 % of peak pressure / median, the same", checks::closed_form, 1.1285630,
                 result.peak_pressure.p95.value / peak, checks::relative(2e-4));
  checks::expect("median of peak pressure / as drawn", checks::closed_form, 1,
                 result.peak_pressure.p50.value / peak, checks::relative(1e-4));
  checks::expect("mean of peak pressure / median, the same", checks::closed_form, 1.0027069,
                 result.mean_pressure.value / peak, checks::relative(1e-5));
  checks::expect("sigma of peak pressure / mean, the same", checks::closed_form, 0.0736289,
                 result.sigma_pressure.value / result.mean_pressure.value, checks::relative(1e-3));
  checks::expect("chance of peak pressure over 6/5 of its median, the same", checks::closed_form,
                 0.0065770, result.over_ceiling->value, checks::relative(2e-4));
  CHECK(gw::log_pressure_sigma(motors::motor(), tolerances) == Approx(spread).epsilon(1e-3));
}

TEST_CASE("Burn rate, density, c* and throat together: shares of the variance") {
  gw::Tolerances tolerances = exact();
  tolerances.burn_rate = normal(0.05);
  tolerances.density = normal(0.01);
  tolerances.characteristic_velocity = normal(0.02);
  tolerances.throat = normal(0.01);
  const auto result = gw::scatter({.motor = motors::motor(), .tolerances = tolerances});
  const double peak = fired([](gw::Motor&) {}).peak_pressure;
  constexpr double sigma = 0.0857493;
  checks::expect("sigma of ln peak pressure, four inputs", checks::closed_form, sigma,
                 gw::log_pressure_sigma(motors::motor(), tolerances), checks::relative(1e-3));
  checks::expect("95 % of peak pressure / median, four inputs", checks::closed_form,
                 std::exp(z_of(0.95) * sigma), result.peak_pressure.p95.value / peak,
                 checks::relative(1e-3));
  // A product of independent lognormals of log variance s, S in all: first order
  // (e^s - 1)/(e^S - 1), total (e^S - e^(S-s))/(e^S - 1).
  const double all = sigma * sigma;
  const std::pair<const char*, double> shares[] = {{"burn_rate", 0.735294},
                                                   {"density", 0.029412},
                                                   {"characteristic_velocity", 0.117647},
                                                   {"throat", 0.117647}};
  for (const auto& [key, share] : shares) {
    const double own = share * all;
    const auto& found = share_of(result, key);
    checks::expect(std::string("first-order index of ") + key, checks::closed_form,
                   std::expm1(own) / std::expm1(all), found.alone.value, checks::absolute(6e-3));
    checks::expect(std::string("total index of ") + key, checks::closed_form,
                   (std::exp(all) - std::exp(all - own)) / std::expm1(all), found.total.value,
                   checks::absolute(6e-3));
    CHECK(std::abs(found.alone.value - share) < 4 * found.alone.error + 4e-3);
  }
  CHECK(result.shares.front().key == "tolerance.burn_rate");
}

TEST_CASE("Percentiles of each figure are those of the motor that strays so far") {
  struct Case {
    const char* name;
    gw::Spread gw::Tolerances::*what;
    gw::Spread spread;
    void (*stray)(gw::Motor&, double);
  };
  using gw::Distribution;
  const auto within = [](double limit) {
    return gw::Spread::within(Distribution::uniform, limit, false);
  };
  const Case cases[] = {
      {"burn rate", &gw::Tolerances::burn_rate, normal(0.05),
       [](gw::Motor& m, double x) { m.propellant.law = m.propellant.law.times(std::exp(x)); }},
      {"density", &gw::Tolerances::density, normal(0.01),
       [](gw::Motor& m, double x) { m.propellant.ideal_density *= std::exp(x); }},
      {"c*", &gw::Tolerances::characteristic_velocity, normal(0.02),
       [](gw::Motor& m, double x) { m.propellant.characteristic_velocity *= std::exp(x); }},
      {"efficiency", &gw::Tolerances::nozzle_efficiency, normal(0.02),
       [](gw::Motor& m, double x) { m.nozzle.efficiency *= std::exp(x); }},
      {"throat", &gw::Tolerances::throat, within(0.2 * mm),
       [](gw::Motor& m, double x) { m.nozzle.throat_diameter += x; }},
      {"core", &gw::Tolerances::core, within(0.3 * mm),
       [](gw::Motor& m, double x) { m.grain.layers[0].segment.core_diameter += x; }},
      {"temperature", &gw::Tolerances::temperature,
       gw::Spread::within(Distribution::triangular, 8, false),
       [](gw::Motor& m, double x) { m.day.temperature += x; }},
      {"length", &gw::Tolerances::length, within(0.9 * mm),
       [](gw::Motor& m, double x) { m.grain.layers[0].segment.length += x / std::sqrt(3.0); }},
  };
  for (double ambient : {0.0, gw::standard_atmosphere}) {
    gw::Motor motor = motors::motor();
    motor.day.ambient_pressure = ambient;
    for (const Case& one : cases) {
      INFO(one.name << " at ambient " << ambient);
      const auto result = scattered(one.what, one.spread, motor);
      const auto at = [&](double part) {
        gw::Motor strayed = motor;
        one.stray(strayed, one.spread.departure(part));
        return gw::fire_steady(strayed).summary;
      };
      const gw::Summary low = at(0.05);
      const gw::Summary high = at(0.95);
      const auto agree = [](const gw::Percentiles& got, double one_end, double other_end) {
        CHECK(got.p5.value == Approx(std::min(one_end, other_end)).epsilon(3e-4));
        CHECK(got.p95.value == Approx(std::max(one_end, other_end)).epsilon(3e-4));
      };
      agree(result.peak_pressure, low.peak_pressure, high.peak_pressure);
      agree(result.peak_thrust, low.peak_thrust, high.peak_thrust);
      agree(result.total_impulse, low.total_impulse, high.total_impulse);
      agree(result.burn_time, low.burn_time, high.burn_time);
    }
  }
}

TEST_CASE("A core off centre burns as the exact one does") {
  const gw::Spread offset = gw::Spread::within(gw::Distribution::uniform, 3 * mm, false);
  for (int bare_ends : {2, 0}) {
    gw::Motor motor = motors::motor();
    gw::Segment& segment = motor.grain.layers[0].segment;
    if (bare_ends == 0) segment.inhibited = {gw::Face::outer, gw::Face::head, gw::Face::nozzle};
    const auto result = scattered(&gw::Tolerances::core_offset, offset, motor);
    const auto at = [&](double part) {
      gw::Motor strayed = motor;
      strayed.grain.layers[0].segment = gw::with_core(
          segment,
          {gw::OffCentreCore{.diameter = segment.core_diameter, .offset = part * offset.limit()}});
      return gw::fire_steady(strayed).summary;
    };
    // The offset is the departure's size: a part of its limits, evenly.
    CHECK(result.burn_time.p5.value == Approx(at(0.05).burn_time).epsilon(3e-4));
    CHECK(result.burn_time.p95.value == Approx(at(0.95).burn_time).epsilon(3e-4));
    CHECK(result.total_impulse.p50.value == Approx(at(0.5).total_impulse).epsilon(1e-5));
    CHECK(result.peak_pressure.p95.value <= at(0).peak_pressure * (1 + 1e-9));
  }
}

TEST_CASE("A core of another shape is fired as it is, the rest of its motor strays") {
  gw::Motor motor = motors::motor();
  gw::Segment& segment = motor.grain.layers[0].segment;
  segment = gw::with_core(segment, {gw::OffCentreCore{.diameter = 12 * mm, .offset = 2 * mm}});
  const gw::Summary summary = gw::fire_steady(motor).summary;
  const auto result = scattered(&gw::Tolerances::burn_rate, normal(0.05), motor);
  CHECK(result.as_drawn.total_impulse == Approx(summary.total_impulse).epsilon(1e-6));
  CHECK(result.as_drawn.burn_time == Approx(summary.burn_time).epsilon(1e-6));
  CHECK(result.peak_pressure.p95.value / result.as_drawn.peak_pressure ==
        Approx(1.1285630).epsilon(1e-3));
}

TEST_CASE("As drawn is the steady firing") {
  for (double ambient : {0.0, gw::standard_atmosphere, 20 * gw::standard_atmosphere}) {
    gw::Motor motor = motors::motor();
    motor.day.ambient_pressure = ambient;
    const gw::Summary summary = gw::fire_steady(motor).summary;
    const auto drawn =
        gw::scatter({.motor = motor, .tolerances = exact()}, {.samples = 256}).as_drawn;
    CHECK(drawn.peak_pressure == Approx(summary.peak_pressure).epsilon(1e-12));
    CHECK(drawn.peak_thrust == Approx(summary.peak_thrust).epsilon(1e-6));
    CHECK(drawn.total_impulse == Approx(summary.total_impulse).epsilon(1e-6));
    CHECK(drawn.burn_time == Approx(summary.burn_time).epsilon(1e-9));
  }
}

TEST_CASE("Strength against load, both lognormal") {
  const double peak = fired([](gw::Motor&) {}).peak_pressure;
  gw::Tolerances tolerances = exact();
  tolerances.burn_rate = normal(0.05);
  tolerances.pipe_strength = normal(0.0798724);
  const auto result = gw::scatter({.motor = motors::motor(),
                                   .tolerances = tolerances,
                                   .shell = motors::shell_that_holds(peak * 7.3 / 5)},
                                  {.samples = 400'000});
  REQUIRE(result.parts.size() == 1);
  CHECK(result.parts[0].part == "pipe");
  checks::expect(
      "chance that a pipe of median strength 7.3 and cov 0.08 gives under a median load "
      "of 5, sigma of ln load 0.0735294",
      checks::closed_form, 2.453050e-4, result.parts[0].chance.value, checks::relative(5e-3));
  CHECK(result.anything_gives->value == Approx(result.parts[0].chance.value));
  CHECK(std::abs(result.parts[0].chance.value - 2.453050e-4) < 2 * result.parts[0].chance.error);
}

TEST_CASE("Strength against load, both normal") {
  struct Row {
    double strength;
    double strength_sigma;
    double load;
    double load_sigma;
    double chance;
  };
  const Row table[] = {
      {7.3, 0.5, 5, 0.6, 0.00161557}, {1060, 100, 700, 80, 0.00246841}, {10, 1, 8, 1, 0.0786496}};
  const gw::SobolPoints points(1, 18);
  const gw::Scramble scramble(1, 1, 0);
  for (const Row& row : table) {
    const gw::Spread load{gw::Distribution::normal, row.load_sigma, false};
    const gw::Spread strength{gw::Distribution::normal, row.strength_sigma, false};
    double gives = 0;
    for (std::size_t i = 0; i < points.count(); ++i) {
      const double here = load.strayed(row.load, scramble.coordinate(points, i, 0));
      gives += strength.part_below(here - row.strength) / static_cast<double>(points.count());
    }
    checks::expect("chance that a strength of " + std::to_string(row.strength) +
                       " gives under a load of " + std::to_string(row.load),
                   checks::closed_form, row.chance, gives, checks::relative(1e-3));
  }
}

TEST_CASE("What would be left were an input exact") {
  gw::Tolerances tolerances = exact();
  tolerances.burn_rate = normal(0.05);
  tolerances.throat = normal(0.01);
  const double peak = fired([](gw::Motor&) {}).peak_pressure;
  const double n = motors::exponent;
  const auto result =
      gw::scatter({.motor = motors::motor(), .tolerances = tolerances, .ceiling = 1.1 * peak});
  const double away = std::log(1.1);
  const double by_rate = 0.05 / (1 - n);
  const double by_throat = 0.02 / (1 - n);
  checks::expect("chance over 1.1 of the median, rate and throat straying", checks::closed_form,
                 part_over(away / std::hypot(by_rate, by_throat)), result.over_ceiling->value,
                 checks::relative(2e-3));
  checks::expect("the same, the throat exact", checks::closed_form, part_over(away / by_rate),
                 share_of(result, "throat").over_if_exact->value, checks::relative(1e-3));
  checks::expect("the same, the burn rate exact", checks::closed_form, part_over(away / by_throat),
                 share_of(result, "burn_rate").over_if_exact->value, checks::absolute(3e-4));
}

TEST_CASE("A mistake happens as often as it is said to") {
  gw::Fault drill{.kind = gw::FaultKind::wrong_throat, .probability = 0.03, .diameter = 10 * mm};
  const double peak = fired([](gw::Motor&) {}).peak_pressure;
  const auto result = gw::scatter(
      {.motor = motors::motor(), .tolerances = exact(), .faults = {drill}, .ceiling = 1.1 * peak});
  CHECK(result.over_ceiling->value == Approx(0.03).margin(1e-3));
  REQUIRE(result.shares.size() == 1);
  CHECK(result.shares[0].over_if_exact->value == 0);
  CHECK(result.shares[0].total.value == Approx(1).margin(0.05));
  double counted = 0;
  for (double share : result.histogram.share) counted += share;
  CHECK(counted == Approx(1));
}

TEST_CASE("A stand's own error replaces the trade's, not the builder's") {
  gw::Motor motor = motors::motor();
  motor.propellant.measured = gw::Measured{};
  motor.propellant.measured->rate_error = 0.012;
  gw::Tolerances tolerances = gw::with_measurements({}, motor);
  CHECK(tolerances.burn_rate.sigma == Approx(0.012));
  CHECK(tolerances.burn_rate.origin == gw::SpreadOrigin::measured);
  CHECK(tolerances.density == gw::Tolerances{}.density);

  // Away from where it was measured the exponent's error counts too.
  const double peak = fired([](gw::Motor&) {}).peak_pressure;
  motor.propellant.measured->at = peak / std::exp(1.0);
  motor.propellant.measured->n_error = 0.03;
  motor.propellant.measured->correlation = -0.5;
  tolerances = gw::with_measurements({}, motor);
  checks::expect("relative error of a rate one e-fold away from its fit", checks::closed_form,
                 std::sqrt(0.012 * 0.012 + 0.03 * 0.03 - 0.012 * 0.03), tolerances.burn_rate.sigma,
                 checks::relative(1e-9));

  gw::Tolerances given;
  given.burn_rate = normal(0.07);
  CHECK(gw::with_measurements(given, motor).burn_rate == normal(0.07));
}

TEST_CASE("The pressure that a part of all motors keeps under") {
  gw::Tolerances tolerances = exact();
  tolerances.burn_rate = normal(0.05);
  const double peak = fired([](gw::Motor&) {}).peak_pressure;
  const gw::ScatterTask task{.motor = motors::motor(), .tolerances = tolerances};
  checks::expect("99 % of peak pressure / median, sigma of ln rate 0.05, n 0.32",
                 checks::closed_form, 1.1865560,
                 gw::pressure_at_confidence(task, 0.99, 8192) / peak, checks::relative(1e-3));
}
