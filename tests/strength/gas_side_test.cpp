// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/strength/gas_side.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "grainwright/motor/gas.hpp"
#include "support/checks.hpp"

using namespace grainwright;

namespace {

const std::string bartz = checks::from_memory("Bartz, Jet Propulsion 27 (1957)") + ", worked anew";

// Invented motor: throat and its curvature 14 mm, 3 MPa, bore 36 mm, exit ratio 6.
const ChamberGas gas{.temperature = 1600,
                     .specific_heat = 1740,
                     .viscosity = 7.5e-5,
                     .prandtl = 0.87,
                     .gamma = 1.1361,
                     .characteristic_velocity = 908.58};
constexpr double throat = 14e-3;
constexpr double pressure = 3e6;
constexpr double wall = 800;
const double chamber_ratio = 36.0 * 36 / (14 * 14);
constexpr double btu_per_square_inch_second = 1055.05585262 / (0.0254 * 0.0254) * 1.8;

}  // namespace

TEST_CASE("Bartz's formula gives what it gives by hand") {
  const double chamber_mach = subsonic_mach(chamber_ratio, gas.gamma);
  const double exit_mach = supersonic_mach(6, gas.gamma);
  checks::expect("Mach number in a 36 mm bore before a 14 mm throat, gamma 1.1361", "closed form",
                 0.0906110, chamber_mach, checks::absolute(5e-8));
  checks::expect("Mach number at exit ratio 6, gamma 1.1361", "closed form", 2.789140, exit_mach,
                 checks::absolute(5e-7));
  struct Row {
    std::string where;
    Station station;
    double sigma, coefficient, recovery, flux;
  };
  const Row rows[] = {
      {"throat", {1, 1}, 1.188238, 13412.43, 1595.376, 10.6679e6},
      {"chamber", {chamber_ratio, chamber_mach}, 1.215834, 2507.058, 1599.959, 2.0055e6},
      {"exit", {6, exit_mach}, 1.034722, 2328.584, 1574.879, 1.8044e6}};
  for (const Row& row : rows) {
    const double h = bartz_coefficient(gas, throat, throat, pressure, row.station, wall);
    const double recovery = recovery_temperature(gas, row.station.mach);
    checks::expect("coefficient at the " + row.where + ", W/m2K", bartz, row.coefficient, h,
                   checks::relative(1e-6));
    checks::expect("bracket of Bartz's formula from the " + row.where + ", W/m2K", bartz, 11287.666,
                   h / row.sigma * std::pow(row.station.area_ratio, 0.9), checks::relative(1e-6));
    checks::expect("recovery temperature at the " + row.where + ", K",
                   "closed form, recovery factor Pr^(1/3)", row.recovery, recovery,
                   checks::absolute(6e-4));
    checks::expect("heat flux at the " + row.where + ", W/m2", bartz, row.flux,
                   h * (recovery - wall), checks::absolute(51));
  }
}

TEST_CASE("Bartz's formula agrees with a liquid engine's worked example") {
  // Bracket alone: at the throat, where the wall's term is divided out again. The example takes g
  // as 32.2 ft/s2, which is 0.06 % more after the power 0.8.
  const double inch = 0.0254;
  const ChamberGas engine{.temperature = 3600,
                          .specific_heat = 0.485 * 4186.8,
                          .viscosity = 4.18e-6 * 0.45359237 / inch,
                          .prandtl = 0.816,
                          .gamma = 1.222,
                          .characteristic_velocity = 5660 * 0.3048};
  const double psi = 6894.757293168361;
  const double cold = 0;
  const double warmth = 1 + (engine.gamma - 1) / 2;
  const double sigma = 1 / (std::pow(0.5, 0.68) * std::pow(warmth, 0.12));
  const double h =
      bartz_coefficient(engine, 24.9 * inch, 11.8 * inch, 1000 * psi, {1, 1}, cold) / sigma;
  checks::expect("1 Btu/in2-s-F, W/m2K", "NIST SP 811 (2008), from its factors", 2943611.7,
                 btu_per_square_inch_second, checks::relative(1e-7));
  checks::expect("bracket of Bartz's formula for a 1000 psia engine of 24.9 in throat, W/m2K",
                 bartz, 8017.5, h, checks::relative(1e-3));
  checks::expect("the same, Btu/in2-s-F", bartz, 0.00272370, h / btu_per_square_inch_second,
                 checks::relative(1e-3));
}

TEST_CASE("Pipe flow gives three quarters of what Bartz gives in the chamber") {
  const std::string form = "Dittus & Boelter's form, worked by hand";
  checks::expect("pipe-flow coefficient at 80.1597 kg/m2s in 36 mm, W/m2K", form, 422.165,
                 pipe_flow_coefficient(gas, 80.1597, 36e-3), checks::relative(2e-6));
  checks::expect("pipe-flow coefficient at 410.943 kg/m2s in 65 mm, W/m2K", form, 1386.8,
                 pipe_flow_coefficient(gas, 410.943, 65e-3), checks::relative(5e-5));
  const double flux = pressure / (gas.characteristic_velocity * chamber_ratio);
  const Station station{chamber_ratio, subsonic_mach(chamber_ratio, gas.gamma)};
  // The two share all but 0.026/0.023, sigma and the area's power 0.9 against 0.8 with D^-0.2.
  checks::expect("Bartz in the chamber over pipe flow there", "closed form, 0.026/0.023 sigma",
                 0.026 / 0.023 * 1.215834,
                 bartz_coefficient(gas, throat, throat, pressure, station, wall) /
                     pipe_flow_coefficient(gas, flux, 36e-3),
                 checks::relative(1e-6));
}

TEST_CASE("A gas estimated from a propellant has the textbook relations") {
  const Propellant sorbitol{.name = "invented",
                            .characteristic_velocity = 908.58,
                            .gamma = 1.1361,
                            .flame_temperature = 1600,
                            .law = BurnLaw({{.rate = 8e-3, .at = 1e6, .exponent = 0.3}})};
  const ChamberGas found = estimated_gas(sorbitol);
  const std::string relations = checks::from_memory("Bartz, Jet Propulsion 27 (1957)");
  // The molar mass that c* implies is the published 39.86 kg/kmol.
  checks::expect("specific heat of the KN-sorbitol gas, J/kgK", "closed form, gamma R/(gamma-1)",
                 1.1361 / 0.1361 * gas_constant / 0.03986, found.specific_heat,
                 checks::relative(2e-4));
  checks::expect("Prandtl number at gamma 1.1361", relations, 0.8698, found.prandtl,
                 checks::absolute(5e-5));
  checks::expect("viscosity at 1600 K and 39.86 kg/kmol, Pa s", relations,
                 46.6e-10 * 0.45359237 / 0.0254 * std::sqrt(39.86) * std::pow(1600 * 1.8, 0.6),
                 found.viscosity, checks::relative(2e-4));
  CHECK(estimated_gas(sorbitol, 2000).temperature == 2000);
}

TEST_CASE("More pressure, a smaller throat and a colder wall take more heat") {
  const double h = bartz_coefficient(gas, throat, throat, pressure, {1, 1}, wall);
  CHECK(bartz_coefficient(gas, throat, throat, 2 * pressure, {1, 1}, wall) ==
        Approx(h * std::pow(2.0, 0.8)));
  CHECK(bartz_coefficient(gas, throat / 2, throat / 2, pressure, {1, 1}, wall) > h);
  CHECK(bartz_coefficient(gas, throat, throat, pressure, {1, 1}, wall / 2) > h);
}
