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

/// The short casing with glued ends.
std::string held(const std::string& limits) {
  const std::string ends = R"(
[closure.head]
joint = "bonded"
material = "pvc-1120"
thickness = "1 1/4 in"
protection = [["cement-mortar", "1/8 in"]]
bond = "pvc-solvent-cement"
bond_length = "1 in"
cure_time = "72 h"

[closure.nozzle]
joint = "pinned"
material = "mild-steel"
thickness = "20 mm"
pins = 6
pin_diameter = "4 mm"
pin_material = "steel-grade-5"
pin_depth = "10 mm"
pin_reach = "12 mm"
end_distance = "12 mm"

[limits]
)";
  return jobs::changed(jobs::short_casing, "[limits]\npressure = \"4 MPa\"\n", ends + limits);
}

}  // namespace

TEST_CASE("margins sorts parts by what gives first, and exits by the factor") {
  Folder folder;
  Run done = run({"margins", folder.file("job.toml", held("factor = 1")), "--json"});
  CHECK(done.exit == 0);
  auto margins = done.json()["margins"];
  auto parts = margins["parts"];
  REQUIRE(parts.size() == 4);
  for (std::size_t i = 0; i + 1 < parts.size(); ++i)
    CHECK(parts[i]["ratio"] <= parts[i + 1]["ratio"]);
  CHECK(margins["weakest"] == parts[0]["part"]);
  CHECK(margins["described_parts_hold"] == true);
  for (const auto& part : parts) {
    CHECK(part["ratio"].get<double>() ==
          Approx(part["capacity"].get<double>() / part["load"].get<double>()));
    CHECK(part["temperature_K"] >= 293.15 - 1e-9);
  }
  CHECK(run({"margins", folder.file("strict.toml", held("factor = 50")), "--json"}).exit == 1);
}

TEST_CASE("margins lists every change with its new ratio, and ends with the caution") {
  Folder folder;
  Run done = run({"margins", folder.file("job.toml", held("factor = 2.5"))});
  CHECK(done.exit == 1);
  for (std::string words :
       {"What fails first", "UNDER the asked factor", "What would help", "a larger throat",
        "treat the untested motor", "SHATTERS", "ESTIMATE by Bartz's formula"}) {
    CHECK_THAT(program::one_line(done.out), Contains(words));
  }
  std::istringstream lines(done.out);
  for (std::string line; std::getline(lines, line);) {
    INFO(line);
    CHECK((line.size() <= 100 || line.starts_with("Next: ")));
  }
}

TEST_CASE("margins judges the transient firing, or the axial one where the port makes it harder") {
  Folder folder;
  const std::string job = folder.file("job.toml", held("factor = 1"));
  auto margins = run({"margins", job, "--json"}).json()["margins"];
  auto fired = run({"fire", job, "--json"}).json();
  CHECK(margins["peak_pressure_Pa"] == fired["judged"]["peak_pressure_Pa"]);
  CHECK_THAT(run({"margins", job}).out,
             Contains("Judged over the " + margins["model"].get<std::string>() + " firing"));
  // One core half as wide, and a throat as wide: the gas has to be driven down the port.
  std::string narrow =
      jobs::changed(held("factor = 1"), "throat = \"3/8 in\"", "throat = \"1/2 in\"");
  const std::string file = folder.file("narrow.toml", narrow);
  auto hard = run({"margins", file, "--json"}).json()["margins"];
  auto axial = run({"fire", file, "--model", "axial", "--json"}).json();
  auto steady = run({"fire", file, "--model", "steady", "--json"}).json();
  const double excess = axial["summary"]["peak_pressure_Pa"].get<double>() /
                        steady["summary"]["peak_pressure_Pa"].get<double>();
  REQUIRE(excess > 1.03);
  CHECK(hard["model"] == "axial");
  CHECK(hard["peak_pressure_Pa"] == axial["summary"]["peak_pressure_Pa"]);
}

TEST_CASE("margins needs to know what the pipe is") {
  Folder folder;
  Run done =
      run({"margins", folder.file("job.toml", jobs::changed(jobs::short_casing,
                                                            "material = \"pvc-1120\"\n", ""))});
  CHECK(done.exit == 2);
  CHECK_THAT(done.err, Contains("casing.material: missing"));
}

TEST_CASE("A part without a closure table is said not to be judged") {
  Folder folder;
  Run done = run({"margins", folder.file("job.toml", jobs::short_casing)});
  CHECK_THAT(program::one_line(done.out), Contains("the head closure: give [closure.head]"));
  CHECK_THAT(program::one_line(done.out), Contains("the nozzle seat: give [closure.nozzle]"));
}

TEST_CASE("A ceiling from strength is worked out, searched under, and checked hot") {
  Folder folder;
  std::string job = folder.file("job.toml", held("pressure = \"from strength\"\nfactor = 2"));
  auto margins = run({"margins", job, "--json"}).json()["margins"];
  const double cold = margins["cold_pressure_Pa"];
  Run fired = run({"fire", job, "--json"});
  auto limits = fired.json()["limits"];
  CHECK(limits[0]["key"] == "limits.pressure");
  CHECK(limits[0]["at_most_Pa"].get<double>() == Approx(cold));
  CHECK(fired.json()["margins"]["weakest"] == margins["weakest"]);
  CHECK(fired.json()["margins"]["parts"][0]["ratio"] == margins["parts"][0]["ratio"]);

  Run designed = run({"design", job, "--json"});
  for (const auto& design : designed.json()["designs"]) {
    CHECK(design["summary"]["peak_pressure_Pa"] <= cold * (1 + 1e-9));
    CHECK(design["margins"]["factor"] == 2);
  }
  const bool holds = designed.json()["designs"][0]["margins"]["described_parts_hold"];
  CHECK(designed.exit == (holds ? 0 : 1));
  CHECK_THAT(run({"design", job}).out, Contains("from strength"));
}

TEST_CASE("A firing that keeps its cold ceiling may fail hot, and says so") {
  Folder folder;
  // Behind no mortar, and with one fierce gas, the bond is soft long before burnout.
  std::string hot = jobs::changed(held("pressure = \"from strength\"\nfactor = 1"),
                                  "protection = [[\"cement-mortar\", \"1/8 in\"]]\n",
                                  "gas_coefficient = \"20000 W/m2-K\"\n");
  hot = jobs::changed(hot, "bond_length = \"1 in\"", "bond_length = \"1/8 in\"");
  hot = jobs::changed(hot, "throat = \"3/8 in\"", "throat = \"1/2 in\"");
  Run done = run({"fire", folder.file("job.toml", hot), "--json"});
  CHECK(done.exit == 1);
  CHECK(done.json()["limits"][0]["broken"] == false);
  CHECK(done.json()["margins"]["weakest"] == "head closure");
  CHECK(done.json()["margins"]["described_parts_hold"] == false);
  CHECK_THAT(run({"fire", folder.file("job.toml", hot)}).out, Contains("grainwright margins"));
}
