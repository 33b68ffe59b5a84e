// SPDX-License-Identifier: GPL-3.0-or-later
//
// The pages and tables that commands write. What a browser makes of them: tests/support/browser.py.
#include <catch2/catch.hpp>
#include <sstream>

#include "cli/program.hpp"

namespace {

const std::string cases = std::string(GRAINWRIGHT_SOURCE_DIR) + "/cases/";
const std::string pour = cases + "04-one-long-pour.toml";
const std::string shell = cases + "06b-wider-throat-shears-the-head-closure.toml";

std::vector<std::vector<std::string>> cells_of(const std::string& csv) {
  std::vector<std::vector<std::string>> rows;
  std::istringstream lines(csv);
  for (std::string line; std::getline(lines, line);) {
    std::vector<std::string> row;
    std::istringstream cells(line + ',');
    for (std::string cell; std::getline(cells, cell, ',');) row.push_back(cell);
    rows.push_back(row);
  }
  return rows;
}

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("a report says in its exit code whether the motor is as asked") {
  program::Folder folder;
  const auto broken = program::run({"report", pour, "-o", folder.file("pour.html")});
  CHECK(broken.exit == 1);
  CHECK(holds(broken.out, "NO: do not fire this motor as drawn: peak pressure"));
  const auto fine = program::run({"report", cases + "06c-widest-throat-loses-its-hot-seat.toml",
                                  "--out", folder.file("seat.html"), "--json"});
  CHECK(fine.exit == 1);
  CHECK(fine.json()["verdict"]["answer"] == "no");
  CHECK(folder.files() == 2);
}

TEST_CASE("parts stand in a report only where the job has what they take") {
  program::Folder folder;
  REQUIRE(program::run({"report", pour, "-o", folder.file("pour.html")}).exit == 1);
  REQUIRE(program::run({"report", shell, "-o", folder.file("shell.html")}).exit == 1);
  const std::string bare = program::content(folder.file("pour.html"));
  const std::string held = program::content(folder.file("shell.html"));
  CHECK_FALSE(holds(bare, "id=\"margins\""));
  CHECK(holds(held, "id=\"margins\""));
  for (const std::string& page : {bare, held}) {
    CHECK_FALSE(holds(page, "id=\"flight\""));
    CHECK_FALSE(holds(page, "id=\"shortlist\""));
    CHECK(holds(page, "id=\"doubt\""));
    CHECK(page.size() < 1'000'000);
  }
}

TEST_CASE("the same job gives the same page") {
  program::Folder folder;
  REQUIRE(program::run({"report", shell, "-o", folder.file("a.html")}).exit == 1);
  REQUIRE(program::run({"report", shell, "-o", folder.file("b.html")}).exit == 1);
  CHECK(program::content(folder.file("a.html")) == program::content(folder.file("b.html")));
}

TEST_CASE("a page never replaces a file unasked, and is whole or not there") {
  program::Folder folder;
  const std::string mine = folder.file("mine.html", "mine");
  for (const std::vector<std::string>& words :
       std::vector<std::vector<std::string>>{{"report", pour, "-o", mine},
                                             {"cutlist", pour, "--sheet", mine},
                                             {"design", "--compare", pour, shell, "-o", mine}}) {
    const auto refused = program::run(words);
    CHECK(refused.exit == 3);
    CHECK(holds(refused.err, "--force replaces it"));
    CHECK(program::content(mine) == "mine");
  }
  CHECK(program::run({"cutlist", pour, "--sheet", mine, "--force"}).exit == 1);
  CHECK(program::content(mine).ends_with("</html>\n"));
  CHECK(program::run({"report", pour, "-o", folder.file("no/such/folder.html")}).exit == 3);
  CHECK(folder.files() == 1);
}

TEST_CASE("a report with nowhere to go says so") {
  const auto lost = program::run({"report", pour});
  CHECK(lost.exit == 2);
  CHECK(holds(lost.err, "--out FILE.html, --data FILE.csv, or both"));
}

TEST_CASE("the spreadsheet's table has one line of heads and even steps of time") {
  program::Folder folder;
  for (const std::string units : {"us", "si"}) {
    const std::string file = folder.file(units + ".csv");
    REQUIRE(program::run({"report", pour, "--data", file, "--units", units}).exit == 1);
    const auto rows = cells_of(program::content(file));
    REQUIRE(rows.size() > 100);
    REQUIRE(rows.size() <= 1001);
    CHECK(rows[0][0] == "time (s)");
    CHECK(rows[0][1] == (units == "us" ? "thrust (lbf)" : "thrust (N)"));
    const double step = std::stod(rows[2][0]) - std::stod(rows[1][0]);
    for (std::size_t i = 1; i < rows.size(); ++i) {
      REQUIRE(rows[i].size() == rows[0].size());
      CHECK(std::stod(rows[i][0]) == Approx(static_cast<double>(i - 1) * step).margin(1e-9));
    }
  }
}

TEST_CASE("builds are compared two to four at a time, and by themselves") {
  CHECK(program::run({"design", "--compare", pour}).exit == 2);
  CHECK(program::run({"design", "--compare", pour, pour, pour, pour, pour}).exit == 2);
  CHECK(program::run({"design", pour, shell}).exit == 2);
  CHECK(program::run({"design", "--compare", pour, shell, "--pick", "1"}).exit == 2);
  const auto both = program::run({"design", "--compare", pour, shell, "--json"});
  CHECK(both.exit == 1);
  const auto builds = both.json()["builds"];
  REQUIRE(builds.size() == 2);
  CHECK(builds[0]["letter"] == "A");
  CHECK(builds[1]["curve"]["time_s"].size() == builds[1]["curve"]["thrust_N"].size());
}
