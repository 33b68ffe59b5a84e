// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/firing/gaps.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "firing/motors.hpp"
#include "grainwright/firing/prepared_motor.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using std::numbers::pi;

TEST_CASE("a gap's Mach number is that of its gas through its rim") {
  const Motor motor = motors::four_segments();
  const std::vector<Gap> gaps = gaps_of(motor);
  REQUIRE(gaps.size() == 3);
  const Summary steady = fire_steady(motor).summary;
  const double rate = motor.propellant.law.rate(steady.initial_pressure);
  const double made = 1770 * rate * 2 * pi / 4 * (0.05 * 0.05 - 0.02 * 0.02);
  const double density = steady.initial_pressure / motor.propellant.gas_heat();
  const double speed = made / (density * pi * 0.02 * 2e-3);
  checks::expect("Mach number in the rim of a 2 mm gap", checks::closed_form,
                 speed / std::sqrt(1.2 * motor.propellant.gas_heat()), gaps[0].mach,
                 checks::relative(1e-12));
  CHECK(gaps[2].below == 3);
  CHECK(gaps[0].least_width == Approx(gaps[0].mach * 2e-3 / calm_gap_mach));
}

TEST_CASE("a gap between unlike cores empties through the narrower one") {
  Motor motor = motors::four_segments();
  Segment wide = motor.grain.layers.front().segment;
  motor.grain.layers.front().count = 1;
  wide.core_diameter = 0.03;
  motor.grain.layers.push_back({wide, 1});
  const double mach = gaps_of(motor)[0].mach;
  std::swap(motor.grain.layers[0], motor.grain.layers[1]);
  CHECK(gaps_of(motor)[0].mach == Approx(mach));
  const Summary steady = fire_steady(motor).summary;
  const double made = 1770 * motor.propellant.law.rate(steady.initial_pressure) * pi / 4 *
                      (2 * 0.05 * 0.05 - 0.02 * 0.02 - 0.03 * 0.03);
  const double density = steady.initial_pressure / motor.propellant.gas_heat();
  CHECK(mach ==
        Approx(made / (density * pi * 0.02 * 2e-3) / std::sqrt(1.2 * motor.propellant.gas_heat())));
}

TEST_CASE("narrow gaps and touching ends are warned of, wide ones are not") {
  Motor motor = motors::four_segments();
  motor.grain.spacer = 1.01 * gaps_of(motor)[0].least_width;
  CHECK(gap_warnings(motor).empty());
  motor.grain.spacer *= 0.95;
  REQUIRE(gap_warnings(motor).size() == 1);
  CHECK_THAT(gap_warnings(motor)[0], Catch::Contains("3 gaps") && Catch::Contains("Mach 0.3"));
  motor.grain.spacer = 0;
  REQUIRE(gap_warnings(motor).size() == 1);
  CHECK_THAT(gap_warnings(motor)[0], Catch::Contains("touch"));
  motor.grain.layers.front().count = 2;
  CHECK_THAT(gap_warnings(motor)[0], Catch::Contains("between segments 1 and 2"));
}

TEST_CASE("inhibited ends may touch") {
  Motor motor = motors::four_segments();
  motor.grain.spacer = 0;
  motor.grain.layers.front().segment.inhibited = {Face::outer, Face::head, Face::nozzle};
  CHECK(gaps_of(motor).empty());
  CHECK(gap_warnings(motor).empty());
}
