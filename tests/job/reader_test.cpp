// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>
#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>

#include "job_text.hpp"

namespace gw = grainwright;
using job_text::changed;
using job_text::complaints_of;
using job_text::sound;

namespace {

constexpr double inch = 0.0254;

/// The one complaint about the sound job with `from` replaced by `to`.
std::string complaint(const std::string& from, const std::string& to) {
  const auto lines = complaints_of(changed(sound, from, to));
  INFO("with " << to);
  REQUIRE(lines.size() == 1);
  return lines.front();
}

class Folder {
 public:
  Folder() : path_(std::filesystem::temp_directory_path() / ("job-" + std::to_string(::getpid()))) {
    std::filesystem::create_directories(path_);
  }
  ~Folder() { std::filesystem::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  [[nodiscard]] std::filesystem::path with(const std::string& name, const std::string& content) {
    std::ofstream(path_ / name, std::ios::binary) << content;
    return path_ / name;
  }
  [[nodiscard]] const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

std::string file_error(const std::filesystem::path& path) {
  try {
    static_cast<void>(gw::read_job(path));
  } catch (const gw::FileError& error) {
    return error.what();
  }
  return "";
}

std::string input_error(const std::filesystem::path& path) {
  try {
    static_cast<void>(gw::read_job(path));
  } catch (const gw::InputError& error) {
    CHECK(error.complaints().size() == 1);
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("The sound job of these tests is sound") {
  CHECK(complaints_of(sound).empty());
}

TEST_CASE("A job is read into SI") {
  const gw::Job job = gw::parse_job(sound, "heron.toml");
  CHECK(job.title == "Heron");
  CHECK(job.units == gw::UnitSystem::us);
  REQUIRE(job.casing);
  CHECK(job.casing->pipe == "1-1/2 sch 40");
  CHECK(job.casing->bore == Approx((1.900 - 2.12 * 0.145) * inch));
  CHECK(job.casing->grain_room == Approx(7.5 * inch));
  REQUIRE(job.propellant);
  CHECK(job.propellant->name == "kn-sorbitol");
  REQUIRE(job.nozzle);
  CHECK(job.nozzle->throat_diameter == Approx(0.375 * inch));
  CHECK(job.nozzle->exit_diameter == Approx(0.75 * inch));
  REQUIRE(job.grain.layers.size() == 2);
  CHECK(job.grain.layers[0].count == 2);
  CHECK(job.grain.layers[1].count == 1);
  CHECK(job.grain.layers[1].segment.length == Approx(2 * inch));
  CHECK(job.grain.layers[1].segment.outer_diameter == job.casing->grain_outer_diameter());
  CHECK(job.grain.layers[1].segment.inhibited == gw::Faces{gw::Face::outer});
  CHECK(job.grain.spacer == Approx(inch / 16));
  REQUIRE(job.shop);
  CHECK(job.shop->mandrels.size() == 2);
  CHECK(job.remarks.empty());
}

TEST_CASE("A straight hole follows the throat, and a search may choose the throat") {
  CHECK(gw::parse_job(changed(sound, "exit = \"3/4 in\"", ""), "").nozzle->exit_diameter ==
        Approx(0.375 * inch));
  const gw::Job open = gw::parse_job(changed(sound, "throat = \"3/8 in\"", ""), "");
  CHECK(open.nozzle->throat_diameter == 0);
  CHECK_THROWS_AS(gw::motor_of(open), gw::InputError);
}

TEST_CASE("A core of 0 is a solid segment and needs no unit") {
  for (const std::string zero : {"0", "0.0", "\"0 mm\""}) {
    std::string text =
        changed(sound, "core = \"3/8 in\"", "inhibited = [\"outer\", \"head\"]\ncore = " + zero);
    text = changed(text, "count = 2", "count = 1");
    CHECK(gw::parse_job(text, "").grain.layers[0].segment.core_diameter == 0);
  }
}

TEST_CASE("Each mistake has its place, key, what was given and what is allowed") {
  const std::string a_length = R"(a length with its unit, e.g. "2 7/16 in" or "61.9 mm")";
  CHECK(complaint("\"7 1/2 in\"", "\"7 1/2\"") ==
        "7:14: casing.grain_room: \"7 1/2\" has no unit: " + a_length);
  CHECK(complaint("\"7 1/2 in\"", "7.5") ==
        "7:14: casing.grain_room: 7.5 without a unit: " + a_length);
  CHECK(complaint("\"7 1/2 in\"", "[1]") == "7:14: casing.grain_room: a list: " + a_length);
  CHECK(complaint("\"7 1/2 in\"", "true") == "7:14: casing.grain_room: true: " + a_length);
  CHECK(complaint("\"7 1/2 in\"", "\"-7 in\"") == "7:14: casing.grain_room: \"-7 in\": above 0");
  CHECK(complaint("grain_room = \"7 1/2 in\"", "") ==
        "5:1: casing.grain_room: missing: " + a_length);
  CHECK(complaint("core = \"1/2 in\"", "core = 0.5") ==
        "26:8: segment 2: core: 0.5 without a unit: " + a_length);
  CHECK(complaint("count = 2", "count = 2.5") ==
        "19:9: segment 1: count: 2.5: a whole number, 1 to 1000");
  CHECK(complaint("count = 2", "count = 0") ==
        "19:9: segment 1: count: 0: a whole number, 1 to 1000");
  CHECK(complaint("title = \"Heron\"", "title = 7") == "3:9: job.title: 7: text: any");
  CHECK(complaint("title = \"Heron\"", "units = \"metric\"") ==
        "3:9: job.units: \"metric\": \"us\" or \"si\"");
}

TEST_CASE("A size that nobody can mean is a mistake") {
  CHECK(complaint("\"7 1/2 in\"", "\"1e-300 m\"") ==
        "7:14: casing.grain_room: \"1e-300 m\": from 0.001 mm to 1000 m in size");
  CHECK(complaint("\"7 1/2 in\"", "\"1e300 m\"") ==
        "7:14: casing.grain_room: \"1e300 m\": from 0.001 mm to 1000 m in size");
  CHECK(complaint("profile = \"flat\"", "profile = \"flat\"\nloading = 1e-13") ==
        "37:11: wish.loading: 1e-13: from 1e-12 to 1e12 SI units in size");
  CHECK(complaints_of(changed(sound, "spacer = \"1/16 in\"", "spacer = \"0 mm\"")).empty());
}

TEST_CASE("A misspelt name is answered with the nearest known one") {
  CHECK(complaint("tube_wall", "tube_wal") ==
        "8:1: casing.tube_wal: unknown key: did you mean \"tube_wall\"?");
  CHECK(complaint("count = 2", "cuont = 2") ==
        "19:1: segment 1: cuont: unknown key: did you mean \"count\"?");
  CHECK(complaint("[wish]\n", "[wihs]\n") == "35:2: wihs: unknown table: did you mean \"wish\"?");
  CHECK(complaint("[nozzle]\n", "[nozzle]\nkerf = \"1 mm\"\n") ==
        "15:1: nozzle.kerf: unknown key: \"kerf\" belongs in [shop]");
  CHECK(complaint("[nozzle]\n", "[nozzle]\nzebra = 1\n") ==
        "15:1: nozzle.zebra: unknown key: one of throat, exit, half_angle, efficiency, "
        "throat_growth");
  CHECK(complaint("1-1/2 sch 40", "1-1/2 sch 4O") ==
        "6:8: casing.pipe: \"1-1/2 sch 4O\": did you mean \"1-1/2 sch 40\"?");
  CHECK_THAT(
      complaint("kn-sorbitol", "kn-sorbitl"),
      Catch::StartsWith("12:8: propellant.name: \"kn-sorbitl\": did you mean \"kn-sorbitol\"?"));
}

TEST_CASE("Several mistakes are told in one run, in the order of the file") {
  std::string text = changed(sound, "\"2 in\"", "\"2\"");
  text = changed(text, "title", "tilte");
  text = changed(text, "\"3/4 in\"\n\n", "\"1/4 in\"\n\n");
  text = changed(text, "profile = \"flat\"", "profile = \"round\"");
  const auto lines = complaints_of(text);
  REQUIRE(lines.size() == 4);
  CHECK_THAT(lines[0], Catch::StartsWith("3:1: job.tilte: unknown key"));
  CHECK_THAT(lines[1], Catch::StartsWith("16:8: nozzle.exit: \"1/4 in\": at least the throat"));
  CHECK_THAT(lines[2], Catch::StartsWith("25:10: segment 2: length: \"2\" has no unit"));
  CHECK_THAT(lines[3], Catch::StartsWith("36:11: wish.profile: \"round\": \"flat\""));
}

TEST_CASE("Of a spoilt file with thousands of mistakes a hundred are told and the rest counted") {
  std::string text = sound + "[day]\n";
  for (int i = 0; i < 3000; ++i) text += fmt::format("k{} = 1\n", i);
  try {
    static_cast<void>(gw::parse_job(text, "heron.toml"));
    FAIL("it was read");
  } catch (const gw::InputError& error) {
    const std::string said = error.what();
    CHECK(error.complaints().size() == 3000);
    CHECK(std::count(said.begin(), said.end(), '\n') == 100);
    CHECK_THAT(said, Catch::Matchers::EndsWith("and 2900 complaints more"));
  }
}

TEST_CASE("What a segment or the stack cannot be is told at the line of its key") {
  CHECK_THAT(
      complaint("core = \"1/2 in\"", "core = \"3 in\""),
      Catch::StartsWith("26:8: segment 2: core: \"3 in\": narrower than the segment's outer"));
  CHECK_THAT(complaint("core = \"3/8 in\"", "core = 0"),
             Catch::StartsWith("21:8: segment 1: core: "));
  CHECK_THAT(
      complaint("core = \"1/2 in\"",
                "core = \"1/2 in\"\ninhibited = [\"head\", \"nozzle\", \"core\", \"outer\"]"),
      Catch::StartsWith("27:13: segment 2: inhibited: "));
  CHECK_THAT(
      complaint("length = \"2 in\"", "length = \"3 in\""),
      Catch::StartsWith("25:10: segment 2: length: segments and spacers together 203.2 mm: at "
                        "most casing.grain_room, 190.5 mm"));
  CHECK_THAT(complaint("core = \"1/2 in\"", "core = \"1/2 in\"\ninhibited = \"outer\""),
             Catch::StartsWith("27:13: segment 2: inhibited: \"outer\": a list"));
  CHECK_THAT(complaint("core = \"1/2 in\"", "core = \"1/2 in\"\ninhibited = [\"front\"]"),
             Catch::StartsWith("27:13: segment 2: inhibited: \"front\": a list"));
}

TEST_CASE("A stack that fills its room exactly fits") {
  // 2 x 2 7/16 + 2 1/2 + 2/16 = 7 1/2 in
  CHECK(complaints_of(changed(sound, "length = \"2 in\"", "length = \"2 1/2 in\"")).empty());
  CHECK(complaints_of(changed(sound, "length = \"2 in\"", "length = \"2 33/64 in\"")).size() == 1);
}

TEST_CASE("The outer diameter comes from the casing, or from the segment where there is none") {
  CHECK_THAT(
      complaint("core = \"1/2 in\"", "core = \"1/2 in\"\nouter_diameter = \"1 in\""),
      Catch::StartsWith("27:18: segment 2: outer_diameter: \"1 in\": nothing: the [casing]"));
  const std::string bare = "[[segment]]\nlength = \"80 mm\"\ncore = \"12 mm\"\n";
  CHECK(complaints_of(bare).size() == 1);
  CHECK_THAT(complaints_of(bare).front(),
             Catch::StartsWith("1:1: segment 1: outer_diameter: missing: a length"));
  const gw::Job job = gw::parse_job(bare + "outer_diameter = \"40 mm\"", "");
  CHECK(job.grain.layers[0].segment.outer_diameter == Approx(0.04));
}

TEST_CASE("Casing without a pipe needs bore and wall") {
  const auto lines = complaints_of(changed(sound, "pipe = \"1-1/2 sch 40\"", ""));
  REQUIRE(lines.size() == 2);
  CHECK_THAT(lines[0], Catch::StartsWith("5:1: casing.bore: missing"));
  CHECK_THAT(lines[1], Catch::StartsWith("5:1: casing.wall: missing"));
  CHECK_THAT(complaint("tube_wall = \"0.06 in\"", "tube_wall = \"1 in\""),
             Catch::StartsWith("8:13: casing.tube_wall: \"1 in\": a tube that leaves room"));
}

TEST_CASE("What a search cannot use is told at the line of its key") {
  CHECK_THAT(complaint("mandrels = [\"3/8 in\", \"1/2 in\"]", "mandrels = [\"3 in\"]"),
             Catch::StartsWith("29:12: shop.mandrels: "));
  CHECK_THAT(complaint("throats = [\"5/16 in\", \"3/8 in\"]", ""),
             Catch::StartsWith("28:1: shop.throats: none: at least one throat"));
  CHECK_THAT(complaint("throats = [\"5/16 in\", \"3/8 in\"]", "throats = [\"1 in\"]"),
             Catch::StartsWith("30:11: shop.throats: "));
}

TEST_CASE("Tables of the wrong form are told apart") {
  CHECK(complaints_of("casing = 3") ==
        std::vector<std::string>{"1:1: casing: 3: one table, headed [casing]"});
  CHECK_THAT(complaints_of("[[casing]]\ngrain_room = \"1 m\"\n").front(),
             Catch::Contains("one table, headed [casing]"));
  CHECK_THAT(complaints_of("[segment]\nlength = \"1 m\"\n").front(),
             Catch::Contains("segment: a table: tables, each headed [[segment]]"));
  CHECK_THAT(complaints_of("segment = [1, 2]").front(), Catch::Contains("each headed [[segment]]"));
}

TEST_CASE("Text that is no TOML is told in the same form") {
  CHECK_THAT(complaints_of("[job]\ntitle = \n").front(), Catch::StartsWith("2:9: not TOML: "));
  CHECK_THAT(complaints_of("[job]\ntitle = 1\ntitle = 2\n").front(),
             Catch::StartsWith("3:9: not TOML"));
  CHECK_THAT(complaints_of("[job\n").front(), Catch::StartsWith("1:5: not TOML: "));
  CHECK_THAT(complaints_of("a = \"\xff\"\n").front(), Catch::Contains("utf-8"));
}

TEST_CASE("A file that is no job gets one clear message") {
  Folder folder;
  CHECK_THAT(file_error(folder.path() / "none.toml"),
             Catch::EndsWith("none.toml: cannot read: No such file or directory"));
  CHECK_THAT(file_error(folder.path()), Catch::EndsWith(": is a folder; a job is a file"));
  CHECK_THAT(file_error(folder.with("big.toml", std::string((32U << 20U) + 1, '#'))),
             Catch::EndsWith("big.toml: is over 32 MB; a job is small"));
  CHECK_THAT(input_error(folder.with("empty.toml", "")),
             Catch::Contains("empty.toml:1:1: nothing in it"));
  CHECK_THAT(input_error(folder.with("remarks.toml", "# later\n")),
             Catch::Contains("nothing in it"));
  CHECK_THAT(input_error(folder.with("binary.toml", std::string("[job]\n\0\1", 8))),
             Catch::EndsWith("binary.toml: a binary file: a text file in UTF-8"));
  CHECK_THAT(input_error(folder.with("latin.toml", "[job]\ntitle = \"caf\xe9\"\n")),
             Catch::Contains("latin.toml:2:") && Catch::Contains("utf-8"));
  CHECK(gw::read_job(folder.with("sound.toml", sound)).title == "Heron");
}

TEST_CASE("A file without permission gets a clear message") {
  Folder folder;
  const auto path = folder.with("locked.toml", sound);
  ::chmod(path.c_str(), 0);
  const bool root = ::geteuid() == 0;  // whom nothing is forbidden
  if (root) REQUIRE(::seteuid(65534) == 0);
  const std::string message = file_error(path);
  if (root) REQUIRE(::seteuid(0) == 0);
  CHECK_THAT(message, Catch::EndsWith("locked.toml: cannot read: Permission denied"));
}
