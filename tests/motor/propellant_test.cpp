// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/motor/propellant.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "support/checks.hpp"

using namespace grainwright;

namespace {

Propellant propellant_with(double exponent, double temperature_sensitivity) {
  return {.name = "made up",
          .ideal_density = 1840,
          .density_ratio = 0.95,
          .characteristic_velocity = 900,
          .gamma = 1.136,
          .expansion_gamma = 1.042,
          .temperature_sensitivity = temperature_sensitivity,
          .law = BurnLaw({{.rate = 8e-3, .at = 1e6, .exponent = exponent}}),
          .formula = {{"oxidiser", 0.65}, {"fuel", 0.35}}};
}

}  // namespace

TEST_CASE("A propellant is as dense as it was cast") {
  checks::expect("density as cast, kg/m3", checks::closed_form, 0.95 * 1840,
                 propellant_with(0.3, 0).density(), checks::relative(1e-14));
}

TEST_CASE("A warm grain raises the pressure by its sensitivity over one less n") {
  // sigma_p 0.002 1/K, 20 K over the reference, at the same burning area.
  for (auto [n, factor] : {std::pair{0.3, 1.058807}, {0.5, 1.083287}}) {
    Propellant propellant = propellant_with(n, 0.002);
    double warm = propellant.reference_temperature + 20;
    checks::expect("pressure warm / at reference, n " + Catch::Detail::stringify(n),
                   checks::closed_form, factor,
                   propellant.law_at(warm).pressure(5e8) / propellant.law.pressure(5e8),
                   checks::absolute(5e-7));
  }
}

TEST_CASE("A textbook motor runs hot and cold as its temperature sensitivity says") {
  // pi_K 0.005 1/degF at n 0.5, so sigma_p 0.0025 1/degF; 1500 psia and 50 s at reference. The
  // inputs are a textbook's (from memory: Sutton & Biblarz, ex. 11-2), the answers the exponential;
  // the same propellant leaves through the same throat, so pressure times burn time stays.
  Propellant propellant = propellant_with(0.5, 0.0025 * 1.8);
  double load = 1500 / propellant.law.rate(1500);
  struct Row {
    double degrees_fahrenheit, pressure, burn_time;
  };
  for (const Row& row : {Row{50, 1926.04, 38.940}, {-50, 1168.20, 64.201}}) {
    BurnLaw law =
        propellant.law_at(propellant.reference_temperature + row.degrees_fahrenheit / 1.8);
    double pressure = law.pressure(load);
    std::string off = ", degF off reference " + Catch::Detail::stringify(row.degrees_fahrenheit);
    checks::expect("chamber pressure, psia" + off, checks::closed_form, row.pressure, pressure,
                   checks::absolute(0.005));
    checks::expect("burn time, s" + off, checks::closed_form, row.burn_time,
                   50 * propellant.law.rate(1500) / law.rate(pressure), checks::absolute(0.0006));
  }
}

TEST_CASE("At its reference temperature the law is the published one") {
  Propellant propellant = propellant_with(0.3, 0.002);
  CHECK(propellant.law_at(propellant.reference_temperature).pieces()[0] ==
        propellant.law.pieces()[0]);
}

TEST_CASE("A sound propellant draws no complaint") {
  CHECK(complaints(propellant_with(0.3, 0.002)).empty());
  Propellant without_formula = propellant_with(0.3, 0);
  without_formula.formula.clear();
  CHECK(complaints(without_formula).empty());
}

TEST_CASE("A propellant that cannot be is refused, and the complaint names the value") {
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  struct Row {
    const char* key;
    double Propellant::*member;
    double value;
  };
  const Row rows[] = {
      {"density", &Propellant::ideal_density, 0},
      {"density", &Propellant::ideal_density, nan},
      {"density_ratio", &Propellant::density_ratio, 1.01},
      {"density_ratio", &Propellant::density_ratio, 0},
      {"density_ratio", &Propellant::density_ratio, nan},
      {"characteristic_velocity", &Propellant::characteristic_velocity, -900},
      {"characteristic_velocity", &Propellant::characteristic_velocity, nan},
      {"gamma", &Propellant::gamma, 1},
      {"gamma", &Propellant::gamma, nan},
      {"expansion_gamma", &Propellant::expansion_gamma, 0.9},
      {"temperature_sensitivity", &Propellant::temperature_sensitivity, nan},
      {"reference_temperature", &Propellant::reference_temperature, 0},
  };
  for (const Row& row : rows) {
    Propellant propellant = propellant_with(0.3, 0.002);
    propellant.*row.member = row.value;
    INFO(row.key << " " << row.value);
    auto found = complaints(propellant);
    REQUIRE(found.size() == 1);
    CHECK(found[0].key == row.key);
    CHECK_FALSE(found[0].given.empty());
    CHECK_FALSE(found[0].allowed.empty());
  }
}

TEST_CASE("A formula's fractions must be whole and not negative") {
  Propellant propellant = propellant_with(0.3, 0);
  propellant.formula = {{"oxidiser", 0.65}, {"fuel", 0.30}};
  REQUIRE(complaints(propellant).size() == 1);
  CHECK(complaints(propellant)[0].key == "formula");
  propellant.formula = {{"oxidiser", 1.2}, {"fuel", -0.2}};
  CHECK_FALSE(complaints(propellant).empty());
}
