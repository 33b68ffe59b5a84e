// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/report/grain_drawing.hpp"

#include <catch2/catch.hpp>
#include <regex>

#include "grainwright/grain/core.hpp"

using namespace grainwright;
using Catch::Contains;

namespace {

Segment segment(Faces inhibited = {Face::outer}) {
  Segment made;
  made.length = 0.08;
  made.outer_diameter = 0.05;
  made.core_diameter = 0.016;
  made.inhibited = inhibited;
  return made;
}
Segment cross_cored() {
  return with_core(segment(), {NamedCore{Cross{{0.03, 0.006, true}}}});
}

std::size_t count(const std::string& text, const std::string& what) {
  std::size_t found = 0;
  for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++found;
  return found;
}

}  // namespace

TEST_CASE("A section shows one front for each step of web, and what is left at the wall") {
  const std::string svg = section_picture(cross_cored(), 0.002, {.id = "a"}).svg;
  // The cross's arms end at 15 mm; its last sliver is gone within 25 mm of web.
  const double burnout = Burnback(Grain{{{cross_cored(), 1}}, 0}).burnout();
  CHECK(count(svg, "class=\"front\"") == static_cast<std::size_t>(burnout / 0.002));
  CHECK_THAT(svg, Contains("url(#a-hatch)") && Contains("id=\"a-wall\"") && Contains("50 mm"));
  CHECK_THAT(section_picture(segment(), 0.002).svg, !Contains("url(#grain-hatch)"));
}

TEST_CASE("An inhibited core has no fronts") {
  const std::string svg =
      section_picture(with_core(segment({Face::outer, Face::core}), *cross_cored().core), 0.002)
          .svg;
  CHECK(count(svg, "class=\"front\"") == 0);
}

TEST_CASE("A stack shows each segment with its size, and its inhibited faces") {
  const Grain grain{{{segment({Face::outer, Face::head}), 2}, {cross_cored(), 1}}, 0.002};
  const std::string svg = stack_picture(Burnback(grain), 0.002).svg;
  CHECK(count(svg, ">80 mm<") == 3);
  CHECK(count(svg, ">244 mm<") == 1);
  // Two sides a segment, and two halves of a head end twice.
  CHECK(count(svg, "class=\"held\"") >= 6 + 4);
  const Grain bare{{{segment({Face::outer}), 1}}, 0};
  const std::string alone = stack_picture(Burnback(bare), 0.002).svg;
  CHECK(count(alone, "class=\"front\"") == 2 * 8);  // 17 mm of web, both halves
}

TEST_CASE("The whole file draws each unlike core once and is well formed") {
  const Grain grain{{{cross_cored(), 1}, {segment(), 1}, {cross_cored(), 2}}, 0};
  const std::string svg = burnback_svg(Burnback(grain));
  CHECK(count(svg, "clipPath id=") == 2);
  CHECK_THAT(svg, Catch::StartsWith("<svg xmlns=") && Contains("inhibited"));
  CHECK(count(svg, "<svg ") == count(svg, "</svg>"));
  CHECK(count(svg, "<g ") == count(svg, "</g>"));
  CHECK_FALSE(std::regex_search(svg, std::regex("nan|inf[^l]")));
  CHECK(burnback_svg(Burnback(grain)) == svg);
}

TEST_CASE("Turned cores are drawn in the plane of the axis only") {
  TurnedCore core = tapered_core(0.08, 0.014, 0.02);
  core.slots = {{0.04, 0.003, 0.006}};
  const Grain grain{{{with_core(segment(), {core}), 1}}, 0};
  const std::string svg = burnback_svg(Burnback(grain));
  CHECK(count(svg, "clipPath id=") == 0);
  CHECK(count(svg, "class=\"front\"") > 10);
}

TEST_CASE("Steps between fronts are round numbers near those asked for") {
  CHECK(contour_step(0.012, {.contours = 11}) == Approx(0.001));
  CHECK(contour_step(0.0126, {.contours = 10}) == Approx(0.001));
  CHECK(contour_step(0.0127, {.units = UnitSystem::us, .contours = 9}) ==
        Approx(25.4e-3 / 32 * 1.6).epsilon(0.3));
}
