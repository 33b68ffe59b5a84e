// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/motor/gas.hpp"

#include <rapidcheck.h>
#include <catch2/catch.hpp>
#include <cmath>

#include "support/checks.hpp"

using namespace grainwright;

namespace {

// The pages of NACA Report 1135 themselves were not at hand: its figures are recalled.
const std::string naca_1135 = "NACA Report 1135 (1953), tables I and II, gamma 1.4";
const std::string matthews = "Matthews, Aeronautical Engineer's Data Book, tables A4.1 and A4.2";
const std::string rpe = "Sutton & Biblarz, Rocket Propulsion Elements, 7th ed.";

double temperature_ratio(double mach, double gamma) {
  return std::pow(pressure_ratio(mach, gamma), (gamma - 1) / gamma);
}
double density_ratio(double mach, double gamma) {
  return std::pow(pressure_ratio(mach, gamma), 1 / gamma);
}

std::string at_mach(const std::string& what, double mach, double gamma) {
  return what + " at M " + Catch::Detail::stringify(mach) + ", gamma " +
         Catch::Detail::stringify(gamma);
}

// Half a unit of the last digit printed, and a hair for ties.
checks::Within half_unit(double last_digit) {
  return checks::absolute(0.500001 * last_digit);
}

// Agreement with a value that is given to so many significant digits.
checks::Within digits(double value, int count) {
  return half_unit(std::pow(10.0, std::floor(std::log10(value)) + 1 - count));
}

}  // namespace

TEST_CASE("Isentropic flow of air agrees with the printed subsonic tables") {
  struct Row {
    double mach, pressure, density, temperature, area;
  };
  const Row rows[] = {
      {0.05, 0.9983, 0.9988, 0.9995, 11.5914}, {0.10, 0.9930, 0.9950, 0.9980, 5.8218},
      {0.20, 0.9725, 0.9803, 0.9921, 2.9635},  {0.50, 0.8430, 0.8852, 0.9524, 1.3398},
      {0.60, 0.7840, 0.8405, 0.9328, 1.1882},  {0.90, 0.5913, 0.6870, 0.8606, 1.0089},
      {1.00, 0.5283, 0.6339, 0.8333, 1.0000},  {1.04, 0.5039, 0.6129, 0.8222, 1.0013},
  };
  for (const Row& row : rows) {
    checks::expect(at_mach("p/p0", row.mach, 1.4), matthews, row.pressure,
                   pressure_ratio(row.mach, 1.4), half_unit(1e-4));
    checks::expect(at_mach("rho/rho0", row.mach, 1.4), matthews, row.density,
                   density_ratio(row.mach, 1.4), half_unit(1e-4));
    checks::expect(at_mach("T/T0", row.mach, 1.4), matthews, row.temperature,
                   temperature_ratio(row.mach, 1.4), half_unit(1e-4));
    checks::expect(at_mach("A/A*", row.mach, 1.4), matthews, row.area, area_ratio(row.mach, 1.4),
                   half_unit(1e-4));
  }
}

TEST_CASE("Isentropic flow of air agrees with the supersonic tables") {
  struct Row {
    double mach, pressure, density, temperature, area;
  };
  const Row printed[] = {
      {1.5, 0.2724, 0.3950, 0.6897, 1.176},    {2.0, 0.1278, 0.2300, 0.5556, 1.688},
      {2.5, 0.05853, 0.1317, 0.4444, 2.637},   {3.0, 0.02722, 0.07623, 0.3571, 4.235},
      {4.0, 0.006586, 0.02766, 0.2381, 10.72}, {5.0, 0.001890, 0.01134, 0.1667, 25.00},
  };
  for (const Row& row : printed) {
    auto expect = [&](const char* what, double expected, double got) {
      checks::expect(at_mach(what, row.mach, 1.4), checks::from_memory(naca_1135), expected, got,
                     digits(expected, 4));
    };
    expect("p/p0", row.pressure, pressure_ratio(row.mach, 1.4));
    if (row.mach != 2) expect("rho/rho0", row.density, density_ratio(row.mach, 1.4));
    expect("T/T0", row.temperature, temperature_ratio(row.mach, 1.4));
    expect("A/A*", row.area, area_ratio(row.mach, 1.4));
  }
  const Row exact[] = {
      {1.5, 0.27240, 0.39498, 0.68966, 1.17617},     {2.0, 0.12780, 0.23005, 0.55556, 1.68750},
      {2.5, 0.058528, 0.13169, 0.44444, 2.63672},    {3.0, 0.027224, 0.076226, 0.35714, 4.23457},
      {4.0, 0.0065861, 0.027662, 0.23810, 10.71875}, {5.0, 0.0018900, 0.011340, 0.16667, 25.0},
  };
  for (const Row& row : exact) {
    auto expect = [&](const char* what, double expected, double got) {
      checks::expect(at_mach(what, row.mach, 1.4), checks::closed_form, expected, got,
                     digits(expected, 5));
    };
    expect("p/p0", row.pressure, pressure_ratio(row.mach, 1.4));
    expect("rho/rho0", row.density, density_ratio(row.mach, 1.4));
    expect("T/T0", row.temperature, temperature_ratio(row.mach, 1.4));
    expect("A/A*", row.area, area_ratio(row.mach, 1.4));
  }
  checks::expect("A/A* at M 5, gamma 1.4", checks::closed_form, 25, area_ratio(5, 1.4),
                 checks::relative(1e-14));
}

TEST_CASE("Isentropic flow of rocket exhaust agrees with the closed form") {
  struct Row {
    double gamma, mach, pressure, area;
  };
  const Row rows[] = {
      {1.3, 0.5, 0.85255, 1.34785},    {1.3, 1.0, 0.54573, 1},
      {1.3, 1.5, 0.28361, 1.18949},    {1.3, 2.0, 0.13046, 1.77319},
      {1.3, 2.5, 0.056923, 2.95446},   {1.3, 3.0, 0.024663, 5.15977},
      {1.3, 4.0, 0.0049765, 15.94413}, {1.2, 0.5, 0.86230, 1.35629},
      {1.2, 1.0, 0.56447, 1},          {1.2, 1.5, 0.29593, 1.20503},
      {1.2, 2.0, 0.13281, 1.88371},    {1.2, 2.5, 0.054310, 3.42053},
      {1.2, 3.0, 0.021256, 6.73541},   {1.2, 4.0, 0.0032371, 28.35526},
      {1.14, 0.5, 0.86826, 1.36157},   {1.14, 1.0, 0.57641, 1},
      {1.14, 2.0, 0.13397, 1.96691},   {1.14, 3.0, 0.018715, 8.31806},
  };
  for (const Row& row : rows) {
    checks::expect(at_mach("p/p0", row.mach, row.gamma), checks::closed_form, row.pressure,
                   pressure_ratio(row.mach, row.gamma), digits(row.pressure, 5));
    checks::expect(at_mach("A/A*", row.mach, row.gamma), checks::closed_form, row.area,
                   area_ratio(row.mach, row.gamma), half_unit(1e-5));
  }
}

TEST_CASE("Port Mach number follows from port over throat") {
  struct Row {
    double ratio, at_1_2, at_1_14, at_1_4;
  };
  const Row rows[] = {
      {1.25, 0.5619, 0.5646, 0.5533}, {1.5, 0.4382, 0.4407, 0.4303}, {2, 0.3122, 0.3142, 0.3059},
      {2.5, 0.2447, 0.2464, 0.2395},  {3, 0.2018, 0.2032, 0.1974},   {4, 0.1498, 0.1509, 0.1465},
      {6, 0.0992, 0.0999, 0.0970},
  };
  for (const Row& row : rows) {
    for (auto [gamma, mach] :
         {std::pair{1.2, row.at_1_2}, {1.14, row.at_1_14}, {1.4, row.at_1_4}}) {
      checks::expect("port Mach at port/throat " + Catch::Detail::stringify(row.ratio) +
                         ", gamma " + Catch::Detail::stringify(gamma),
                     checks::closed_form, mach, subsonic_mach(row.ratio, gamma), half_unit(1e-4));
    }
  }
}

TEST_CASE("The inverses find the Mach number again, on their branch") {
  CHECK(rc::check("area and pressure invert", [] {
    double gamma = *rc::gen::inRange(1020, 1667) / 1000.0;
    double above = *rc::gen::inRange(1100, 6000) / 1000.0;
    double below = *rc::gen::inRange(10, 900) / 1000.0;
    auto close = [](double a, double b) { return std::abs(a - b) <= 1e-12 * b; };
    RC_ASSERT(close(supersonic_mach(area_ratio(above, gamma), gamma), above));
    RC_ASSERT(close(subsonic_mach(area_ratio(below, gamma), gamma), below));
    RC_ASSERT(close(mach_of_pressure_ratio(pressure_ratio(above, gamma), gamma), above));
  }));
}

TEST_CASE("At area ratio one both branches are sonic, and just above it they part") {
  for (double gamma : {1.04, 1.2, 1.4}) {
    CHECK(supersonic_mach(1, gamma) == Approx(1).epsilon(1e-7));
    CHECK(subsonic_mach(1, gamma) == Approx(1).epsilon(1e-7));
    CHECK(supersonic_mach(1.0001, gamma) > 1.005);
    CHECK(subsonic_mach(1.0001, gamma) < 0.995);
  }
  CHECK(mach_of_pressure_ratio(1, 1.2) == 0);
  CHECK(subsonic_mach(1e6, 1.2) == Approx(1e-6 * choked_flow_function(1.2) / std::sqrt(1.2)));
}

TEST_CASE(
    "Choked flow, critical pressure and the largest thrust coefficient agree with the tables") {
  struct Row {
    double gamma, choked, critical, greatest;
  };
  const Row rows[] = {
      {1.042, 0.615917, 0.59714, 4.33857},   {1.10, 0.628360, 0.58468, 2.94727},
      {1.13, 0.634575, 0.57845, 2.64585},    {1.15, 0.638638, 0.57438, 2.50077},
      {1.20, 0.648531, 0.56447, 2.24658},    {1.25, 0.658065, 0.55493, 2.08098},
      {1.30, 0.667262, 0.54573, 1.96437},    {1.40, 0.684731, 0.52828, 1.81163},
      {5.0 / 3, 0.726184, 0.48714, 1.62380},
  };
  auto greatest = [](double k) { return choked_flow_function(k) * std::sqrt(2 * k / (k - 1)); };
  for (const Row& row : rows) {
    std::string gamma = ", gamma " + Catch::Detail::stringify(row.gamma);
    checks::expect("choked flow function" + gamma, checks::closed_form, row.choked,
                   choked_flow_function(row.gamma), half_unit(1e-6));
    checks::expect("critical pressure ratio" + gamma, checks::closed_form, row.critical,
                   pressure_ratio(1, row.gamma), half_unit(1e-5));
    checks::expect("thrust coefficient into vacuum from endless nozzle" + gamma,
                   checks::closed_form, row.greatest, greatest(row.gamma), half_unit(1e-5));
  }
  for (auto [gamma, choked] : {std::pair{1.2, 0.6485}, {1.3, 0.6673}, {1.4, 0.6847}}) {
    checks::expect("choked flow function, gamma " + Catch::Detail::stringify(gamma),
                   checks::from_memory(rpe), choked, choked_flow_function(gamma), half_unit(1e-4));
  }
}

TEST_CASE("Characteristic velocity agrees with published equilibrium results") {
  // 65/35 by mass at 1000 psia.
  checks::expect("c* of KN/sorbitol, m/s", "Nakka, rocketry pages on propellant theory", 909,
                 characteristic_velocity(1600, 39.86e-3, 1.1361), half_unit(1));
  // With a universal gas constant of 8314 the source's inputs give 908.58.
  checks::expect("c* of KN/sorbitol, m/s", checks::closed_form,
                 908.58 * std::sqrt(1000 * gas_constant / 8314),
                 characteristic_velocity(1600, 39.86e-3, 1.1361), half_unit(0.01));
  // 0.4497 mol of gas in 19 g; its solids weigh but do not push, so M is 19 / 0.4497.
  checks::expect("c* of KN/dextrose, m/s", checks::closed_form, 911.78,
                 characteristic_velocity(1703, 19e-3 / 0.4497, 1.1317), checks::relative(4e-5));
  checks::expect("c* of 1710 K, 42.39 kg/kmol, gamma 1.1308, m/s", checks::closed_form, 912.41,
                 characteristic_velocity(1710, 42.39e-3, 1.1308), checks::relative(4e-5));
  checks::expect("c* of 1720 K, 41.98 kg/kmol, gamma 1.133, m/s", checks::closed_form, 918.88,
                 characteristic_velocity(1720, 41.98e-3, 1.133), checks::relative(4e-5));
}

TEST_CASE("The throat of a textbook motor has its textbook state") {
  const std::string example_3_3 = rpe + ", ex. 3-3";
  constexpr double k = 1.30;
  constexpr double p1 = 2.068e6;
  double throat_temperature = 2800 * temperature_ratio(1, k);
  double exit_mach = mach_of_pressure_ratio(0.002549e6 / p1, k);
  checks::expect("throat pressure, MPa", example_3_3, 1.129, p1 * pressure_ratio(1, k) / 1e6,
                 half_unit(1e-3));
  checks::expect("throat speed, m/s", example_3_3, 1060, std::sqrt(k * 355.4 * throat_temperature),
                 checks::absolute(1));
  checks::expect("exit Mach number", checks::closed_form, 4.96112, exit_mach, half_unit(1e-5));
  checks::expect("exit / throat area", checks::closed_form, 44.1826, area_ratio(exit_mach, k),
                 half_unit(1e-4));
  checks::expect("exit temperature, K", checks::closed_form, 596.77,
                 2800 * temperature_ratio(exit_mach, k), half_unit(0.01));
}
