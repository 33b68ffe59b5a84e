// SPDX-License-Identifier: GPL-3.0-or-later
//
// What holds for every stack, whatever its numbers.
#include <rapidcheck.h>
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "grain/shapes.hpp"
#include "grainwright/grain/burnback.hpp"

using namespace grainwright;
using namespace shapes;

namespace {

// Lengths in tenths of a millimetre, so that a failing case reads well and shrinks well.
double tenths(int least, int most) {
  return *rc::gen::inRange(least, most + 1) * 0.1;
}

// A cored segment with at least the core bare, which may stand anywhere in a stack.
Segment any_cored() {
  double outer = tenths(100, 1500);
  double core = outer * *rc::gen::inRange(5, 96) / 100.0;
  Faces inhibited;
  for (Face face : {Face::head, Face::nozzle, Face::outer}) {
    if (*rc::gen::arbitrary<bool>()) inhibited.insert(face);
  }
  return segment_mm(outer, core, tenths(20, 3000), inhibited);
}

Grain any_stack() {
  Grain grain;
  int layers = *rc::gen::inRange(1, 5);
  for (int i = 0; i < layers; ++i) {
    grain.layers.push_back({.segment = any_cored(), .count = *rc::gen::inRange(1, 4)});
  }
  grain.spacer = tenths(0, 50) * mm;
  return grain;
}

double any_part() {
  return *rc::gen::inRange(0, 1000) / 1000.0;
}

bool near(double a, double b, double scale) {
  return std::abs(a - b) <= 1e-12 * scale;
}

// Equal area, volume and events all the way.
void same_burn(const Burnback& a, const Burnback& b) {
  RC_ASSERT(a.events().size() == b.events().size());
  for (std::size_t i = 0; i < a.events().size(); ++i) {
    RC_ASSERT(near(a.events()[i], b.events()[i], a.burnout()));
  }
  for (const Stretch& stretch : a.stretches()) {
    double web = (stretch.from + stretch.to) / 2;
    RC_ASSERT(near(a.burning_area(web), b.burning_area(web), a.range().greatest));
    RC_ASSERT(near(a.propellant_volume(web), b.propellant_volume(web), a.propellant_volume(0)));
  }
}

}  // namespace

TEST_CASE("Area integrated over the burn is the propellant that was cast, for every stack") {
  CHECK(rc::check("volume is conserved", [] {
    Burnback burnback(any_stack());
    double burned = 0;
    for (const Stretch& stretch : burnback.stretches()) {
      // Simpson's rule is exact for a quadratic.
      double middle = (stretch.from + stretch.to) / 2;
      burned += (stretch.to - stretch.from) / 6 *
                (stretch.area(stretch.from) + 4 * stretch.area(middle) + stretch.area(stretch.to));
    }
    RC_ASSERT(near(burned, burnback.grain().propellant_volume(), burned));
  }));
}

TEST_CASE("Area is never negative and volume never grows, for every stack") {
  CHECK(rc::check("area and volume are sound", [] {
    Burnback burnback(any_stack());
    double a = any_part() * 1.1 * burnback.burnout();
    double b = any_part() * 1.1 * burnback.burnout();
    if (a > b) std::swap(a, b);
    RC_ASSERT(burnback.burning_area(a) >= 0);
    RC_ASSERT(burnback.propellant_volume(b) >= 0);
    RC_ASSERT(burnback.propellant_volume(a) >= burnback.propellant_volume(b));
    RC_ASSERT(burnback.burning_area(a) <= burnback.range().greatest * (1 + 1e-12));
  }));
}

TEST_CASE("The stack's area is its stretch's formula, for every stack") {
  CHECK(rc::check("stretches agree with the area", [] {
    Burnback burnback(any_stack());
    for (const Stretch& stretch : burnback.stretches()) {
      double web = stretch.from + (0.001 + 0.999 * any_part()) * (stretch.to - stretch.from);
      RC_ASSERT(near(stretch.area(web), burnback.burning_area(web), burnback.range().greatest));
    }
  }));
}

TEST_CASE("The order of the layers does not matter to area and volume") {
  CHECK(rc::check("reversed and rotated stacks burn alike", [] {
    Grain grain = any_stack();
    Grain other = grain;
    std::reverse(other.layers.begin(), other.layers.end());
    std::rotate(other.layers.begin(), other.layers.begin() + 1, other.layers.end());
    same_burn(Burnback(grain), Burnback(other));
  }));
}

TEST_CASE("A layer of several equal segments burns as that many layers of one") {
  CHECK(rc::check("counts are only shorthand", [] {
    Grain grain = any_stack();
    std::vector<Segment> single;
    for (const Layer& layer : grain.layers) {
      for (int i = 0; i < layer.count; ++i) single.push_back(layer.segment);
    }
    same_burn(Burnback(grain), Burnback(stack(single, grain.spacer / mm)));
  }));
}

TEST_CASE("Scaling every length scales area by its square, volume by its cube and events by it") {
  CHECK(rc::check("lengths scale", [] {
    double s = *rc::gen::inRange(1, 1000) / 50.0;
    Grain grain = any_stack();
    Grain scaled = grain;
    scaled.spacer *= s;
    for (Layer& layer : scaled.layers) {
      layer.segment.length *= s;
      layer.segment.outer_diameter *= s;
      layer.segment.core_diameter *= s;
    }
    Burnback plain(grain);
    Burnback large(scaled);
    RC_ASSERT(plain.events().size() == large.events().size());
    for (const Stretch& stretch : plain.stretches()) {
      double web = (stretch.from + stretch.to) / 2;
      RC_ASSERT(near(large.burning_area(s * web), s * s * plain.burning_area(web),
                     s * s * plain.range().greatest));
      RC_ASSERT(near(large.propellant_volume(s * web), s * s * s * plain.propellant_volume(web),
                     s * s * s * plain.propellant_volume(0)));
      RC_ASSERT(near(large.centre_of_mass(s * web), s * plain.centre_of_mass(web),
                     s * grain.stack_length()));
    }
  }));
}

TEST_CASE("A segment with two bare ends burns as two halves with one bare end each") {
  CHECK(rc::check("the middle is a mirror", [] {
    Segment whole = any_cored();
    bool outside_burns = whole.bare(Face::outer);
    whole.inhibited = outside_burns ? Faces{} : both_ends_bare;
    Segment front = whole;
    front.length /= 2;
    front.inhibited.insert(Face::nozzle);
    Segment back = whole;
    back.length /= 2;
    back.inhibited.insert(Face::head);
    Burnback one(stack({whole}));
    Burnback two(stack({front, back}));
    same_burn(one, two);
    double web = any_part() * one.burnout();
    RC_ASSERT(near(one.centre_of_mass(web), whole.length / 2, whole.length));
    RC_ASSERT(near(two.centre_of_mass(web), whole.length / 2, whole.length));
  }));
}

TEST_CASE("A vanishing core leaves an end burner, whose area is its section to the last") {
  CHECK(rc::check("a thread of a core is no core", [] {
    double outer = tenths(100, 1500);
    double length = tenths(20, 3000);
    Burnback thread(
        stack({segment_mm(outer, 1e-7, length, {Face::outer, Face::core, Face::head})}));
    Burnback solid(stack({segment_mm(outer, 0, length, nozzle_bare)}));
    same_burn(thread, solid);
    double section = std::numbers::pi / 4 * outer * outer * mm * mm;
    RC_ASSERT(near(solid.burning_area(any_part() * solid.burnout()), section, section));
  }));
}

TEST_CASE("A bare end adds its own face and takes the core that it eats, and nothing else") {
  CHECK(rc::check("A = core + m ends", [] {
    Segment segment = any_cored();
    segment.inhibited = core_only;
    double core_alone = burning_area_of(segment)(0);
    segment.inhibited = head_bare;
    double with_one = burning_area_of(segment)(0);
    segment.inhibited = both_ends_bare;
    double with_two = burning_area_of(segment)(0);
    double d = segment.core_diameter;
    double outer = segment.outer_diameter;
    double face = std::numbers::pi / 4 * (outer * outer - d * d);
    RC_ASSERT(near(with_one, core_alone + face, with_two));
    RC_ASSERT(near(with_two, core_alone + 2 * face, with_two));
  }));
}
