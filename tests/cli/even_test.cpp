// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>

#include "program.hpp"
#include "support/checks.hpp"

using Catch::Matchers::Contains;
using program::run;
using program::Run;

namespace {

const std::vector<std::string> three = {"even",     "--tube",     "38.1 mm", "--core",
                                        "9.525 mm", "--segments", "3"};

std::vector<std::string> three_with(std::vector<std::string> more) {
  more.insert(more.begin(), three.begin(), three.end());
  return more;
}

}  // namespace

TEST_CASE("even gives the even length and says that it is not flat") {
  Run done = run(three);
  CHECK(done.exit == 0);
  CHECK_THAT(done.out, Contains("61.9125 mm"));
  CHECK_THAT(done.out, Contains("185.7375 mm"));
  CHECK_THAT(done.out, Contains("not flat"));
  CHECK_THAT(done.out, Contains("24.1 %"));
}

TEST_CASE("even as JSON has the contracted keys, in SI") {
  auto even = run(three_with({"--json", "--spacer", "2 mm"})).json()["even"];
  CHECK(program::keys(even) ==
        std::vector<std::string>{"segments", "length_m", "total_length_m", "hump"});
  CHECK(even["segments"] == 3);
  // (3 D + d)/2 and 1 + 3 (D - d)^2 / (4 (D^2 + 3 D d)) with D = 38.1 mm, d = 9.525 mm.
  checks::expect("even length of the command, m", checks::closed_form, 0.0619125, even["length_m"],
                 checks::relative(1e-12));
  checks::expect("even stack with two spacers, m", checks::closed_form, 0.1897375,
                 even["total_length_m"], checks::relative(1e-12));
  checks::expect("hump of the even segment", checks::closed_form, 1 + 27.0 / 112, even["hump"],
                 checks::relative(1e-12));
}

TEST_CASE("even with one bare end is half as long") {
  auto even = run(three_with({"--json", "--bare-ends", "1"})).json()["even"];
  checks::expect("even length with one bare end, m", checks::closed_form, 0.03095625,
                 even["length_m"], checks::relative(1e-12));
}

TEST_CASE("even prints in the units that the tube was given in, or those asked for") {
  CHECK_THAT(run({"even", "--tube", "1 1/2 in", "--core", "3/8 in"}).out,
             Contains("2.4375 in (2 7/16)"));
  CHECK_THAT(run(three_with({"--units", "us"})).out, Contains("2.4375 in (2 7/16)"));
}

TEST_CASE("even refuses what has no even length, naming the option") {
  auto [line, complaint] = GENERATE(table<std::vector<std::string>, std::string>({
      {{"even", "--core", "1 in"}, "--tube: not given"},
      {{"even", "--tube", "2 in"}, "--core: not given"},
      {{"even", "--tube", "2", "--core", "1 in"}, "--tube"},
      {{"even", "--tube", "2 psi", "--core", "1 in"}, "--tube"},
      {{"even", "--tube", "nan in", "--core", "1 in"}, "--tube"},
      {{"even", "--tube", "1 in", "--core", "2 in"}, "--core: 50.8 mm"},
      {{"even", "--tube", "-1 in", "--core", "1/2 in"}, "--tube: -25.4 mm"},
      {{"even", "--tube", "1 in", "--core", "1/2 in", "--bare-ends", "0"}, "--bare-ends: 0"},
      {{"even", "--tube", "1 in", "--core", "1/2 in", "--segments", "0"}, "--segments: 0"},
      {{"even", "job.toml", "--tube", "1 in", "--core", "1/2 in"}, "one word too many"},
  }));
  Run refused = run(line);
  INFO(refused.err);
  CHECK(refused.exit == 2);
  CHECK(refused.out.empty());
  CHECK_THAT(refused.err, Contains(complaint));
}
