// SPDX-License-Identifier: GPL-3.0-or-later
//
// Changing one number of a job's text.
#include <catch2/catch.hpp>

#include "grainwright/job/job.hpp"
#include "grainwright/motor/atmosphere.hpp"

namespace gw = grainwright;

namespace {

const std::string text = R"(# a job
[propellant]
name = "kn-sorbitol"
[nozzle]
throat = "3/8 in"   # drilled
[[segment]]
count = 2
length = "60 mm"
core = "10 mm"
outer_diameter = "38 mm"
[[segment]]
length = "40 mm"
core = "12 mm"
outer_diameter = "38 mm"
)";

gw::Job changed(const std::string& key, const std::string& value) {
  return gw::parse_job(gw::with_value(text, key, value), "job");
}

}  // namespace

TEST_CASE("One number of a job is changed and all else kept") {
  const std::string after = gw::with_value(text, "nozzle.throat", "9 mm");
  CHECK_THAT(after, Catch::Contains("throat = \"9 mm\"   # drilled\n") &&
                        Catch::StartsWith("# a job\n[propellant]"));
  CHECK(after.size() == text.size() - 2);
  CHECK(changed("throat", "9 mm").nozzle->throat_diameter == Approx(9e-3));
}

TEST_CASE("A list takes the number in every table or in one") {
  for (const std::string key : {"core", "segment.core", "segment[].core"}) {
    const gw::Job job = changed(key, "14 mm");
    CHECK(job.grain.layers[0].segment.core_diameter == Approx(14e-3));
    CHECK(job.grain.layers[1].segment.core_diameter == Approx(14e-3));
  }
  const gw::Job job = changed("segment[2].core", "14 mm");
  CHECK(job.grain.layers[0].segment.core_diameter == Approx(10e-3));
  CHECK(job.grain.layers[1].segment.core_diameter == Approx(14e-3));
}

TEST_CASE("A key that the file leaves out is added to its table, or with it") {
  CHECK(changed("temperature", "-5degC").day.temperature == Approx(268.15));
  CHECK(changed("efficiency", "0.9").nozzle->efficiency == 0.9);
  CHECK(changed("propellant.erosion.alpha", "2e-5").propellant->erosion->alpha == 2e-5);
  const gw::Job more = changed("segment.count", "3");
  CHECK(more.grain.layers[0].count == 3);
  CHECK(more.grain.layers[1].count == 3);
  CHECK(changed("segment[2].count", "3").grain.layers[0].count ==
        gw::parse_job(text, "job").grain.layers[0].count);
  CHECK(changed("altitude", "1000 m").day.ambient_pressure == Approx(gw::air_at(1000).pressure));
}

TEST_CASE("A key that cannot be changed so is refused with a reason") {
  using Catch::Contains;
  const auto refused = [](const std::string& key, const std::string& value) {
    return [=] { static_cast<void>(gw::with_value(text, key, value)); };
  };
  CHECK_THROWS_WITH(refused("throt", "1 mm")(), Contains("did you mean \"throat\"?"));
  CHECK_THROWS_WITH(refused("title", "x")(), Contains("no number"));
  CHECK_THROWS_WITH(refused("segment[3].core", "1 mm")(), Contains("1 to 2"));
  CHECK_THROWS_WITH(refused("law[].n", "0.3")(), Contains("no key"));
  CHECK_THROWS_WITH(refused("propellant.law[].n", "0.3")(), Contains("none in this job"));
  CHECK_THROWS_WITH(refused("throat", "1\" mm")(), Contains("a number with its unit"));
  CHECK_THROWS_WITH(changed("throat", "9"), Contains("unit"));
}

TEST_CASE("A lighting is read, and what the room leaves over is its spare volume") {
  gw::Job job = gw::parse_job(
      text + "[firing]\nigniter_pressure = \"1 MPa\"\nblow_down = \"adiabatic\"\n", "job");
  CHECK(*job.lighting.igniter_pressure == 1e6);
  CHECK(job.lighting.blow_down == gw::BlowDown::adiabatic);
  CHECK_FALSE(gw::lighting_of(job).spare_volume);
  job.casing = gw::Casing{.pipe = "", .bore = 0.038, .wall = 2e-3, .grain_room = 0.2};
  const double over = 0.2 - 0.16;
  CHECK(*gw::lighting_of(job).spare_volume ==
        Approx(gw::entry_volume(gw::motor_of(job)) + over * 3.14159265358979 / 4 * 0.038 * 0.038));
  CHECK_THROWS_WITH(gw::parse_job(text + "[firing]\nigniter_pressure = \"50 kPa\"\n", "job"),
                    Catch::Contains("firing.igniter_pressure"));
  CHECK_THROWS_WITH(gw::parse_job(text + "[firing]\nblow_down = \"slow\"\n", "job"),
                    Catch::Contains("isothermal"));
  CHECK_THROWS_WITH(
      gw::parse_job(text + "[day]\naltitude = \"1 km\"\nambient_pressure = \"1 bar\"\n", "job"),
      Catch::Contains("one of the two"));
  CHECK_THROWS_WITH(gw::parse_job(text + "[day]\ntemperature = \"-80 degC\"\n", "job"),
                    Catch::Contains("-60"));
}

TEST_CASE("The profile that is asked for changes alone, with its lead") {
  const std::string flat = "[wish]\nprofile = \"flat\"  # for now\nloading = 0.7\n";
  const std::string lead =
      "[wish]\nprofile = \"front-loaded\"  # for now\nlead = 1.4\nloading = 0.7\n";
  const std::string front = gw::with_profile(flat, 1.4);
  CHECK_THAT(front, Catch::Contains("profile = \"front-loaded\"  # for now\n") &&
                        Catch::Contains("lead = 1.4\n") && Catch::Contains("loading = 0.7\n"));
  CHECK(gw::with_profile(lead, std::nullopt) == flat);
  CHECK(gw::with_profile(flat, std::nullopt) == flat);
  CHECK_THAT(gw::with_profile(lead, 2.0), Catch::Contains("\nlead = 2\n"));
}

TEST_CASE("A lead between braces goes with the comma that parts it from its neighbour") {
  const auto made_flat = [](const std::string& wish) {
    return gw::with_profile("wish = " + wish + "\n", std::nullopt);
  };
  CHECK(made_flat("{ lead = 1.4, profile = \"front-loaded\" }") ==
        "wish = { profile = \"flat\" }\n");
  CHECK(made_flat("{ profile = \"front-loaded\", lead = 1.4 }") ==
        "wish = { profile = \"flat\" }\n");
  CHECK(made_flat("{ loading = 0.7, lead = 1.4, profile = \"front-loaded\" }") ==
        "wish = { loading = 0.7, profile = \"flat\" }\n");
}

TEST_CASE("A job without a wish has no profile to change") {
  CHECK_THROWS_AS(gw::with_profile(text, 1.4), gw::InputError);
}
