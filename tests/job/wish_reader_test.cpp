// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "job_text.hpp"

namespace gw = grainwright;
using job_text::complaints_of;

namespace {

gw::Wish wish(const std::string& lines) {
  return *gw::parse_job("[wish]\n" + lines, "").wish;
}

std::string complaint(const std::string& text) {
  const auto lines = complaints_of(text);
  REQUIRE(lines.size() == 1);
  return lines.front();
}

constexpr double infinity = std::numeric_limits<double>::infinity();

}  // namespace

TEST_CASE("The profile is a word or points") {
  CHECK(wish("").profile == gw::Profile::flat());
  CHECK(wish("profile = \"flat\"").profile == gw::Profile::flat());
  CHECK(wish("profile = \"front-loaded\"\nlead = 1.5").profile == gw::Profile::front_loaded(1.5));
  CHECK(wish("profile = [[0, 1.5], [0.5, 1], [1, 0.5]]").profile ==
        gw::Profile::through({{0, 1.5}, {0.5, 1}, {1, 0.5}}));
}

TEST_CASE("For the rail a speed is asked, and no shape") {
  const gw::Wish asked = wish("profile = \"for the rail\"\nrail_speed = \"15 m/s\"");
  CHECK(asked.for_the_rail);
  CHECK(asked.profile == gw::Profile::flat());
  CHECK(asked.rail_speed == gw::Bound{15, infinity});
  CHECK_FALSE(wish("rail_speed = \"15 m/s\"").for_the_rail);
  CHECK_THAT(complaint("[wish]\nprofile = \"for the rail\""),
             Catch::StartsWith("1:1: wish.rail_speed: missing"));
}

TEST_CASE("Bounds on the flight are speeds, numbers and heights") {
  CHECK(wish("thrust_to_weight = { at_most = 12 }").thrust_to_weight == gw::Bound{-infinity, 12});
  CHECK(wish("apogee = \"1000 ft\"").apogee == gw::Bound{304.8, infinity});
  CHECK_THAT(complaint("[wish]\napogee = \"15 m/s\""), Catch::StartsWith("2:10: wish.apogee: "));
}

TEST_CASE("Faulty profiles are told") {
  CHECK_THAT(complaint("[wish]\nprofile = \"front-loaded\""),
             Catch::StartsWith("1:1: wish.lead: missing"));
  CHECK_THAT(complaint("[wish]\nlead = 1.5"), Catch::StartsWith("2:8: wish.lead: 1.5: only with"));
  CHECK_THAT(complaint("[wish]\nprofile = \"front-loaded\"\nlead = 2.5"),
             Catch::StartsWith("3:8: wish.lead: 2.5: above 1, up to 2"));
  CHECK_THAT(complaint("[wish]\nprofile = [1, 2]"),
             Catch::StartsWith("2:11: wish.profile: 1: points of two numbers"));
  CHECK_THAT(complaint("[wish]\nprofile = [[0.2, 1], [1, 1]]"),
             Catch::StartsWith("2:11: wish.profile: "));
  CHECK_THAT(complaint("[wish]\nprofile = 3"),
             Catch::StartsWith("2:11: wish.profile: 3: \"flat\""));
}

TEST_CASE("A bound is a least value or a table of both ends") {
  CHECK(wish("burn_time = \"2 s\"").burn_time == gw::Bound{2, infinity});
  CHECK(wish("peak_thrust = { at_most = \"90 N\" }").peak_thrust == gw::Bound{-infinity, 90});
  CHECK(wish("total_impulse = { at_least = \"9 N s\", at_most = \"10 N s\" }").total_impulse ==
        gw::Bound{9, 10});
  CHECK_THAT(
      complaint("[wish]\nburn_time = { at_least = \"3 s\", at_most = \"2 s\" }"),
      Catch::StartsWith("2:26: wish.burn_time.at_least: \"3 s\": no more than at_most, \"2 s\""));
  CHECK_THAT(complaint("[wish]\nburn_time = { least = \"3 s\" }"),
             Catch::StartsWith("2:23: wish.burn_time.least: unknown key: at_least or at_most"));
  CHECK_THAT(complaint("[wish]\nburn_time = {}"), Catch::Contains("an empty table"));
  CHECK_THAT(complaint("[wish]\nburn_time = 3"),
             Catch::StartsWith("2:13: wish.burn_time: 3 without"));
  CHECK_THAT(complaint("[wish]\nmean_thrust = \"3 s\""),
             Catch::StartsWith("2:15: wish.mean_thrust: "));
}

TEST_CASE("Shop and limits must not contradict themselves") {
  CHECK_THAT(complaint("[limits]\npressure = \"1 MPa\"\npressure_floor = \"2 MPa\""),
             Catch::StartsWith("3:18: limits.pressure_floor: \"2 MPa\": no more than the ceiling"));
  CHECK_THAT(complaint("[shop]\nshortest_segment = \"2 in\"\nlongest_segment = \"1 in\""),
             Catch::StartsWith("2:20: shop.shortest_segment: \"2 in\": no more than the longest"));
  CHECK_THAT(complaint("[shop]\nmandrels = \"2 in\""),
             Catch::StartsWith("2:12: shop.mandrels: \"2 in\": a list"));
  CHECK_THAT(complaint("[shop]\nmandrels = [\"2 in\", 3]"),
             Catch::StartsWith("2:21: shop.mandrels: 3 without a unit"));
  CHECK_THAT(complaint("[shop]\nbare_ends = [0, 3]"),
             Catch::StartsWith("2:13: shop.bare_ends: a list: "));
}

TEST_CASE("A shop's odd cores are read as a segment's core is") {
  const gw::Job job = gw::parse_job(
      "[[shop.cores]]\nshape = \"cross\"\nlength = \"22 mm\"\nwidth = \"5 mm\"\n"
      "[[shop.cores]]\ndiameter = \"10 mm\"\noffset = \"3 mm\"\n"
      "[[shop.cores]]\noutline = \"POLYGON ((-9 -4, 9 -4, 9 4, -9 4, -9 -4))\"\n",
      "");
  const auto& cores = job.shop->cores;
  REQUIRE(cores.size() == 3);
  CHECK(cores[0] == gw::Core{gw::NamedCore{gw::Cross{{.length = 0.022, .width = 0.005}}}});
  CHECK(cores[1] == gw::Core{gw::OffCentreCore{.diameter = 0.010, .offset = 0.003}});
  CHECK(std::get<gw::DrawnCore>(cores[2].shape).outline.corner_count() == 4);
  CHECK_THAT(complaint("[[shop.cores]]\nshape = \"crss\""),
             Catch::StartsWith("2:9: shop.cores 1: shape: \"crss\""));
  CHECK_THAT(complaint("[shop]\ncores = [\"5 mm\"]"), Catch::StartsWith("2:1: shop.cores: "));
}

TEST_CASE("What a search cannot use of an odd core is told at the line of its key") {
  const std::string mandrels = "mandrels = [\"3/8 in\", \"1/2 in\"]";
  const std::string cores = "cores = [{ diameter = \"3/8 in\", offset = \"3 in\" }]";
  CHECK_THAT(complaints_of(job_text::changed(job_text::sound, mandrels, cores)).front(),
             Catch::StartsWith("29:42: shop.cores 1: offset: \"3 in\": "));
}

TEST_CASE("A design with odd cores is saved as its rods were given, and fires as it was searched") {
  const std::string text = job_text::changed(
      job_text::sound, "mandrels = [\"3/8 in\", \"1/2 in\"]",
      "cores = [{ diameter = \"3/8 in\", offset = \"1/8 in\" }, "
      "{ outline = \"POLYGON ((-9 -4, 9 -4, 9 4, -9 4, -9 -4))\" }]\nbare_ends = [0, 2]");
  const gw::SearchTask task = gw::search_task_of(gw::parse_job(text, ""));
  const gw::SearchResult result = gw::search(task);
  REQUIRE_FALSE(result.designs.empty());
  for (const gw::Design& design : result.designs) {
    const gw::Job saved =
        gw::parse_job(gw::with_design(text, design.grain, design.throat_diameter, ""), "");
    const gw::Summary fired = gw::fire_steady(gw::motor_of(saved)).summary;
    CHECK(std::abs(fired.peak_pressure / design.summary.peak_pressure - 1) < 1e-9);
    CHECK(std::abs(fired.total_impulse / design.summary.total_impulse - 1) < 1e-9);
    for (const gw::Layer& layer : saved.grain.layers) {
      REQUIRE(layer.segment.core);
      CHECK(std::ranges::count(task.shop.cores, *layer.segment.core) == 1);
    }
  }
}
