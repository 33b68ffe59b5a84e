// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/grain/planar_front.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <catch2/catch.hpp>

#include "drawn.hpp"
#include "grainwright/grain/core_shapes.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using drawn::at_web;
using drawn::integral_of_perimeter;
using drawn::wall;
using std::numbers::pi;

namespace {

using Table = std::vector<std::pair<double, double>>;

void check_perimeters(const std::string& what, const PlanarFront& front, const Table& table) {
  for (auto [web, expected] : table) {
    checks::expect(what + ", perimeter, mm," + at_web(web), checks::closed_form, expected,
                   front.perimeter(web), checks::absolute(6e-6));
  }
}

void check_sections(const std::string& what, const PlanarFront& front, const Table& table,
                    double tolerance) {
  for (auto [web, expected] : table) {
    checks::expect(what + ", section, mm2," + at_web(web), checks::closed_form, expected,
                   front.section(web), checks::absolute(tolerance));
  }
}

Star classic_star(double half_angle) {
  return {5, half_angle, 0.75, 1, 15};
}

// Perimeter of a star by the classical three phases, per b = f + y.
double star_perimeter(const Star& s, double web) {
  double q = pi * s.angle_fraction / s.points;
  double t = s.half_angle;
  double l = s.fillet_centre;
  double b = s.fillet + web;
  double rim = (l + b) * (1 - s.angle_fraction) * pi / s.points;
  if (b < l * std::sin(q) / std::cos(t)) {
    return 2 * s.points *
           (l * (std::sin(q) / std::sin(t) + (1 - s.angle_fraction) * pi / s.points) +
            b * (pi / 2 + pi / s.points - t - 1 / std::tan(t)));
  }
  double arc = q + std::asin(l * std::sin(q) / b);
  if (l + b <= wall) return 2 * s.points * (rim + b * arc);
  double cut = std::acos((wall * wall - l * l - b * b) / (2 * l * b));
  return 2 * s.points * b * (arc - cut);
}

// The derivative by the symmetric difference, whose error is of second order.
void check_slope(const PlanarFront& front, double web) {
  double step = 1e-5;
  for (double event : front.events()) {
    if (std::abs(event - web) < 0.02) return;  // beside an event the derivative may be infinite
  }
  double slope = (front.section(web - step) - front.section(web + step)) / (2 * step);
  CHECK(std::abs(slope - front.perimeter(web)) < 1e-5);
}

// The front as it is drawn, against the sums of closed forms.
void check_strokes(const PlanarFront& front, double web) {
  double sum = 0;
  for (const Stroke& stroke : front.strokes(web)) {
    double chord = std::hypot(stroke.to.x - stroke.from.x, stroke.to.y - stroke.from.y);
    sum += stroke.turn == 0 ? chord : 0.5 * chord * stroke.turn / std::sin(0.5 * stroke.turn);
  }
  CHECK(std::abs(sum - front.perimeter(web)) < 1e-10 * wall);
}

void check_whole_burn(const PlanarFront& front) {
  double section = front.section(0);
  CHECK(std::abs(integral_of_perimeter(front) - section) < 1e-10 * pi * wall * wall);
  CHECK(front.section(front.burnout()) < 1e-10 * section);
  CHECK(front.perimeter(front.burnout() * (1 + 1e-9)) == 0);
  for (int i = 1; i < 12; ++i) {
    check_slope(front, front.burnout() * i / 12);
    check_strokes(front, front.burnout() * i / 12);
  }
}

}  // namespace

TEST_CASE("a star with the neutral angle burns evenly while its flanks live") {
  PlanarFront front(star(classic_star(neutral_half_angle(5))), wall);
  std::string source = "neutral star, N 5, e 0.75, l 15, f 1, R 25";
  check_perimeters(source, front,
                   {{0, 155.288186},
                    {3, 155.288186},
                    {6.9554, 155.288186},
                    {8, 157.346394},
                    {8.999, 161.300113},
                    {9, 122.034680},
                    {10, 63.296901},
                    {11, 35.396619}});
  check_sections(source, front, {{0, 1560.353834}}, 1e-6);
  checks::expect(source + ", burnout, mm", checks::closed_form, 12.481287, front.burnout(),
                 checks::absolute(1e-6));
  check_whole_burn(front);
}

TEST_CASE("the neutral half angle is the literature's") {
  // t + cot t = pi/2 + pi/N; the rounded table stands in Barrère et al., Rocket Propulsion, 1960.
  Table degrees = {{3, 24.546646}, {4, 28.216162}, {5, 31.129254}, {6, 33.528279},
                   {7, 35.556815}, {8, 37.306653}, {9, 38.839864}, {10, 40.200285}};
  for (auto [points, expected] : degrees) {
    checks::expect(
        "neutral half angle of a star of " + std::to_string(static_cast<int>(points)) + ", deg",
        checks::closed_form, expected, neutral_half_angle(static_cast<int>(points)) * 180 / pi,
        checks::absolute(6e-7));
  }
  for (auto [points, expected] : Table{{5, 31.13}, {6, 33.53}, {7, 35.56}, {8, 37.31}}) {
    checks::expect(
        "neutral half angle of a star of " + std::to_string(static_cast<int>(points)) + ", deg",
        checks::from_memory("Barrère et al., Rocket Propulsion, 1960"), expected,
        neutral_half_angle(static_cast<int>(points)) * 180 / pi, checks::absolute(0.006));
  }
}

TEST_CASE("a star wider than neutral is progressive, and the same after its cusp") {
  PlanarFront front(star(classic_star(36 * pi / 180)), wall);
  check_perimeters(
      "star with half angle 36 deg", front,
      {{0, 141.36230}, {2, 145.25059}, {4, 149.13888}, {6, 153.02717}, {8, 157.346394}});
  check_sections("star with half angle 36 deg", front, {{0, 1510.461301}}, 1e-6);
  PlanarFront neutral(star(classic_star(neutral_half_angle(5))), wall);
  for (double web : {7.6, 8.5, 9.5, 10.5, 11.5, 12.4}) {
    CHECK(front.perimeter(web) == Approx(neutral.perimeter(web)).epsilon(1e-12));
  }
  check_whole_burn(front);
}

TEST_CASE("stars of every kind burn by the three phases") {
  for (Star shape :
       {Star{3, 0.7, 0.5, 0.5, 14}, Star{6, 0.6, 0.8, 2, 16}, Star{8, 0.7, 0.6, 0, 15},
        Star{12, 0.9, 0.9, 0.25, 18}, Star{4, 0.6, 0.6, 0, 12}, Star{6, 0.9, 1, 1, 13}}) {
    PlanarFront front(star(shape), wall);
    for (double part = 0.013; part < 1; part += 0.0489) {
      double web = part * front.burnout();
      CHECK(front.perimeter(web) == Approx(star_perimeter(shape, web)).epsilon(1e-11));
    }
    check_whole_burn(front);
  }
}

TEST_CASE("a slotted tube cut through to the wall burns from the start to its corners") {
  PlanarFront front(slotted_tube({8, 4, 3, 0, true}), wall);
  std::string source = "slotted tube, R 25, bore 8, 4 slots of half-width 1.5";
  check_perimeters(source, front,
                   {{0, 174.968775},
                    {2, 157.316490},
                    {4, 139.467852},
                    {8, 101.162072},
                    {10, 80.102415},
                    {15, 18.253120}});
  check_sections(source, front, {{0, 1558.048072}}, 1e-6);
  check_sections(source, front, {{2, 1225.8030}, {4, 928.9276}, {8, 446.2151}, {10, 264.7010}},
                 6e-5);
  REQUIRE(front.events().size() == 2);
  checks::expect(source + ", bore arc gone at, mm", checks::closed_form, 14.192388,
                 front.events()[0], checks::absolute(6e-7));
  checks::expect(source + ", burnout, mm", checks::closed_form, 16.177670, front.burnout(),
                 checks::absolute(6e-7));
  check_whole_burn(front);
}

TEST_CASE("an off-centre core burns as the arcs of two circles") {
  PlanarFront front(round_cores({{{3, 0}, 10}}), wall);
  Table perimeters = {{0, 62.83185307},   {12, 138.23007676}, {12.5, 113.40084431},
                      {13, 103.63383806}, {15, 75.53801342},  {17, 43.13792591}};
  Table sections = {{0, 1649.33614313}, {12, 442.96456416}, {12.5, 382.26779281},
                    {13, 328.14271513}, {15, 149.90995134}, {17, 28.76853545},
                    {17.9, .91067832}};
  check_perimeters("off-centre core, R 25, r 10, e 3", front, perimeters);
  check_sections("off-centre core, R 25, r 10, e 3", front, sections, 1e-8);
  for (auto [web, expected] : sections) {
    OffCentre arcs = off_centre_core(wall, 10, 3, web);
    checks::expect("off-centre core by arcs, section, mm2," + at_web(web), checks::closed_form,
                   expected, arcs.section, checks::absolute(1e-8));
    CHECK(front.perimeter(web) == Approx(arcs.perimeter).epsilon(1e-12));
  }
  checks::expect("off-centre core, burnout, mm", checks::closed_form, 18, front.burnout(),
                 checks::relative(1e-12));
  checks::expect("off-centre core, integral of perimeter, mm2", checks::closed_form, 525 * pi,
                 integral_of_perimeter(front), checks::relative(1e-12));
  checks::expect("off-centre core, left when it first meets the wall, %", checks::closed_form,
                 26.857, 100 * front.section(12) / front.section(0), checks::absolute(6e-4));
  checks::expect("off-centre core, left when a centred one is out, %", checks::closed_form, 9.089,
                 100 * front.section(15) / front.section(0), checks::absolute(6e-4));
  check_whole_burn(front);
}

TEST_CASE("without offset, a round core is the plain one") {
  PlanarFront front(round_cores({{{0, 0}, 10}}), wall);
  for (double web : {0.0, 3.0, 9.0, 14.9}) {
    CHECK(front.perimeter(web) == Approx(2 * pi * (10 + web)).epsilon(1e-13));
    CHECK(front.section(web) == Approx(pi * (625 - std::pow(10 + web, 2))).epsilon(1e-12));
    CHECK(off_centre_core(wall, 10, 0, web).section == Approx(front.section(web)).epsilon(1e-12));
    CHECK(off_centre_core(wall, 10, 1e-9, web).section == Approx(front.section(web)).epsilon(1e-9));
  }
  CHECK(front.burnout() == Approx(15).epsilon(1e-13));
}

TEST_CASE("a square port grows by its sides and four quarter circles until the wall") {
  double side = 12;
  PlanarFront front(drawn::polygon({{-6, -6}, {6, -6}, {6, 6}, {-6, 6}}), wall);
  double corner_at_wall = wall - 6 * std::numbers::sqrt2;
  for (double web = 0; web < corner_at_wall; web += 1.25) {
    checks::expect("square port of 12, perimeter, mm," + at_web(web), checks::closed_form,
                   4 * side + 2 * pi * web, front.perimeter(web), checks::relative(1e-13));
  }
  CHECK(front.burnout() == Approx(wall - 6).epsilon(1e-13));
  check_whole_burn(front);
}

TEST_CASE("a slot grows as two straight sides and two half circles until the wall") {
  PlanarFront front(slot({20, 6, true}), wall);
  for (double web : {0.0, 4.0, 10.0, 14.99}) {
    checks::expect("slot of 20 by 6, perimeter, mm," + at_web(web), checks::closed_form,
                   2 * 14 + 2 * pi * (3 + web), front.perimeter(web), checks::relative(1e-13));
  }
  CHECK(front.burnout() == Approx(wall - 3).epsilon(1e-13));
  check_whole_burn(front);
}

TEST_CASE("parallel facing edges vanish at once, and that is an event") {
  // Two slots side by side leave a rib 4 wide: at web 2 both of its faces are gone.
  Outline both = drawn::polygon({{-5, -8}, {-2, -8}, {-2, 8}, {-5, 8}});
  Outline right = drawn::polygon({{2, -8}, {5, -8}, {5, 8}, {2, 8}});
  both.voids.push_back(right.voids[0]);
  PlanarFront front(both, wall);
  REQUIRE(std::count_if(front.events().begin(), front.events().end(),
                        [](double web) { return std::abs(web - 2) < 1e-12; }) == 1);
  CHECK(front.perimeter(2) - front.perimeter(2.000001) == Approx(32).margin(0.05));
  CHECK(front.perimeter(1) == Approx(2 * (38 + 2 * pi)).epsilon(1e-13));
  check_whole_burn(front);
}

TEST_CASE("parallel round cores burn into each other") {
  // Two equal cores 14 apart: until they meet at web 3, two circles; then two arcs.
  PlanarFront front(round_cores({{{-7, 0}, 4}, {{7, 0}, 4}}), wall);
  CHECK(front.perimeter(2) == Approx(2 * 2 * pi * 6).epsilon(1e-13));
  double r = 9;
  CHECK(front.perimeter(5) == Approx(4 * r * (pi - std::acos(7 / r))).epsilon(1e-12));
  check_whole_burn(front);
  check_whole_burn(PlanarFront(
      round_cores({{{9, 0}, 3}, {{-4, 8}, 2}, {{-5, -7}, 5}, {{0, 0}, 1}, {{2, -12}, 2.5}}), wall));
}

TEST_CASE("overlapping round cores burn as their union") {
  PlanarFront front(round_cores({{{-3, 0}, 5}, {{3, 0}, 5}}), wall);
  double r = 6.5;
  CHECK(front.perimeter(1.5) == Approx(4 * r * (pi - std::acos(3 / r))).epsilon(1e-12));
  check_whole_burn(front);
}

TEST_CASE("a hole is an island that burns from outside") {
  Outline ring = round_cores({{{0, 0}, 12}});
  ring.voids[0].holes.push_back({{{5, 0}, -pi}, {{-5, 0}, -pi}});
  PlanarFront front(ring, wall);
  CHECK(front.perimeter(2) == Approx(2 * pi * (14 + 3)).epsilon(1e-13));
  CHECK(front.section(2) == Approx(pi * (625 - 196 + 9)).epsilon(1e-13));
  CHECK(front.events().front() == Approx(5).epsilon(1e-13));
  check_whole_burn(front);
}

TEST_CASE("shapes of the literature burn out whole") {
  check_whole_burn(PlanarFront(cross({30, 6, true}), wall));
  check_whole_burn(PlanarFront(cross({30, 6, false}), wall));
  check_whole_burn(PlanarFront(slot({24, 5, false}), wall));
  check_whole_burn(PlanarFront(slotted_tube({7, 6, 2, 15, false}), wall));
  check_whole_burn(PlanarFront(wheel({6, 18, 1, 4, 5, 1.0}), wall));
  check_whole_burn(PlanarFront(wheel({4, 19, 0, 5, 6, pi / 2}), wall));
}

TEST_CASE("turning and mirroring an outline changes nothing") {
  for (unsigned seed = 1; seed < 9; ++seed) {
    Outline outline = drawn::polygon(drawn::winding(14, seed));
    PlanarFront plain(outline, wall);
    for (const Outline& other :
         {rotated(outline, 0.7 * seed), mirrored(outline), rotated(mirrored(outline), pi / 2)}) {
      PlanarFront front(other, wall);
      CHECK(front.burnout() == Approx(plain.burnout()).epsilon(1e-11));
      for (double part : {0.05, 0.31, 0.55, 0.83}) {
        double web = part * plain.burnout();
        CHECK(front.perimeter(web) == Approx(plain.perimeter(web)).epsilon(1e-8));
        CHECK(front.section(web) == Approx(plain.section(web)).epsilon(1e-10));
      }
    }
  }
}

TEST_CASE("random polygons burn out whole") {
  for (unsigned seed = 20; seed < 60; ++seed) {
    INFO("seed " << seed);
    check_whole_burn(PlanarFront(drawn::polygon(drawn::winding(5 + seed % 30, seed)), wall));
  }
}

TEST_CASE("any spiky polygon keeps its books") {
  CHECK(rc::check("section lost equals perimeter swept", [] {
    auto tenths = *rc::gen::suchThat(rc::gen::container<std::vector<int>>(rc::gen::inRange(5, 200)),
                                     [](const auto& r) { return r.size() >= 3 && r.size() <= 25; });
    std::vector<double> radii(tenths.begin(), tenths.end());
    for (double& r : radii) r *= 0.1;
    Outline outline = drawn::spiky(radii);
    PlanarFront front(outline, wall);
    RC_ASSERT(std::abs(front.section(0) - (pi * wall * wall - area_of(outline))) < 1e-8);
    double last = front.section(0);
    for (int i = 1; i <= 10; ++i) {
      double now = front.section(front.burnout() * i / 10);
      RC_ASSERT(now <= last);
      last = now;
    }
    RC_ASSERT(std::abs(integral_of_perimeter(front) - front.section(0)) < 1e-7);
  }));
}

TEST_CASE("lengths scale, areas scale by the square") {
  Outline outline = drawn::polygon(drawn::winding(17, 5));
  PlanarFront large(outline, wall);
  PlanarFront small(scaled(outline, 1e-3), wall * 1e-3);
  for (double web : {0.0, 1.0, 4.0, 9.0}) {
    CHECK(small.perimeter(web * 1e-3) == Approx(1e-3 * large.perimeter(web)).epsilon(1e-9));
    CHECK(small.section(web * 1e-3) == Approx(1e-6 * large.section(web)).epsilon(1e-11));
  }
}

TEST_CASE("the strokes of a front add up to its perimeter") {
  PlanarFront front(star(classic_star(0.55)), wall);
  for (double web : {0.0, 2.0, 8.0, 11.0}) check_strokes(front, web);
}

TEST_CASE("edges that do not bound a void are refused rather than summed up wrongly") {
  // A circle drawn twice over: no edges cross, but it bounds no void.
  Outline twice = {{{{{{-8, 0}, pi}, {{8, 0}, pi}, {{-8, 0}, pi}, {{8, 0}, pi}}, {}}}, false};
  CHECK(complaints(twice, wall).empty());
  CHECK_THROWS_AS(PlanarFront(twice, wall), InputError);
  Outline everything = drawn::polygon({{-60, -60}, {60, -60}, {60, 60}, {-60, 60}});
  everything.through_wall = true;
  CHECK(complaints(everything, wall).empty());
  CHECK_THROWS_AS(PlanarFront(everything, wall), InputError);
}
