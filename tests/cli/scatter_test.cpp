// SPDX-License-Identifier: GPL-3.0-or-later
//
// `scatter` as its users run it.
#include <catch2/catch.hpp>
#include <sstream>

#include "jobs.hpp"
#include "program.hpp"

using Catch::Contains;
using program::Folder;
using program::Run;
using program::run;

namespace {

const std::string limits = "\n[limits]\npressure = \"5 MPa\"\nconfidence = 0.99\n";

std::vector<std::string> lines_of(const std::string& text) {
  std::istringstream stream(text);
  std::vector<std::string> lines;
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

}  // namespace

TEST_CASE("scatter answers first, then says the ceiling, the part, and what to fix") {
  Folder folder;
  const std::string job = folder.file("job.toml", jobs::whole_motor + limits);
  const Run done = run({"scatter", job, "--samples", "2048"});
  const auto lines = lines_of(done.out);
  REQUIRE(lines.size() > 10);
  CHECK_THAT(lines[0], Catch::StartsWith("YES"));
  CHECK_THAT(done.out, Contains("Over the ceiling of 5 MPa") && Contains("seed 1") &&
                           Contains("Most likely to fail") && Contains("Fix first: "));
  CHECK_THAT(done.out, Contains("tails are only as true as the inputs"));
  CHECK(done.err.empty());
}

TEST_CASE("scatter says what does not stray around a core that is not plain and round") {
  Folder folder;
  const std::string plain = jobs::whole_motor + "\n[tolerance]\ncore_offset = \"0.5 mm\"\n";
  const auto page_of = [&](const std::string& job) {
    std::istringstream out(run({"scatter", folder.file("job.toml", job), "--samples", "1024"}).out);
    std::string unbroken;
    for (std::string word; out >> word;) unbroken += word + ' ';
    return unbroken;
  };
  const std::string drawn = "core = \"20 mm\"";
  const std::string odd = "core = { diameter = \"20 mm\", offset = \"2 mm\" }";
  const std::string words =
      "fired as drawn, whatever these say: tolerance.core, tolerance.core_offset, tolerance.length";
  CHECK_THAT(page_of(plain), !Contains("whatever these say"));
  CHECK_THAT(page_of(jobs::changed(plain, drawn, odd)), Contains(words));
}

TEST_CASE("scatter's JSON keeps its keys") {
  Folder folder;
  const std::string job = folder.file("job.toml", jobs::whole_motor + limits);
  const auto json = run({"scatter", job, "--samples", "2048", "--seed", "7", "--json"}).json();
  const auto& scatter = json["scatter"];
  CHECK(scatter["samples"] == 2048);
  CHECK(scatter["seed"] == 7);
  CHECK(scatter["peak_pressure_Pa"]["p5"] < scatter["peak_pressure_Pa"]["p50"]);
  CHECK(scatter["peak_pressure_Pa"]["p50"] < scatter["peak_pressure_Pa"]["p95"]);
  CHECK(scatter["chance_over_ceiling"]["error"] > 0);
  CHECK(scatter["parts"].is_array());
  CHECK(scatter["shares"].size() >= 8);
  CHECK(scatter["mistakes"].size() >= 2);
  CHECK(scatter["thrust_band"]["time_s"].size() == scatter["thrust_band"]["p95_N"].size());
}

TEST_CASE("scatter answers no where more pass the ceiling than the asked confidence allows") {
  Folder folder;
  const auto exit_at = [&](const std::string& pressure, const std::string& confidence) {
    const std::string asked = "\n[limits]\npressure = \"" + pressure + "\"\n" +
                              (confidence.empty() ? "" : "confidence = " + confidence + "\n");
    return run({"scatter", folder.file("job.toml", jobs::whole_motor + asked), "--samples", "512"})
        .exit;
  };
  CHECK(exit_at("1 MPa", "0.9") == 1);
  CHECK(exit_at("50 MPa", "0.9") == 0);
  CHECK(exit_at("1 MPa", "") == 1);
}

TEST_CASE("scatter prints the same bytes on any number of threads") {
  Folder folder;
  const std::string job = folder.file("job.toml", jobs::whole_motor + limits);
  const Run one = run({"scatter", job, "--samples", "3000", "--threads", "1", "--json"});
  const Run three = run({"scatter", job, "--samples", "3000", "--threads", "3", "--json"});
  CHECK(one.out == three.out);
  const Run other = run({"scatter", job, "--samples", "3000", "--seed", "2", "--json"});
  CHECK(one.out != other.out);
}

TEST_CASE("scatter refuses what it cannot use") {
  Folder folder;
  const std::string job = folder.file("job.toml", jobs::whole_motor);
  CHECK(run({"scatter", job, "--samples", "3"}).exit == 2);
  CHECK(run({"scatter", job, "--seed", "x"}).exit == 2);
  const Run csv = run({"scatter", job, "--csv"});
  CHECK(csv.exit == 2);
  CHECK_THAT(csv.err, Contains("--json"));
  const Run bad =
      run({"scatter",
           folder.file("bad.toml", jobs::whole_motor + "\n[tolerance]\nthroat = \"5 K\"\n")});
  CHECK(bad.exit == 2);
  CHECK_THAT(bad.err, Contains("tolerance.throat"));
}
