// SPDX-License-Identifier: GPL-3.0-or-later
//
// What people wrote reaches a terminal as text, whichever command shows it.
#include <catch2/catch.hpp>

#include "grainwright/utf8.hpp"
#include "jobs.hpp"
#include "program.hpp"

using Catch::Matchers::Contains;
using program::Folder;
using program::run;
using program::Run;

namespace {

/// As TOML escapes: clears the screen, colours, rings, goes back, turns the writing round, and
/// forges a line.
const std::string evil =
    R"(\u001B[2J\u001B[31mEvil\u001B[0m\u0007\b\u009B5m\u202Eback\u202C\u2066in\u2069\u007F\nVerdict: fine)";
const std::string harmless = "EvilbackinVerdict";  // without its blanks

/// Every command obeys only line feeds, and every character is whole.
std::string disobeyed(const std::string& text) {
  for (std::string_view rest = text; !rest.empty();) {
    const auto next = grainwright::character_at(rest);
    if (!next.sound) return "a byte that is no UTF-8";
    if (next.code != '\n' && grainwright::commands_terminal(next.code)) {
      return "character " + std::to_string(next.code);
    }
    rest.remove_prefix(next.size);
  }
  return "";
}

std::string evil_job() {
  std::string job =
      jobs::changed(jobs::short_casing, "title = \"Short casing\"", "title = \"" + evil + "\"");
  return jobs::changed(job, "name = \"kn-sorbitol\"\ndensity_ratio = 0.95",
                       "name = \"" + evil + R"("
density = "1770 kg/m3"
characteristic_velocity = "900 m/s"
gamma = 1.1
flame_temperature = "1600 K"
molar_mass = "40 g/mol"
formula = { ")" + evil + R"(" = 0.35, "other" = 0.65 }
[[propellant.law]]
rate = "3 mm/s"
at = "1 MPa"
n = 0.3)");
}

}  // namespace

TEST_CASE("titles and names command no terminal, in any command, as text or JSON") {
  Folder folder;
  const std::string job = folder.file("job.toml", evil_job());
  const std::vector<std::vector<std::string>> lines = {
      {"fire", job},
      {"fire", job, "--sweep", "throat=9mm,10mm"},
      {"burnback", job},
      {"margins", job},
      {"cutlist", job},
      {"scatter", job, "--samples", "1024"},
      {"design", job},
      {"design", "--compare", job, job},
      {"report", job, "-o", folder.file("page.html"), "--force"}};
  for (std::vector<std::string> line : lines) {
    for (bool json : {false, true}) {
      if (json) line.emplace_back("--json");
      const Run done = run(line);
      INFO(line[0] << (json ? " --json" : "") << '\n' << done.out << done.err);
      CHECK((done.exit == 0 || done.exit == 1));
      CHECK(disobeyed(done.out + done.err) == "");
      CHECK(done.out.find("\nVerdict: fine") == std::string::npos);
    }
  }
}

TEST_CASE("JSON keeps a title whole behind its own escapes") {
  Folder folder;
  const std::string job = folder.file("job.toml", evil_job());
  const Run done = run({"design", "--compare", job, job, "--json"});
  const std::string title = done.json()["builds"][0]["title"];
  CHECK(title ==
        "\x1b[2J\x1b[31mEvil\x1b[0m\x07\b\xc2\x9b"
        "5m\xe2\x80\xae"
        "back\xe2\x80\xac\xe2\x81\xa6in\xe2\x81\xa9\x7f\nVerdict: fine");
  CHECK_THAT(done.out, Contains("\\u009b5m\\u202eback\\u202c\\u2066in\\u2069\\u007f"));
}

TEST_CASE("nor does a value that an error quotes, or a word of the command line") {
  Folder folder;
  const std::string wrong = folder.file(
      "wrong.toml", jobs::changed(jobs::short_casing, "grain_room = \"7 1/2 in\"",
                                  "grain_room = \"" + evil + "\"\n\"" + evil + "\" = 1"));
  const std::string name = "\x1b[31mno\nsuch\x9b.toml";
  for (const std::vector<std::string>& line : std::vector<std::vector<std::string>>{
           {"fire", wrong},
           {"fire", folder.file(name)},
           {"\x1b[31mfire\x1b[0m"},
           {"fire", wrong, "--\x1b[31mjson"},
           {"even", "--tube", "\x1b[2J2 in\xe2\x80\xae", "--core", "1 in"}}) {
    const Run done = run(line);
    INFO(done.err);
    CHECK((done.exit == 2 || done.exit == 3));
    CHECK(done.out.empty());
    CHECK_FALSE(done.err.empty());
    CHECK(disobeyed(done.err) == "");
    CHECK(done.err.find("\nVerdict: fine") == std::string::npos);
    CHECK(done.err.find("\nsuch") == std::string::npos);
  }
}

TEST_CASE("nor do the heads of a log's columns") {
  Folder folder;
  std::string text = "\x1b[31mtime (s)\x1b[0m\xe2\x80\xae,force (N)\x07\n";
  for (int i = 0; i < 400; ++i) {
    const double force = i < 60 || i > 300 ? 0 : 300;
    text += std::to_string(i * 0.01) + "," + std::to_string(force + i % 3) + "\n";
  }
  const std::string log = folder.file("log.csv", text);
  for (std::string form : {"", "--json", "--csv"}) {
    std::vector<std::string> line = {"stand",          log, "--time-column", "1",
                                     "--force-column", "2", "--time-unit",   "s",
                                     "--force-unit",   "N"};
    if (!form.empty()) line.push_back(form);
    const Run done = run(line);
    INFO(form << done.out << done.err);
    CHECK(done.exit == 1);  // thrust that stands still is no motor's
    CHECK(disobeyed(done.out + done.err) == "");
    if (form.empty()) CHECK_THAT(done.out, Contains("time (s)"));
  }
}

TEST_CASE("charts of blocks and names in other letters stay as they are") {
  Folder folder;
  const std::string job = folder.file("job.toml", jobs::changed(jobs::whole_motor, "Whole motor",
                                                                "Gr\xc3\xb6\xc3\x9fter \xd7\xa9"));
  const Run done = run({"fire", job});
  CHECK(done.exit == 0);
  CHECK_THAT(done.out, Contains("Gr\xc3\xb6\xc3\x9fter \xd7\xa9"));
  CHECK_THAT(done.out, Contains("\xe2\x96\x88"));  // a full block
}
