// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/strength/joint.hpp"

#include <rapidcheck.h>
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "support/checks.hpp"

using namespace grainwright;

namespace {

constexpr double mm = 1e-3;
constexpr double mpa = 1e6;
constexpr double inch = 0.0254;
constexpr double psi = 6894.757293168361;
constexpr double lbf = 4.4482216152605;
const std::string closed_form = "closed form, ";

/// All strengths 1 Pa, so that a capacity is the area that bears.
Material unit() {
  return {.name = "unit",
          .conductivity = 1,
          .density = 1,
          .specific_heat = 1,
          .yield = 1,
          .ultimate = 1,
          .shear = 1,
          .bearing = 1};
}

Seat seat_of(double outer, double wall, double thickness = 40 * mm) {
  return {{outer, wall}, unit(), unit(), thickness};
}

double capacity(const Joint& joint, const Seat& seat, std::string_view mode) {
  const std::vector<JointMode> modes = modes_of(joint, seat);
  const auto found = std::ranges::find(modes, mode, &JointMode::name);
  REQUIRE(found != modes.end());
  return found->capacity;
}

PinnedJoint eight_pins() {
  return {.pin = unit(),
          .count = 8,
          .diameter = 4.76 * mm,
          .depth = 12 * mm,
          .reach = 15 * mm,
          .end_distance = 12 * mm};
}

std::vector<std::string> keys_of(const std::vector<Complaint>& complaints) {
  std::vector<std::string> keys;
  for (const Complaint& complaint : complaints) keys.push_back(complaint.key);
  return keys;
}

}  // namespace

TEST_CASE("A closure held by radial pins") {
  const Seat seat = seat_of(60.33 * mm, 5.54 * mm);
  const double bore = 2 * seat.tube.inner_radius();
  const double load = 5 * mpa * std::numbers::pi / 4 * bore * bore;
  checks::expect("end load of 5 MPa on 49.25 mm, N", closed_form + "p pi D^2/4", 9525.16, load,
                 checks::absolute(0.00501));
  checks::expect("load on each of 8 pins, N", closed_form + "F/n", 1190.65, load / 8,
                 checks::absolute(0.00501));
  struct Row {
    std::string mode, formula;
    double stress;
  };
  const Row rows[] = {{"shear of the pins", "F/(n pi d^2/4)", 66.908},
                      {"bearing in the pipe", "F/(n d t)", 45.151},
                      {"bearing in the pins", "F/(n d t)", 45.151},
                      {"tear-out of the pipe's end", "F/(2 n (e - d/2) t)", 11.170},
                      {"tension between the holes", "F/(pi (D - t) t - n d t)", 12.826}};
  for (const Row& row : rows) {
    checks::expect("8 pins of 4.76 mm: " + row.mode + ", MPa", closed_form + row.formula,
                   row.stress, load / capacity(eight_pins(), seat, row.mode) / mpa,
                   checks::absolute(5.1e-4));
  }
  const Seat gross = seat;
  PinnedJoint few = eight_pins();
  few.count = 0;
  checks::expect("gross tension in the pipe, MPa", closed_form + "F/(pi (D - t) t)", 9.989,
                 load / capacity(few, gross, "tension between the holes") / mpa,
                 checks::absolute(5.1e-4));
}

TEST_CASE("Bolts in a plate, as the textbook has them") {
  // A flat plate 2.375 in wide becomes a tube that is as long around at its middle.
  const std::string shigley =
      "Budynas & Nisbett, Shigley's Mechanical Engineering Design, chapter 8";
  const double wall = 5.0 / 16 * inch;
  const double around = 2.375 * inch;
  const Seat plate = seat_of(around / std::numbers::pi + wall, wall);
  PinnedJoint bolts{.pin = unit(), .count = 3, .diameter = 0.375 * inch};
  const double load = 5.4e3 * lbf;
  const double bearing = load / capacity(bolts, plate, "bearing in the pipe");
  checks::expect("3 bolts 3/8 in, plate 5/16 in: bearing area, in2", shigley, 0.3516,
                 capacity(bolts, plate, "bearing in the pipe") / (inch * inch),
                 checks::absolute(5.1e-5));
  checks::expect("the same: bearing stress, ksi", shigley, 15.36, bearing / psi / 1e3,
                 checks::absolute(0.00501));
  checks::expect("the same: factor on the bolts' 92 ksi", shigley, 5.99, 92e3 * psi / bearing,
                 checks::absolute(0.00501));
  checks::expect("the same: factor on the member's 57 ksi", shigley, 3.71, 57e3 * psi / bearing,
                 checks::absolute(0.00501));
  bolts.count = 2;
  const double net = capacity(bolts, plate, "tension between the holes");
  checks::expect("2 holes in a row: net area, in2", shigley, 0.5078, net / (inch * inch),
                 checks::absolute(5.1e-5));
  checks::expect("the same: tension, ksi", shigley, 10.63, load / net / psi / 1e3,
                 checks::absolute(0.00501));
  checks::expect("the same: factor on 57 ksi", shigley, 5.36, 57e3 * psi / (load / net),
                 checks::absolute(0.00501));
}

TEST_CASE("Pins sized by hand have the area that they need") {
  // 480 kN on 4 bolts in double shear at 168.75 MPa: eight shear planes.
  const std::string source = "a published worked example of a bolted joint";
  const double diameter = 21.277 * mm;
  const PinnedJoint planes{.pin = unit(), .count = 8, .diameter = diameter};
  const double area = capacity(planes, seat_of(1, 0.1), "shear of the pins");
  checks::expect("area of each plane, mm2", source, 355.56, area / 8 * 1e6, checks::absolute(0.01));
  checks::expect("allowed load, kN", source, 480, area * 168.75 * mpa / 1e3,
                 checks::relative(1e-4));
}

TEST_CASE("Tear-out and bearing as structural steel's code has them") {
  // AISC: 0.5 x 1.2 Lc t Fu, that is two planes of Lc t at 0.6 Fu; and 0.5 x 2.4 d t Fu.
  const std::string aisc = "AISC 360 J3.10, a published sample calculation";
  const double fu = 65e3 * psi;
  const double wall = 0.315 * inch;
  Seat seat = seat_of(1, wall);
  seat.pipe.shear = 0.6 * fu;
  seat.pipe.bearing = 2.4 * fu;
  const PinnedJoint bolt{.pin = unit(),
                         .count = 1,
                         .diameter = 0.875 * inch,
                         .end_distance = (2.94 + 0.875 / 2) * inch};
  checks::expect("tear-out with Lc 2.94 in, kip", aisc, 36.11,
                 0.5 * capacity(bolt, seat, "tear-out of the pipe's end") / lbf / 1e3,
                 checks::absolute(0.0101));
  checks::expect("bearing of 7/8 in, kip", aisc, 21.50,
                 0.5 * capacity(bolt, seat, "bearing in the pipe") / lbf / 1e3,
                 checks::absolute(0.00501));
}

TEST_CASE("A bonded plug") {
  const double bore = 49.25 * mm;
  BondedJoint joint{.bond = unit(), .length = 40 * mm, .diameter = bore};
  const Seat seat = seat_of(60.33 * mm, 5.54 * mm);
  const double load = 5 * mpa * std::numbers::pi / 4 * bore * bore;
  checks::expect("shear of a 40 mm bond under 5 MPa, MPa", closed_form + "p D/(4 L)", 1.53906,
                 load / capacity(joint, seat, "shear of the bond") / mpa, checks::absolute(5.1e-6));
  joint.length = 9.921 * mm;
  joint.bond.shear = 6.205 * mpa;
  checks::expect("bond of 9.921 mm at 6.205 MPa carries, N", closed_form + "L = p D/(4 tau)", load,
                 capacity(joint, seat, "shear of the bond"), checks::relative(1e-4));
}

TEST_CASE("A plug behind a lip") {
  const Seat seat = seat_of(60.33 * mm, 5.54 * mm);
  const double bore = 2 * seat.tube.inner_radius();
  const double load = 5 * mpa * std::numbers::pi / 4 * bore * bore;
  const auto stress = [&](double thickness, std::string_view mode) {
    return load / capacity(LipJoint{42 * mm, thickness}, seat, mode) / mpa;
  };
  checks::expect("end load, N", closed_form + "p pi D^2/4", 9525.1617, load,
                 checks::absolute(5.1e-5));
  checks::expect("shear of a lip 2 mm thick, MPa", closed_form + "p D/(4 t)", 30.78125,
                 stress(2 * mm, "shear of the lip"), checks::absolute(5.1e-6));
  checks::expect("shear of a lip 3 mm thick, MPa", closed_form + "p D/(4 t)", 20.52083,
                 stress(3 * mm, "shear of the lip"), checks::absolute(5.1e-6));
  checks::expect("bearing on a lip to 21 mm radius, MPa", closed_form + "F/(pi (R^2 - r^2))",
                 18.33207, stress(3 * mm, "bearing of the lip"), checks::absolute(5.1e-6));
  checks::expect("bending of a lip 3 mm thick, MPa", closed_form + "6 (F/pi D)(c/2)/t^2", 74.38802,
                 stress(3 * mm, "bending of the lip"), checks::absolute(5.1e-6));
}

TEST_CASE("Screws have the stress areas of the tables") {
  const std::string machinery = "Machinery's Handbook, stress area of threads";
  struct Row {
    std::string name;
    double diameter, pitch, area;
  };
  for (const Row& row : {Row{"8-32", 0.164, 1.0 / 32, 0.01401},
                         {"10-24", 0.190, 1.0 / 24, 0.01753},
                         {"10-32", 0.190, 1.0 / 32, 0.01999},
                         {"1/4-20", 0.25, 1.0 / 20, 0.03182},
                         {"5/16-18", 0.3125, 1.0 / 18, 0.05243},
                         {"3/8-16", 0.375, 1.0 / 16, 0.07749}}) {
    checks::expect("stress area of " + row.name + ", in2", machinery, row.area,
                   stress_area(row.diameter, row.pitch, ThreadForm::unified),
                   checks::absolute(5.1e-6));
  }
  for (const Row& row : {Row{"M4", 4, 0.7, 8.779},
                         {"M5", 5, 0.8, 14.183},
                         {"M6", 6, 1, 20.123},
                         {"M8", 8, 1.25, 36.609}}) {
    checks::expect("stress area of " + row.name + ", mm2", machinery, row.area,
                   stress_area(row.diameter, row.pitch, ThreadForm::iso), checks::absolute(5.1e-4));
  }
  // Single shear through the thread at 0.6 of the tensile strength.
  const std::string rule = checks::common_practice + ": shear is 0.6 tensile";
  const auto shears = [](double diameter, double pitch, double tensile, ThreadForm form) {
    return 0.6 * tensile * stress_area(diameter, pitch, form);
  };
  using enum ThreadForm;
  checks::expect("1/4-20 grade 2 in shear, lbf", rule, 1413, shears(0.25, 0.05, 74e3, unified),
                 checks::absolute(0.51));
  checks::expect("8-32 grade 2 in shear, lbf", rule, 622, shears(0.164, 1.0 / 32, 74e3, unified),
                 checks::absolute(0.51));
  checks::expect("10-24 grade 2 in shear, lbf", rule, 778, shears(0.190, 1.0 / 24, 74e3, unified),
                 checks::absolute(0.51));
  checks::expect("8-32 grade 5 in shear, lbf", rule, 1009, shears(0.164, 1.0 / 32, 120e3, unified),
                 checks::absolute(0.51));
  checks::expect("10-24 grade 5 in shear, lbf", rule, 1262, shears(0.190, 1.0 / 24, 120e3, unified),
                 checks::absolute(0.51));
  checks::expect("1/4-20 grade 5 in shear, lbf", rule, 2291, shears(0.25, 0.05, 120e3, unified),
                 checks::absolute(0.51));
  checks::expect("M4 A2-70 in shear, N", rule, 3687.1, shears(4, 0.7, 700, iso),
                 checks::absolute(0.1));
  checks::expect("M5 A2-70 in shear, N", rule, 5956.7, shears(5, 0.8, 700, iso),
                 checks::absolute(0.1));
  checks::expect("M6 A2-70 in shear, N", rule, 8451.8, shears(6, 1, 700, iso),
                 checks::absolute(0.1));
}

TEST_CASE("Threads strip over the areas of the standard") {
  const std::string h28 = checks::from_memory("FED-STD-H28/2");
  const ThreadLimits quarter{.least_major = 0.2408,
                             .least_pitch_diameter = 0.2127,
                             .most_pitch_diameter = 0.2224,
                             .most_minor = 0.2070,
                             .pitch = 0.05};
  const double screw = screw_strip_area(quarter, 0.2);
  const double hole = hole_strip_area(quarter, 0.2);
  checks::expect("1/4-20, 0.200 in engaged: screw's area, in2", h28, 0.0735914, screw,
                 checks::relative(1e-5));
  checks::expect("1/4-20, 0.200 in engaged: hole's area, in2", h28, 0.1077953, hole,
                 checks::relative(1e-5));
  checks::expect("1/4-20 grade 2 strips at, lbf", h28, 3267.5, 0.6 * 74e3 * screw,
                 checks::relative(2e-5));
  checks::expect("the same hole in 6061 of 30 ksi strips at, lbf", h28, 3233.9, 30e3 * hole,
                 checks::relative(2e-5));
  checks::expect("1/4-20: engagement at which the screw breaks first, in", h28, 0.172960,
                 full_strength_engagement(quarter, stress_area(0.25, 0.05, ThreadForm::unified)),
                 checks::relative(2e-5));
  const ThreadLimits m6{5.794, 5.212, 5.500, 5.153, 1};
  checks::expect("M6x1, 6 mm engaged: screw's area, mm2", h28, 51.87454, screw_strip_area(m6, 6),
                 checks::relative(1e-5));
  checks::expect("M6x1, 6 mm engaged: hole's area, mm2", h28, 73.14530, hole_strip_area(m6, 6),
                 checks::relative(1e-5));
}

TEST_CASE("A thread with no play bears on the basic profile, play takes from both sides") {
  const Seat seat = seat_of(60 * mm, 8 * mm);
  ThreadedJoint joint{.diameter = 48 * mm, .pitch = 1.5 * mm, .engagement = 15 * mm};
  const double minor = 48 * mm - 1.25 * std::numbers::sqrt3 / 2 * 1.5 * mm;
  CHECK(capacity(joint, seat, "stripping of its own thread") ==
        Approx(std::numbers::pi * 15 * mm * minor * 0.75));
  CHECK(capacity(joint, seat, "stripping of pipe's thread") ==
        Approx(std::numbers::pi * 15 * mm * 48 * mm * 0.875));
  const double before = capacity(joint, seat, "stripping of pipe's thread");
  joint.play = 0.2 * mm;
  CHECK(capacity(joint, seat, "stripping of pipe's thread") < before);
}

TEST_CASE("A plug cast into holes makes its own pins") {
  const Seat seat = seat_of(60.33 * mm, 5.54 * mm);
  const HoleJoint holes{8, 4.76 * mm, 12 * mm, 12 * mm};
  CHECK(capacity(holes, seat, "shear of the plug's stubs") ==
        Approx(capacity(eight_pins(), seat, "shear of the pins")));
  CHECK(name_of(Joint{holes}) == "keyed");
}

TEST_CASE("A proved load is what it is") {
  const Seat seat = seat_of(60 * mm, 5 * mm);
  CHECK(capacity(RatedJoint{1234}, seat, "the load that was proved") == 1234);
}

TEST_CASE("Capacities grow in proportion with pins, lengths and strengths") {
  CHECK(rc::check("proportions", [] {
    const int k = *rc::gen::inRange(2, 5);
    const Seat seat = seat_of(60 * mm, 4 * mm);
    PinnedJoint pins = eight_pins();
    const auto one = modes_of(pins, seat);
    pins.count *= k;
    const auto many = modes_of(pins, seat);
    for (std::size_t i = 0; i < one.size(); ++i) {
      if (one[i].name == "tension between the holes") {
        RC_ASSERT(many[i].capacity < one[i].capacity);
      } else {
        RC_ASSERT(std::abs(many[i].capacity / one[i].capacity - k) < 1e-12);
      }
    }
    const BondedJoint bond{.bond = unit(), .length = 10 * mm, .diameter = 50 * mm};
    BondedJoint longer = bond;
    longer.length *= k;
    RC_ASSERT(std::abs(modes_of(longer, seat)[0].capacity / modes_of(bond, seat)[0].capacity - k) <
              1e-12);
  }));
}

TEST_CASE("What cannot be made is refused by name") {
  const Seat seat = seat_of(60.33 * mm, 5.54 * mm);
  CHECK(complaints(eight_pins(), seat).empty());

  PinnedJoint crowded = eight_pins();
  crowded.count = 40;
  CHECK(keys_of(complaints(crowded, seat)) == std::vector<std::string>{"pins"});
  PinnedJoint low = eight_pins();
  low.end_distance = 2 * mm;
  low.depth = 39 * mm;
  CHECK(keys_of(complaints(low, seat)) == std::vector<std::string>{"pin_depth", "end_distance"});

  BondedJoint bond{.bond = unit(), .length = 50 * mm, .diameter = 49 * mm};
  CHECK(keys_of(complaints(bond, seat)) == std::vector<std::string>{"bond_length"});
  bond.length = -1;
  CHECK(keys_of(complaints(bond, seat)) == std::vector<std::string>{"bond_length"});
  bond.length = 30 * mm;
  CHECK(complaints(bond, seat).empty());
  bond.bond.cure = {{7200, 1e6}};
  CHECK(keys_of(complaints(bond, seat)) == std::vector<std::string>{"cure_time"});

  Seat cement = seat;
  cement.plug.shear = 0;
  const auto unknown = complaints(LipJoint{42 * mm, 3 * mm}, cement);
  CHECK(keys_of(unknown) == std::vector<std::string>{"material"});
  CHECK_THAT(unknown.front().allowed, Catch::Contains("whose shear strength is known"));
  CHECK(keys_of(complaints(LipJoint{60 * mm, 3 * mm}, seat)) ==
        std::vector<std::string>{"lip_opening"});
  CHECK(keys_of(complaints(ThreadedJoint{48 * mm, 1.5 * mm, 60 * mm}, seat)) ==
        std::vector<std::string>{"engagement"});
  CHECK(keys_of(complaints(RatedJoint{-3}, seat)) == std::vector<std::string>{"rated_load"});
}
