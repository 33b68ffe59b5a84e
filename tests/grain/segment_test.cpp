// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/grain/segment.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>

#include "grain/shapes.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using namespace shapes;
using std::numbers::pi;

namespace {

constexpr Faces nothing_inhibited = {};
constexpr Faces ends_inhibited = {Face::head, Face::nozzle};

}  // namespace

TEST_CASE("Faces are named as the job file names them") {
  CHECK(name_of(Face::head) == "head");
  CHECK(name_of(Face::nozzle) == "nozzle");
  CHECK(name_of(Face::core) == "core");
  CHECK(name_of(Face::outer) == "outer");
}

TEST_CASE("A set of faces holds what was put in and nothing else") {
  Faces faces;
  CHECK(faces.empty());
  faces.insert(Face::core);
  faces.insert(Face::core);
  CHECK(faces == Faces{Face::core});
  for (Face face : all_faces) CHECK(faces.contains(face) == (face == Face::core));
}

TEST_CASE("A face burns where it exists and is not inhibited") {
  Segment segment = segment_mm(50, 20, 85, head_bare);
  CHECK(segment.bare(Face::head));
  CHECK(segment.bare(Face::core));
  CHECK_FALSE(segment.bare(Face::nozzle));
  CHECK_FALSE(segment.bare(Face::outer));
  CHECK(segment.bare_ends() == 1);
  CHECK(segment_mm(50, 20, 85, core_only).bare_ends() == 0);
  CHECK(segment_mm(50, 20, 85).bare_ends() == 2);
}

TEST_CASE("A solid segment has no core face to burn") {
  CHECK_FALSE(segment_mm(50, 0, 85, nothing_inhibited).bare(Face::core));
}

TEST_CASE("A segment is gone when the first pair of its faces meets") {
  struct Row {
    const char* what;
    Segment segment;
    double web_mm;
  };
  const Row rows[] = {
      {"the core meets the wall", segment_mm(50, 20, 85), 15},
      {"two bare ends meet first", segment_mm(50, 20, 24), 12},
      {"one bare end meets the other first", segment_mm(50, 20, 12, head_bare), 12},
      {"inhibited ends never meet", segment_mm(50, 20, 2, core_only), 15},
      {"the core meets a burning outside", segment_mm(50, 20, 85, nothing_inhibited), 7.5},
      {"a burning outside meets an inhibited core", segment_mm(50, 20, 85, {Face::core}), 15},
      {"a burning outside meets the axis", segment_mm(50, 0, 85, nothing_inhibited), 25},
      {"an end burner burns its whole length", segment_mm(50, 0, 85, nozzle_bare), 85},
      {"an inhibited core leaves only the ends", segment_mm(50, 20, 85, {Face::core, Face::outer}),
       42.5},
  };
  for (const Row& row : rows) {
    checks::expect(std::string("burnout web, mm: ") + row.what, checks::closed_form, row.web_mm,
                   burnout_web(row.segment) / mm, checks::relative(1e-14));
  }
}

TEST_CASE("Only bare faces move, each by the web") {
  struct Row {
    const char* what;
    Segment segment;
    double length, core, outer;  // mm, after 5 mm of web
  };
  const Row rows[] = {
      {"core and both ends", segment_mm(50, 20, 85), 75, 30, 50},
      {"core and one end", segment_mm(50, 20, 85, head_bare), 80, 30, 50},
      {"core alone", segment_mm(50, 20, 85, core_only), 85, 30, 50},
      {"every face", segment_mm(50, 20, 85, nothing_inhibited), 75, 30, 40},
      {"core and outside", segment_mm(50, 20, 85, ends_inhibited), 85, 30, 40},
      {"end of a solid segment", segment_mm(50, 0, 85, nozzle_bare), 80, 0, 50},
  };
  for (const Row& row : rows) {
    INFO(row.what);
    SegmentState state = state_at(row.segment, 5 * mm);
    checks::expect(std::string("length, mm: ") + row.what, checks::closed_form, row.length,
                   state.length / mm, checks::relative(1e-14));
    checks::expect(std::string("core, mm: ") + row.what, checks::closed_form, row.core,
                   state.core_diameter / mm, checks::relative(1e-14));
    checks::expect(std::string("outside, mm: ") + row.what, checks::closed_form, row.outer,
                   state.outer_diameter / mm, checks::relative(1e-14));
    checks::expect(std::string("volume, mm3: ") + row.what, checks::closed_form,
                   pi / 4 * (row.outer * row.outer - row.core * row.core) * row.length,
                   state.volume / (mm * mm * mm), checks::relative(1e-13));
  }
}

TEST_CASE("The port is the core and what a burning outside has freed") {
  // Closed form: circles of 30 mm, and of 50 mm less 40 mm.
  checks::expect("port of a cored segment, mm2", checks::closed_form, pi / 4 * 900,
                 state_at(segment_mm(50, 20, 85), 5 * mm).port_area / (mm * mm),
                 checks::relative(1e-13));
  checks::expect("port where the outside burns too, mm2", checks::closed_form,
                 pi / 4 * (900 + 2500 - 1600),
                 state_at(segment_mm(50, 20, 85, nothing_inhibited), 5 * mm).port_area / (mm * mm),
                 checks::relative(1e-13));
  CHECK(state_at(segment_mm(50, 0, 85, nozzle_bare), 5 * mm).port_area == 0);
}

TEST_CASE("At burnout the last area still counts, and past it nothing is left") {
  Segment segment = segment_mm(50, 20, 24);
  double end = burnout_web(segment);
  checks::expect("area as the ends meet, mm2", checks::closed_form, 282 * pi,
                 state_at(segment, end).burning_area / (mm * mm), checks::relative(1e-13));
  CHECK(state_at(segment, end).volume == 0);
  SegmentState after = state_at(segment, std::nextafter(end, 1.0));
  CHECK(after.burning_area == 0);
  CHECK(after.volume == 0);
  CHECK(after.length == 0);
}

TEST_CASE("A segment that can be cast and burned draws no complaint") {
  CHECK(complaints(segment_mm(50, 20, 85)).empty());
  CHECK(complaints(segment_mm(50, 0, 85, nozzle_bare)).empty());
  CHECK(complaints(segment_mm(50, 20, 85, nothing_inhibited)).empty());
}

TEST_CASE("A segment that cannot be cast or burned is refused, and the complaint names the value") {
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  constexpr double infinity = std::numeric_limits<double>::infinity();
  struct Row {
    const char* what;
    Segment segment;
    const char* key;
  };
  const Row rows[] = {
      {"core wider than the outside", segment_mm(50, 60, 85), "core"},
      {"core as wide as the outside", segment_mm(50, 50, 85), "core"},
      {"negative core", segment_mm(50, -1, 85), "core"},
      {"core not a number", segment_mm(50, nan, 85), "core"},
      {"no length", segment_mm(50, 20, 0), "length"},
      {"negative length", segment_mm(50, 20, -85), "length"},
      {"length not a number", segment_mm(50, 20, nan), "length"},
      {"endless length", segment_mm(50, 20, infinity), "length"},
      {"no outside", segment_mm(0, 0, 85), "outer"},
      {"outside not a number", segment_mm(nan, 20, 85), "outer"},
      {"nothing bare", segment_mm(50, 20, 85, {Face::head, Face::nozzle, Face::core, Face::outer}),
       "inhibited"},
      {"nothing bare on a solid segment", segment_mm(50, 0, 85, core_only), "inhibited"},
  };
  for (const Row& row : rows) {
    INFO(row.what);
    auto found = complaints(row.segment);
    REQUIRE_FALSE(found.empty());
    CHECK_THAT(found.front().key, Catch::Contains(row.key));
    CHECK_FALSE(found.front().given.empty());
    CHECK_FALSE(found.front().allowed.empty());
  }
}
