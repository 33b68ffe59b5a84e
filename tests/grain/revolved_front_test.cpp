// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/grain/revolved_front.hpp"

#include <rapidcheck.h>

#include <boost/math/quadrature/tanh_sinh.hpp>
#include <catch2/catch.hpp>
#include <numbers>
#include <utility>

#include "drawn.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using Catch::Matchers::Contains;
using std::numbers::pi;

namespace {

double integral_of_area(const RevolvedFront& front) {
  boost::math::quadrature::tanh_sinh<double> rule;
  double sum = 0;
  double from = 0;
  for (double to : front.events()) {
    // Counted from the piece's start, where doubles are the closest.
    sum += rule.integrate([&](double x) { return front.burning_area(from + x); }, 0.0, to - from,
                          1e-13);
    from = to;
  }
  return sum;
}

void check_whole_burn(const RevolvedFront& front, double volume) {
  CHECK(front.volume(0) == Approx(volume).epsilon(1e-11));
  CHECK(integral_of_area(front) == Approx(volume).epsilon(1e-10));
  CHECK(front.volume(front.burnout()) < 1e-10 * volume);
  CHECK(front.burning_area(front.burnout() * (1 + 1e-9)) == 0);
  for (int i = 1; i < 15; ++i) {
    double web = front.burnout() * i / 15;
    double step = 1e-5;
    bool near = false;
    for (double event : front.events()) near = near || std::abs(event - web) < 0.02;
    if (near) continue;
    double slope = (front.volume(web - step) - front.volume(web + step)) / (2 * step);
    CHECK(slope == Approx(front.burning_area(web)).epsilon(1e-6));
  }
}

RevolvedFront front_of(const Turned& body) {
  return RevolvedFront(profile_of(body));
}
double volume_of_body(const Turned& body) {
  return volume_of(profile_of(body));
}

}  // namespace

TEST_CASE("a plain cylinder burns as the cylinder's closed form") {
  Turned body = tapered(80, 25, 8, 8);
  RevolvedFront front = front_of(body);
  for (double web : {0.0, 3.0, 9.5, 16.9}) {
    double c = 8 + web;
    double l = 80 - 2 * web;
    checks::expect("cylinder R 25, r 8, L 80, ends bare, area, mm2," + drawn::at_web(web),
                   checks::closed_form, 2 * pi * (c * l + (625 - c * c)), front.burning_area(web),
                   checks::relative(1e-13));
    CHECK(front.volume(web) == Approx(pi * (625 - c * c) * l).epsilon(1e-12));
  }
  CHECK(front.events().size() == 1);
  CHECK(front.burnout() == Approx(17).epsilon(1e-14));
  check_whole_burn(front, pi * (625 - 64) * 80);
}

TEST_CASE("a tapered bore burns as a cone between moving ends") {
  RevolvedFront front = front_of(tapered(80, 25, 8, 12));
  std::string what = "tapered bore 8 to 12, R 25, L 80, ends bare";
  struct Row {
    double web, area, volume;
  };
  for (auto [web, area, volume] :
       {Row{0, 8306.367054, 131611.788234}, Row{2.5, 8821.981439, 110152.101609},
        Row{5, 9101.190976, 87698.885081}, Row{7.5, 9143.995666, 64843.150769},
        Row{10, 8950.395509, 42175.910790}, Row{12.5, 8520.390505, 20288.177263}}) {
    std::string at = drawn::at_web(web);
    checks::expect(what + ", area, mm2," + at, checks::closed_form, area, front.burning_area(web),
                   checks::absolute(6e-7));
    checks::expect(what + ", volume, mm3," + at, checks::closed_form, volume, front.volume(web),
                   checks::absolute(6e-7));
  }
  REQUIRE(front.events().size() == 2);
  checks::expect(what + ", nozzle lip meets the wall at, mm", checks::closed_form, 13.666240,
                 front.events()[0], checks::absolute(6e-7));
  checks::expect(what + ", area there, mm2", checks::closed_form, 8238.930934,
                 front.burning_area(front.events()[0]), checks::absolute(6e-7));
  checks::expect(what + ", volume there, mm3", checks::closed_form, 10510.483078,
                 front.volume(front.events()[0]), checks::absolute(6e-7));
  for (auto [web, area] :
       {std::pair{14.0, 7194.092246}, std::pair{15.0, 3966.225904}, std::pair{16.0, 592.368280}}) {
    checks::expect(what + ", area, mm2," + drawn::at_web(web), checks::closed_form, area,
                   front.burning_area(web), checks::absolute(6e-7));
  }
  checks::expect(what + ", burnout, mm", checks::closed_form, 16.171237, front.burnout(),
                 checks::absolute(6e-7));
  check_whole_burn(front, 131611.788234);
}

TEST_CASE("with inhibited ends, the wide end of a taper fans out along its end plane") {
  Turned body = tapered(80, 25, 8, 12);
  body.inhibited = {Face::outer, Face::head, Face::nozzle};
  RevolvedFront front = front_of(body);
  double lean = std::atan(0.05);
  double web = 5;
  // The cone between the head plane and the last normal, and a fan of the torus about the lip.
  double slant = std::hypot(80, 4) - web * std::tan(lean);
  double r_lip = 12 + web * std::cos(lean);
  double cone = pi * slant * (2 * r_lip - slant * std::sin(lean));
  double fan = 2 * pi * web * (12 * lean + web * std::sin(lean));
  checks::expect("tapered bore, ends inhibited, area at web 5, mm2", checks::closed_form,
                 cone + fan, front.burning_area(web), checks::relative(1e-12));
  CHECK(front.burnout() == Approx(17 * std::cos(lean)).epsilon(1e-3));
  check_whole_burn(front, volume_of_body(body));
}

TEST_CASE("a taper that vanishes is the plain core") {
  RevolvedFront plain = front_of(tapered(60, 20, 6, 6));
  RevolvedFront nearly = front_of(tapered(60, 20, 6 - 1e-9, 6 + 1e-9));
  for (double web : {0.0, 4.0, 9.0, 13.5}) {
    CHECK(nearly.burning_area(web) == Approx(plain.burning_area(web)).epsilon(1e-8));
    CHECK(nearly.volume(web) == Approx(plain.volume(web)).epsilon(1e-8));
  }
}

TEST_CASE("the front turns a slot's corners as quarters of a torus") {
  // Ends inhibited, bore 8, one slot from z 38 to 42 that reaches radius 15.
  Turned body = with_slot(tapered(80, 25, 8, 8), {38, 4, 15});
  body.inhibited = {Face::outer, Face::head, Face::nozzle};
  RevolvedFront front = front_of(body);
  double web = 4;
  double bore = 2 * pi * (8 + web) * 2 * (38 - web);
  double sides = 2 * pi * (15 * 15 - (8 + web) * (8 + web));
  double bottom = 2 * pi * (15 + web) * 4;
  checks::expect("torus quarter outward, c 15, r 4, area, mm2", checks::closed_form, 692.707229,
                 (front.burning_area(web) - bore - sides - bottom) / 2, checks::absolute(1e-6));
  // Swept: bore to 12 outside the slot's 12 mm, slot sides to 15 within them, bottom, two quarters.
  double swept =
      pi * (144 - 64) * (80 - 12) + pi * (225 - 64) * (12 - 4) + pi * (19 * 19 - 225) * 4;
  checks::expect("torus quarter outward, c 15, r 4, volume, mm3", checks::closed_form, 1318.393815,
                 (front.volume(0) - front.volume(web) - swept) / 2, checks::absolute(1e-5));
  check_whole_burn(front, pi * (625 - 64) * 80 - pi * (225 - 64) * 4);
}

TEST_CASE("a groove in a burning outside turns its corners inward") {
  // A solid rod with its outside bare and a groove to radius 15 from z 38 to 42; ends inhibited.
  HalfSection rod = {{0, 0, false},  {0, 25, true},  {38, 25, true},  {38, 15, true},
                     {42, 15, true}, {42, 25, true}, {80, 25, false}, {80, 0, false}};
  RevolvedFront front(rod);
  double web = 4;
  double outside = 2 * pi * 21 * 2 * (38 - web);
  double sides = 2 * pi * (21 * 21 - 15 * 15);
  double bottom = 2 * pi * (15 - web) * 4;
  checks::expect("torus quarter inward, c 15, r 4, area, mm2", checks::closed_form, 491.645299,
                 (front.burning_area(web) - outside - sides - bottom) / 2, checks::absolute(1e-6));
  double swept = pi * (625 - 441) * (80 - 12) + pi * (625 - 225) * 8 + pi * (225 - 121) * 4;
  checks::expect("torus quarter inward, c 15, r 4, volume, mm3", checks::closed_form, 1050.311242,
                 (front.volume(0) - front.volume(web) - swept) / 2, checks::absolute(1e-5));
  CHECK(front.burnout() == Approx(25).epsilon(1e-12));
  check_whole_burn(front, pi * 625 * 80 - pi * (625 - 225) * 4);
}

TEST_CASE("cones burn to the axis") {
  // A solid end burner whose face is a cone: apex angle 45 deg, the front stays a cone.
  Turned body;
  body.length = 60;
  body.outer_radius = 20;
  body.core = {{0, 0}, {60, 0}};
  body.nozzle_dish = 20;
  body.inhibited = {Face::outer, Face::head, Face::core};
  RevolvedFront front = front_of(body);
  check_whole_burn(front, volume_of_body(body));
  // The apex fans out as a sphere of half angle 45 deg, the cone stands off its own normal.
  double web = 6;
  double cap = 2 * pi * web * web * (1 - std::numbers::sqrt2 / 2);
  double low = web * std::numbers::sqrt2 / 2;
  double cone = pi * (400 - low * low) * std::numbers::sqrt2;
  checks::expect("coned end burner, area at web 6, mm2", checks::closed_form, cap + cone,
                 front.burning_area(web), checks::relative(1e-12));
  CHECK(front.burnout() > 40);
}

TEST_CASE("a blind core burns round its closed end") {
  Turned body;
  body.length = 60;
  body.outer_radius = 20;
  body.core = {{0, 0}, {20, 0}, {20, 6}, {60, 6}};
  body.inhibited = {Face::outer, Face::head, Face::nozzle};
  RevolvedFront front = front_of(body);
  double web = 5;
  double area = 2 * pi * 11 * 40 + pi * 36 + 2 * pi * 5 * (6 * pi / 2 + 5);
  checks::expect("blind core, area at web 5, mm2", checks::closed_form, area,
                 front.burning_area(web), checks::relative(1e-12));
  check_whole_burn(front, volume_of_body(body));
}

TEST_CASE("steps, cones and slots keep their books") {
  Turned stepped;
  stepped.length = 90;
  stepped.outer_radius = 25;
  stepped.core = {{0, 6}, {30, 6}, {30, 9}, {60, 10}, {60, 8}, {90, 12}};
  check_whole_burn(front_of(stepped), volume_of_body(stepped));
  stepped.head_dish = 5;
  stepped.nozzle_dish = 9;
  check_whole_burn(front_of(stepped), volume_of_body(stepped));
  stepped.inhibited = {Face::outer, Face::head};
  check_whole_burn(front_of(stepped), volume_of_body(stepped));
  Turned slotted = tapered(150, 25, 8, 9);
  for (double z : {36.0, 73.0, 110.0}) slotted = with_slot(slotted, {z, 3, 20});
  check_whole_burn(front_of(slotted), volume_of_body(slotted));
}

TEST_CASE("slots cut almost through make one pour burn like three") {
  // Three segments of 50 with both ends bare, and one pour of 150 with two slots nearly to the
  // wall.
  Turned slotted = tapered(150, 25, 8, 8);
  double thin = 1e-6;
  for (double z : {50.0, 100.0}) slotted = with_slot(slotted, {z - thin, 2 * thin, 25 - thin});
  RevolvedFront one = front_of(slotted);
  RevolvedFront segment = front_of(tapered(50, 25, 8, 8));
  for (double web : {0.5, 6.0, 12.0, 16.0}) {
    CHECK(one.burning_area(web) == Approx(3 * segment.burning_area(web)).epsilon(1e-5));
  }
}

TEST_CASE("a front that would have to pass round an inhibited corner is refused") {
  Turned stepped;
  stepped.length = 60;
  stepped.outer_radius = 25;
  stepped.core = {{0, 12}, {20, 12}, {20, 6}, {60, 6}};
  stepped.inhibited = {Face::outer, Face::core};
  try {
    (void)front_of(stepped);
    FAIL("was not refused");
  } catch (const InputError& error) {
    CHECK_THAT(error.what(), Contains("pass round an inhibited corner at (20000 mm"));
  }
}

TEST_CASE("an inhibited shoulder that the front runs along is no obstacle") {
  // The outside steps in from 25 to 20 at z 40: the front from the core runs along the step.
  auto shoulder = [](double lean) {
    return HalfSection{{0, 8, false},   {0, 25, false},  {40 + lean, 25, false},
                       {40, 20, false}, {80, 20, false}, {80, 8, true}};
  };
  RevolvedFront front(shoulder(0));
  checks::expect("shouldered outside, area at web 14, mm2", checks::closed_form, 2 * pi * 22 * 40,
                 front.burning_area(14), checks::relative(1e-12));
  check_whole_burn(front, volume_of(shoulder(0)));
  CHECK_NOTHROW(RevolvedFront(shoulder(-3)));
  CHECK_THROWS_WITH(RevolvedFront(shoulder(3)), Contains("pass round"));
}

TEST_CASE("profiles that make no body are refused") {
  CHECK_THROWS_WITH(RevolvedFront({{0, 0, false}, {10, 0, false}, {10, 5, false}, {0, 5, false}}),
                    Contains("no bare edge"));
  CHECK_THROWS_WITH(RevolvedFront({{0, 2, true}, {10, 5, true}, {10, 2, true}, {0, 5, true}}),
                    Contains("cross") || Contains("without area"));
  CHECK_THROWS_WITH(RevolvedFront({{0, -1, true}, {10, -1, true}, {10, 5, true}}),
                    Contains("radii of 0 or more"));
  CHECK_THROWS_WITH(RevolvedFront({{0, 1, true}, {10, 1, true}}), Contains("without area"));
  CHECK_THROWS_WITH(front_of(tapered(80, 25, 8, 25)), Contains("core radius"));
  CHECK_THROWS_WITH(front_of(tapered(-1, 25, 8, 9)), Contains("length"));
  CHECK_THROWS_WITH(with_slot(tapered(80, 25, 8, 8), {78, 4, 15}), Contains("between the ends"));
  CHECK_THROWS_WITH(with_slot(tapered(80, 25, 8, 8), {38, 4, 7}), Contains("slot reach"));
  CHECK_THROWS_WITH(with_slot(with_slot(tapered(80, 25, 8, 8), {38, 4, 15}), {40, 4, 15}),
                    Contains("clear of steps"));
}

TEST_CASE("any turned body keeps its books") {
  CHECK(rc::check("volume lost equals area swept", [] {
    auto tenths =
        *rc::gen::suchThat(rc::gen::container<std::vector<int>>(rc::gen::inRange(10, 240)),
                           [](const auto& r) { return r.size() >= 2 && r.size() <= 12; });
    Turned body;
    body.outer_radius = 25;
    body.length = 60;
    for (std::size_t i = 0; i < tenths.size(); ++i) {
      body.core.push_back({60.0 * static_cast<double>(i) / static_cast<double>(tenths.size() - 1),
                           0.1 * tenths[i]});
    }
    RevolvedFront front = front_of(body);
    double volume = volume_of_body(body);
    RC_ASSERT(std::abs(front.volume(0) / volume - 1) < 1e-9);
    RC_ASSERT(std::abs(integral_of_area(front) / volume - 1) < 1e-8);
  }));
}
