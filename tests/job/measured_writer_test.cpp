// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>

#include "grainwright/error.hpp"
#include "grainwright/job/job.hpp"

namespace gw = grainwright;

namespace {

const std::string rest = R"([nozzle]
throat = "10 mm"   # drilled
[[segment]]
length = "60 mm"
core = "10 mm"
outer_diameter = "38 mm"
)";

const gw::Measured known{.date = "2031-05-12",
                         .logs = {"a \"b\".csv"},
                         .at = 3.1e6,
                         .rate_error = 0.021,
                         .n_error = 0.03,
                         .correlation = -0.25,
                         .efficiency_error = 0.02,
                         .characteristic_velocity_error = 0.01,
                         .doubtful = "scale at its end"};
const gw::WebFactor factor{.start = 1.05, .middle = 1, .end = 0.95};

/// A job's text with a law half as quick again, and what it then says.
std::string with_law(const std::string& text, double efficiency = 0.8) {
  gw::Propellant propellant = *gw::parse_job(text, "job").propellant;
  propellant.law = propellant.law.times(1.5);
  propellant.characteristic_velocity = 871.25;
  propellant.measured = known;
  propellant.web_factor = factor;
  return gw::with_measured(text, propellant, efficiency);
}

void check(const std::string& text) {
  const gw::Job before = gw::parse_job(text, "job");
  const std::string changed = with_law(text);
  INFO(changed);
  const gw::Job after = gw::parse_job(changed, "job");
  CHECK(after.propellant->measured == known);
  CHECK(after.propellant->web_factor == factor);
  CHECK(after.propellant->characteristic_velocity == 871.25);
  CHECK(after.nozzle->efficiency == 0.8);
  CHECK(after.propellant->density() == before.propellant->density());
  const auto old = before.propellant->law.pieces();
  const auto now = after.propellant->law.pieces();
  REQUIRE(now.size() == old.size());
  for (std::size_t i = 0; i < now.size(); ++i) {
    CHECK(now[i].rate == Approx(1.5 * old[i].rate).epsilon(1e-4));
    CHECK(now[i].exponent == Approx(old[i].exponent).epsilon(1e-4));
    CHECK(now[i].from == old[i].from);
    CHECK(now[i].to == old[i].to);
  }
  CHECK_THAT(changed, Catch::Contains("# drilled"));
  // Once more into the saved job: what was measured before is replaced.
  CHECK(gw::parse_job(with_law(changed), "job").propellant->measured == known);
}

}  // namespace

TEST_CASE("A measured law goes into a job, however its propellant is written") {
  check("[propellant]\nname = \"kn-sucrose\"\n" + rest);
  check("[propellant]\nname = \"kn-dextrose\"  # five pieces\n\n" + rest);
  check("propellant.name = \"kn-sorbitol\"\n" + rest);
  check("propellant = { name = \"kn-sucrose\" }\n" + rest);
  check(
      "[propellant]\nname = \"mine\"\ndensity = \"1.8 g/cm3\"\ngamma = 1.13\n"
      "characteristic_velocity = \"900 m/s\"\n\n[[propellant.law]]\nrate = \"8 mm/s\"\nn = 0.4\n"
      "to = \"3 MPa\"\n\n[[propellant.law]]\nrate = \"10 mm/s\"\nn = 0.2\nfrom = \"3 MPa\"\n\n" +
      rest);
}

TEST_CASE("What did not change is not written") {
  const std::string text = "[propellant]\nname = \"kn-sucrose\"\n" + rest;
  gw::Propellant propellant = *gw::parse_job(text, "job").propellant;
  propellant.measured = gw::Measured{.rate_error = 0.05};
  const std::string changed = gw::with_measured(text, propellant, 1);
  CHECK(changed.find("characteristic_velocity") == std::string::npos);
  CHECK(changed.find("efficiency") == std::string::npos);
  CHECK(changed.find("n_error") == std::string::npos);
  CHECK(changed.find("doubtful") == std::string::npos);
  CHECK(changed.find("web_factor") == std::string::npos);
  CHECK_THROWS_AS(gw::with_measured("[job]\n", propellant, 1), gw::InputError);
}
