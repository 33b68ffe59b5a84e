// SPDX-License-Identifier: GPL-3.0-or-later
//
// What builders say of their motors. Loose by nature: bands and orders, not digits.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "firing/example_motor.hpp"
#include "grainwright/firing/prepared_motor.hpp"
#include "grainwright/motor/casing.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using namespace example;
using checks::absolute;
using checks::common_practice;
using checks::expect;

namespace {

double outer_diameter_in(const char* pipe, double tube_wall) {
  Casing casing{.bore = find_pipe(pipe).value().average_bore(), .tube_wall = tube_wall};
  return casing.grain_outer_diameter();
}

// A round-figure sugar propellant (one-piece law, from memory of a published strand-burner report).
Propellant sugar() {
  return {.name = "sugar",
          .ideal_density = 1889,
          .density_ratio = 0.95,
          .characteristic_velocity = 900,
          .gamma = 1.133,
          .expansion_gamma = 1.044,
          .law = BurnLaw({{.rate = 8.26e-3, .at = 1e6, .exponent = 0.319}})};
}

Motor single_pour(double length, double core, double throat) {
  Segment segment{
      .length = length * inch, .outer_diameter = 1.5 * inch, .core_diameter = core * inch};
  return {.grain = {.layers = {{segment, 1}}},
          .propellant = sugar(),
          .nozzle = {.throat_diameter = throat * inch, .exit_diameter = throat * inch}};
}

}  // namespace

TEST_CASE(
    "trade: three even segments for a 1.5 in grain and a 3/8 in core take just under 7.5 in") {
  double length = (3 * 1.5 + 0.375) / 2;
  Segment segment{
      .length = length * inch, .outer_diameter = 1.5 * inch, .core_diameter = 0.375 * inch};
  Grain grain{.layers = {{segment, 3}}};
  Burnback burnback(grain);
  expect("area at burnout / at lighting", common_practice, 1,
         burnback.burning_area(burnback.burnout()) / burnback.burning_area(0), absolute(1e-9));
  expect("length of the stack, in", common_practice, 7.4, grain.stack_length() / inch,
         absolute(0.1));
}

TEST_CASE("trade: the larger motor lights half to two thirds more area") {
  for (double tube_wall : {0.0, 0.06, 0.1}) {
    Segment small_one{.length = 6.5 * inch,
                      .outer_diameter = outer_diameter_in("1-1/4 sch 40", tube_wall * inch),
                      .core_diameter = 0.375 * inch,
                      .inhibited = {Face::outer, Face::head}};
    Segment large_one{.length = 7.5 * inch,
                      .outer_diameter = outer_diameter_in("1-1/2 sch 40", tube_wall * inch),
                      .core_diameter = 0.5 * inch};
    double growth = Burnback({.layers = {{large_one, 1}}}).burning_area(0) /
                    Burnback({.layers = {{small_one, 1}}}).burning_area(0);
    expect("burning area at lighting, larger / smaller motor", common_practice, 1.60, growth,
           absolute(0.13));
    double cores =
        large_one.core_diameter * large_one.length / (small_one.core_diameter * small_one.length);
    expect("core surface alone, larger / smaller motor", common_practice, 1.54, cores,
           absolute(0.005));
  }
}

TEST_CASE(
    "trade: the bore does not change the core's area at lighting, the core does in proportion") {
  auto core_area = [](double bore, double core) {
    Segment segment{.length = 7.5 * inch,
                    .outer_diameter = bore * inch,
                    .core_diameter = core * inch,
                    .inhibited = {Face::outer, Face::head, Face::nozzle}};
    return Burnback({.layers = {{segment, 1}}}).burning_area(0);
  };
  expect("core area, wide bore / narrow bore", common_practice, 1,
         core_area(1.5, 0.375) / core_area(1.2, 0.375), absolute(1e-12));
  expect("core area, 1/2 in core / 3/8 in core", common_practice, 4.0 / 3,
         core_area(1.5, 0.5) / core_area(1.5, 0.375), absolute(1e-12));
}

TEST_CASE("trade: a larger core costs impulse, a larger throat costs pressure and thrust") {
  Summary base = fire_steady(single_pour(7.5, 0.5, 22.0 / 64)).summary;
  Summary wide_core = fire_steady(single_pour(7.5, 0.625, 22.0 / 64)).summary;
  Summary wide_throat = fire_steady(single_pour(7.5, 0.5, 24.0 / 64)).summary;
  CHECK(wide_core.total_impulse < base.total_impulse);
  CHECK(wide_throat.peak_pressure < base.peak_pressure);
  CHECK(wide_throat.mean_thrust < base.mean_thrust);
}

TEST_CASE("trade: a long single pour climbs, an even stack does not") {
  Summary pour = fire_steady(single_pour(7.5, 0.375, 22.0 / 64)).summary;
  Motor stack = single_pour(7.3125 / 3, 0.375, 22.0 / 64);
  stack.grain.layers[0].count = 3;
  Summary even = fire_steady(stack).summary;
  CHECK(pour.peak_pressure > 3 * pour.initial_pressure);
  CHECK(even.peak_pressure < 1.5 * even.initial_pressure);
}

TEST_CASE("trade: three even segments behind a 20/64 in throat push about 115 lbf for 2/3 s") {
  // Read off a doubtful scale; a prediction is expected within a factor of 1.5 of both.
  Motor motor = single_pour(7.3125 / 3, 0.375, 20.0 / 64);
  motor.grain.layers[0].count = 3;
  Summary summary = fire_steady(motor).summary;
  expect("ln of peak thrust, lbf", common_practice, std::log(117.5),
         std::log(summary.peak_thrust / pound_force), absolute(std::log(1.5)));
  expect("ln of burn time, s", common_practice, std::log(2.0 / 3), std::log(summary.burn_time),
         absolute(std::log(1.5)));
}

TEST_CASE(
    "trade: one bare-ended 7.5 in pour overloads a 1-1/2 in pipe in the order of its throats") {
  // A builder's record: bursts at 20/64 in, loses an end at 22/64, is marginal late at 24/64,
  // against a short-time burst of about 1060 psi.
  double tight = fire_steady(single_pour(7.5, 0.5, 20.0 / 64)).summary.peak_pressure / psi;
  double middle = fire_steady(single_pour(7.5, 0.5, 22.0 / 64)).summary.peak_pressure / psi;
  double open = fire_steady(single_pour(7.5, 0.5, 24.0 / 64)).summary.peak_pressure / psi;
  CAPTURE(tight, middle, open);
  CHECK(tight > middle);
  CHECK(middle > open);
  CHECK(tight > 1060);
}
