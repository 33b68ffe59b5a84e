// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>

#include <numbers>

#include "jobs.hpp"
#include "program.hpp"
#include "support/checks.hpp"

using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using program::Folder;
using program::run;
using program::Run;

namespace {

const std::string two_kinds = jobs::whole_motor + R"(
[[segment]]
length = "20 mm"
outer_diameter = "50 mm"
core = "20 mm"
)";

std::string text_for(const std::string& segment) {
  Folder folder;
  std::string job = jobs::whole_motor.substr(0, jobs::whole_motor.find("[[segment]]"));
  Run done = run({"burnback", folder.file("job.toml", job + segment)});
  CHECK(done.exit == 0);
  return done.out;
}

}  // namespace

TEST_CASE("burnback gives area and volume against web in SI") {
  Folder folder;
  auto curve =
      run({"burnback", folder.file("job.toml", jobs::whole_motor), "--json"}).json()["burnback"];
  CHECK(program::keys(curve) ==
        std::vector<std::string>{"web_m", "burning_area_m2", "propellant_volume_m3"});
  auto web = curve["web_m"].get<std::vector<double>>();
  auto area = curve["burning_area_m2"].get<std::vector<double>>();
  auto volume = curve["propellant_volume_m3"].get<std::vector<double>>();
  REQUIRE(web.size() == 21);
  REQUIRE(area.size() == web.size());
  REQUIRE(volume.size() == web.size());
  checks::expect("web at burnout, m", checks::closed_form, 0.015, web.back(),
                 checks::relative(1e-12));
  checks::expect("burning area at lighting, m2", checks::closed_form,
                 4 * 2750e-6 * std::numbers::pi, area.front(), checks::relative(1e-12));
  checks::expect("burning area at half web, m2", checks::closed_form,
                 4 * 3087.5e-6 * std::numbers::pi, area[10], checks::relative(1e-12));
  checks::expect("propellant volume, m3", checks::closed_form, 4 * 44625e-9 * std::numbers::pi,
                 volume.front(), checks::relative(1e-12));
  CHECK(volume.back() == Approx(0).margin(1e-15));
}

TEST_CASE("burnback shows both sides of a jump, where a segment burns out") {
  Folder folder;
  std::string job = folder.file("job.toml", two_kinds);
  auto curve = run({"burnback", job, "--json"}).json()["burnback"];
  auto web = curve["web_m"].get<std::vector<double>>();
  auto jump = std::ranges::adjacent_find(web);
  REQUIRE(jump != web.end());
  CHECK(*jump == Approx(0.010));  // the ends of the short segment meet
  auto i = static_cast<std::size_t>(jump - web.begin());
  CHECK(curve["burning_area_m2"][i] > curve["burning_area_m2"][i + 1]);
  CHECK_THAT(run({"burnback", job}).out,
             Contains("1 of 5 burnt out") && Contains("4 of 5 burnt out"));
}

TEST_CASE("burnback as CSV is the same curve") {
  Folder folder;
  std::string job = folder.file("job.toml", jobs::whole_motor);
  Run done = run({"burnback", job, "--csv"});
  CHECK_THAT(done.out, StartsWith("web_m,burning_area_m2,propellant_volume_m3\n0,"));
  CHECK(std::ranges::count(done.out, '\n') == 22);
}

TEST_CASE("burnback calls the run by the trade's word") {
  CHECK_THAT(
      text_for("[[segment]]\nlength = \"85 mm\"\nouter_diameter = \"50 mm\"\ncore = \"20 mm\"\n"),
      Contains("humped") && Contains("112 %"));
  CHECK_THAT(
      text_for("[[segment]]\nlength = \"85 mm\"\nouter_diameter = \"50 mm\"\ncore = \"20 mm\"\n"
               "inhibited = [\"outer\", \"head\", \"nozzle\"]\n"),
      Contains("Progressive") && Contains("250 %"));
  CHECK_THAT(
      text_for("[[segment]]\nlength = \"60 mm\"\nouter_diameter = \"50 mm\"\ncore = \"20 mm\"\n"),
      Contains("Regressive"));
  CHECK_THAT(text_for("[[segment]]\nlength = \"85 mm\"\nouter_diameter = \"50 mm\"\ncore = 0\n"
                      "inhibited = [\"outer\", \"head\"]\n"),
             Contains("Neutral"));
}
