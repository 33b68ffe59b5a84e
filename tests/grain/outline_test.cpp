// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/grain/outline.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <limits>
#include <random>

#include "drawn.hpp"
#include "grainwright/grain/core_shapes.hpp"

using namespace grainwright;
using Catch::Matchers::Contains;
using drawn::wall;
using std::numbers::pi;

namespace {

std::string refusal(const Outline& outline) {
  auto found = complaints(outline, wall);
  return found.empty() ? "" : found.front().text();
}

std::string wkt_refusal(std::string_view text) {
  try {
    (void)read_outline_wkt(text, 1);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

struct DrawnEdge {
  std::size_t ring;
  std::size_t place;
  std::size_t of;  // edges of this ring
  Point from;
  Point to;
};

std::vector<DrawnEdge> edges_by_ring(const Region& region) {
  std::vector<Ring> rings = {region.outer};
  rings.insert(rings.end(), region.holes.begin(), region.holes.end());
  std::vector<DrawnEdge> edges;
  for (std::size_t r = 0; r < rings.size(); ++r) {
    std::size_t count = rings[r].size();
    for (std::size_t i = 0; i < count; ++i) {
      edges.push_back({r, i, count, rings[r][i].at, rings[r][(i + 1) % count].at});
    }
  }
  return edges;
}

// Exact for whole numbers, which doubles hold.
bool have_a_point_in_common(const DrawnEdge& one, const DrawnEdge& other) {
  auto apart = [](double p, double q, double r, double s) {
    return std::max(p, q) < std::min(r, s) || std::max(r, s) < std::min(p, q);
  };
  return !apart(one.from.x, one.to.x, other.from.x, other.to.x) &&
         !apart(one.from.y, one.to.y, other.from.y, other.to.y) &&
         drawn::cross_each_other(one.from, one.to, other.from, other.to);
}

// True where edges have more in common than the corner between neighbours: every pair is asked.
bool edges_meet(const Region& region) {
  std::vector<DrawnEdge> edges = edges_by_ring(region);
  for (const DrawnEdge& one : edges) {
    for (const DrawnEdge& other : edges) {
      bool neighbours = one.ring == other.ring &&
                        (one.place == other.place || (one.place + 1) % one.of == other.place ||
                         (other.place + 1) % one.of == one.place);
      if (!neighbours && have_a_point_in_common(one, other)) return true;
    }
  }
  return false;
}

}  // namespace

TEST_CASE("Well-Known Text is read in the unit given") {
  Outline outline = read_outline_wkt("POLYGON ((0 0, 10 0, 10 5, 0 5, 0 0))", 1e-3);
  REQUIRE(outline.voids.size() == 1);
  CHECK(outline.voids[0].outer.size() == 4);
  CHECK(outline.voids[0].outer[2].at == Point{0.01, 0.005});
  CHECK(area_of(outline) == Approx(50e-6));
}

TEST_CASE("Well-Known Text may hold holes, several polygons, any case and white space") {
  Outline outline = read_outline_wkt(
      "  multipolygon\n(((0 0,4 0,4 4,0 4,0 0),(1 1,1 2,2 2,2 1,1 1)),\n ((6 6, 7e0 6, 7 7.0, 6 "
      "6)))",
      1);
  REQUIRE(outline.voids.size() == 2);
  CHECK(outline.voids[0].holes.size() == 1);
  CHECK(outline.corner_count() == 11);
}

TEST_CASE("Text that is no outline is refused with the place") {
  CHECK_THAT(wkt_refusal(""), Contains("no figure"));
  CHECK_THAT(wkt_refusal("LINESTRING (0 0, 1 1)"), Contains("LINESTRING") && Contains("POLYGON"));
  CHECK_THAT(wkt_refusal("POLYGON EMPTY"), Contains("EMPTY") && Contains("bracket"));
  CHECK_THAT(wkt_refusal("POLYGON ((0 0, 1 0, 1 1))"), Contains("open ring"));
  CHECK_THAT(wkt_refusal("POLYGON ((0 0, 1 x, 1 1, 0 0))"), Contains("1:18") && Contains("number"));
  CHECK_THAT(wkt_refusal("POLYGON\n((0 0, 1 nan, 1 1, 0 0))"), Contains("2:10"));
  CHECK_THAT(wkt_refusal("POLYGON ((0 0, 1 1e999, 1 1, 0 0))"), Contains("number"));
  CHECK_THAT(wkt_refusal("POLYGON ((0 0, 1 0, 1 1, 0 0)) and"), Contains("nothing after"));
  CHECK_THAT(wkt_refusal("POLYGON ((0 0, 1 0, 1 1, 0 0)"), Contains("end of the text"));
  CHECK_THAT(wkt_refusal("POLYGON ((0 0 5, 1 0 5, 1 1 5, 0 0 5))"), Contains("comma"));
  CHECK_THAT(wkt_refusal(std::string("POLYGON ((\0\1\2", 13)), Contains("\"???\""));
  std::string many = "POLYGON ((0 0";
  for (int i = 0; i < 10'002; ++i) many += ",1 " + std::to_string(i);
  CHECK_THAT(wkt_refusal(many + ",0 0))"), Contains("10000"));
}

TEST_CASE("outlines that are no void in a tube are refused") {
  CHECK(refusal({}) == "outline: no corners: at least one ring");
  CHECK_THAT(refusal(drawn::polygon({{0, 0}, {4, 4}, {4, 0}, {0, 4}})),
             Contains("cross") && Contains("(2000 mm, 2000 mm)"));
  CHECK_THAT(refusal(drawn::polygon({{0, 0}, {4, 0}, {8, 0}})), Contains("without area"));
  CHECK_THAT(refusal(drawn::polygon({{0, 0}, {4, 0}})), Contains("without area"));
  CHECK_THAT(refusal(drawn::polygon({{0, 0}, {30, 0}, {0, 8}})),
             Contains("outside the tube") && Contains("30000"));
  CHECK_THAT(refusal(round_cores({{{20, 0}, 8}})), Contains("outside the tube"));
  CHECK_THAT(refusal(round_cores({{{0, 0}, 25}})), Contains("fills the tube"));
  CHECK_THAT(
      refusal(drawn::polygon({{0, 0}, {std::numeric_limits<double>::quiet_NaN(), 0}, {0, 8}})),
      Contains("finite"));
  CHECK_THAT(refusal(drawn::polygon({{12, 0}, {1e300, 3}, {-74, 11}, {1e300, -4}})),
             Contains("far outside the tube at (1e+303 mm") && Contains("unit"));
  CHECK(complaints(drawn::spiky(std::vector<double>(20, 1e6)), wall).size() == 1);
  CHECK_THAT(refusal(drawn::spiky(std::vector<double>(10'001, 9))), Contains("10001 corners"));
  Outline hole = drawn::polygon({{0, 0}, {4, 0}, {4, 4}, {0, 4}});
  hole.voids[0].holes = {drawn::polygon({{6, 6}, {6, 8}, {8, 8}}).voids[0].outer};
  CHECK_THAT(refusal(hole), Contains("hole outside its void"));
  hole.voids[0].holes = {drawn::polygon({{2, 2}, {2, 8}, {8, 8}}).voids[0].outer};
  CHECK_THAT(refusal(hole), Contains("cross"));
  hole.voids[0].holes = {drawn::polygon({{1, 1}, {3, 1}, {3, 3}, {1, 3}}).voids[0].outer,
                         drawn::polygon({{2, 2}, {2.5, 2}, {2, 2.5}}).voids[0].outer};
  CHECK_THAT(refusal(hole), Contains("hole within a hole"));
  Outline round = round_cores({{{0, 0}, 5}});
  round.voids[0].holes = {drawn::polygon({{6, 6}, {6, 8}, {8, 8}}).voids[0].outer};
  CHECK_THAT(refusal(round), Contains("hole outside its void"));
  CHECK(complaints(drawn::polygon({{0, 0}, {4, 0}, {0, 4}}), -1).front().key == "wall radius");
}

TEST_CASE("rings that run along themselves or each other are refused, though none crosses") {
  std::vector<Point> square = {{-6, -6}, {6, -6}, {6, 6}, {-6, 6}};
  Ring round = drawn::polygon(square).voids[0].outer;
  Ring notched = drawn::polygon({{-6, -6}, {-2, -6}, {-2, 0}, {-4, 0}}).voids[0].outer;
  Ring pinched =
      drawn::polygon({{-4, -4}, {0, 0}, {-4, 4}, {4, 4}, {0, 0}, {4, -4}}).voids[0].outer;
  Ring twice =
      drawn::polygon({{1, -1}, {1, 1}, {5, 1}, {2, -1}, {1, 1}, {5, 1}, {2, -1}}).voids[0].outer;
  CHECK_THAT(refusal({{{round, {round}}}, false}), Contains("touch") && Contains("(-6000 mm"));
  CHECK_THAT(refusal({{{round, {notched}}}, false}), Contains("touch"));
  CHECK_THAT(refusal({{{pinched, {}}}, false}), Contains("touch at (0 mm, 0 mm)"));
  CHECK_THAT(refusal({{{round, {twice}}}, false}), Contains("touch"));
}

TEST_CASE("drawings on a coarse grid are refused for crossings where there are some") {
  std::mt19937 random(11);
  auto ring = [&](std::size_t corners, int reach) {
    auto place = [&] {
      return static_cast<double>(random() % (2 * static_cast<unsigned>(reach) + 1)) - reach;
    };
    std::vector<Point> points(corners);
    for (Point& p : points) p = {place(), place()};
    return drawn::polygon(points).voids[0].outer;
  };
  int taken = 0;
  int refused = 0;
  for (int i = 0; i < 20'000; ++i) {
    Region region = {ring(3 + random() % 5, 6), {}};
    for (unsigned holes = random() % 3; holes > 0; --holes) {
      region.holes.push_back(ring(3 + random() % 4, 3));
    }
    Outline outline = {{region}, false};
    INFO("drawing " << i);
    std::string why = refusal(outline);
    if (why.empty()) {
      ++taken;
      REQUIRE_FALSE(edges_meet(tidied(outline, wall).outline.voids[0]));
    } else if (why.find("cross") != std::string::npos) {
      ++refused;
      REQUIRE(edges_meet(region));
    }
  }
  CHECK(taken > 500);
  CHECK(refused > 500);
}

TEST_CASE("a figure of eight of arcs is refused where it crosses") {
  Outline eight = {{{{{{-6, -2}, 0}, {{6, 2}, pi}, {{6, -2}, 0}, {{-6, 2}, 3.5}}, {}}}, false};
  CHECK_THAT(refusal(eight), Contains("cross"));
  // An arc that cuts through a straight edge beyond its own corners.
  Outline bulge = {{{{{{-8, 0}, 0}, {{8, 0}, 0}, {{8, 3}, -2.5}, {{-8, 3}, 0}}, {}}}, false};
  CHECK_THAT(refusal(bulge), Contains("cross"));
}

TEST_CASE("corners finer than the grain of detail are merged, and said so") {
  TidyOutline tidy = tidied(
      drawn::polygon({{-6, -6}, {0, -6}, {6, -6}, {6, -6}, {6 + 1e-8, -6 + 1e-8}, {6, 6}, {-6, 6}}),
      wall);
  CHECK(tidy.outline.voids[0].outer.size() == 4);
  REQUIRE(tidy.notes.size() == 1);
  CHECK_THAT(tidy.notes[0], Contains("3 corners merged"));
  CHECK(tidied(tidy.outline, wall).notes.empty());
}

TEST_CASE("spikes without width go") {
  TidyOutline tidy =
      tidied(drawn::polygon({{-6, -6}, {6, -6}, {6, 0}, {12, 0}, {6, 0}, {6, 6}, {-6, 6}}), wall);
  CHECK(tidy.outline.voids[0].outer.size() == 4);
}

TEST_CASE("a finely drawn circle keeps its corners") {
  TidyOutline tidy = tidied(drawn::spiky(std::vector<double>(2000, 10)), wall);
  CHECK(tidy.notes.empty());
  PlanarFront front(tidy.outline, wall);
  CHECK(front.burnout() == Approx(15).epsilon(1e-5));
  CHECK(front.perimeter(5) == Approx(30 * pi).epsilon(1e-6));
}

TEST_CASE("rings are turned the right way, whichever way they were drawn") {
  Outline clockwise = drawn::polygon({{0, 0}, {0, 5}, {5, 5}, {5, 0}});
  CHECK(area_of(clockwise) == -25);
  CHECK(area_of(tidied(clockwise, wall).outline) == 25);
  Outline arcs = {{{{{{-4, 0}, -pi}, {{4, 0}, -pi / 2}}, {}}}, false};
  CHECK(area_of(tidied(arcs, wall).outline) == Approx(-area_of(arcs)).epsilon(1e-14));
}

TEST_CASE("voids that overlap are united") {
  Outline outline = drawn::polygon({{-9, -2}, {9, -2}, {9, 2}, {-9, 2}});
  outline.voids.push_back(drawn::polygon({{-2, -9}, {2, -9}, {2, 9}, {-2, 9}}).voids[0]);
  TidyOutline tidy = tidied(outline, wall);
  CHECK(tidy.outline.voids.size() == 1);
  CHECK(tidy.outline.voids[0].outer.size() == 12);
  CHECK(area_of(tidy.outline) == Approx(128).epsilon(1e-14));
  REQUIRE(tidy.notes.size() == 1);
  CHECK_THAT(tidy.notes[0], Contains("2 voids that overlap united into 1"));
  PlanarFront cross_of_two(outline, wall);
  PlanarFront drawn_at_once(cross({18, 4, false}), wall);
  CHECK(cross_of_two.perimeter(3) == Approx(drawn_at_once.perimeter(3)).epsilon(1e-13));
}

TEST_CASE("an island of propellant is a warning, not an error") {
  Outline outline = drawn::polygon({{-9, -9}, {9, -9}, {9, 9}, {-9, 9}});
  CHECK(warnings(tidied(outline, wall).outline).empty());
  outline.voids[0].holes = {drawn::polygon({{-2, -2}, {2, -2}, {2, 2}, {-2, 2}}).voids[0].outer};
  TidyOutline tidy = tidied(outline, wall);
  CHECK(area_of(tidy.outline) == 324 - 16);
  REQUIRE(warnings(tidy.outline).size() == 1);
  CHECK_THAT(warnings(tidy.outline)[0], Contains("an island") && Contains("rib"));
}

TEST_CASE("shapes with numbers that make none are refused by name") {
  CHECK_THROWS_WITH(star({5, 0.2, 0.75, 1, 15}), Contains("half angle"));
  CHECK_THROWS_WITH(star({1, 0.5, 0.75, 1, 15}), Contains("points"));
  CHECK_THROWS_WITH(star({5, 0.6, 1.5, 1, 15}), Contains("angle fraction"));
  CHECK_THROWS_WITH(slot({5, 6, true}), Contains("slot length"));
  CHECK_THROWS_WITH(cross({12, 6, true}), Contains("slot length"));
  CHECK_THROWS_WITH(slotted_tube({5, 4, 11, 20, false}), Contains("slot width"));
  CHECK_THROWS_WITH(wheel({6, 18, 1, 18, 5, 1.0}), Contains("spoke width"));
  CHECK_THROWS_WITH(round_cores({{{0, 0}, -1}}), Contains("core radius"));
}

TEST_CASE("area and centre of shapes are the closed forms") {
  CHECK(area_of(round_cores({{{3, 4}, 2}})) == Approx(4 * pi).epsilon(1e-14));
  CHECK(area_of(slot({20, 6, true})) == Approx(14 * 6 + 9 * pi).epsilon(1e-14));
  CHECK(area_of(cross({20, 6, false})) == Approx(2 * 120 - 36).epsilon(1e-14));
  CHECK(area_of(rotated(slot({20, 6, true}), 1)) == Approx(84 + 9 * pi).epsilon(1e-13));
}

TEST_CASE("degenerate drawings burn right or are refused, never wrong") {
  std::mt19937 random(7);
  auto any = [&](double from, double to) {
    return from + (to - from) * static_cast<double>(random()) / 4294967296.0;
  };
  int burned = 0;
  for (int i = 0; i < 400; ++i) {
    std::vector<Point> corners = drawn::winding(5 + random() % 15, static_cast<unsigned>(random()));
    for (int spoiled = 0; spoiled < 4; ++spoiled) {
      std::size_t at = random() % corners.size();
      Point a = corners[at];
      Point b = corners[(at + 1) % corners.size()];
      double k = any(0, 1);
      double off = std::pow(10, any(-16, -2));
      Point between = {a.x + k * (b.x - a.x) + any(-off, off),
                       a.y + k * (b.y - a.y) + any(-off, off)};
      Point beside = {a.x + any(-1e-9, 1e-9), a.y + any(-1e-9, 1e-9)};
      Point tip = {a.x + any(-6, 6), a.y + any(-6, 6)};
      auto here = corners.begin() + static_cast<std::ptrdiff_t>(at + 1);
      switch (random() % 4) {
        case 0:
          corners.insert(here, a);
          break;
        case 1:
          corners.insert(here, beside);
          break;
        case 2:
          corners.insert(here, between);
          break;
        default:
          corners.insert(here, {tip, a});
          break;
      }
    }
    try {
      Outline outline = drawn::polygon(corners);
      double expected = pi * wall * wall - area_of(tidied(outline, wall).outline);
      PlanarFront front(outline, wall);
      ++burned;
      INFO("case " << i);
      CHECK(std::abs(front.section(0) - expected) < 1e-9 * pi * wall * wall);
      if (i % 8 == 0)
        CHECK(std::abs(drawn::integral_of_perimeter(front) - expected) < 1e-8 * pi * wall * wall);
    } catch (const InputError&) {
    }
  }
  CHECK(burned > 200);
}
