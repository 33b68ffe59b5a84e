// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>

#include "job_text.hpp"

namespace gw = grainwright;
using Catch::Contains;

namespace {

const std::string motor = R"([propellant]
name = "kn-sorbitol"
[nozzle]
throat = "10 mm"
[[segment]]
count = 2
length = "80 mm"
core = "12 mm"
outer_diameter = "40 mm"
)";

gw::Tolerances tolerances_of(const std::string& lines) {
  return gw::parse_job(motor + "[tolerance]\n" + lines, "").tolerances;
}

std::string complaint_on(const std::string& lines) {
  const auto found = job_text::complaints_of(motor + lines);
  REQUIRE(found.size() == 1);
  return found.front();
}

}  // namespace

TEST_CASE("A plain value is one sigma of a normal distribution") {
  const auto tolerances =
      tolerances_of("burn_rate = \"4 %\"\nthroat = \"0.02 mm\"\ndensity = 0.01");
  CHECK(tolerances.burn_rate == gw::Spread{gw::Distribution::normal, 0.04, true});
  CHECK(tolerances.throat == gw::Spread{gw::Distribution::normal, 0.02e-3, false});
  CHECK(tolerances.density == gw::Spread{gw::Distribution::normal, 0.01, true});
  CHECK(tolerances.core == gw::Tolerances{}.core);
  CHECK(tolerances.core.origin == gw::SpreadOrigin::trade);
}

TEST_CASE("A table says sigma or limits, and the distribution") {
  const auto tolerances = tolerances_of(
      "core = { limits = \"0.3 mm\" }\nlength = { sigma = \"1 %\", distribution = \"triangular\" "
      "}\n"
      "temperature = { limits = \"6 K\", distribution = \"normal\" }");
  CHECK(tolerances.core == gw::Spread::within(gw::Distribution::uniform, 0.3e-3, false));
  CHECK(tolerances.length == gw::Spread{gw::Distribution::triangular, 0.01, true});
  CHECK(tolerances.temperature.sigma == Approx(2));
}

TEST_CASE("A spread that cannot be is refused with what is allowed") {
  CHECK_THAT(complaint_on("[tolerance]\nburn_rate = \"4 mm\""),
             Contains("tolerance.burn_rate") && Contains("a share such as"));
  CHECK_THAT(complaint_on("[tolerance]\nburn_rate = \"-4 %\""), Contains("a share such as"));
  CHECK_THAT(complaint_on("[tolerance]\ntemperature = \"4 %\""), Contains("a temperature step"));
  CHECK_THAT(complaint_on("[tolerance]\ncore = { limits = \"1 mm\", sigma = \"1 mm\" }"),
             Contains("either sigma"));
  CHECK_THAT(complaint_on("[tolerance]\ncore = {}"), Contains("either sigma"));
  CHECK_THAT(complaint_on("[tolerance]\ncore = { sigma = \"1 mm\", shape = \"normal\" }"),
             Contains("core.shape: unknown key"));
  CHECK_THAT(complaint_on("[tolerance]\ncore = { sigma = \"1 mm\", distribution = \"gaussian\" }"),
             Contains("\"normal\", \"uniform\" or \"triangular\""));
  CHECK_THAT(complaint_on("[tolerance]\ncore = true"), Contains("tolerance.core"));
}

TEST_CASE("A mistake needs the keys of its kind, and takes no others") {
  CHECK_THAT(complaint_on("[[fault]]\nkind = \"crack\""), Contains("extra_area: missing"));
  CHECK_THAT(complaint_on("[[fault]]\nkind = \"face lights\""), Contains("face: missing"));
  CHECK_THAT(complaint_on("[[fault]]\nkind = \"debond\"\nface = \"head\""),
             Contains("a fault of kind \"debond\" has none"));
  CHECK_THAT(complaint_on("[[fault]]\nkind = \"wrong throat\"\nthroat = \"9 mm\"\nsegment = 1"),
             Contains("fault 1: segment"));
  CHECK_THAT(complaint_on("[[fault]]\nkind = \"slump\""), Contains("\"face lights\""));
  CHECK_THAT(complaint_on("[[fault]]\nkind = \"face blocked\"\nface = \"top\""),
             Contains("\"head\", \"nozzle\""));
}

TEST_CASE("A mistake is held against the motor") {
  CHECK_THAT(complaint_on("[[fault]]\nkind = \"debond\"\nsegment = 3"),
             Contains("1 to 1: the job's [[segment]] tables"));
  CHECK_THAT(complaint_on("[[fault]]\nkind = \"debond\"\npieces = 3"), Contains("1 to 2"));
  CHECK_THAT(complaint_on("[[fault]]\nkind = \"face lights\"\nface = \"head\""),
             Contains("an inhibited face"));
  CHECK_THAT(complaint_on("[[fault]]\nkind = \"face blocked\"\nface = \"outer\""),
             Contains("a bare face"));
  CHECK_THAT(complaint_on("[[fault]]\nkind = \"wrong core\"\ncore = \"41 mm\""),
             Contains("narrower than the segment"));
}

TEST_CASE("The scatter of a job") {
  gw::Job job = gw::parse_job(motor + "[limits]\npressure = \"4 MPa\"\n", "");
  const gw::ScatterTask usual = gw::scatter_task_of(gw::question_of(job));
  CHECK(usual.ceiling == 4e6);
  CHECK_FALSE(usual.shell);
  CHECK(usual.faults.size() == 4);
  for (const gw::Fault& fault : usual.faults) CHECK(fault.probability == 0);
  job = gw::parse_job(motor + "[[fault]]\nkind = \"debond\"\nprobability = \"1 %\"\n", "");
  CHECK(gw::scatter_task_of(gw::question_of(job)).faults == job.faults);
  CHECK_FALSE(gw::scatter_task_of(gw::question_of(job)).ceiling);
}
