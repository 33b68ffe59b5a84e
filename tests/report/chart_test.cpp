// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/report/chart.hpp"

#include <rapidcheck.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

using namespace grainwright;

namespace {

constexpr double none = std::numeric_limits<double>::quiet_NaN();

Chart thrust() {
  return {.id = "thrust",
          .title = "Thrust",
          .dimension = Dimension::force,
          .time = {0, 0.5, 1},
          .traces = {{"predicted", {100, 400, 0}}, {"asked", {200, 200, none}, Pen::dashed}},
          .levels = {{"ceiling <1>", 450}},
          .band = Band{"one in ten", {90, 350, 0}, {120, 430, 10}}};
}

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("steps are round, few, and reach far enough") {
  CHECK(round_steps(6).step == 1);
  CHECK(round_steps(643.6).step == 200);
  CHECK(round_steps(643.6).end == 800);
  CHECK(round_steps(0).end == 1);
  CHECK(rc::check("any size", [] {
    const double most = std::pow(10, *rc::gen::inRange(-900, 900) / 100.0);
    const Steps steps = round_steps(most);
    RC_ASSERT(steps.end >= most * (1 - 1e-8));
    RC_ASSERT(steps.end - steps.step < most * (1 + 1e-8));
    RC_ASSERT(steps.end / steps.step < 7.5);
  }));
}

TEST_CASE("a curve is resampled by straight lines, and is nothing outside") {
  const std::vector<double> x = {0, 1, 1, 3};
  const std::vector<double> y = {0, 10, 20, 40};
  const std::vector<double> at = {-1, 0, 0.5, 2, 3, 4};
  const auto values = resampled(x, y, at);
  REQUIRE(values.size() == at.size());
  CHECK(std::isnan(values[0]));
  CHECK(values[1] == 0);
  CHECK(values[2] == 5);
  CHECK(values[3] == 30);
  CHECK(values[4] == 40);
  CHECK(std::isnan(values[5]));
}

TEST_CASE("a chart's picture has its curves, band, limits and names") {
  const std::string svg = chart_svg(thrust(), UnitSystem::si);
  CHECK(holds(svg, "class=\"trace pen-0\""));
  CHECK(holds(svg, "class=\"trace pen-1\""));
  CHECK(holds(svg, "class=\"band\""));
  CHECK(holds(svg, ">ceiling &lt;1&gt;</text>"));
  CHECK(holds(svg,
              "aria-label=\"Thrust over time, predicted, asked, one in ten, ceiling &lt;1&gt;\""));
  CHECK(!holds(svg, "nan"));
}

TEST_CASE("a chart's data are numbers alone, in printed units") {
  CHECK(chart_json(thrust(), UnitSystem::si) ==
        "{\"end\":1,\"top\":500,\"step\":100,\"time\":[0,0.5,1],\"traces\":[[100,400,0],"
        "[200,200,null]],\"pens\":[0,1],\"levels\":[450],\"band\":[[90,350,0],[120,430,10]]}");
  CHECK(holds(chart_json(thrust(), UnitSystem::us), "\"traces\":[[22.481,89.924,0]"));
}
