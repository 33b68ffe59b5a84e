// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/grain/core.hpp"

#include <boost/math/quadrature/tanh_sinh.hpp>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "grain/shapes.hpp"
#include "grainwright/grain/burnback.hpp"
#include "grainwright/grain/core_shapes.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using namespace shapes;
using std::numbers::pi;

namespace {

Segment cored(Core core, double length_mm = 85, Faces inhibited = both_ends_bare) {
  return with_core(segment_mm(50, 0, length_mm, inhibited), std::move(core));
}

Core tapered_mm(double head, double nozzle, double length = 85) {
  return {tapered_core(length * mm, head * mm, nozzle * mm)};
}
Core beside_mm(double diameter, double offset) {
  return {OffCentreCore{diameter * mm, offset * mm}};
}
Core cross_mm(double length, double width) {
  return {DrawnCore{cross({length * mm, width * mm, false})}};
}
Core slotted_mm(double core, std::vector<CoreSlot> slots, double length = 85) {
  TurnedCore turned = tapered_core(length * mm, core * mm, core * mm);
  turned.slots = std::move(slots);
  return {turned};
}

std::vector<Segment> unlike() {
  return {
      cored(tapered_mm(18, 22)),
      cored(tapered_mm(22, 18, 60), 60, head_bare),
      cored(beside_mm(20, 3)),
      cored(beside_mm(20, 3), 40, core_only),
      cored(cross_mm(30, 6)),
      cored(cross_mm(30, 6), 20),
      cored({OffCentreCore{8 * mm, 9 * mm, 3}}, 60),
      cored({ScatteredCores{{{{6 * mm, mm}, 5 * mm}, {{-8 * mm, 2 * mm}, 4 * mm}}}}, 60),
      cored({NamedCore{Star{5, 0.56, 0.75, mm, 14 * mm}}}),
      cored({NamedCore{SlottedTube{8 * mm, 4, 3 * mm, 0, true}}}, 60, head_bare),
      cored({NamedCore{Wheel{6, 18 * mm, mm, 4 * mm, 8 * mm, 1.0}}}, 60),
      cored({TurnedCore{{{0, 16 * mm}, {20 * mm, 16 * mm}, {20 * mm, 20 * mm}, {40 * mm, 22 * mm}},
                        {},
                        2 * mm,
                        3 * mm}},
            40),
      cored(slotted_mm(16, {{30 * mm, 3 * mm, 6 * mm}, {60 * mm, 3 * mm, 6 * mm}}, 90), 90)};
}

// By double exponential quadrature between the exact front's own kinks, which a burn of one segment
// shows as the ends of its widest pieces; cut again evenly where it has none.
template <class Function>
double integral(const Burnback& burnback, Function&& function) {
  boost::math::quadrature::tanh_sinh<double> rule;
  double sum = 0;
  for (const Stretch& stretch : burnback.stretches()) {
    sum += rule.integrate([&](double web) { return function(burnback.burning_area(web)); },
                          stretch.from, stretch.to, 1e-13);
  }
  return sum;
}

double by_stretches(const Burnback& burnback, double power) {
  boost::math::quadrature::tanh_sinh<double> rule;
  double sum = 0;
  for (const Stretch& stretch : burnback.stretches()) {
    sum += rule.integrate([&](double web) { return std::pow(stretch.area(web), power); },
                          stretch.from, stretch.to, 1e-13);
  }
  return sum;
}

void check_same(const Segment& segment, const Segment& round, double tolerance) {
  const Burnback burnback(stack({segment}));
  const Burnback plain(stack({round}));
  const double area = plain.burning_area(0);
  const double volume = plain.propellant_volume(0);
  CHECK(std::abs(burnback.burnout() - plain.burnout()) <= tolerance * plain.burnout());
  for (double share : {0.0, 0.3, 0.7, 0.98}) {
    const double web = share * plain.burnout();
    INFO("web " << web);
    CHECK(std::abs(burnback.burning_area(web) - plain.burning_area(web)) <= tolerance * area);
    CHECK(std::abs(burnback.propellant_volume(web) - plain.propellant_volume(web)) <=
          tolerance * volume);
    CHECK(std::abs(burnback.port_areas(web)[0] - plain.port_areas(web)[0]) <=
          10 * tolerance * plain.port_areas(web)[0]);
    CHECK(std::abs(burnback.centre_of_mass(web) - plain.centre_of_mass(web)) <=
          (1e-6 + tolerance) * round.length);
  }
}

}  // namespace

TEST_CASE("A core without taper or offset burns like the plain round one") {
  for (const Faces& inhibited : {both_ends_bare, head_bare, nozzle_bare, core_only}) {
    const Segment round = segment_mm(50, 20, 85, inhibited);
    check_same(cored(tapered_mm(20, 20), 85, inhibited), round, 1e-10);
    check_same(cored(beside_mm(20, 0), 85, inhibited), round, 1e-10);
  }
}

TEST_CASE("A drawn polygon of many sides tends to the round core") {
  Ring ring;
  for (int i = 0; i < 64; ++i) {
    const double angle = 2 * pi * i / 64;
    ring.push_back({{10 * mm * std::cos(angle), 10 * mm * std::sin(angle)}, 0});
  }
  check_same(cored({DrawnCore{Outline{{Region{ring, {}}}}}}), segment_mm(50, 20, 85), 4e-3);
}

TEST_CASE("The stretches of a bent burn give integrals to 1e-10") {
  for (const Segment& segment : unlike()) {
    const Burnback burnback(stack({segment}));
    INFO("core " << segment.core->shape.index() << ", " << burnback.stretches().size()
                 << " pieces");
    const double volume = burnback.propellant_volume(0);
    CHECK(std::abs(by_stretches(burnback, 1) / volume - 1) < 1e-10);
    CHECK(std::abs(integral(burnback, [](double area) { return area; }) / volume - 1) < 1e-10);
    // The time that a law of exponent 0.3 takes runs with the area to the power -0.3 / 0.7; beside
    // a round segment the area does not fall to 0, as a chamber's pressure does not.
    const Burnback stacked(stack({segment, segment_mm(80, 10, 300)}));
    const double exact = integral(stacked, [](double area) { return std::pow(area, -0.3 / 0.7); });
    CHECK(std::abs(by_stretches(stacked, -0.3 / 0.7) / exact - 1) < 1e-10);
  }
}

TEST_CASE("Where a drawn core's area is a quadratic, its stretch is that one") {
  // A square's corners fan out as whole quarters until they meet the wall.
  const Burnback square(stack({cored({DrawnCore{Outline{{Region{{{{10 * mm, 10 * mm}, 0},
                                                                 {{-10 * mm, 10 * mm}, 0},
                                                                 {{-10 * mm, -10 * mm}, 0},
                                                                 {{10 * mm, -10 * mm}, 0}},
                                                                {}}}}}})}));
  const Stretch& first = square.stretches().front();
  CHECK(first.to == Approx((25 - std::hypot(10, 10)) * mm).epsilon(1e-12));
  for (double web : {0.0, 3 * mm, 10 * mm}) {
    CHECK(first.area(web) == Approx(square.burning_area(web)).epsilon(1e-13));
  }
}

TEST_CASE("Area is the slope of the volume, and nothing is left at burnout") {
  boost::math::quadrature::tanh_sinh<double> rule;
  double worst = 0;
  for (const Segment& segment : unlike()) {
    const Burnback burnback(stack({segment}));
    INFO("core " << segment.core->shape.index());
    const double volume = burnback.propellant_volume(0);
    // Piece by piece: what the area sweeps is what the volume loses.
    for (const Stretch& stretch : burnback.stretches()) {
      const double swept = rule.integrate([&](double web) { return burnback.burning_area(web); },
                                          stretch.from, stretch.to, 1e-13);
      const double lost =
          burnback.propellant_volume(stretch.from) - burnback.propellant_volume(stretch.to);
      worst = std::max(worst, std::abs(swept - lost) / volume);
    }
    CHECK(burnback.propellant_volume(burnback.burnout()) <= 1e-12 * volume);
    CHECK(burnback.burning_area(1.001 * burnback.burnout()) == 0);
  }
  checks::expect("area integrated less volume lost, worst piece of 13 segments", "closed form", 0,
                 worst, checks::absolute(1e-10));
}

TEST_CASE("The least area stops counting where only slivers are left") {
  const Burnback burnback(stack({cored(cross_mm(30, 6))}));
  CHECK(burnback.burning_area(burnback.burnout()) < 1e-6 * burnback.burning_area(0));
  CHECK(burnback.propellant_volume(burnback.slivers_from()) ==
        Approx(sliver_share * burnback.propellant_volume(0)));
  CHECK(burnback.range().least == Approx(burnback.burning_area(burnback.slivers_from())));
  // A slotted pour is gone at once, and a plain one too.
  const Burnback slotted(stack({cored(slotted_mm(16, {{30 * mm, 3 * mm, 6 * mm}}))}));
  CHECK(slotted.slivers_from() == slotted.burnout());
  const Burnback plain(stack({segment_mm(50, 20, 85)}));
  CHECK(plain.slivers_from() == plain.burnout());
}

TEST_CASE("What an offset costs is what its burnback shows") {
  const auto cost = off_centre_cost(cored(beside_mm(20, 3)));
  REQUIRE(cost);
  CHECK(cost->break_out == Approx(12 * mm));
  CHECK(cost->centred == Approx(15 * mm));
  CHECK(cost->burnout == Approx(18 * mm));
  // Sections 442.96456416 and 149.90995134 of 1649.33614313 mm2, by the two circles' lens.
  checks::expect("left when a 20 mm core, 3 mm off centre in 50 mm, meets the wall", "closed form",
                 442.96456416 / 1649.33614313 * (85 - 24) / 85, cost->left_at_break_out,
                 checks::relative(1e-9));
  checks::expect("left when a core in the middle would be out", "closed form",
                 149.90995134 / 1649.33614313 * (85 - 30) / 85, cost->left_at_centred,
                 checks::relative(1e-9));
  CHECK(cost->neutrality > cost->centred_neutrality);
  CHECK_FALSE(off_centre_cost(segment_mm(50, 20, 85)));
  CHECK_FALSE(off_centre_cost(cored(beside_mm(20, 3), 20)));
}

TEST_CASE("Several round cores and shapes by name are the outlines that they say") {
  const Segment three = cored({OffCentreCore{8 * mm, 9 * mm, 3}});
  CHECK(state_at(three, 0).port_area == Approx(3 * pi * 16 * mm * mm).epsilon(1e-12));
  const Segment two = cored({ScatteredCores{{{{10 * mm, 0}, 4 * mm}, {{-10 * mm, 0}, 4 * mm}}}});
  const Segment even = cored({OffCentreCore{8 * mm, 10 * mm, 2}});
  CHECK(state_at(two, 5 * mm).volume == Approx(state_at(even, 5 * mm).volume).epsilon(1e-12));
  const Segment named = cored({NamedCore{Cross{{30 * mm, 6 * mm, false}}}});
  CHECK(state_at(named, 3 * mm).volume ==
        Approx(state_at(cored(cross_mm(30, 6)), 3 * mm).volume).epsilon(1e-14));
  CHECK_FALSE(outline_of({tapered_core(1, 1, 1)}));
}

TEST_CASE("The tube sees flame where the front first meets the wall") {
  CHECK(web_to_wall(segment_mm(50, 20, 85)) == Approx(15 * mm));
  CHECK(web_to_wall(cored(beside_mm(20, 3))) == Approx(12 * mm));
  CHECK(web_to_wall(cored(cross_mm(30, 6))) == Approx((25 - std::hypot(15, 3)) * mm));
  CHECK(web_to_wall(cored({NamedCore{Cross{{30 * mm, 6 * mm, true}}}})) == Approx(10 * mm));
  CHECK(web_to_wall(cored({NamedCore{SlottedTube{8 * mm, 4, 3 * mm, 0, true}}})) == 0);
  CHECK(web_to_wall(cored(tapered_mm(18, 24))) == Approx(13 * mm));
  CHECK(web_to_wall(cored(slotted_mm(16, {{30 * mm, 3 * mm, 6 * mm}}))) == Approx(11 * mm));
}

TEST_CASE("A segment at another length has a core as long") {
  const Segment tapered = with_length(cored(tapered_mm(18, 24)), 90 * mm);
  CHECK(state_at(tapered, 0).volume ==
        Approx(pi * 90 * (625 - (81 + 9 * 12 + 144) / 3.0) * mm * mm * mm));
  CHECK(with_length(segment_mm(50, 20, 85), 90 * mm) == segment_mm(50, 20, 90));
}

TEST_CASE("Planes along a round or tapered core, and mouths at its ends") {
  const Segment tapered = cored(tapered_mm(18, 24));
  const auto planes = cross_sections(tapered, {42.5 * mm});
  const double slant = std::hypot(1, 3.0 / 85);
  CHECK(planes[0].girth(0) == Approx(pi * 21 * mm * slant));
  CHECK(planes[0].burnout() == Approx((50 - 21) / 2.0 * mm / slant));
  CHECK(std::abs(planes[0].section(planes[0].burnout())) < 1e-15);
  CHECK(mouth_of(tapered, Face::nozzle).girth == Approx(pi * 24 * mm));
  CHECK(mouth_of(cored(cross_mm(30, 6)), Face::head).girth == Approx(120 * mm));
  CHECK(mouth_of(segment_mm(50, 0, 85, {Face::head, Face::outer}), Face::head).girth == 0);
  CHECK_THROWS_AS(cross_sections(cored(cross_mm(30, 6)), {0.0}), InputError);
  CHECK_THROWS_AS(cross_sections(cored(slotted_mm(16, {{30 * mm, 3 * mm, 6 * mm}})), {0.0}),
                  InputError);
}

TEST_CASE("A tapered core's volume is the tube's less a frustum's") {
  const double got = Burnback(stack({cored(tapered_mm(18, 24))})).propellant_volume(0);
  checks::expect("propellant, mm3: 50 x 85 mm, core 18 to 24 mm", "closed form",
                 pi * 85 * (625 - (81 + 9 * 12 + 144) / 3.0), got / (mm * mm * mm),
                 checks::relative(1e-12));
}

TEST_CASE("A core beside the axis breaks out at the thin side") {
  const Burnback burnback(stack({cored(beside_mm(20, 3), 85, core_only)}));
  CHECK(burnback.burning_area(12 * mm) == Approx(pi * 44 * mm * 85 * mm).epsilon(1e-12));
  CHECK(burnback.burning_area(12.5 * mm) < pi * 45 * mm * 85 * mm * 0.95);
  CHECK(burnback.burnout() == Approx(18 * mm).epsilon(1e-14));
}

TEST_CASE("Cores are compared by value and refused with what to change") {
  CHECK(cored(beside_mm(20, 3)) == cored(beside_mm(20, 3)));
  CHECK_FALSE(cored(beside_mm(20, 3)) == cored(beside_mm(20, 4)));
  CHECK_FALSE(cored(beside_mm(20, 0)) == segment_mm(50, 20, 85));
  const auto key = [](const Segment& segment) {
    const auto found = complaints(segment);
    return found.empty() ? "" : found.front().key;
  };
  CHECK(key(cored(beside_mm(20, 3))).empty());
  CHECK(key(cored(beside_mm(20, 16))) == "core.offset");
  CHECK(key(cored(tapered_mm(0, 20))) == "core.head");
  CHECK(key(cored(tapered_mm(20, 50))) == "core.nozzle");
  CHECK(key(cored(tapered_mm(20, 22), 85, {})) == "inhibited");
  CHECK(key(cored(cross_mm(60, 6))) == "core");
  CHECK(key(cored(slotted_mm(16, {{30 * mm, 3 * mm, 40 * mm}}))) == "slot");
  CHECK(key(cored(slotted_mm(16, {{30 * mm, 0, 4 * mm}}))) == "slot 1: width");
}
