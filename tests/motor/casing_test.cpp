// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/motor/casing.hpp"

#include <catch2/catch.hpp>
#include <map>
#include <string>

#include "support/checks.hpp"

namespace gw = grainwright;

namespace {

constexpr double inch = 0.0254;
constexpr double psi = 4.4482216152605 / (inch * inch);

gw::Casing sound_casing() {
  return {.bore = 40e-3, .wall = 4e-3, .grain_room = 0.2, .tube_wall = 1.5e-3, .fit = 0.5e-3};
}

std::string only_key(const gw::Casing& casing) {
  const auto found = gw::complaints(casing);
  REQUIRE(found.size() == 1);
  return found.front().key;
}

}  // namespace

TEST_CASE("Pipe dimensions give the published pressure ratings") {
  // P = 2 S t / (D - t) with S = 2000 psi, printed to the nearest 10 psi.
  const std::map<std::string, double> ratings = {
      {"3/4 sch 40", 480},   {"1 sch 40", 450},   {"1-1/4 sch 40", 370}, {"1-1/2 sch 40", 330},
      {"2 sch 40", 280},     {"3 sch 40", 260},   {"2-1/2 sch 40", 300}, {"3-1/2 sch 40", 240},
      {"4 sch 40", 220},     {"3/4 sch 80", 690}, {"1 sch 80", 630},     {"1-1/4 sch 80", 520},
      {"1-1/2 sch 80", 470}, {"2 sch 80", 400},   {"2-1/2 sch 80", 420}, {"3 sch 80", 370},
      {"3-1/2 sch 80", 350}, {"4 sch 80", 320}};
  CHECK(gw::pipe_sizes().size() == ratings.size());
  for (const gw::PipeSize& size : gw::pipe_sizes()) {
    const double rating =
        2 * 2000 * psi * size.least_wall / (size.outer_diameter - size.least_wall);
    checks::expect("rating of " + std::string(size.name) + ", psi",
                   "ASTM D1785, pressure ratings of PVC 1120 at 73 degF",
                   ratings.at(std::string(size.name)), rating / psi, checks::absolute(5.001));
  }
}

TEST_CASE("The average bore of a pipe is the catalogue's") {
  const std::map<std::string, double> bores = {
      {"3/4 sch 40", 0.810}, {"1 sch 40", 1.033}, {"2 sch 40", 2.049}, {"2 sch 80", 1.913}};
  for (const auto& [name, bore] : bores) {
    checks::expect("average bore of " + name + ", in",
                   "pipe catalogue, average inside diameters of ASTM D1785 pipe", bore,
                   gw::find_pipe(name)->average_bore() / inch, checks::absolute(0.002));
  }
}

TEST_CASE("A pipe is found however its name is spaced") {
  for (const char* name : {"1-1/2 sch 40", "1 1/2 SCH 40", "1-1/2 Schedule 40", "1-1/2sch40"}) {
    INFO(name);
    REQUIRE(gw::find_pipe(name));
    CHECK(gw::find_pipe(name)->name == "1-1/2 sch 40");
  }
  for (const char* name : {"", "1-1/2", "5 sch 40", "1-1/2 sch 41", "sch 40"}) {
    INFO(name);
    CHECK_FALSE(gw::find_pipe(name));
  }
}

TEST_CASE("The casing leaves the bore less tube and fit for propellant") {
  CHECK(sound_casing().grain_outer_diameter() == Approx(36.5e-3).epsilon(1e-14));
  CHECK(gw::complaints(sound_casing()).empty());
}

TEST_CASE("A casing that cannot be is complained of by key") {
  gw::Casing casing = sound_casing();
  SECTION("bore") {
    CHECK((casing.bore = 0, only_key(casing)) == "bore");
  }
  SECTION("wall") {
    CHECK((casing.wall = -1e-3, only_key(casing)) == "wall");
  }
  SECTION("room") {
    CHECK((casing.grain_room = 0, only_key(casing)) == "grain_room");
  }
  SECTION("tube") {
    CHECK((casing.tube_wall = -1e-3, only_key(casing)) == "tube_wall");
  }
  SECTION("fit") {
    CHECK((casing.fit = -1e-3, only_key(casing)) == "fit");
  }
  SECTION("nothing left") {
    CHECK((casing.tube_wall = 20e-3, only_key(casing)) == "tube_wall");
  }
}
