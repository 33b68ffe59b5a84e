// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>

#include <cmath>
#include <limits>

#include "jobs.hpp"
#include "program.hpp"
#include "support/checks.hpp"

using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using program::Folder;
using program::run;
using program::Run;

namespace {

Run fire(const std::string& job, std::vector<std::string> more = {},
         const program::Setting& setting = {}) {
  Folder folder;
  more.insert(more.begin(), {"fire", folder.file("job.toml", job)});
  return run(more, setting);
}

std::string with_limits(const std::string& limits) {
  return jobs::whole_motor + "\n[limits]\n" + limits + "\n";
}

}  // namespace

TEST_CASE("fire predicts the whole motor") {
  auto summary = fire(jobs::whole_motor, {"--model", "steady", "--json"}).json()["summary"];
  const std::string source = checks::closed_form + ", midpoint rule with 20000 steps";
  checks::expect("burn time, s", source, 3.506638, summary["burn_time_s"], checks::absolute(5e-7));
  checks::expect("total impulse, N s", source, 2161.896, summary["total_impulse_Ns"],
                 checks::absolute(5e-4));
  checks::expect("specific impulse, s", source, 222.102, summary["specific_impulse_s"],
                 checks::absolute(5e-4));
  checks::expect("propellant mass, kg", checks::closed_form, 0.992570,
                 summary["propellant_mass_kg"], checks::absolute(5e-7));
  checks::expect("peak pressure, Pa", checks::closed_form, 2.921633e6, summary["peak_pressure_Pa"],
                 checks::absolute(0.5));
  checks::expect("peak thrust, N", checks::closed_form, 658.609, summary["peak_thrust_N"],
                 checks::absolute(5e-4));
  checks::expect("letter class", checks::from_memory("NFPA 1125 class table"), "K",
                 summary["letter_class"].get<std::string>());
}

TEST_CASE("fire as JSON has the contracted keys, in order") {
  auto json = fire(jobs::whole_motor, {"--json"}).json();
  CHECK(program::keys(json["summary"]) ==
        std::vector<std::string>{
            "initial_burning_area_m2", "peak_burning_area_m2", "initial_kn", "peak_kn",
            "initial_pressure_Pa", "peak_pressure_Pa", "mean_pressure_Pa", "lowest_pressure_Pa",
            "initial_thrust_N", "peak_thrust_N", "mean_thrust_N", "burn_time_s", "total_impulse_Ns",
            "specific_impulse_s", "propellant_mass_kg", "letter_class", "port_to_throat",
            "peak_mass_flux_kg_m2s", "peak_to_mean_thrust"});
  CHECK(program::keys(json["verdict"]) ==
        std::vector<std::string>{"answer", "broken", "not_judged", "assumed"});
  CHECK(program::keys(json["curve"]) == std::vector<std::string>{"time_s", "web_m",
                                                                 "burning_area_m2", "kn",
                                                                 "pressure_Pa", "thrust_N"});
  CHECK(json["curve"]["time_s"].size() > 100);
}

TEST_CASE("the curve as CSV integrates to the impulse of the summary") {
  std::string csv = fire(jobs::whole_motor, {"--model", "steady", "--csv"}).out;
  REQUIRE_THAT(csv, StartsWith("time_s,web_m,burning_area_m2,kn,pressure_Pa,thrust_N\n"));
  std::istringstream lines(csv.substr(csv.find('\n') + 1));
  double impulse = 0;
  double before = 0;
  double thrust_before = std::numeric_limits<double>::quiet_NaN();
  for (std::string line; std::getline(lines, line);) {
    double time = std::stod(line);
    double thrust = std::stod(line.substr(line.rfind(',') + 1));
    if (!std::isnan(thrust_before)) impulse += (time - before) * (thrust + thrust_before) / 2;
    before = time;
    thrust_before = thrust;
  }
  CHECK(impulse == Approx(2161.896).epsilon(1e-4));  // trapezoids between the printed points
}

TEST_CASE("fire says in words how near each limit is, and exits 1 when one is broken") {
  auto [limits, said, exit] = GENERATE(table<std::string, std::string, int>({
      {"pressure = \"4 MPa\"", "peak pressure 2.941 MPa, ceiling 4 MPa: 73.5 % of it\n", 0},
      {"pressure = \"3 MPa\"", "ceiling 3 MPa: 98 % of it, near the ceiling", 0},
      {"pressure = \"2.5 MPa\"", "OVER the ceiling by 17.6 %", 1},
      {"pressure_floor = \"1 MPa\"", "lowest pressure 2.419 MPa, floor 1 MPa: 142 % above it\n", 0},
      {"pressure_floor = \"2.4 MPa\"", "above it, near the floor", 0},
      {"pressure_floor = \"3 MPa\"", "UNDER the floor by ", 1},
      {"port_to_throat = 2.5", "UNDER the floor", 1},
      {"mass_flux = \"100 kg/m2-s\"", "OVER the ceiling", 1},
  }));
  Run done = fire(with_limits(limits), {"--model", "steady"});
  INFO(done.out);
  CHECK(done.exit == exit);
  CHECK(done.err.empty());
  CHECK_THAT(done.out, Contains(said));
  CHECK(fire(with_limits(limits), {"--model", "steady", "--json"}).exit == exit);
  CHECK_THAT(done.out, StartsWith(exit == 1                          ? "NO: "
                                  : limits.starts_with("pressure =") ? "YES"
                                                                     : "UNKNOWN: "));
  if (exit == 1) CHECK_THAT(done.out, !Contains("grainwright cutlist"));
}

TEST_CASE("fire names the profile asked for and the misfit") {
  Folder folder;
  Run done = run({"fire", folder.file("job.toml", jobs::short_casing)});
  CHECK_THAT(done.out, Contains("flat thrust: misfit 0."));
  auto json = run({"fire", folder.file("job.toml"), "--json"}).json();
  CHECK(json["wish"]["misfit"] > 0.0);
}

TEST_CASE("fire draws the thrust, in blocks or in ASCII as the terminal's locale has it") {
  std::string fine = fire(jobs::whole_motor).out;
  CHECK_THAT(fine, Contains("thrust over time") && Contains("█") && Contains("800 N ┤") &&
                       Contains("4 s"));
  std::string plain = fire(jobs::whole_motor, {}, {.locale = "C"}).out;
  CHECK_THAT(plain, Contains("thrust over time") && Contains("###") && Contains("800 N +"));
  CHECK(std::ranges::all_of(plain, [](char c) { return static_cast<unsigned char>(c) < 128; }));
}

TEST_CASE("fire says once that pressures are absolute, and warns") {
  std::string text = fire(jobs::whole_motor).out;
  auto first = text.find("absolute");
  CHECK(first != std::string::npos);
  CHECK(text.find("absolute", first + 1) == std::string::npos);
  CHECK_THAT(text, Contains("will burst"));
}

TEST_CASE("fire offers three models, the transient one unless asked") {
  auto usual = fire(jobs::whole_motor, {"--json"}).json();
  CHECK(usual["model"] == "transient");
  CHECK(program::keys(usual["transient"]) ==
        std::vector<std::string>{"igniter_pressure_Pa", "free_volume_m3", "filling_time_s",
                                 "rise_time_s", "delay_s", "rise_end_s", "action_time_s",
                                 "tail_off_time_s", "gas_at_lighting_kg", "gas_left_kg",
                                 "gas_out_kg"});
  CHECK(usual["axial"]["profiles"].size() == 11);
  auto steady = fire(jobs::whole_motor, {"--model", "steady", "--json"}).json();
  CHECK_FALSE(steady.contains("transient"));
  CHECK(steady["axial"]["slices"] == 20);  // judged by all models, whichever is shown
  CHECK(steady["verdict"] == usual["verdict"]);
  CHECK(usual["summary"]["burn_time_s"] > steady["summary"]["burn_time_s"]);
  auto axial = fire(jobs::whole_motor, {"--model", "axial", "--slices", "8", "--json"}).json();
  CHECK(axial["axial"]["slices"] == 8);
  CHECK(axial["curve"].contains("port_mach"));
  CHECK(axial["summary"]["initial_pressure_Pa"] > steady["summary"]["initial_pressure_Pa"]);
  CHECK_THAT(fire(jobs::whole_motor, {"--model", "axial", "--csv"}).out,
             Contains("thrust_N,nozzle_pressure_Pa,port_mach,mass_flux_kg_m2s\n"));
}

TEST_CASE("fire tells in a line where another model differs by more than 3 %") {
  // A port of twice the throat: the head end sees some 5 % more.
  std::string narrow = fire(jobs::whole_motor, {"--model", "axial"}).out;
  CHECK_THAT(narrow, !Contains("The steady model says: peak pressure"));
  const std::string hard = jobs::whole_motor + "\n[firing]\nigniter_pressure = \"12 MPa\"\n";
  CHECK_THAT(program::one_line(fire(hard).out),
             Contains("The steady model says: pressure at ignition 2.445 MPa (79.6 % less), peak "
                      "pressure 2.922 MPa (75.7 % less)"));
  CHECK_THAT(program::one_line(fire(jobs::whole_motor).out),
             Contains("The axial model says: pressure at ignition"));
}

TEST_CASE("fire warns of ports that are known for erosive burning") {
  const auto at = [](const std::string& core, const std::string& more = "") {
    const std::string job = jobs::changed(jobs::whole_motor, "core = \"20 mm\"", core);
    return program::one_line(fire(jobs::changed(job, "[nozzle]", more + "[nozzle]")).out);
  };
  CHECK_THAT(at("core = \"18 mm\""), !Contains("erosive burning ("));
  CHECK_THAT(at("core = \"16 mm\""), Contains("erosive burning, which raises the pressure early in "
                                              "the burn (the narrowest port is 1.31 times the "
                                              "throat, under 1.5; rule of thumb)"));
  CHECK_THAT(at("core = \"16 mm\"", "[propellant.erosion]\nalpha = 1e-5\n"),
             Contains("erosive burning burn rate up to") && !Contains("erosive burning, which"));
}

TEST_CASE("limits are held against the higher of both pressures") {
  auto usual = fire(jobs::whole_motor, {"--json"}).json();
  auto axial = fire(jobs::whole_motor, {"--model", "axial", "--json"}).json();
  const double transient_peak = usual["summary"]["peak_pressure_Pa"];
  const double axial_peak = axial["summary"]["peak_pressure_Pa"];
  REQUIRE(axial_peak > transient_peak);
  const std::string between = std::to_string((transient_peak + axial_peak) / 2);
  CHECK(fire(with_limits("pressure = \"" + between + " Pa\"")).exit == 1);
}

TEST_CASE("the day comes from the command line in place of the job's") {
  const std::string warm = jobs::whole_motor;
  auto at = [&](std::vector<std::string> words) {
    words.push_back("--json");
    return fire(warm, words).json()["summary"];
  };
  CHECK(at({"--altitude", "3000 m"})["total_impulse_Ns"] > at({})["total_impulse_Ns"]);
  CHECK(at({"--temperature", "20 degC"}) == at({}));
  Run cold = fire(warm, {"--temperature=-80degC"});
  CHECK(cold.exit == 2);
  CHECK_THAT(cold.err, Contains("--temperature") && Contains("-60"));
  CHECK_THAT(fire(warm, {"--altitude", "300 km"}).err, Contains("altitude"));
}

TEST_CASE("a sweep fires once for each value") {
  Run table = fire(jobs::whole_motor, {"--sweep", "throat=13 mm,14 mm,15 mm"});
  CHECK(table.exit == 0);
  CHECK_THAT(table.out, Contains("13 mm") && Contains("14 mm") && Contains("15 mm"));
  CHECK(program::widest_line(table.out) <= 100);
  const std::string limited = with_limits("pressure = \"2.9 MPa\"");
  Run hot = fire(limited, {"--units", "us", "--sweep", "temperature=-20degC,0 degC,40degC"});
  CHECK(program::widest_line(hot.out) <= 100);
  CHECK(hot.exit == 1);
  CHECK_THAT(hot.out, StartsWith("NO at ") && Contains("at 40degC: NO: do not fire"));
  const auto swept = fire(limited, {"--json", "--sweep", "throat=14 mm,14.5 mm,16 mm"});
  CHECK(swept.exit == 1);
  CHECK(swept.json()["verdict"]["answer"] == "no");
  CHECK(swept.json()["sweep"]["runs"][0]["verdict"]["answer"] == "no");
  CHECK(swept.json()["sweep"]["runs"][2]["verdict"]["broken"].empty());
  auto runs = fire(jobs::whole_motor, {"--sweep", "throat=13 mm,14 mm,15 mm", "--json"})
                  .json()["sweep"]["runs"];
  REQUIRE(runs.size() == 3);
  CHECK(runs[0]["summary"]["peak_pressure_Pa"] > runs[1]["summary"]["peak_pressure_Pa"]);
  CHECK(runs[1]["summary"] == fire(jobs::whole_motor, {"--json"}).json()["summary"]);
  std::string csv = fire(jobs::whole_motor, {"--sweep", "nozzle.throat=13 mm,15 mm", "--csv"}).out;
  CHECK_THAT(csv, StartsWith("nozzle.throat,time_s,web_m"));
  CHECK_THAT(csv, Contains("\n13 mm,0,") && Contains("\n15 mm,0,"));
  CHECK_THAT(fire(limited, {"--temperature", "5 degC", "--sweep", "temperature=1degC,2degC"}).err,
             Contains("--temperature: beside a sweep of the same"));
  for (const auto& [wrong, said] :
       {std::pair<std::string, std::string>{"throt=1 mm", "did you mean"},
        {"throat", "KEY=VALUE"},
        {"throat=", "KEY=VALUE"},
        {"throat=1 mm,,2 mm", "KEY=VALUE"},
        {"throat=13", "without a unit"}}) {
    Run refused = fire(jobs::whole_motor, {"--sweep", wrong});
    CHECK(refused.exit == 2);
    CHECK_THAT(refused.err, Contains(said));
  }
}

TEST_CASE("a port that would choke is a no from every model") {
  Folder folder;
  std::string job = folder.file("job.toml", jobs::whole_motor);
  Run usual = run({"fire", job, "--sweep", "core=12 mm"});
  CHECK(usual.exit == 1);
  CHECK_THAT(usual.out, StartsWith("NO at 12 mm") && Contains("would choke"));
  const std::string narrow = folder.file(
      "narrow.toml", jobs::changed(jobs::whole_motor, "core = \"20 mm\"", "core = \"12 mm\""));
  Run fired = run({"fire", narrow});
  CHECK(fired.exit == 1);
  CHECK_THAT(program::one_line(fired.out),
             StartsWith("NO: do not fire this motor as drawn: the port of segment 1 would choke"));
  for (std::string model : {"steady", "axial"}) {
    CHECK(run({"fire", narrow, "--model", model}).exit == 1);
  }
}
