// SPDX-License-Identifier: GPL-3.0-or-later
//
// docs/job-file.md against the code.
#include <fmt/format.h>
#include <catch2/catch.hpp>
#include <set>
#include <sstream>

#include "job_text.hpp"

namespace gw = grainwright;

namespace {

/// The rows of the page's tables of keys, each with the heading it stands under.
std::set<std::string> rows_of_page() {
  std::set<std::string> rows;
  std::istringstream lines(job_text::page());
  std::string line;
  std::string heading;
  while (std::getline(lines, line)) {
    if (line.starts_with("## ")) heading = line.substr(3);
    if (line.starts_with("| `") && heading.starts_with("`[")) rows.insert(heading + ' ' + line);
  }
  return rows;
}

std::string row_of(const gw::JobKey& key) {
  const std::size_t dot = key.path.rfind('.');
  std::string table = fmt::format("[{}]", key.path.substr(0, dot));
  // In a list of tables a table is headed without the list's brackets: [segment.core].
  for (auto inner = table.find("[]."); inner != std::string::npos; inner = table.find("[]."))
    table.erase(inner, 2);
  if (table.ends_with("[]]")) table = '[' + table.substr(0, table.size() - 3) + "]]";
  const std::string_view name = key.path.substr(dot + 1);
  return fmt::format("`{}` | `{}` | {} | {} | {} | {} |", table, name == "*" ? "any name" : name,
                     key.kind, key.standing, key.range, key.meaning);
}

}  // namespace

TEST_CASE("The page lists every key of the job file as the code has it, and no other") {
  std::set<std::string> rows = rows_of_page();
  for (const gw::JobKey& key : gw::job_keys()) {
    INFO(row_of(key));
    CHECK(rows.erase(row_of(key)) == 1);
  }
  for (const std::string& row : rows) FAIL_CHECK("on the page only: " << row);
}

TEST_CASE("The page names every shipped propellant") {
  for (const std::string& name : gw::shipped_propellants()) {
    CHECK_THAT(job_text::page(), Catch::Contains("`" + name + "`"));
  }
}

TEST_CASE("The page's complaints are those of the program") {
  const std::string text =
      "[job]\n\n[casing]\npipe = \"2 sch 40\"\n\ngrain_room = \"7 1/2\"\n"
      "tube_wal = \"0.06 in\"\n";
  const auto lines = job_text::complaints_of(text);
  CHECK(lines.size() == 2);
  for (const std::string& line : lines) {
    CHECK_THAT(job_text::page(), Catch::Contains("case.toml:" + line));
  }
}
