// SPDX-License-Identifier: GPL-3.0-or-later
//
// Cores in a job: read, written, and refused with what to change.
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>

#include "grainwright/grain/core_figures.hpp"
#include "job_text.hpp"

namespace gw = grainwright;
using Catch::Contains;

namespace {

std::string job_with(const std::string& core) {
  return "[propellant]\nname = \"kn-sucrose\"\n[nozzle]\nthroat = \"10 mm\"\n[[segment]]\n"
         "length = \"85 mm\"\nouter_diameter = \"50 mm\"\n" +
         core + "\n";
}

std::string refusal(const std::string& core) {
  const auto lines = job_text::complaints_of(job_with(core));
  return lines.empty() ? "" : lines.front();
}

}  // namespace

TEST_CASE("Each kind of core comes back from the file that it is written to") {
  for (
      const std::string core :
      {R"(core = { head = "18 mm", nozzle = "20 mm" })",
       R"(core = { diameters = [["0 mm", "16 mm"], ["40 mm", "16 mm"], ["40 mm", "20 mm"],
            ["85 mm", "22 mm"]] })",
       "core = \"16 mm\"\nslot = [{ at = \"30 mm\", width = \"3 mm\", depth = \"6 mm\" }]",
       "core = \"16 mm\"\nhead_dish = \"2 mm\"\nnozzle_dish = \"3 mm\"",
       R"(core = { diameter = "20 mm", offset = "3 mm" })",
       R"(core = { diameter = "8 mm", offset = "9 mm", count = 3 })",
       R"(core = { round = [{ diameter = "9 mm", x = "6 mm", y = "1 mm" },
            { diameter = "8 mm", x = "-8 mm", y = "0 mm" }] })",
       R"(core = { shape = "star", points = 5, half_angle = "32 deg", fillet_centre = "14 mm", )"
       R"(fillet = "1 mm", angle_fraction = 0.75 })",
       R"(core = { shape = "slot", length = "30 mm", width = "6 mm", ends = "square" })",
       R"(core = { shape = "cross", length = "30 mm", width = "6 mm" })",
       R"(core = { shape = "slotted tube", bore_radius = "8 mm", slots = 4, slot_width = "3 mm" })",
       R"(core = { shape = "wheel", spokes = 6, spoke_width = "4 mm", rim = "18 mm", )"
       R"(fillet = "1 mm", tip = "8 mm", tip_half_angle = "60 deg" })",
       "core = { outline = \"POLYGON ((-10 -8, 10 -8, 0 13, -10 -8))\" }"}) {
    INFO(core);
    const gw::Job job = gw::parse_job(job_with(core), "job");
    const std::string text = gw::with_design(job_with("core = 0\ninhibited = [\"head\"]"),
                                             job.grain, job.nozzle->throat_diameter);
    const gw::Job again = gw::parse_job(text, "job");
    INFO(text);
    const gw::Segment one = job.grain.layers.front().segment;
    const gw::Segment other = again.grain.layers.front().segment;
    REQUIRE(other.core);
    CHECK(other.core->shape.index() == one.core->shape.index());
    CHECK(gw::state_at(other, 2e-3).volume == Approx(gw::state_at(one, 2e-3).volume).epsilon(1e-9));
    CHECK(gw::burnout_web(other) == Approx(gw::burnout_web(one)).epsilon(1e-9));
  }
}

TEST_CASE("A drawing is read from a file beside the job") {
  const std::string folder = GRAINWRIGHT_BINARY_DIR;
  std::ofstream(folder + "/triangle.wkt") << "POLYGON ((-10 -8, 10 -8, 0 13, -10 -8))\n";
  const gw::Job job =
      gw::parse_job(job_with("core = { outline = \"triangle.wkt\" }"), folder + "/job.toml");
  const gw::Segment segment = job.grain.layers.front().segment;
  CHECK(segment.outer_diameter / 2 * segment.outer_diameter / 2 * 3.14159265358979 -
            gw::state_at(segment, 0).volume / segment.length ==
        Approx(210e-6));
  CHECK_THAT(refusal("core = { outline = \"missing.wkt\" }"), Contains("missing.wkt"));
}

TEST_CASE("A drawing that is no void is refused, with where and what to do") {
  const auto drawn = [](const std::string& wkt) {
    return refusal("core = { outline = \"" + wkt + "\" }");
  };
  CHECK_THAT(drawn("POLYGON ((-9 -9, 9 9, 9 -9, -9 8, -9 -9))"),
             Contains("segment 1: core") && Contains("cross"));
  CHECK_THAT(drawn("POLYGON ((-9 -9, 9 -9, 0 9))"), Contains("core") && Contains("first"));
  CHECK_THAT(drawn("POLYGON ((-9 -9, 90 -9, 0 9, -9 -9))"),
             Contains("inside the tube") || Contains("wall"));
  CHECK_THAT(drawn("POLYGON ((0 0, 9 0, 4 0, 0 0))"), Contains("area"));
  std::string many = "POLYGON ((";
  for (int i = 0; i <= 10000; ++i) {
    const double angle = 2e-4 * 3.14159265358979 * i;
    many +=
        std::to_string(10 * std::cos(angle)) + ' ' + std::to_string(10 * std::sin(angle)) + ", ";
  }
  CHECK_THAT(drawn(many + "10 0))"), Contains("10000") || Contains("10,000"));
}

TEST_CASE("Cores that cannot be are refused at their key") {
  CHECK_THAT(refusal(R"(core = { diameter = "20 mm", offset = "16 mm" })"),
             Contains("core.offset") && Contains("16 mm"));
  CHECK_THAT(refusal(R"(core = { shape = "star", points = 5, half_angle = "2 deg", )"
                     R"(fillet_centre = "14 mm" })"),
             Contains("core.half_angle: \"2 deg\""));
  CHECK_THAT(refusal(R"(core = { shape = "cross", length = "5 mm", width = "6 mm" })"),
             Contains("core.length: \"5 mm\""));
  CHECK_THAT(refusal(R"(core = { shape = "cross", length = "30 mm" })"),
             Contains("core.width: missing"));
  CHECK_THAT(
      refusal(R"(core = { shape = "cross", length = "30 mm", width = "6 mm", rim = "9 mm" })"),
      Contains("core.rim") && Contains("cross"));
  CHECK_THAT(refusal(R"(core = { shape = "moon" })"), Contains("core.shape: \"moon\""));
  CHECK_THAT(
      refusal(R"(core = { shape = "slot", length = "20 mm", width = "6 mm", ends = "wavy" })"),
      Contains("core.ends: \"wavy\""));
  CHECK_THAT(refusal(R"(core = { head = "18 mm", offset = "2 mm" })"),
             Contains("does not say which core"));
  CHECK_THAT(refusal(R"(core = { head = "18 mm" })"), Contains("core.nozzle: missing"));
  CHECK_THAT(refusal(R"(core = { diameters = ["16 mm", "18 mm"] })"),
             Contains("core.diameters") && Contains("places and diameters"));
  CHECK_THAT(refusal(R"(core = { diameters = [["0 mm", "16 mm"], ["60 mm", "18 mm"]] })"),
             Contains("nozzle end"));
  CHECK_THAT(refusal("core = { diameter = \"20 mm\", offset = \"3 mm\" }\n"
                     "slot = [{ at = \"30 mm\", width = \"3 mm\", depth = \"6 mm\" }]"),
             Contains("slot") && Contains("round core in the middle"));
  CHECK_THAT(refusal("core = \"16 mm\"\nslot = [{ at = \"30 mm\", width = \"3 mm\", "
                     "depth = \"40 mm\" }]"),
             Contains("slot"));
  CHECK_THAT(refusal("core = { diameter = \"20 mm\", offset = \"3 mm\" }\ninhibited = []"),
             Contains("outer face"));
}

TEST_CASE("A front that would have to turn an inhibited corner is refused") {
  // Behind the step the head end's front would meet propellant that the inhibited core hides.
  CHECK_THAT(refusal(R"(core = { diameters = [["0 mm", "12 mm"], ["20 mm", "12 mm"], )"
                     R"(["20 mm", "24 mm"], ["40 mm", "24 mm"], ["40 mm", "12 mm"], )"
                     R"(["85 mm", "12 mm"]] })"
                     "\ninhibited = [\"core\", \"outer\", \"nozzle\"]"),
             Contains("segment 1: inhibited: ") && Contains("inhibited corner at ("));
}

TEST_CASE("Islands that nothing holds are a remark, and so is a drawing that was tidied") {
  const std::string ring =
      "MULTIPOLYGON (((-12 -12, 12 -12, 12 12, -12 12, -12 -12), (-4 -4, -4 4, 4 4, 4 -4, -4 -4)))";
  const gw::Job job = gw::parse_job(job_with("core = { outline = \"" + ring + "\" }"), "job");
  REQUIRE(job.remarks.size() == 1);
  CHECK_THAT(job.remarks.front(), Contains("segment 1") && Contains("island"));
  const gw::Job twice = gw::parse_job(
      job_with("core = { outline = \"POLYGON ((-9 -9, 9 -9, 9 -9, 0 9, -9 -9))\" }"), "job");
  CHECK(twice.remarks.size() == 1);
}
