// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/motor/nozzle.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>

#include "grainwright/motor/gas.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using std::numbers::pi;

namespace {

const std::string rpe = "Sutton & Biblarz, Rocket Propulsion Elements, 7th ed.";
constexpr double degree = pi / 180;

Nozzle nozzle_of(double expansion_ratio, double half_angle = 0, double efficiency = 1) {
  return {.throat_diameter = 0.014,
          .exit_diameter = 0.014 * std::sqrt(expansion_ratio),
          .half_angle = half_angle,
          .efficiency = efficiency};
}

// A nozzle on a gas whose chamber and expansion gamma are the same.
ThrustLaw thrust_law(double expansion_ratio, double gamma, double ambient, double half_angle = 0) {
  return {nozzle_of(expansion_ratio, half_angle), gamma, gamma, ambient};
}

// The expansion ratio that takes the gas down to a pressure ratio.
double expansion_to(double pressure_ratio, double gamma) {
  return area_ratio(mach_of_pressure_ratio(pressure_ratio, gamma), gamma);
}

std::string ratio(const std::string& what, double value) {
  return what + " " + Catch::Detail::stringify(value);
}

checks::Within half_unit(double last_digit) {
  return checks::absolute(0.500001 * last_digit);
}

}  // namespace

TEST_CASE("A nozzle's areas follow from its diameters") {
  Nozzle nozzle{.throat_diameter = 0.010, .exit_diameter = 0.020};
  checks::expect("throat area, mm2", checks::closed_form, 25 * pi, nozzle.throat_area() * 1e6,
                 checks::relative(1e-14));
  checks::expect("expansion ratio", checks::closed_form, 4, nozzle.expansion_ratio(),
                 checks::relative(1e-14));
}

TEST_CASE("Sugar-propellant impulse reproduces only with the exhaust's own expansion gamma") {
  // Published: 164 s expanding from 68 atm to 1 atm; the mixture's gamma in the chamber is 1.1361.
  auto impulse = [](double expansion_gamma) {
    ThrustLaw law(nozzle_of(expansion_to(1.0 / 68, expansion_gamma)), 1.1361, expansion_gamma,
                  standard_atmosphere);
    return law.coefficient(68 * standard_atmosphere) *
           characteristic_velocity(1600, 39.86e-3, 1.1361) / standard_gravity;
  };
  checks::expect("ideal specific impulse of KN/sorbitol, s",
                 "Nakka, rocketry pages on propellant theory", 164, impulse(1.042), half_unit(1));
  checks::expect("the same, s", checks::closed_form, 164.11, impulse(1.042),
                 checks::absolute(0.02));
  checks::expect("the same with the chamber's gamma, s", checks::closed_form, 151.63,
                 impulse(1.1361), checks::absolute(0.02));
}

TEST_CASE("A high-altitude textbook nozzle has its thrust coefficient and areas") {
  constexpr double k = 1.30;
  constexpr double p1 = 2.068e6;
  constexpr double p2 = 0.002549e6;
  double expansion = expansion_to(p2 / p1, k);
  double coefficient = thrust_law(expansion, k, p2).coefficient(p1);
  double c_star = characteristic_velocity(2800, gas_constant / 355.4, k);
  const std::string example_3_3 = "closed form, with the inputs of " + rpe + ", ex. 3-3";
  checks::expect("thrust coefficient", example_3_3, 1.742502, coefficient, half_unit(1e-6));
  checks::expect("throat area for 5000 N, cm2", example_3_3, 13.8754,
                 5000 / (coefficient * p1) * 1e4, half_unit(1e-4));
  checks::expect("exit area, cm2", example_3_3, 613.05, 5000 / (coefficient * p1) * expansion * 1e4,
                 half_unit(0.01));
  checks::expect("exit velocity, m/s", example_3_3, 2605.04, coefficient * c_star, half_unit(0.01));
}

TEST_CASE("A sea-level textbook nozzle has its exit velocity and areas") {
  constexpr double k = 1.30;
  constexpr double p1 = 2.068e6;
  constexpr double p2 = 0.1013e6;
  double expansion = expansion_to(p2 / p1, k);
  double coefficient = thrust_law(expansion, k, p2).coefficient(p1);
  double c_star = characteristic_velocity(2222, gas_constant / 345.7, k);
  const std::string example_3_1 = "closed form, with the inputs of " + rpe + ", ex. 3-1";
  checks::expect("exit velocity, m/s", checks::from_memory(rpe + ", ex. 3-1"), 1827,
                 coefficient * c_star, half_unit(1));
  checks::expect("exit velocity, m/s", example_3_1, 1827.10, coefficient * c_star, half_unit(0.01));
  checks::expect("specific impulse, s", example_3_1, 186.31,
                 coefficient * c_star / standard_gravity, half_unit(0.01));
  checks::expect("c*, m/s", example_3_1, 1313.48, c_star, half_unit(0.01));
  checks::expect("thrust coefficient", example_3_1, 1.391034, coefficient, half_unit(1e-6));
  checks::expect("throat area for 1 kg/s, cm2", example_3_1, 6.3515, c_star / p1 * 1e4,
                 half_unit(1e-4));
  checks::expect("expansion ratio", example_3_1, 3.25763, expansion, half_unit(1e-5));
  checks::expect("exit Mach number", example_3_1, 2.58950, mach_of_pressure_ratio(p2 / p1, k),
                 half_unit(1e-5));
}

TEST_CASE("Optimum expansion gives the tabled area ratio and thrust coefficient") {
  struct Row {
    double pressure_ratio, expansion, coefficient;
  };
  const Row rows[] = {
      {10, 2.2593, 1.26829},   {20, 3.6251, 1.40844},    {30, 4.8437, 1.47780},
      {50, 7.0466, 1.55485},   {100, 11.8710, 1.64452},  {200, 20.2180, 1.72048},
      {500, 41.3701, 1.80433}, {1000, 71.5953, 1.85771}, {68.03, 8.8699, 1.59659},
  };
  for (const Row& row : rows) {
    double expansion = expansion_to(1 / row.pressure_ratio, 1.2);
    double chamber = row.pressure_ratio * standard_atmosphere;
    checks::expect(ratio("optimum expansion ratio, gamma 1.2, chamber/ambient", row.pressure_ratio),
                   checks::closed_form, row.expansion, expansion, half_unit(1e-4));
    checks::expect(
        ratio("optimum thrust coefficient, gamma 1.2, chamber/ambient", row.pressure_ratio),
        checks::closed_form, row.coefficient,
        thrust_law(expansion, 1.2, standard_atmosphere).coefficient(chamber), half_unit(1e-5));
  }
}

TEST_CASE("Thrust coefficient agrees with the table, and separation is told where it ends") {
  constexpr double separated = 0;
  constexpr double chamber_over_ambient[] = {10, 20, 50, 100};
  struct Row {
    double expansion, exit_mach, chamber_over_exit, vacuum;
    double coefficient[4];
  };
  const Row rows[] = {
      {1, 1, 1.7716, 1.24184, {1.1418, 1.1918, 1.2218, 1.2318}},
      {2, 2.0551, 8.2799, 1.46575, {1.2657, 1.3657, 1.4257, 1.4457}},
      {3, 2.3971, 15.2427, 1.55396, {1.2540, 1.4040, 1.4940, 1.5240}},
      {4, 2.6194, 22.9815, 1.60717, {1.2072, 1.4072, 1.5272, 1.5672}},
      {6, 2.9173, 40.2248, 1.67247, {separated, 1.3725, 1.5525, 1.6125}},
      {8, 3.1219, 59.2805, 1.71328, {separated, separated, 1.5533, 1.6333}},
      {10, 3.2783, 79.7622, 1.74231, {separated, separated, 1.5423, 1.6423}},
      {20, 3.7585, 197.2199, 1.82047, {separated, separated, separated, 1.6205}},
      {50, 4.3958, 635.7360, 1.90236, {separated, separated, separated, separated}},
  };
  for (const Row& row : rows) {
    std::string nozzle = ratio(", gamma 1.2, expansion ratio", row.expansion);
    ThrustLaw in_vacuum = thrust_law(row.expansion, 1.2, 0);
    checks::expect("exit Mach number" + nozzle, checks::closed_form, row.exit_mach,
                   supersonic_mach(row.expansion, 1.2), half_unit(1e-4));
    checks::expect("chamber/exit pressure" + nozzle, checks::closed_form, row.chamber_over_exit,
                   1 / in_vacuum.exit_pressure_ratio(), half_unit(1e-4));
    checks::expect("thrust coefficient in vacuum" + nozzle, checks::closed_form, row.vacuum,
                   in_vacuum.coefficient(1e6), half_unit(1e-5));
    ThrustLaw law = thrust_law(row.expansion, 1.2, standard_atmosphere);
    for (std::size_t i = 0; i < std::size(chamber_over_ambient); ++i) {
      double chamber = chamber_over_ambient[i] * standard_atmosphere;
      std::string at = nozzle + ratio(", chamber/ambient", chamber_over_ambient[i]);
      if (row.coefficient[i] == separated) {
        INFO("separated" << at);
        CHECK(chamber < law.separation_pressure());
        CHECK(law(chamber) > law.per_pressure() * chamber - law.loss());
      } else {
        checks::expect("thrust coefficient" + at, checks::closed_form, row.coefficient[i],
                       law.coefficient(chamber), half_unit(1e-4));
      }
    }
  }
}

TEST_CASE("Divergence takes from the momentum term alone") {
  struct Row {
    double degrees, factor;
  };
  const Row rows[] = {{0, 1},         {8, 0.995134},  {10, 0.992404},
                      {12, 0.989074}, {14, 0.985148}, {15, 0.982963},
                      {16, 0.980631}, {18, 0.975528}, {20, 0.969846}};
  ThrustLaw straight = thrust_law(6, 1.2, 0);
  double pressure_term = 6 * straight.exit_pressure_ratio();
  auto momentum_factor = [&](double degrees) {
    ThrustLaw cone = thrust_law(6, 1.2, 0, degrees * degree);
    return (cone.coefficient(1e6) - pressure_term) / (straight.coefficient(1e6) - pressure_term);
  };
  for (const Row& row : rows) {
    checks::expect(ratio("momentum factor, half angle in deg", row.degrees), checks::closed_form,
                   row.factor, momentum_factor(row.degrees), half_unit(1e-6));
  }
  // The book cuts 12 deg to 0.9890.
  for (auto [degrees, factor] : {std::pair{12.0, 0.9890}, {15.0, 0.9830}}) {
    checks::expect(ratio("momentum factor, half angle in deg", degrees),
                   checks::from_memory(rpe + ", table 3-3"), factor, momentum_factor(degrees),
                   checks::absolute(1e-4));
  }
}

TEST_CASE("The flow leaves the wall where its pressure is four tenths of ambient") {
  const std::string summerfield =
      "closed form, with the 0.4 of Summerfield, Foster & Swan, Jet Propulsion 24(9), 1954";
  for (auto [expansion, megapascal] :
       {std::pair{4.0, 0.9314}, {6.0, 1.6303}, {8.0, 2.4026}, {10.0, 3.2328}}) {
    ThrustLaw law = thrust_law(expansion, 1.2, standard_atmosphere);
    checks::expect(ratio("least unseparated pressure, MPa, gamma 1.2, expansion ratio", expansion),
                   summerfield, megapascal, law.separation_pressure() / 1e6, half_unit(1e-4));
  }
}

TEST_CASE("The throat chokes down to ambient over the critical pressure ratio") {
  ThrustLaw law = thrust_law(1, 1.2, standard_atmosphere);
  checks::expect("least choked pressure of a straight hole, gamma 1.2, ambient",
                 checks::closed_form, 1 / 0.56447, law.choking_pressure() / standard_atmosphere,
                 checks::relative(1e-5));
}

TEST_CASE("In vacuum a nozzle flows full at any pressure") {
  ThrustLaw law = thrust_law(6, 1.2, 0);
  CHECK(law.separation_pressure() == 0);
  CHECK(law.choking_pressure() == 0);
  CHECK(law.loss() == 0);
  CHECK(law.coefficient(100) == Approx(law.coefficient(1e7)).epsilon(1e-13));
}

TEST_CASE("Full flow is a straight line in chamber pressure, and efficiency scales all of it") {
  ThrustLaw ideal(nozzle_of(6), 1.2, 1.2, standard_atmosphere);
  ThrustLaw real(nozzle_of(6, 0, 0.85), 1.2, 1.2, standard_atmosphere);
  for (double pressure : {2e6, 4e6, 8e6}) {
    CHECK(ideal(pressure) == Approx(ideal.per_pressure() * pressure - ideal.loss()).epsilon(1e-13));
    checks::expect("thrust at efficiency 0.85 / ideal", checks::closed_form, 0.85,
                   real(pressure) / ideal(pressure), checks::relative(1e-13));
    CHECK(ideal.coefficient(pressure) ==
          Approx(ideal(pressure) / (pressure * nozzle_of(6).throat_area())).epsilon(1e-13));
  }
}

TEST_CASE("Thrust rises with pressure without a jump, through choking and separation") {
  for (double expansion : {1.0, 2.0, 6.0, 20.0}) {
    ThrustLaw law = thrust_law(expansion, 1.2, standard_atmosphere, 15 * degree);
    CHECK(law(0) == 0);
    CHECK(law(standard_atmosphere) == 0);
    constexpr double step = 1.001;
    double pressure = step * standard_atmosphere;
    double last = law(pressure);
    while (pressure < 1e7) {
      pressure *= step;
      double thrust = law(pressure);
      INFO("expansion ratio " << expansion << ", pressure " << pressure);
      REQUIRE(thrust > last);
      // No thrust coefficient into vacuum exceeds 2.25 at this gamma.
      REQUIRE(thrust - last < 2.25 * (step - 1) * pressure * nozzle_of(1).throat_area());
      last = thrust;
    }
  }
}

TEST_CASE("A whole motor's nozzle gives the thrust worked out for it") {
  // Throat 14 mm, expansion ratio 6, gamma 1.2, sea level.
  struct Row {
    double megapascal, coefficient, thrust, coned_coefficient, coned_thrust;
  };
  for (const Row& row : {Row{2.445010, 1.423823, 535.899, 1.397870, 526.130},
                         {2.921633, 1.464387, 658.609, 1.438434, 646.936}}) {
    double pressure = row.megapascal * 1e6;
    std::string at = ratio(" at MPa", row.megapascal);
    ThrustLaw ideal = thrust_law(6, 1.2, standard_atmosphere);
    ThrustLaw cone = thrust_law(6, 1.2, standard_atmosphere, 15 * degree);
    checks::expect("thrust coefficient" + at, checks::closed_form, row.coefficient,
                   ideal.coefficient(pressure), half_unit(2e-6));
    checks::expect("thrust, N," + at, checks::closed_form, row.thrust, ideal(pressure),
                   half_unit(2e-3));
    checks::expect("thrust coefficient, 15 deg cone," + at, checks::closed_form,
                   row.coned_coefficient, cone.coefficient(pressure), half_unit(2e-6));
    checks::expect("thrust, 15 deg cone, N," + at, checks::closed_form, row.coned_thrust,
                   cone(pressure), half_unit(2e-3));
  }
}

TEST_CASE("A textbook motor is sized by its thrust coefficient") {
  // 2000 lbf at 1000 psia, gamma 1.26, c* 4000 ft/s, thrust coefficient 2 % short of ideal.
  const std::string example_11_3 = rpe + ", ex. 11-3";
  constexpr double psi = 6894.757293168361;
  double expansion = expansion_to(14.7 / 1000, 1.26);
  ThrustLaw ideal(nozzle_of(expansion), 1.26, 1.26, 14.7 * psi);
  ThrustLaw real(nozzle_of(expansion, 0, 0.98), 1.26, 1.26, 14.7 * psi);
  checks::expect("optimum thrust coefficient", checks::closed_form, 1.56653,
                 ideal.coefficient(1000 * psi), half_unit(1e-5));
  checks::expect("optimum expansion ratio", checks::closed_form, 7.9171, expansion,
                 half_unit(1e-4));
  checks::expect("optimum thrust coefficient, by chart", checks::from_memory(example_11_3), 1.57,
                 ideal.coefficient(1000 * psi), half_unit(0.01));
  checks::expect("thrust coefficient, 2 % short", checks::from_memory(example_11_3), 1.54,
                 real.coefficient(1000 * psi), half_unit(0.01));
  checks::expect("throat area, in2", checks::from_memory(example_11_3), 1.30,
                 2000 / (1000 * real.coefficient(1000 * psi)), half_unit(0.01));
  checks::expect("specific impulse, s", checks::from_memory(example_11_3), 191,
                 real.coefficient(1000 * psi) * 4000 * 0.3048 / standard_gravity, half_unit(1));
}

TEST_CASE("A nozzle that cannot be made is refused, and the complaint names the value") {
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  const Nozzle good{
      .throat_diameter = 0.01, .exit_diameter = 0.02, .half_angle = 0.26, .efficiency = 0.85};
  CHECK(complaints(good).empty());
  auto with = [&](auto member, double value) {
    Nozzle nozzle = good;
    nozzle.*member = value;
    return nozzle;
  };
  struct Row {
    const char* key;
    Nozzle nozzle;
  };
  const Row rows[] = {
      {"throat", with(&Nozzle::throat_diameter, 0)},
      {"throat", with(&Nozzle::throat_diameter, -0.01)},
      {"throat", with(&Nozzle::throat_diameter, nan)},
      {"exit", with(&Nozzle::exit_diameter, 0.009)},
      {"exit", with(&Nozzle::exit_diameter, nan)},
      {"half_angle", with(&Nozzle::half_angle, -0.1)},
      {"half_angle", with(&Nozzle::half_angle, pi / 2)},
      {"half_angle", with(&Nozzle::half_angle, nan)},
      {"efficiency", with(&Nozzle::efficiency, 0)},
      {"efficiency", with(&Nozzle::efficiency, nan)},
  };
  for (const Row& row : rows) {
    INFO(row.key);
    auto found = complaints(row.nozzle);
    REQUIRE_FALSE(found.empty());
    CHECK_THAT(found.front().key, Catch::Contains(row.key));
    CHECK_FALSE(found.front().given.empty());
    CHECK_FALSE(found.front().allowed.empty());
  }
}
