// SPDX-License-Identifier: GPL-3.0-or-later
//
// The floors of the house, held against the #include lines: arrows go downward only, a public
// header needs nothing but the standard library, and each third-party library stays in its room.
#include <algorithm>
#include <catch2/catch.hpp>
#include <map>
#include <optional>
#include <regex>
#include <set>

#include "house/house.hpp"

namespace {

using house::File;

const std::map<std::string, int> floor_of_room = {
    {"cli", 8},        {"bench", 8},                                                   //
    {"report", 7},     {"job", 7},                                                     //
    {"search", 6},                                                                     //
    {"assessment", 5},                                                                 //
    {"scatter", 4},    {"strength", 4}, {"stand", 4}, {"flight", 4}, {"workshop", 4},  //
    {"firing", 3},     {"motor", 2},    {"grain", 1}, {"", 0},
};

/// The only arrows within one floor.
const std::set<std::pair<std::string, std::string>> allowed_sideways = {
    {"scatter", "strength"}, {"scatter", "flight"}, {"bench", "cli"}};

/// Where the sources that name a library must stand; paths that start with one of these may.
const std::vector<std::pair<std::string, std::vector<std::string>>> homes_of_libraries = {
    {"CGAL/", {"src/grain/outline"}}, {"nlopt", {"src/search/", "src/stand/"}},
    {"toml++/", {"src/job/"}},        {"cxxopts", {"src/cli/"}},
    {"httplib", {"src/bench/"}},      {"Eigen/", {"src/strength/", "src/stand/"}},
};

struct Include {
  std::string target;
  bool ours = false;  // in quotes, or by the full name
};

std::optional<Include> include_of(const std::string& line) {
  static const std::regex form(R"(^\s*#\s*include\s*([<"])([^>"]+)[>"])");
  std::smatch match;
  if (!std::regex_search(line, match, form)) return std::nullopt;
  const std::string target = match[2];
  return Include{target, match[1] == "\"" || target.starts_with("grainwright/")};
}

/// "grain" for "include/grainwright/grain/segment.hpp" and "src/grain/segment.cpp"; "" for what
/// stands on the ground floor.
std::string room_of_file(const std::string& path) {
  static const std::regex form("^(?:include/grainwright|src)/(?:([^/]+)/)?");
  std::smatch match;
  return std::regex_search(path, match, form) ? match[1].str() : path;
}

/// The room that a project's own include reaches; a bare file name is a neighbour in the same
/// folder.
std::string room_of_target(const std::string& target, const std::string& own_room) {
  static const std::regex form("^(grainwright/)?(?:([^/]+)/)?[^/]+$");
  std::smatch match;
  if (!std::regex_match(target, match, form)) return target;
  return match[1].matched || match[2].matched ? match[2].str() : own_room;
}

std::string arrow_fault(const std::string& from, const std::string& to) {
  if (!floor_of_room.contains(from)) return "room \"" + from + "\" has no floor";
  if (!floor_of_room.contains(to)) return "\"" + to + "\" is no room";
  if (from == to || allowed_sideways.contains({from, to})) return "";
  const int climb = floor_of_room.at(to) - floor_of_room.at(from);
  if (climb < 0) return "";
  return (climb > 0 ? "goes up from " : "goes sideways from ") + from + " to " + to;
}

std::string library_fault(const std::string& path, const Include& include) {
  const bool in_header = path.starts_with("include/");
  if (in_header && include.target.find_first_of("./") != std::string::npos) {
    return "a public header takes only the standard library";
  }
  for (const auto& [library, homes] : homes_of_libraries) {
    if (!include.target.starts_with(library)) continue;
    const auto is_home = [&path](const std::string& home) { return path.starts_with(home); };
    if (std::ranges::none_of(homes, is_home)) return "that library is at home elsewhere";
  }
  return "";
}

std::string fault_of(const std::string& path, const Include& include) {
  if (!include.ours) return library_fault(path, include);
  if (path.starts_with("include/") && !include.target.starts_with("grainwright/")) {
    return "a public header reaches another by its full name";
  }
  const std::string from = room_of_file(path);
  return arrow_fault(from, room_of_target(include.target, from));
}

std::vector<std::string> faults(const File& file) {
  std::vector<std::string> found;
  for (const std::string& line : file.lines) {
    const auto include = include_of(line);
    if (!include) continue;
    const std::string fault = fault_of(file.path, *include);
    if (!fault.empty()) found.push_back(file.path + ": " + include->target + ": " + fault);
  }
  return found;
}

bool faulty(const std::string& path, const std::string& line) {
  return !faults(File{path, {line}}).empty();
}

}  // namespace

TEST_CASE(
    "commands write files and to the terminal in one place each, which no command can forget") {
  // What looks after targets; what prints; and what writes beside an answer, of which a person
  // wrote nothing or the text is made plain first.
  const std::map<std::string, std::set<std::string>> homes = {
      {"write_whole_file", {"src/cli/target.cpp", "src/bench/desk.cpp"}},
      {"ofstream", {"src/cli/describe.cpp"}},
      {"stdout", {"src/cli/main.cpp", "src/bench/command.cpp"}},
      {"fmt::print", {"src/bench/command.cpp"}},
      {"stderr",
       {"src/cli/main.cpp", "src/cli/interrupt.cpp", "src/cli/describe.cpp",
        "src/bench/command.cpp"}},
      {"std::cout", {}},
      {"std::cerr", {}},
      {"fopen", {}}};
  std::vector<std::string> found;
  for (const File& file : house::files_below({"src/cli", "src/bench"}, {".cpp", ".hpp"})) {
    for (const auto& [word, allowed] : homes) {
      if (allowed.contains(file.path)) continue;
      for (const std::string& line : file.lines) {
        const bool comment = line.find("//") < line.find(word);
        if (line.find(word) != std::string::npos && !comment)
          found.push_back(file.path + ": " + line);
      }
    }
  }
  INFO(house::listed(found));
  CHECK(found.empty());
}

TEST_CASE("includes go downward and libraries stay at home") {
  const std::vector<File> files = house::files_below({"include", "src"}, {".hpp", ".cpp"});
  REQUIRE_FALSE(files.empty());
  std::vector<std::string> found;
  for (const File& file : files) {
    for (const std::string& fault : faults(file)) found.push_back(fault);
  }
  INFO(house::listed(found));
  CHECK(found.empty());
}

TEST_CASE("an arrow that goes up or sideways is found") {
  CHECK(faulty("src/grain/segment.cpp", R"(#include "grainwright/motor/gas.hpp")"));
  CHECK(
      faulty("include/grainwright/firing/firing.hpp", R"(#include "grainwright/search/wish.hpp")"));
  CHECK(faulty("include/grainwright/error.hpp", R"(#include "grainwright/grain/grain.hpp")"));
  CHECK(faulty("src/strength/pipe.cpp", R"(#  include "grainwright/flight/ascent.hpp")"));
  CHECK(faulty("src/strength/pipe.cpp", R"(#include "grainwright/scatter/scatter.hpp")"));
  CHECK(faulty("src/firing/steady.cpp", "#include <grainwright/job/job.hpp>"));
  CHECK(faulty("src/attic/roof.cpp", R"(#include "grainwright/error.hpp")"));
  CHECK(faulty("src/motor/gas.cpp", R"(#include "../grain/arc.hpp")"));
}

TEST_CASE("an arrow that goes down is let through") {
  CHECK_FALSE(faulty("src/job/read.cpp", R"(#include "grainwright/search/wish.hpp")"));
  CHECK_FALSE(faulty("src/scatter/scatter.cpp", R"(#include "grainwright/flight/ascent.hpp")"));
  CHECK_FALSE(faulty("src/error.cpp", R"(#include "grainwright/error.hpp")"));
  CHECK_FALSE(faulty("src/grain/outline.cpp", R"(#include "arc.hpp")"));
  CHECK_FALSE(faulty("src/grain/outline.cpp", R"(#include "grainwright/quantity.hpp")"));
}

TEST_CASE("a library away from home is found") {
  CHECK(faulty("include/grainwright/job/job.hpp", "#include <toml++/toml.h>"));
  CHECK(faulty("include/grainwright/search/search.hpp", "#include <nlopt.hpp>"));
  CHECK(faulty("src/grain/burnback.cpp", "#include <CGAL/Polygon_2.h>"));
  CHECK(faulty("src/firing/steady.cpp", "#include <nlopt.hpp>"));
  CHECK(faulty("src/cli/main.cpp", "#include <toml++/toml.h>"));
  CHECK(faulty("src/job/read.cpp", "#include <cxxopts.hpp>"));
  CHECK_FALSE(faulty("src/search/inner.cpp", "#include <nlopt.hpp>"));
  CHECK_FALSE(faulty("src/grain/outline_reader.cpp", "#include <CGAL/Polygon_2.h>"));
  CHECK_FALSE(faulty("include/grainwright/job/job.hpp", "#include <filesystem>"));
}
