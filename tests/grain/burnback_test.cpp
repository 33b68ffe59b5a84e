// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/grain/burnback.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "grain/shapes.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using namespace shapes;
using std::numbers::pi;

namespace {

constexpr double mm2 = mm * mm;
constexpr double mm3 = mm * mm * mm;
constexpr Faces nothing_inhibited = {};
constexpr Faces ends_inhibited = {Face::head, Face::nozzle};

double integral(const Stretch& stretch) {
  auto upto = [&](double x) {
    const auto& c = stretch.area.c;
    return x * (c[0] + x * (c[1] / 2 + x * c[2] / 3));
  };
  return upto(stretch.to) - upto(stretch.from);
}

// -dV/dx by five points: exact for the cubics that V is made of, but for rounding.
double shrinking(const Burnback& burnback, double web, double step) {
  auto volume = [&](double k) { return burnback.propellant_volume(web + k * step); };
  return (8 * (volume(-1) - volume(1)) - (volume(-2) - volume(2))) / (12 * step);
}

Burnback unlike_stack() {
  return Burnback(
      stack({segment_mm(50, 20, 85), segment_mm(50, 30, 70, head_bare), segment_mm(50, 25, 12),
             segment_mm(50, 35, 60, core_only), segment_mm(40, 10, 45, nothing_inhibited)},
            2));
}

std::string at_web(const std::string& what, double web_mm) {
  return "burning area, mm2: " + what + ", web " + Catch::Detail::stringify(web_mm) + " mm";
}

}  // namespace

TEST_CASE("Burning area of one segment follows the closed form of its bare faces") {
  struct Row {
    const char* what;
    Segment segment;
    double web_mm, area_over_pi;
  };
  const Row rows[] = {
      {"core and both ends, even length", segment_mm(50, 20, 85), 0, 2750},
      {"core and both ends, even length", segment_mm(50, 20, 85), 3.75, 3003.125},
      {"core and both ends, even length", segment_mm(50, 20, 85), 7.5, 3087.5},
      {"core and both ends, even length", segment_mm(50, 20, 85), 11.25, 3003.125},
      {"core and both ends, even length", segment_mm(50, 20, 85), 15, 2750},
      {"core and both ends, too short", segment_mm(50, 20, 70), 0, 2450},
      {"core and both ends, too short", segment_mm(50, 20, 70), 5, 2600},
      {"core and both ends, too short", segment_mm(50, 20, 70), 15, 2000},
      {"core and both ends, shorter", segment_mm(50, 20, 60), 0, 2250},
      {"core and both ends, shorter", segment_mm(50, 20, 60), 10.0 / 3, 6950.0 / 3},
      {"core and both ends, shorter", segment_mm(50, 20, 60), 15, 1500},
      {"core and both ends, too long", segment_mm(50, 20, 110), 0, 3250},
      {"core and both ends, too long", segment_mm(50, 20, 110), 35.0 / 3, 12200.0 / 3},
      {"core and both ends, too long", segment_mm(50, 20, 110), 15, 4000},
      {"core and one end, even length", segment_mm(50, 20, 42.5, head_bare), 0, 1375},
      {"core and one end, even length", segment_mm(50, 20, 42.5, head_bare), 7.5, 1543.75},
      {"core and one end, even length", segment_mm(50, 20, 42.5, head_bare), 15, 1375},
      {"core only", segment_mm(50, 20, 85, core_only), 0, 1700},
      {"core only", segment_mm(50, 20, 85, core_only), 7.5, 2975},
      {"core only", segment_mm(50, 20, 85, core_only), 15, 4250},
      {"every face", segment_mm(50, 20, 85, nothing_inhibited), 0, 7000},
      {"every face", segment_mm(50, 20, 85, nothing_inhibited), 3.75, 5950},
      {"every face", segment_mm(50, 20, 85, nothing_inhibited), 7.5, 4900},
      {"core and outside", segment_mm(50, 20, 85, ends_inhibited), 0, 5950},
      {"core and outside", segment_mm(50, 20, 85, ends_inhibited), 7.5, 5950},
      {"outside only", segment_mm(50, 20, 85, {Face::head, Face::nozzle, Face::core}), 5, 3400},
      {"ends meet first", segment_mm(50, 20, 24), 0, 1530},
      {"ends meet first", segment_mm(50, 20, 24), 12, 282},
      {"end burner", segment_mm(50, 0, 85, nozzle_bare), 0, 625},
      {"end burner", segment_mm(50, 0, 85, nozzle_bare), 60, 625},
      {"end burner whose outside burns too", segment_mm(50, 0, 85, {Face::head}), 20, 675},
      {"both ends of an inhibited core", segment_mm(50, 20, 85, {Face::core, Face::outer}), 20,
       1050},
  };
  for (const Row& row : rows) {
    Burnback burnback(stack({row.segment}));
    double web = std::min(row.web_mm * mm, burnback.burnout());
    checks::expect(at_web(row.what, row.web_mm), checks::closed_form, pi * row.area_over_pi,
                   burnback.burning_area(web) / mm2, checks::relative(1e-13));
    checks::expect(at_web(row.what, row.web_mm), checks::closed_form, pi * row.area_over_pi,
                   burning_area_of(row.segment)(web) / mm2, checks::relative(1e-13));
  }
}

TEST_CASE("At the even length a burn starts and ends with the same area and humps between") {
  struct Row {
    double core_mm, hump;
  };
  for (const Row& row : {Row{15, 1.193421}, {20, 1.122727}, {25, 1.075}, {30, 1.042857}}) {
    std::string core = ", D 50 mm, d " + Catch::Detail::stringify(row.core_mm) + " mm";
    double even_mm = (3 * 50 + row.core_mm) / 2;
    for (auto [length_mm, inhibited] :
         {std::pair{even_mm, both_ends_bare}, {even_mm / 2, head_bare}}) {
      Burnback burnback(stack({segment_mm(50, row.core_mm, length_mm, inhibited)}));
      double start = burnback.burning_area(0);
      checks::expect("last area / first" + core, checks::closed_form, 1,
                     burnback.burning_area(burnback.burnout()) / start, checks::relative(1e-13));
      checks::expect("peak area / first" + core, checks::closed_form, row.hump,
                     burnback.range().greatest / start, checks::absolute(5e-7));
      checks::expect("web of the peak / web" + core, checks::closed_form, 0.5,
                     burnback.range().greatest_at / burnback.burnout(), checks::relative(1e-13));
    }
  }
}

TEST_CASE("The even length is the length of least peak over least area") {
  double best_mm = 0;
  double least_spread = 1e9;
  for (int step = 0; step <= 1000; ++step) {
    double length_mm = 60 + 0.05 * step;
    AreaRange range = Burnback(stack({segment_mm(50, 20, length_mm)})).range();
    double spread = range.greatest / range.least;
    if (spread < least_spread) {
      least_spread = spread;
      best_mm = length_mm;
    }
  }
  checks::expect("flattest length, D 50 mm, d 20 mm, mm", checks::closed_form, 85, best_mm,
                 checks::absolute(1e-9));
}

TEST_CASE("Off the even length the peak stands at a sixth of length less two cores") {
  for (double length_mm : {60.0, 70.0, 85.0, 110.0}) {
    checks::expect("web of the peak, mm, L " + Catch::Detail::stringify(length_mm) + " mm",
                   checks::closed_form, (length_mm - 40) / 6,
                   Burnback(stack({segment_mm(50, 20, length_mm)})).range().greatest_at / mm,
                   checks::relative(1e-12));
  }
}

TEST_CASE("A core that burns alone ends larger by outside over core, whatever the length") {
  for (double length_mm : {10.0, 85.0, 300.0}) {
    Burnback burnback(stack({segment_mm(50, 20, length_mm, core_only)}));
    checks::expect("last area / first, core only", checks::closed_form, 2.5,
                   burnback.burning_area(burnback.burnout()) / burnback.burning_area(0),
                   checks::relative(1e-13));
  }
}

TEST_CASE("A wider core and both ends bare light more area, the pipe's bore does not") {
  // Builders' round figures: one long pour in the next pipe size with a larger core and no end
  // inhibited lights with 50 to 67 % more area, up to 70 % by the walls of the tubes.
  constexpr double inch_mm = 25.4;
  auto first_area = [](const Segment& segment) { return burning_area_of(segment)(0); };
  Segment small = segment_mm(1.26 * inch_mm, 0.375 * inch_mm, 6.5 * inch_mm, head_bare);
  Segment large = segment_mm(1.49 * inch_mm, 0.5 * inch_mm, 7.5 * inch_mm);
  double growth = first_area(large) / first_area(small);
  checks::expect("area at lighting, large / small", checks::common_practice, 1.6, growth,
                 checks::absolute(0.1));
  small.inhibited = large.inhibited = core_only;
  checks::expect("core's area at lighting, large / small", checks::common_practice, 1.54,
                 first_area(large) / first_area(small), checks::absolute(0.005));
  Segment in_wider_pipe = large;
  in_wider_pipe.outer_diameter *= 1.3;
  CHECK(first_area(in_wider_pipe) == first_area(large));
}

TEST_CASE("Ends that meet first end the burn with propellant never left over") {
  Burnback burnback(stack({segment_mm(50, 20, 24)}));
  CHECK(burnback.burnout() == Approx(12 * mm).epsilon(1e-14));
  checks::expect("area just past burnout, mm2", checks::closed_form, 0,
                 burnback.burning_area(std::nextafter(burnback.burnout(), 1.0)) / mm2,
                 checks::absolute(0));
  REQUIRE(burnback.stretches().size() == 1);
  checks::expect("integral of area to burnout, mm3", checks::closed_form, 12600 * pi,
                 integral(burnback.stretches()[0]) / mm3, checks::relative(1e-13));
  checks::expect("volume before lighting, mm3", checks::closed_form, 12600 * pi,
                 burnback.propellant_volume(0) / mm3, checks::relative(1e-13));
}

TEST_CASE("Equal segments burn as that many times one") {
  Segment segment = segment_mm(50, 20, 85);
  Burnback four(Grain{.layers = {{.segment = segment, .count = 4}}});
  REQUIRE(four.events().size() == 1);
  for (double web_mm : {0.0, 3.75, 7.5, 14.0}) {
    checks::expect("area of four / area of one", checks::closed_form, 4,
                   four.burning_area(web_mm * mm) / burning_area_of(segment)(web_mm * mm),
                   checks::relative(1e-13));
  }
}

TEST_CASE("Burning area is the rate at which volume shrinks, at every web") {
  const Burnback burnbacks[] = {unlike_stack(), Burnback(stack({segment_mm(50, 20, 85)})),
                                Burnback(stack({segment_mm(50, 0, 85, nothing_inhibited)}))};
  double worst = 0;
  for (const Burnback& burnback : burnbacks) {
    for (const Stretch& stretch : burnback.stretches()) {
      double step = (stretch.to - stretch.from) / 10;
      for (int i = 0; i <= 20; ++i) {
        double web = stretch.from + 2 * step + 6 * step * i / 20;
        double area = burnback.burning_area(web);
        worst = std::max(worst, std::abs(shrinking(burnback, web, step) / area - 1));
      }
    }
  }
  checks::expect("greatest relative difference of A and -dV/dx", checks::closed_form, 0, worst,
                 checks::absolute(1e-12));
}

TEST_CASE("Area integrated over each stretch is the volume burned in it") {
  Burnback burnback = unlike_stack();
  double burned = 0;
  for (const Stretch& stretch : burnback.stretches()) {
    burned += integral(stretch);
    CHECK(integral(stretch) ==
          Approx(burnback.propellant_volume(stretch.from) - burnback.propellant_volume(stretch.to))
              .epsilon(1e-12));
  }
  checks::expect("integral of area / volume, five unlike segments", checks::closed_form, 1,
                 burned / burnback.grain().propellant_volume(), checks::relative(1e-12));
}

TEST_CASE("An unlike stack has an event wherever one of its segments burns out") {
  Burnback burnback = unlike_stack();
  const double expected_mm[] = {6, 7.5, 10, 15};  // two of the five end together, at 7.5 mm
  REQUIRE(burnback.events().size() == std::size(expected_mm));
  REQUIRE(burnback.stretches().size() == std::size(expected_mm));
  double from = 0;
  for (std::size_t i = 0; i < std::size(expected_mm); ++i) {
    checks::expect("event " + std::to_string(i + 1) + ", mm", checks::closed_form, expected_mm[i],
                   burnback.events()[i] / mm, checks::relative(1e-13));
    CHECK(burnback.stretches()[i].from == from);
    CHECK(burnback.stretches()[i].to == burnback.events()[i]);
    from = burnback.events()[i];
  }
}

TEST_CASE("At an event the area is the one before it, and drops just after") {
  // 25 mm core and 12 mm length end at 6 mm, where 2 pi/4 (50^2 - 37^2) mm2 of faces go out.
  Burnback burnback(stack({segment_mm(50, 20, 85), segment_mm(50, 25, 12)}));
  double event = burnback.events().front();
  double drop = burnback.burning_area(event) - burnback.burning_area(std::nextafter(event, 1.0));
  checks::expect("drop of area at an event, mm2", checks::closed_form, pi / 2 * (2500 - 1369),
                 drop / mm2, checks::relative(1e-12));
}

TEST_CASE("The range of a stretch holds its ends and the peak between them") {
  Stretch humped{.from = 0, .to = 3, .area = {{1, 2, -0.5}}};  // 1, peak 3 at 2, 2.5
  CHECK(area_range(humped).least == 1);
  CHECK(area_range(humped).greatest == 3);
  CHECK(area_range(humped).greatest_at == 2);
  Stretch dipped{.from = 0, .to = 3, .area = {{3, -2, 0.5}}};  // 3, least 1 at 2, 1.5
  CHECK(area_range(dipped).least == 1);
  CHECK(area_range(dipped).greatest == 3);
  CHECK(area_range(dipped).greatest_at == 0);
  Stretch rising{.from = 1, .to = 3, .area = {{0, 2, 0}}};
  CHECK(area_range(rising).least == 2);
  CHECK(area_range(rising).greatest == 6);
  CHECK(area_range(rising).greatest_at == 3);
}

TEST_CASE("Ports open with the web, to the full section where a segment has gone") {
  Burnback burnback(stack({segment_mm(50, 20, 85), segment_mm(50, 30, 70)}));
  auto ports = burnback.port_areas(5 * mm);
  REQUIRE(ports.size() == 2);
  checks::expect("port of the head segment, mm2", checks::closed_form, pi / 4 * 900, ports[0] / mm2,
                 checks::relative(1e-13));
  checks::expect("port of the nozzle segment, mm2", checks::closed_form, pi / 4 * 1600,
                 ports[1] / mm2, checks::relative(1e-13));
  checks::expect("port of a burnt-out segment, mm2", checks::closed_form, pi / 4 * 2500,
                 burnback.port_areas(12 * mm)[1] / mm2, checks::relative(1e-13));
}

TEST_CASE("Faces burn until their segment is gone") {
  Burnback burnback(stack({segment_mm(50, 20, 85, head_bare), segment_mm(50, 30, 70)}));
  auto before = burnback.burning_faces(5 * mm);
  REQUIRE(before.size() == 2);
  CHECK(before[0] == Faces{Face::head, Face::core});
  CHECK(before[1] == Faces{Face::head, Face::nozzle, Face::core});
  auto after = burnback.burning_faces(12 * mm);
  CHECK(after[0] == Faces{Face::head, Face::core});
  CHECK(after[1].empty());
}

TEST_CASE("The centre of mass of a symmetric stack stays in the middle") {
  Segment middle = segment_mm(50, 25, 60);
  Segment end = segment_mm(50, 30, 80);
  Burnback burnback(stack({end, middle, end}, 4));
  for (double web_mm : {0.0, 5.0, 9.9, 11.0}) {  // the outer two burn out at 10 mm
    checks::expect("centre of mass, mm", checks::closed_form, (80 + 60 + 80 + 2 * 4) / 2.0,
                   burnback.centre_of_mass(web_mm * mm) / mm, checks::relative(1e-13));
  }
  CHECK(burnback.centre_of_mass(burnback.burnout()) == 0);
}

TEST_CASE("One bare end moves the centre of mass away from it by half the web") {
  Burnback burnback(stack({segment_mm(50, 20, 85, head_bare)}));
  checks::expect("centre of mass, head end bare, mm", checks::closed_form, (85 + 10) / 2.0,
                 burnback.centre_of_mass(10 * mm) / mm, checks::relative(1e-13));
}

TEST_CASE("A stack with a complaint is refused") {
  CHECK_THROWS_AS(Burnback(stack({segment_mm(50, 60, 85)})), InputError);
  CHECK_THROWS_AS(Burnback(Grain{}), InputError);
}
