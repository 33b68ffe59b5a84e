// SPDX-License-Identifier: GPL-3.0-or-later
//
// The order of the house: what may lie at its door, the licence line in each source, links that
// lead somewhere, and no golden text whose command is gone.
#include <algorithm>
#include <catch2/catch.hpp>
#include <regex>
#include <set>

#include "house/house.hpp"

namespace {

namespace fs = std::filesystem;
using house::File;

const std::string licence = "SPDX-License-Identifier: GPL-3.0-or-later";

bool may_lie_at_the_door(const std::string& name) {
  static const std::set<std::string> allowed = {"CMakeLists.txt", "README.md", "DEVELOPERS.md",
                                                "LICENSE",        "src",       "include",
                                                "tests",          "cases",     "docs"};
  return name.starts_with(".") || name.starts_with("build") || allowed.contains(name);
}

/// In the first line, or in the second one of a script.
bool names_licence(const File& file) {
  const auto first = file.lines.begin();
  const auto last = file.lines.size() < 2 ? file.lines.end() : first + 2;
  return std::any_of(
      first, last, [](const std::string& line) { return line.find(licence) != std::string::npos; });
}

/// Targets of Markdown links and pictures in one line, web addresses left out, anchors cut off.
std::vector<std::string> link_targets(const std::string& line) {
  static const std::regex link(R"(\]\(\s*<?([^)\s>]+)[^)]*\))");
  std::vector<std::string> targets;
  for (auto it = std::sregex_iterator(line.begin(), line.end(), link); it != std::sregex_iterator();
       ++it) {
    const std::string target = (*it)[1];
    const std::string path = target.substr(0, target.find('#'));
    if (target.find("://") == std::string::npos && !path.empty()) targets.push_back(path);
  }
  return targets;
}

std::vector<std::string> broken_links(const File& page) {
  std::vector<std::string> broken;
  const fs::path folder = (house::root() / page.path).parent_path();
  bool in_code = false;
  for (const std::string& line : page.lines) {
    if (line.starts_with("```")) in_code = !in_code;
    if (in_code) continue;
    for (const std::string& target : link_targets(line)) {
      if (!fs::exists(folder / target)) broken.push_back(page.path + ": " + target);
    }
  }
  return broken;
}

std::vector<File> pages() {
  std::vector<File> all = house::files_below({"docs", "cases", "tests"}, {".md"});
  for (const fs::directory_entry& entry : fs::directory_iterator(house::root())) {
    if (entry.path().extension() == ".md") all.push_back(house::read(entry.path()));
  }
  return all;
}

}  // namespace

TEST_CASE("nothing lies at the top level but what belongs there") {
  std::vector<std::string> strays;
  for (const fs::directory_entry& entry : fs::directory_iterator(house::root())) {
    const std::string name = entry.path().filename().string();
    if (!may_lie_at_the_door(name)) strays.push_back(name);
  }
  INFO(house::listed(strays));
  CHECK(strays.empty());
  CHECK_FALSE(may_lie_at_the_door("scripts"));
}

TEST_CASE("every source names its licence") {
  std::vector<File> sources = house::files_below(
      {"include", "src", "tests", "cases", ".ci"},
      {".hpp", ".cpp", ".in", ".py", ".cmake", "CMakeLists.txt", "run", "accept"});
  sources.push_back(house::read(house::root() / "CMakeLists.txt"));
  sources.push_back(house::read(house::root() / ".setup"));
  std::vector<std::string> bare;
  for (const File& file : sources) {
    if (!names_licence(file)) bare.push_back(file.path);
  }
  INFO(house::listed(bare));
  CHECK(bare.empty());
  CHECK_FALSE(names_licence(File{"", {"#pragma once", "", "// " + licence}}));
}

TEST_CASE("relative links in the pages lead somewhere") {
  std::vector<std::string> broken;
  for (const File& page : pages()) {
    for (const std::string& link : broken_links(page)) broken.push_back(link);
  }
  INFO(house::listed(broken));
  CHECK(broken.empty());
}

TEST_CASE("a broken link is found") {
  CHECK(broken_links(File{"docs/x.md", {"see [there](nowhere.md#part)"}}).size() == 1);
  CHECK(broken_links(File{"docs/x.md", {"![picture](pictures/none.svg \"title\")"}}).size() == 1);
  CHECK(broken_links(File{"docs/x.md", {"[up](../LICENSE) and [here](#part)"}}).empty());
  CHECK(broken_links(File{"docs/x.md", {"```", "a[i](nowhere)", "```"}}).empty());
}

TEST_CASE("every golden text belongs to a command") {
  std::set<std::string> blocks;
  for (const std::string& line : house::read(house::root() / "tests/golden/commands.txt").lines) {
    if (line.ends_with(":") && !line.starts_with("#"))
      blocks.insert(line.substr(0, line.size() - 1));
  }
  std::vector<std::string> orphans;
  for (const fs::directory_entry& entry : fs::directory_iterator(house::root() / "tests/golden")) {
    const std::string name = entry.path().stem().string();
    if (name != "commands" && !blocks.contains(name)) orphans.push_back(name);
  }
  INFO(house::listed(orphans));
  CHECK(orphans.empty());
}
