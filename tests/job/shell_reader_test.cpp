// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>
#include <catch2/catch.hpp>

#include "job_text.hpp"

namespace gw = grainwright;

namespace {

const std::string held = R"([casing]
pipe = "1-1/2 sch 40"
grain_room = "7 1/2 in"
tube_wall = "0.06 in"
material = "pvc-1120"

[closure.head]
joint = "bonded"
material = "pvc-1120"
thickness = "30 mm"
protection = [["cement-mortar", "6 mm"]]
bond = "pvc-solvent-cement"
bond_length = "25 mm"
cure_time = "72 h"

[limits]
pressure = "from strength"
factor = 2
)";

std::vector<std::string> complaints_when(const std::string& from, const std::string& to) {
  return job_text::complaints_of(job_text::changed(held, from, to));
}

void refuses(const std::string& from, const std::string& to, const std::string& words) {
  const auto lines = complaints_when(from, to);
  INFO(to);
  REQUIRE_FALSE(lines.empty());
  CHECK_THAT(fmt::format("{}", fmt::join(lines, "\n")), Catch::Contains(words));
}

}  // namespace

TEST_CASE("A shell is read, and its ceiling is the weakest part's over the factor") {
  const gw::Job job = gw::parse_job(held, "job");
  REQUIRE(job.shell);
  CHECK(job.from_strength);
  CHECK(job.shell->liner.front().material.name == "paper");
  CHECK(job.shell->head->protection.front().thickness == Approx(6e-3));
  const gw::ColdCeiling ceiling = gw::cold_ceiling(*job.shell, job.day.ambient_pressure);
  CHECK(job.limits.pressure == ceiling.pressure);
  CHECK(ceiling.part == "pipe");
  const gw::Job stricter =
      gw::parse_job(job_text::changed(held, "factor = 2", "factor = 4"), "job");
  const double ambient = job.day.ambient_pressure;
  CHECK((stricter.limits.pressure - ambient) * 2 == Approx(job.limits.pressure - ambient));
}

TEST_CASE("A ceiling from strength needs the materials") {
  const auto lines = job_text::complaints_of("[limits]\npressure = \"from strength\"\n");
  REQUIRE(lines.size() == 1);
  CHECK_THAT(lines.front(), Catch::Contains("limits.pressure: \"from strength\" without"));
}

TEST_CASE("Closures that cannot be are refused where they stand") {
  refuses("joint = \"bonded\"", "joint = \"glued\"", "closure.head.joint: \"glued\"");
  refuses("bond_length = \"25 mm\"", "bond_length = \"40 mm\"",
          "closure.head.bond_length: \"40 mm\"");
  refuses("bond_length = \"25 mm\"", "bond_length = \"-3 mm\"", "closure.head.bond_length");
  refuses("bond_length = \"25 mm\"\n", "", "closure.head.bond_length: missing");
  refuses("cure_time = \"72 h\"", "cure_time = \"1 h\"",
          "closure.head.cure_time: \"1 h\": at least");
  refuses("cure_time = \"72 h\"\n", "", "closure.head.cure_time: missing");
  refuses("\"6 mm\"", "\"-6 mm\"", "closure.head.protection: \"-6 mm\": a thickness above 0");
  refuses("\"6 mm\"", "6", "closure.head.protection");
  refuses("\"cement-mortar\"", "\"cement-mortr\"", "did you mean \"cement-mortar\"?");
  refuses("cure_time = \"72 h\"", "pins = 3",
          "closure.head.pins: 3: nothing: the closure is bonded");
  refuses("bond = \"pvc-solvent-cement\"", "bond = \"cement-mortar\"",
          "whose shear strength is known");
  refuses("material = \"pvc-1120\"\n\n", "material = \"cement-mortar\"\n\n",
          "casing.material: \"cement-mortar\"");
  refuses("tube_wall = \"0.06 in\"", "length = \"7 3/4 in\"",
          "casing.length: \"7 3/4 in\": at least");
  refuses("[closure.head]", "[closure.tail]", "closure.tail: unknown key");
}

TEST_CASE("Pins that overlap are refused") {
  const auto lines = job_text::complaints_of(R"([casing]
bore = "38 mm"
wall = "2 mm"
grain_room = "200 mm"
material = "aluminium-6061-t6"
[closure.nozzle]
joint = "pinned"
material = "aluminium-6061-t6"
thickness = "20 mm"
pins = 30
pin_diameter = "4 mm"
pin_material = "stainless-a2-70"
pin_depth = "10 mm"
pin_reach = "8 mm"
end_distance = "10 mm"
)");
  REQUIRE(lines.size() == 1);
  CHECK_THAT(lines.front(), Catch::Contains("closure.nozzle.pins: 30 of 4 mm, which overlap"));
}
