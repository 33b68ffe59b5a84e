// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/scatter/fault.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include <limits>
#include <numbers>
#include "grainwright/firing/prepared_motor.hpp"

#include "motors.hpp"
#include "support/checks.hpp"

namespace gw = grainwright;
using motors::mm;

namespace {

gw::SingleFiring with(const gw::Fault& fault, const gw::Motor& motor = motors::motor()) {
  const auto result = gw::scatter(
      {.motor = motor, .tolerances = motors::exact(), .faults = {fault}}, {.samples = 256});
  return result.mistakes.at(0).firing;
}

/// The motor with its three segments in tables of their own.
gw::Motor apart() {
  gw::Motor motor = motors::motor();
  const gw::Segment segment = motor.grain.layers[0].segment;
  motor.grain.layers = {{segment, 1}, {segment, 1}, {segment, 1}};
  return motor;
}

void agrees(const gw::SingleFiring& firing, const gw::Motor& motor) {
  const gw::Summary summary = gw::fire_steady(motor).summary;
  CHECK(firing.peak_pressure == Approx(summary.peak_pressure).epsilon(1e-12));
  CHECK(firing.burn_time == Approx(summary.burn_time).epsilon(1e-9));
  CHECK(firing.total_impulse == Approx(summary.total_impulse).epsilon(1e-6));
}

std::string complaint_of(const gw::Fault& fault) {
  const auto found = complaints(fault, motors::motor(), 1);
  REQUIRE(found.size() == 1);
  return found[0].text();
}

}  // namespace

TEST_CASE("A mistake by itself is the firing of the motor with that mistake") {
  gw::Motor motor = apart();
  motor.grain.layers[0].segment.inhibited = {gw::Face::head, gw::Face::outer};
  gw::Motor changed = motor;

  changed.grain.layers[0].segment.inhibited = {gw::Face::outer};
  agrees(with({.kind = gw::FaultKind::face_lights, .face = gw::Face::head}, motor), changed);

  changed = motor;
  changed.grain.layers[1].segment.inhibited = {gw::Face::nozzle, gw::Face::outer};
  agrees(with({.kind = gw::FaultKind::face_blocked, .layer = 1, .face = gw::Face::nozzle}, motor),
         changed);

  changed = motor;
  changed.grain.layers[2].segment.inhibited = {};
  agrees(with({.kind = gw::FaultKind::debond, .layer = 2}, motor), changed);

  changed = motor;
  changed.grain.layers[1].segment.core_diameter = 9 * mm;
  agrees(with({.kind = gw::FaultKind::wrong_core, .layer = 1, .diameter = 9 * mm}, motor), changed);

  changed = motor;
  changed.nozzle.throat_diameter = 10 * mm;
  agrees(with({.kind = gw::FaultKind::wrong_throat, .diameter = 10 * mm}, motor), changed);
}

TEST_CASE("So many pieces of a layer are hit, and no more") {
  gw::Motor motor = motors::motor();
  gw::Motor changed = apart();
  for (std::size_t i : {0U, 1U}) changed.grain.layers[i].segment.inhibited = {};
  agrees(with({.kind = gw::FaultKind::debond, .pieces = 2}, motor), changed);
}

TEST_CASE("A crack right through makes two segments of one") {
  gw::Motor motor = motors::motor();
  const gw::Segment segment = motor.grain.layers[0].segment;
  const double section = std::numbers::pi / 4 *
                         (segment.outer_diameter * segment.outer_diameter -
                          segment.core_diameter * segment.core_diameter);
  gw::Motor changed = apart();
  gw::Segment half = segment;
  half.length /= 2;
  changed.grain.layers[0] = {half, 2};
  agrees(with({.kind = gw::FaultKind::crack, .extra_area = 2 * section}), changed);

  // Two cracks, three pieces.
  half.length = segment.length / 3;
  changed.grain.layers[0] = {half, 3};
  agrees(with({.kind = gw::FaultKind::crack, .extra_area = 4 * section}), changed);
}

TEST_CASE("No propellant is lost by a crack: in a vacuum the impulse stays") {
  const double whole = gw::fire_steady(motors::motor()).summary.total_impulse;
  for (double extra : {1e-5, 3e-4, 1.1e-3, 4e-3}) {
    const auto firing = with({.kind = gw::FaultKind::crack, .extra_area = extra});
    checks::expect("impulse of a cracked segment / of a whole one, in a vacuum",
                   checks::closed_form, 1, firing.total_impulse / whole, checks::relative(1e-6));
  }
}

TEST_CASE("A crack adds the area that it is said to") {
  // Inhibited ends and a long burn: area, and with it pressure, is greatest at the end without the
  // crack; with a large one at lighting.
  gw::Motor motor = motors::motor();
  for (gw::Layer& layer : motor.grain.layers) {
    layer.segment.inhibited = {gw::Face::outer, gw::Face::head, gw::Face::nozzle};
    layer.segment.core_diameter = 30 * mm;
  }
  const gw::Summary plain = gw::fire_steady(motor).summary;
  const double extra = 6e-4;
  const double n = motors::exponent;
  const double expected =
      plain.initial_pressure * std::pow(1 + extra / plain.initial_burning_area, 1 / (1 - n));
  const auto firing = with({.kind = gw::FaultKind::crack, .extra_area = extra}, motor);
  CHECK(firing.peak_pressure >= expected * (1 - 1e-9));
}

TEST_CASE("The usual mistakes of a motor can all be made") {
  const gw::Motor motor = apart();
  const auto faults = gw::usual_faults(motor, {10 * mm, 11 * mm, 12 * mm}, {8 * mm, 12 * mm});
  CHECK(faults.size() == 3 * 5 + 2);
  for (const gw::Fault& fault : faults) {
    CHECK(complaints(fault, motor, 0).empty());
    CHECK(fault.probability == 0);
    CHECK_FALSE(gw::described(fault, motor).empty());
    CHECK(with(fault, motor).peak_pressure > 0);
  }
}

TEST_CASE("Mistakes that cannot be made are refused with what can") {
  using Kind = gw::FaultKind;
  using Catch::Contains;
  CHECK_THAT(complaint_of({.kind = Kind::debond, .layer = 4}), Contains("fault 2: segment: 5"));
  CHECK_THAT(complaint_of({.kind = Kind::debond, .pieces = 4}), Contains("1 to 3"));
  CHECK_THAT(complaint_of({.kind = Kind::face_lights, .face = gw::Face::head}),
             Contains("burns anyway"));
  CHECK_THAT(complaint_of({.kind = Kind::face_blocked, .face = gw::Face::outer}),
             Contains("does not burn anyway"));
  CHECK_THAT(complaint_of({.kind = Kind::crack}), Contains("extra_area"));
  CHECK_THAT(complaint_of({.kind = Kind::wrong_throat}), Contains("throat"));
  CHECK_THAT(complaint_of({.kind = Kind::wrong_core, .diameter = 40 * mm}), Contains("narrower"));
  CHECK_THAT(complaint_of({.kind = Kind::debond, .probability = 1.5}), Contains("from 0 to 1"));
}

TEST_CASE("A solid segment cannot lose its only bare face") {
  gw::Motor motor = motors::motor();
  motor.grain.layers = {{{.length = 60 * mm,
                          .outer_diameter = 38 * mm,
                          .inhibited = {gw::Face::head, gw::Face::outer}},
                         1}};
  const auto found =
      complaints({.kind = gw::FaultKind::face_blocked, .face = gw::Face::nozzle}, motor, 0);
  CHECK_FALSE(found.empty());
  for (const gw::Fault& fault : gw::usual_faults(motor, {}, {})) {
    CHECK(fault.kind != gw::FaultKind::face_blocked);
  }
}

TEST_CASE("Of the usual mistakes of many kinds those that peak highest are kept") {
  gw::Motor motor = motors::motor();
  const gw::Segment segment = motor.grain.layers[0].segment;
  motor.grain.layers.clear();
  for (int i = 0; i < 12; ++i) {
    motor.grain.layers.push_back({segment, 1});
    motor.grain.layers.back().segment.length += i * mm;
  }
  motor.nozzle = {.throat_diameter = 20 * mm, .exit_diameter = 30 * mm};
  for (auto& layer : motor.grain.layers) layer.segment.core_diameter = 24 * mm;
  const std::vector<double> rods = {22 * mm, 24 * mm, 26 * mm};
  const auto kept = gw::usual_faults(motor, {19 * mm, 21 * mm}, rods);
  CHECK(kept.size() == 64);
  CHECK(complaints(gw::ScatterTask{.motor = motor, .faults = kept}).empty());
  // 12 x (two faces blocked, debond, crack, two rods) + two drills.
  double least = std::numeric_limits<double>::infinity();
  std::size_t debonds = 0;
  for (const gw::Fault& fault : kept) {
    least = std::min(least, with(fault, motor).peak_pressure);
    debonds += fault.kind == gw::FaultKind::debond ? 1 : 0;
  }
  CHECK(debonds == 12);
  const gw::Fault wide{.kind = gw::FaultKind::wrong_throat, .diameter = 21 * mm};
  CHECK(std::ranges::find(kept, wide) == kept.end());
  CHECK(with(wide, motor).peak_pressure < least);
}
