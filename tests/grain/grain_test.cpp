// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/grain/grain.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <limits>
#include <numbers>

#include "grain/shapes.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using namespace shapes;
using std::numbers::pi;

namespace {

bool complains_about(const Grain& grain, const std::string& key) {
  auto found = complaints(grain);
  return std::any_of(found.begin(), found.end(), [&](const Complaint& complaint) {
    return complaint.key.find(key) != std::string::npos;
  });
}

}  // namespace

TEST_CASE("A stack is as long as its segments and the spacers between them") {
  Grain grain = stack({segment_mm(50, 20, 85), segment_mm(50, 25, 60)}, 2);
  grain.layers[0].count = 3;
  CHECK(grain.segment_count() == 4);
  checks::expect("stack length, mm", checks::closed_form, 3 * 85 + 60 + 3 * 2,
                 grain.stack_length() / mm, checks::relative(1e-14));
  checks::expect("propellant volume, mm3", checks::closed_form,
                 pi / 4 * (3 * 2100 * 85 + 1875 * 60), grain.propellant_volume() / (mm * mm * mm),
                 checks::relative(1e-13));
}

TEST_CASE("One segment needs no spacer") {
  CHECK(stack({segment_mm(50, 20, 85)}, 2).stack_length() == Approx(85 * mm).epsilon(1e-14));
}

TEST_CASE("Three even segments fit the room that builders give them") {
  // A 1.5 in grain with a 3/8 in core: just under 7.5 in of propellant together.
  constexpr double inch = 0.0254;
  Segment segment{.length = (3 * 1.5 + 0.375) / 2 * inch,
                  .outer_diameter = 1.5 * inch,
                  .core_diameter = 0.375 * inch};
  Grain grain{.layers = {{.segment = segment, .count = 3}}};
  checks::expect("three even segments, in", checks::closed_form, 7.3125,
                 grain.stack_length() / inch, checks::relative(1e-14));
  checks::expect("three even segments, in", checks::common_practice, 7.5,
                 grain.stack_length() / inch, checks::relative(0.03));
}

TEST_CASE("A sound stack draws no complaint") {
  CHECK(complaints(stack({segment_mm(50, 20, 85), segment_mm(50, 25, 60)}, 2)).empty());
  CHECK(complaints(stack({segment_mm(50, 20, 85)})).empty());
}

TEST_CASE("A complaint about a segment says which one") {
  Grain grain = stack({segment_mm(50, 20, 85), segment_mm(50, 60, 85), segment_mm(50, 20, -1)});
  CHECK(complains_about(grain, "segment 2: core"));
  CHECK(complains_about(grain, "segment 3: length"));
  CHECK_FALSE(complains_about(grain, "segment 1"));
}

TEST_CASE("A solid segment may stand only at the head end, where it blocks nobody's gas") {
  Segment cored = segment_mm(50, 20, 85);
  Segment solid = segment_mm(50, 0, 40, {Face::outer, Face::head});
  CHECK(complaints(stack({solid, cored})).empty());
  CHECK(complains_about(stack({cored, solid}), "segment 2"));
  CHECK(complains_about(stack({solid, solid}), "segment 2"));
  CHECK_FALSE(complaints(Grain{.layers = {{.segment = solid, .count = 2}}}).empty());
}

TEST_CASE("A stack of nothing, of less than one or with an impossible spacer is refused") {
  CHECK_FALSE(complaints(Grain{}).empty());
  Grain grain = stack({segment_mm(50, 20, 85)});
  grain.layers[0].count = 0;
  CHECK(complains_about(grain, "count"));
  for (double spacer : {-1.0, std::numeric_limits<double>::quiet_NaN()}) {
    CHECK(complains_about(stack({segment_mm(50, 20, 85)}, spacer), "spacer"));
  }
}

TEST_CASE("A stack of more segments than any motor has is refused") {
  Grain grain = stack({segment_mm(50, 20, 85), segment_mm(50, 20, 85)});
  grain.layers[0].count = most_segments - 1;
  CHECK(complaints(grain).empty());
  grain.layers[1].count = std::numeric_limits<int>::max();
  CHECK(complains_about(grain, "segment"));
}
