// SPDX-License-Identifier: GPL-3.0-or-later
//
// What all commands have in common: exit codes, streams, errors.
#include <catch2/catch.hpp>

#include "jobs.hpp"
#include "program.hpp"

using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using program::Folder;
using program::run;
using program::Run;

namespace {

const std::vector<std::string> all_commands = {"even",    "burnback", "fire",    "design",
                                               "margins", "scatter",  "cutlist", "stand",
                                               "fly",     "report",   "bench"};
/// Those that answer with a text about a job without parts to judge and without an airframe.
const std::vector<std::string> text_commands = {"even",   "burnback", "fire",
                                                "design", "scatter",  "cutlist"};

/// The command's words on this job; `even` works on none.
std::vector<std::string> words(const std::string& command, const std::string& job) {
  if (command == "even") {
    return {command, "--tube", "38.1 mm", "--core", "9.525 mm", "--segments", "3"};
  }
  if (command == "scatter") return {command, job, "--samples", "1000"};
  return {command, job};
}

}  // namespace

TEST_CASE("help and version are answers: standard output, exit 0") {
  Run version = run({"--version"});
  CHECK(version.exit == 0);
  CHECK_THAT(version.out, StartsWith("grainwright "));
  Run help = run({"--help"});
  CHECK(help.exit == 0);
  CHECK(help.err.empty());
  for (const std::string& command : all_commands) {
    CHECK_THAT(help.out, Contains("\n  " + command));
    Run one = run({command, "--help"});
    CHECK(one.exit == 0);
    CHECK(one.err.empty());
    CHECK_THAT(one.out, Contains("grainwright " + command));
    CHECK_THAT(one.out, Contains("--json"));
    CHECK(program::widest_line(one.out) <= 100);
  }
}

TEST_CASE("a command line that cannot be meant is refused with a hint, exit 2") {
  Folder folder;
  std::string job = folder.file("job.toml", jobs::whole_motor);
  const std::vector<std::pair<std::vector<std::string>, std::string>> refusals = {
      {std::vector<std::string>{}, "command: not given"},
      {{"evn"}, "did you mean even?"},
      {{"-help"}, "--help"},
      {{"fire"}, "JOB: not given"},
      {{"fire", job, job}, "one word too many"},
      {{"fire", job, "--jsn"}, "did you mean --json?"},
      {{"fire", job, "--json", "--csv"}, "one of the two"},
      {{"fire", job, "--units", "metric"}, "--units: metric: us or si"},
      {{"fire", job, "--units"}, "units"},
      {{"fire", job, "--units", "--json"}, "--units: no value"},
      {{"fire", job, "--json", "--json"}, "--json: given twice"},
      {{"fire", job, "--model", "lumped"}, "--model: lumped: steady, transient or axial"},
      {{"even", "--csv"}, "--csv: given to even"},
      {{"design", job, "--csv"}, "--csv: given to design"},
      {{"cutlist", job, "--csv"}, "--csv: given to cutlist"},
      {{"design", job, "--pick", "2"}, "--save FILE"},
      {{"design", job, "--save", folder.file("new"), "--pick", "two"}, "a whole number from 1"},
      {{"design", job, "--threads", "0"}, "a whole number from 1"},
  };
  for (const auto& [line, hint] : refusals) {
    Run refused = run(line);
    INFO(hint << " in " << refused.err);
    CHECK(refused.exit == 2);
    CHECK(refused.out.empty());
    CHECK_THAT(refused.err, Contains(hint));
    CHECK(std::ranges::count(refused.err, '\n') == 1);
  }
}

TEST_CASE("a job that cannot be accepted gets its complaint on standard error, exit 2") {
  auto [from, to, complaint] = GENERATE(table<std::string, std::string, std::string>({
      {"grain_room = \"7 1/2 in\"", "grain_room = 7.5", "casing.grain_room"},
      {"grain_room = \"7 1/2 in\"", "grain_room = \"7 1/2\"", "casing.grain_room"},
      {"efficiency", "eficiency", "efficiency"},
      {"core = \"1/2 in\"", "core = \"2 in\"", "core"},
      {"count = 3", "count = 4", "room"},
      {"density_ratio = 0.95", "[[propellant.law]]\nrate = \"8 mm/s\"\nat = \"1 MPa\"\nn = 1.0",
       "n"},
  }));
  Folder folder;
  std::string job = folder.file("job.toml", jobs::changed(jobs::short_casing, from, to));
  for (std::string command : {"burnback", "fire", "design", "margins", "cutlist"}) {
    Run refused = run({command, job});
    INFO(command << ": " << to);
    CHECK(refused.exit == 2);
    CHECK(refused.out.empty());
    CHECK_THAT(refused.err, StartsWith(job + ":"));
    CHECK_THAT(refused.err, Contains(complaint));
    CHECK(std::ranges::count(refused.err, '\n') == 1);
  }
}

TEST_CASE("an empty file and a binary one are bad input") {
  Folder folder;
  std::string empty = folder.file("empty.toml", "");
  std::string binary = folder.file("binary.toml", std::string("\x7f\0\xff\xfe\x01 =", 7));
  for (const std::string& job : {empty, binary}) {
    for (std::string command : {"burnback", "fire", "design", "cutlist"}) {
      Run refused = run({command, job});
      INFO(command << ' ' << job);
      CHECK(refused.exit == 2);
      CHECK(refused.out.empty());
      CHECK_FALSE(refused.err.empty());
    }
  }
}

TEST_CASE("a job that cannot be read is named, exit 3") {
  Folder folder;
  std::filesystem::create_directory(folder.file("folder"));
  for (std::string name : {"folder", "missing.toml"}) {
    Run refused = run({"fire", folder.file(name)});
    CHECK(refused.exit == 3);
    CHECK(refused.out.empty());
    CHECK_THAT(refused.err, Contains(folder.file(name)));
  }
  if (geteuid() != 0) {  // nothing is forbidden to root
    std::string job = folder.file("closed.toml", jobs::whole_motor);
    std::filesystem::permissions(job, std::filesystem::perms::none);
    CHECK(run({"fire", job}).exit == 3);
  }
}

TEST_CASE("standard output that cannot be written is exit 3") {
  Folder folder;
  std::string job = folder.file("job.toml", jobs::whole_motor);
  SECTION("a full disk is named") {
    int full = open("/dev/full", O_WRONLY);
    Run refused = run({"fire", job, "--json"}, {.out = full});
    close(full);
    CHECK(refused.exit == 3);
    CHECK_THAT(refused.err, Contains("standard output"));
  }
  SECTION("a reader that has gone is no news") {
    int ends[2];
    REQUIRE(pipe2(ends, O_CLOEXEC) == 0);
    close(ends[0]);
    Run refused = run({"fire", job, "--json"}, {.out = ends[1]});
    close(ends[1]);
    CHECK(refused.exit == 3);
    CHECK(refused.err.empty());
  }
  SECTION("nor is one that never was") {
    Run refused = run({"even", "--tube", "2 in", "--core", "1 in"}, {.closed_out = true});
    CHECK(refused.exit == 3);
    CHECK(refused.err.empty());
  }
}

TEST_CASE("text is at most 100 columns wide, colourless, and names the next step") {
  Folder folder;
  std::string job = folder.file("job.toml", jobs::short_casing);
  for (const std::string& command : text_commands) {
    for (std::string units : {"us", "si"}) {
      std::vector<std::string> line = words(command, job);
      line.insert(line.end(), {"--units", units});
      Run done = run(line);
      INFO(command << '\n' << done.out);
      CHECK(done.exit == 0);
      CHECK(done.err.empty());
      std::string text = done.out;  // with the path of the job as short as a person's would be
      for (auto at = text.find(job); at != std::string::npos; at = text.find(job)) {
        text.replace(at, job.size(), "job.toml");
      }
      CHECK(program::widest_line(text) <= 100);
      CHECK(done.out.find('\x1b') == std::string::npos);
      CHECK_THAT(done.out, Contains("Next: "));
      CHECK_THAT(done.out, Contains(units == "us" ? " in" : " mm") ||
                               Contains(units == "us" ? ", in" : ", mm") || Contains("MPa") ||
                               Contains("psi"));
    }
  }
}

TEST_CASE("the same input gives the same bytes") {
  Folder folder;
  std::string job = folder.file("job.toml", jobs::short_casing);
  for (const std::string& command : text_commands) {
    CHECK(run(words(command, job)).out == run(words(command, job)).out);
  }
}
