// SPDX-License-Identifier: GPL-3.0-or-later
//
// Ctrl-C in the middle of long work.
#include <catch2/catch.hpp>

#include "jobs.hpp"
#include "program.hpp"

using Catch::Contains;
using Catch::EndsWith;
using program::Folder;
using program::Run;
using program::run;

namespace {

const std::string ceiling = "\n[limits]\npressure = \"5 MPa\"\n";
// Hours of work.
const std::string endless = "1000000000";

/// Free lengths, many kinds and a rich shop: far more than any test waits for.
std::string rich_shop() {
  std::string job = jobs::changed(jobs::short_casing, "most_kinds = 2", "most_kinds = 6");
  job = jobs::changed(job, "most_segments = 4", "most_segments = 6");
  job = jobs::changed(job, "length_step = \"1/8 in\"", "length_step = \"1/64 in\"");
  return jobs::changed(job, "[\"3/8 in\", \"1/2 in\", \"5/8 in\"]",
                       "[\"1/4 in\", \"5/16 in\", \"3/8 in\", \"7/16 in\", \"1/2 in\", "
                       "\"9/16 in\", \"5/8 in\", \"11/16 in\", \"3/4 in\"]");
}

}  // namespace

TEST_CASE(
    "Ctrl-C ends a scatter early: a whole page of what was fired until then, and it says so") {
  const int delay = GENERATE(0, 100);
  Folder folder;
  const std::string job = folder.file("job.toml", jobs::whole_motor + ceiling);
  const Run done = run({"scatter", job, "--samples", endless},
                       {.interrupt_after = std::chrono::milliseconds(delay)});
  CHECK(done.exit == 0);
  CHECK(done.err.empty());
  CHECK_THAT(done.out, Contains("Over the ceiling of 5 MPa: "));
  CHECK_THAT(program::one_line(done.out), Contains(" firings until it was stopped, seed 1."));
  CHECK_THAT(done.out, Contains("STOPPED early"));
  CHECK_THAT(done.out, Contains("\nNext: "));
  CHECK_THAT(done.out, EndsWith("\n"));
  CHECK(folder.files() == 1);
}

TEST_CASE("The JSON of a scatter that Ctrl-C ended is whole") {
  Folder folder;
  const std::string job = folder.file("job.toml", jobs::whole_motor + ceiling);
  const auto json = run({"scatter", job, "--samples", endless, "--json"},
                        {.interrupt_after = std::chrono::milliseconds(50)})
                        .json();
  const auto& scatter = json["scatter"];
  CHECK(scatter["stopped"] == true);
  CHECK(scatter["replicates"] >= 2);
  CHECK(scatter["samples"] < std::stol(endless));
  CHECK(scatter["chance_over_ceiling"]["error"] > 0);
}

TEST_CASE("Ctrl-C ends a search early: what it found, marked so, and no half file") {
  Folder folder;
  const std::string job = folder.file("job.toml", rich_shop());
  const std::string saved = folder.file("new.toml");
  const bool as_json = GENERATE(false, true);
  std::vector<std::string> words = {"design", job, "--save", saved};
  if (as_json) words.emplace_back("--json");
  const Run done = run(words, {.interrupt_after = std::chrono::milliseconds(300)});
  INFO(done.out << done.err);
  REQUIRE(done.exit >= 0);  // not killed by the signal
  const bool found = done.exit == 0;
  if (as_json) {
    const auto json = done.json();
    CHECK(json["search"]["stopped"] == true);
    CHECK(json["search"]["proven"] == false);
    CHECK(json["designs"].empty() != found);
  } else {
    CHECK_THAT(done.out, Contains("stopped"));
    CHECK_THAT(done.out, Contains("\nNext: "));
  }
  CHECK(folder.files() == (found ? 2 : 1));
  if (found) CHECK(run({"fire", saved}).exit == 0);
}
