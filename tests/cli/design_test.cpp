// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>

#include "jobs.hpp"
#include "program.hpp"

using Catch::Matchers::Contains;
using program::Folder;
using program::run;
using program::Run;

TEST_CASE("design proposes builds that keep the limits, best fit first") {
  Folder folder;
  auto json = run({"design", folder.file("job.toml", jobs::short_casing), "--json"}).json();
  REQUIRE(!json["designs"].empty());
  CHECK(json["search"]["proven"] == true);
  CHECK(json["search"]["builds"] > 0);
  CHECK(json["search"]["seconds"].is_number());
  double best = json["designs"][0]["misfit"];
  int rank = 0;
  for (const auto& design : json["designs"]) {
    CHECK(design["rank"] == ++rank);
    CHECK(design["misfit"] >= best);
    CHECK(design["summary"]["peak_pressure_Pa"] <= 4e6);
    CHECK(design["throat_m"] > 0.0);
    double length = -0.0015875;  // one spacer fewer than segments
    for (const auto& segment : design["segments"]) {
      CHECK(program::keys(segment) ==
            std::vector<std::string>{"count", "length_m", "core_m", "inhibited"});
      length += segment["count"].get<double>() * (segment["length_m"].get<double>() + 0.0015875);
    }
    CHECK(length <= 0.1905 + 1e-9);
  }
}

TEST_CASE("design says what was asked, what to build, and what the even stack would do") {
  Folder folder;
  Run done = run({"design", folder.file("job.toml", jobs::short_casing)});
  CHECK(done.exit == 0);
  CHECK(done.err.empty());
  CHECK_THAT(done.out, Contains("Asked: flat thrust in 7.5 in"));
  CHECK_THAT(done.out, Contains("at most 580.2 psi"));
  CHECK_THAT(done.out, Contains("proven best of this shop's builds"));
  CHECK_THAT(done.out, Contains("Shortlist"));
  CHECK_THAT(done.out, Contains("Against the even stack"));
  CHECK_THAT(done.out, Contains("will burst"));
  CHECK_THAT(done.out, Contains("--save FILE"));
}

TEST_CASE("design says which limit stands in the way when nothing fits, exit 1") {
  Folder folder;
  std::string job = folder.file(
      "job.toml",
      jobs::changed(jobs::short_casing, "pressure = \"4 MPa\"", "pressure = \"0.2 MPa\""));
  Run refused = run({"design", job, "--save", folder.file("saved.toml")});
  CHECK(refused.exit == 1);
  CHECK(refused.err.empty());
  CHECK_THAT(refused.out, Contains("Nothing fits"));
  CHECK_THAT(refused.out, Contains("limits.pressure: ") && Contains("would let one through"));
  CHECK_FALSE(std::filesystem::exists(folder.file("saved.toml")));
  Run machine = run({"design", job, "--json"});
  CHECK(machine.exit == 1);
  CHECK(machine.json()["designs"].empty());
  bool found = false;
  auto reliefs = machine.json()["reliefs"];
  for (const auto& relief : reliefs) {
    if (relief["key"] != "limits.pressure") continue;
    found = true;
    CHECK(relief["asked_Pa"] == Approx(0.2e6));
    CHECK(relief["needed_Pa"] > 0.2e6);
  }
  CHECK(found);
}

TEST_CASE("a saved design is a job that fires as promised") {
  Folder folder;
  std::string job = folder.file("job.toml", jobs::short_casing);
  std::string saved = folder.file("saved.toml");
  auto designs = run({"design", job, "--json"}).json()["designs"];
  std::size_t pick = designs.size();
  Run done = run({"design", job, "--save", saved, "--pick", std::to_string(pick)});
  REQUIRE(done.exit == 0);
  CHECK_THAT(done.out, Contains("Design " + std::to_string(pick) + " is saved") &&
                           Contains("Next: grainwright fire " + saved));
  auto promised = designs[pick - 1]["summary"];
  auto summary = run({"fire", saved, "--model", "steady", "--json"}).json()["summary"];
  CHECK(summary["total_impulse_Ns"].get<double>() ==
        Approx(promised["total_impulse_Ns"].get<double>()));
  CHECK(summary["burn_time_s"].get<double>() == Approx(promised["burn_time_s"].get<double>()));
  CHECK(run({"burnback", saved}).exit == 0);
  CHECK(run({"cutlist", saved}).exit == 0);
  CHECK(folder.files() == 2);
}

TEST_CASE("design writes whole files, and over none without --force") {
  Folder folder;
  std::string job = folder.file("job.toml", jobs::short_casing);
  std::string saved = folder.file("saved.toml", "mine\n");
  SECTION("an existing file stays") {
    Run refused = run({"design", job, "--save", saved});
    CHECK(refused.exit == 3);
    CHECK(refused.out.empty());
    CHECK_THAT(refused.err, Contains(saved) && Contains("--force"));
    CHECK(program::content(saved) == "mine\n");
  }
  SECTION("--force replaces it") {
    CHECK(run({"design", job, "--save", saved, "--force"}).exit == 0);
    CHECK_THAT(program::content(saved), Contains("[[segment]]"));
  }
  SECTION("a pick beyond the shortlist writes nothing") {
    Run refused = run({"design", job, "--save", folder.file("new.toml"), "--pick", "99"});
    CHECK(refused.exit == 2);
    CHECK_THAT(refused.err, Contains("--pick: 99: a design of the shortlist"));
  }
  SECTION("a folder that is not there") {
    CHECK(run({"design", job, "--save", folder.file("none/new.toml")}).exit == 3);
  }
  SECTION("a full disk") {
    Run refused = run({"design", job, "--save", "/dev/full"});
    CHECK(refused.exit == 3);
    CHECK_THAT(refused.err, Contains("/dev/full"));
  }
  CHECK(folder.files() == 2);
}
