// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <numbers>

#include "job_text.hpp"

namespace gw = grainwright;
using job_text::complaints_of;

namespace {

const std::string heron = R"([airframe]
mass = "2 kg"
motor_hardware = "500 g"
diameter = "60 mm"
rail_length = "1.8 m"
)";

std::string complaint(const std::string& text) {
  const auto lines = complaints_of(text);
  REQUIRE(lines.size() == 1);
  return lines.front();
}

}  // namespace

TEST_CASE("An airframe is read, its drag as a number or a table over Mach") {
  const gw::Airframe plain = *gw::parse_job(heron + "drag_coefficient = 0.5", "").airframe;
  CHECK(plain.mass_with(0.25) == 2.75);
  CHECK(plain.rail_elevation == std::numbers::pi / 2);
  CHECK(plain.drag_coefficient(0) == 0.5);
  CHECK(plain.drag_coefficient(3) == 0.5);
  const gw::Airframe fast =
      *gw::parse_job(heron + "drag_coefficient = [[0, 0.5], [0.8, 0.6], [1.2, 0.8]]", "").airframe;
  CHECK(fast.drag_coefficient(0.4) == Approx(0.55));
  CHECK(fast.drag_coefficient(1) == Approx(0.7));
  CHECK(fast.drag_coefficient(2) == 0.8);
}

TEST_CASE("The launch is as high as the day, unless it says otherwise") {
  const std::string day = "[day]\naltitude = \"900 m\"\n";
  const std::string drag = "drag_coefficient = 0.5\n";
  CHECK(gw::parse_job(day + heron + drag, "").airframe->altitude == 900);
  const std::string higher = "launch_altitude = \"1000 m\"\n";
  CHECK(gw::parse_job(day + heron + drag + higher, "").airframe->altitude == 1000);
}

TEST_CASE("A faulty airframe is told where it is wrong") {
  CHECK_THAT(complaint(heron), Catch::StartsWith("1:1: airframe.drag_coefficient: missing"));
  CHECK_THAT(complaint(heron + "drag_coefficient = \"low\""),
             Catch::StartsWith("6:20: airframe.drag_coefficient: \"low\": a number, or points"));
  CHECK_THAT(complaint(heron + "drag_coefficient = [0.5, 0.6]"),
             Catch::StartsWith("6:20: airframe.drag_coefficient: 0.5: points of two numbers"));
  CHECK_THAT(complaint(heron + "drag_coefficient = [[0, 0.5], [0, 0.6]]"),
             Catch::StartsWith("6:20: airframe.drag_coefficient: Mach 0: Mach numbers that rise"));
  CHECK_THAT(complaint(heron + "drag_coefficient = -0.5"),
             Catch::StartsWith("6:20: airframe.drag_coefficient: -0.5: 0 or more"));
  CHECK_THAT(complaint(heron + "drag_coefficient = 0.5\nrail_elevation = \"20 deg\""),
             Catch::StartsWith("7:18: airframe.rail_elevation: \"20 deg\": from 30 to 90 deg"));
  CHECK_THAT(complaint(heron + "drag_coefficient = []"),
             Catch::StartsWith("6:20: airframe.drag_coefficient: none"));
}
