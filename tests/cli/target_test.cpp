// SPDX-License-Identifier: GPL-3.0-or-later
//
// No command writes over what it reads, and two files are written both or neither.
#include <catch2/catch.hpp>

#include <filesystem>

#include "jobs.hpp"
#include "program.hpp"

namespace fs = std::filesystem;
using Catch::Matchers::Contains;
using program::content;
using program::Folder;
using program::run;
using program::Run;

namespace {

/// Options that write, each behind what the command needs before it.
std::vector<std::vector<std::string>> writers(const std::string& job) {
  return {{"design", job, "--save"},
          {"report", job, "-o"},
          {"report", job, "--out"},
          {"report", job, "--data"},
          {"cutlist", job, "--sheet"},
          {"burnback", job, "--svg"},
          {"design", "--compare", job, job, "-o"}};
}

/// Refused for this target, with and without --force, and nothing has changed.
void check_refused(std::vector<std::string> line, const std::string& target,
                   const std::string& kept, const std::string& both) {
  line.push_back(target);
  const std::string before = content(kept);
  const auto when = fs::last_write_time(kept);
  for (int i = 0; i < 2; ++i) {
    const Run done = run(line);
    INFO(line[0] << ' ' << line[line.size() - 2] << ' ' << target << '\n' << done.err);
    CHECK(done.exit == 2);
    CHECK(done.out.empty());
    CHECK_THAT(done.err, Contains(both) && Contains("which this command reads") ||
                             Contains(both) && Contains("a file that this command reads"));
    CHECK(content(kept) == before);
    CHECK(fs::last_write_time(kept) == when);
    line.emplace_back("--force");
  }
}

}  // namespace

TEST_CASE("an output file that is the job is refused, by any path, with --force too") {
  Folder folder;
  const std::string job = folder.file("job.toml", jobs::short_casing);
  fs::create_symlink(job, folder.file("link.toml"));
  fs::create_hard_link(job, folder.file("hard.toml"));
  const std::string roundabout = fs::path(job).parent_path().string() + "/./job.toml";
  for (const std::vector<std::string>& line : writers(job)) {
    for (const std::string& target :
         {job, folder.file("link.toml"), folder.file("hard.toml"), roundabout}) {
      check_refused(line, target, job, job);
    }
  }
  // The other way about: read through a link, written to the file.
  check_refused({"design", folder.file("link.toml"), "--save"}, job, job, job);
  CHECK(folder.files() == 3);
}

TEST_CASE("so is one that an outline is read from") {
  Folder folder;
  const std::string outline =
      folder.file("core.wkt", "POLYGON ((-6 -6, 6 -6, 6 6, -6 6, -6 -6))\n");
  const std::string job =
      folder.file("job.toml", jobs::changed(jobs::whole_motor, "core = \"20 mm\"",
                                            "core = { outline = \"core.wkt\", unit = \"mm\" }\n"
                                            "inhibited = [\"outer\"]"));
  REQUIRE(run({"burnback", job}).exit == 0);
  fs::create_hard_link(outline, folder.file("other.wkt"));
  for (const std::vector<std::string>& line : writers(job)) {
    if (line[1] != "--compare" && line[0] == "design") continue;  // the job has no wish
    for (const std::string& target : {outline, folder.file("other.wkt")}) {
      std::vector<std::string> forced = line;
      forced.insert(forced.begin() + 1, "--force");
      forced.push_back(target);
      const Run done = run(forced);
      INFO(done.err);
      CHECK(done.exit == 2);
      CHECK_THAT(done.err, Contains(outline));
      CHECK(content(outline).starts_with("POLYGON"));
    }
  }
}

TEST_CASE("so is a log, and each other firing's log and job") {
  Folder folder;
  const std::string job = folder.file("job.toml", jobs::whole_motor);
  const std::string other = folder.file("other.toml", jobs::whole_motor);
  const std::string log = folder.file("log.csv", "time (s),force (N)\n0,0\n1,1\n");
  const std::string second = folder.file("second.csv", "time (s),force (N)\n0,0\n1,1\n");
  for (const std::string& target : {job, other, log, second}) {
    check_refused({"stand", log, "--job", job, "--with", second + "=" + other, "--save"}, target,
                  target, target);
  }
}

TEST_CASE("a target beside the job is no concern") {
  Folder folder;
  const std::string job = folder.file("job.toml", jobs::short_casing);
  CHECK(run({"cutlist", job, "--sheet", folder.file("sheet.html")}).exit == 0);
  CHECK(run({"cutlist", job, "--sheet", folder.file("sheet.html")}).exit == 3);
  CHECK(run({"cutlist", job, "--sheet", folder.file("sheet.html"), "--force"}).exit == 0);
  CHECK(run({"cutlist", job, "--sheet", "/dev/null"}).exit == 0);
}

TEST_CASE("page and curves in one file are refused") {
  Folder folder;
  const std::string job = folder.file("job.toml", jobs::short_casing);
  const std::string page = folder.file("page.html");
  fs::create_symlink(page, folder.file("link.csv"));  // leads to where nothing is yet
  for (const std::string& data : {page, folder.file("link.csv")}) {
    for (bool force : {false, true}) {
      std::vector<std::string> line = {"report", job, "-o", page, "--data", data};
      if (force) line.emplace_back("--force");
      const Run done = run(line);
      INFO(done.err);
      CHECK(done.exit == 2);
      CHECK_THAT(done.err, Contains("--data") && Contains("is the file of --out too"));
      CHECK_FALSE(fs::exists(page));
    }
  }
}

TEST_CASE("where the curves cannot be written the page is not either") {
  Folder folder;
  const std::string job = folder.file("job.toml", jobs::short_casing);
  const Run done = run(
      {"report", job, "-o", folder.file("page.html"), "--data", folder.file("nowhere/curves.csv")});
  INFO(done.err);
  CHECK(done.exit == 3);
  CHECK_THAT(done.err, Contains("nowhere/curves.csv"));
  CHECK(folder.files() == 1);
}
