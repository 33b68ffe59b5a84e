// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <regex>
#include <sstream>

#include "jobs.hpp"
#include "program.hpp"

using Catch::Matchers::Contains;
using program::Folder;
using program::run;
using program::Run;

namespace {

/// A motor with something to lift.
std::string rocket(const std::string& wish, const std::string& more = "") {
  return jobs::whole_motor + R"(
[airframe]
mass = "6 kg"
motor_hardware = "0.6 kg"
diameter = "66 mm"
drag_coefficient = 0.5
rail_length = "1.8 m"
)" + more +
         "[wish]\n" + wish;
}

}  // namespace

TEST_CASE("fly gives the figures of the contract, with the bounds it was asked") {
  Folder folder;
  Run done = run({"fly", folder.file("job.toml", rocket("rail_speed = \"1 m/s\"\n")), "--json"});
  CHECK(done.exit == 0);
  auto json = done.json();
  for (const char* key : {"rail_exit_speed_m_s", "thrust_to_weight", "burnout_speed_m_s",
                          "burnout_height_m", "apogee_m", "time_to_apogee_s", "best_delay_s"}) {
    INFO(key);
    CHECK(json["fly"][key].get<double>() > 0);
  }
  CHECK(json["fly"]["end"] == "apogee");
  CHECK(json["bounds"][0]["key"] == "wish.rail_speed");
  CHECK(json["bounds"][0]["at_least_m_s"] == 1);
  CHECK(json["bounds"][0]["broken"] == false);
  CHECK(json["curve"]["height_m"].size() == json["curve"]["time_s"].size());
}

TEST_CASE("fly says no where a bound is broken, and how to go on") {
  Folder folder;
  for (const char* wish : {"rail_speed = \"90 m/s\"\n", "thrust_to_weight = 90\n",
                           "apogee = { at_most = \"20 m\" }\n"}) {
    Run done = run({"fly", folder.file("job.toml", rocket(wish))});
    CHECK(done.exit == 1);
    CHECK_THAT(done.out, Contains("NO: ") && Contains("Next: "));
    CHECK_THAT(done.out, Contains("UNDER the floor") || Contains("OVER the ceiling"));
  }
}

TEST_CASE("a rocket too heavy for its motor never lifts") {
  Folder folder;
  const std::string job = jobs::changed(rocket(""), "mass = \"6 kg\"", "mass = \"900 kg\"");
  Run done = run({"fly", folder.file("job.toml", job)});
  CHECK(done.exit == 1);
  CHECK_THAT(done.out, Contains("NEVER LIFTS"));
}

TEST_CASE("fly draws the height, names its model and common practice, and fits the page") {
  Folder folder;
  for (std::string model : {"steady", "transient", "axial"}) {
    Run done = run({"fly", folder.file("job.toml", rocket("")), "--model", model});
    CHECK(done.exit == 0);
    CHECK_THAT(done.out, Contains("height over time") && Contains("rule of thumb") &&
                             Contains("of the " + model + " firing") &&
                             Contains("ideal ejection delay"));
    std::istringstream lines(done.out);
    for (std::string line; std::getline(lines, line);) {
      INFO(line);
      CHECK((line.size() <= 300 || line.starts_with("Next: ")));
    }
  }
}

TEST_CASE("fly writes the track as columns") {
  Folder folder;
  Run done = run({"fly", folder.file("job.toml", rocket("")), "--csv"});
  CHECK(done.exit == 0);
  CHECK_THAT(done.out, Catch::StartsWith("time_s,height_m,downrange_m,speed_m_s,acceleration_m_s2,"
                                         "mach,thrust_N,drag_N,mass_kg\n0,"));
}

TEST_CASE("fly without an airframe says what is missing") {
  Folder folder;
  Run done = run({"fly", folder.file("job.toml", jobs::whole_motor)});
  CHECK(done.exit == 2);
  CHECK_THAT(done.err, Contains("airframe: missing"));
}

TEST_CASE("where the rise costs the speed, fly says what to ask of the search") {
  Folder folder;
  const std::string path = folder.file("job.toml", rocket(""));
  const double slow = run({"fly", path, "--json"}).json()["fly"]["rail_exit_speed_m_s"];
  const double fast =
      run({"fly", path, "--model", "steady", "--json"}).json()["fly"]["rail_exit_speed_m_s"];
  REQUIRE(fast > slow);
  const std::string between = "rail_speed = \"" + std::to_string((fast + slow) / 2) + " m/s\"\n";
  Run done = run({"fly", folder.file("between.toml", rocket(between))});
  CHECK(done.exit == 1);
  CHECK_THAT(std::regex_replace(done.out, std::regex("\\s+"), " "), Contains("Ask `design` for"));
}
