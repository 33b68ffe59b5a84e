// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/desk.hpp"

#include <catch2/catch.hpp>
#include <filesystem>

#include "bench/jobs.hpp"
#include "grainwright/error.hpp"
#include "grainwright/firing/transient.hpp"

using namespace grainwright;
using bench::Desk;
using bench::State;
using program::content;
using program::Folder;

namespace {

namespace fs = std::filesystem;

std::string copied(const Folder& folder, const std::string& name) {
  return folder.file("job.toml", content(bench_jobs::case_file(name)));
}

Summary fired(const Job& job) {
  return fire_transient(motor_of(job), {.lighting = lighting_of(job)}).summary;
}

}  // namespace

TEST_CASE("a saved build is a job that fires as it did on the bench") {
  const Folder folder;
  Desk desk(copied(folder, bench_jobs::flat));
  const auto sheet = desk.newest();
  State state = bench::starting_state(sheet->job);
  state.layers[0].segment.length = 0.0613;
  state.layers[0].segment.inhibited.insert(Face::head);
  state.throat = 0.0111125;
  state.temperature = 283.15;
  state.asked = {bench::Asked::Shape::front_loaded, 1.35};
  desk.save(*sheet, state, "build 1.toml", false);
  const Job saved = read_job(folder.file("build 1.toml"));
  CHECK(bench::starting_state(saved) == state);
  CHECK(fired(saved) == fired(bench::with_state(sheet->job, state)));
  CHECK(saved.wish->profile == Profile::front_loaded(1.35));
  CHECK(content(folder.file("build 1.toml")).find("tube_stock") != std::string::npos);
}

TEST_CASE("a core that is not round is saved as the job has it") {
  const Folder folder;
  Desk desk(copied(folder, "09-cross-core.toml"));
  const auto sheet = desk.newest();
  State state = bench::starting_state(sheet->job);
  state.throat *= 1.25;
  desk.save(*sheet, state, "wider.toml", false);
  CHECK(read_job(folder.file("wider.toml")).grain == sheet->job.grain);
}

TEST_CASE("a front-loaded job is saved flat without its lead, and the other way") {
  for (const char* wish : {"[wish]\nprofile = \"front-loaded\"\nlead = 1.5\nloading = 0.5\n",
                           "wish = { profile = \"front-loaded\", lead = 1.5, loading = 0.5 }\n",
                           "wish = { lead = 1.5, profile = \"front-loaded\", loading = 0.5 }\n",
                           "wish.profile = \"front-loaded\"\nwish.lead = 1.5\n"
                           "wish.loading = 0.5\n"}) {
    INFO(wish);
    const std::string flat = with_profile(wish, std::nullopt);
    const Job job = parse_job(flat, "job");
    CHECK(job.wish->profile == Profile::flat());
    CHECK(job.wish->loading == 0.5);
    CHECK(parse_job(with_profile(flat, 1.25), "job").wish->profile == Profile::front_loaded(1.25));
  }
  CHECK_THROWS_AS(with_profile("[job]\n", 1.5), InputError);
}

TEST_CASE("a file that exists is replaced only when that is asked") {
  const Folder folder;
  const std::string file = copied(folder, bench_jobs::flat);
  Desk desk(file);
  const auto sheet = desk.newest();
  const State state = bench::starting_state(sheet->job);
  CHECK_THROWS_AS(desk.save(*sheet, state, "job.toml", false), FileError);
  CHECK(content(file) == sheet->text);
  desk.save(*sheet, state, "job.toml", true);
  CHECK(content(file) != sheet->text);
}

TEST_CASE("an outline that the job is drawn from is never replaced") {
  const Folder folder;
  const std::string outline =
      folder.file("core.toml", "POLYGON ((-5 -5, 5 -5, 5 5, -5 5, -5 -5))\n");
  std::string text = content(bench_jobs::case_file("09-cross-core.toml"));
  const std::string table = "[segment.core]\n";
  const auto from = text.find(table) + table.size();
  text.replace(from, text.find("\n[", from) - from, "outline = \"core.toml\"\nunit = \"mm\"\n");
  Desk desk(folder.file("job.toml", text));
  const auto sheet = desk.newest();
  REQUIRE(sheet->text.find("core.toml") != std::string::npos);
  const State state = bench::starting_state(sheet->job);
  CHECK_THROWS_AS(desk.save(*sheet, state, "core.toml", true), FileError);
  CHECK(content(outline).starts_with("POLYGON"));
}

TEST_CASE("only a plain name in the job's folder is written") {
  for (const char* name : {"", ".toml", "..toml", "../out.toml", "a/b.toml", "/tmp/out.toml", "out",
                           "out.txt", ".hidden.toml", "a..b.toml", "-o.toml", " a.toml", "a\n.toml",
                           "a\\b.toml", "~.toml", "a%2fb.toml", "b\xc3\xa4.toml", "nul\x01.toml"}) {
    INFO(name);
    CHECK_FALSE(bench::is_plain_name(name));
  }
  CHECK_FALSE(bench::is_plain_name(std::string("a\0.toml", 7)));
  CHECK_FALSE(bench::is_plain_name(std::string(100, 'a') + ".toml"));
  CHECK(bench::is_plain_name("build-1.toml"));
  CHECK(bench::is_plain_name("04 one long_pour.v2.toml"));
}

TEST_CASE("a link is not followed out of the folder") {
  const Folder elsewhere;
  const Folder folder;
  const std::string target = elsewhere.file("target.toml", "kept");
  Desk desk(copied(folder, bench_jobs::flat));
  const auto sheet = desk.newest();
  const State state = bench::starting_state(sheet->job);
  fs::create_symlink(target, folder.file("link.toml"));
  fs::create_symlink(elsewhere.file("new.toml"), folder.file("dangling.toml"));
  fs::create_directory(folder.file("folder.toml"));
  for (const char* name : {"link.toml", "dangling.toml", "folder.toml"}) {
    CHECK_THROWS_AS(desk.save(*sheet, state, name, true), FileError);
  }
  CHECK(content(target) == "kept");
  CHECK(elsewhere.files() == 1);
}

TEST_CASE("a build that would not be read again is not written") {
  const Folder folder;
  Desk desk(copied(folder, bench_jobs::flat));
  const auto sheet = desk.newest();
  State state = bench::starting_state(sheet->job);
  state.layers[0].count = 9;  // longer than the room
  CHECK_THROWS_AS(desk.save(*sheet, state, "long.toml", false), InputError);
  CHECK(folder.files() == 1);
}

TEST_CASE("a job changed on the disk is another sheet, and the old one stays known") {
  const Folder folder;
  const std::string file = copied(folder, bench_jobs::flat);
  Desk desk(file);
  const auto first = desk.newest();
  CHECK(desk.stamp_on_disk() == first->stamp);
  static_cast<void>(folder.file("job.toml", first->text + "\n# a word\n"));
  CHECK(desk.stamp_on_disk() != first->stamp);
  const auto second = desk.newest();
  CHECK(second->stamp == desk.stamp_on_disk());
  CHECK(desk.sheet(first->stamp) == first);
  CHECK(desk.sheet("none") == nullptr);
  fs::remove(file);
  CHECK(desk.stamp_on_disk().empty());
}

TEST_CASE("the name that is proposed is free") {
  const Folder folder;
  Desk desk(copied(folder, bench_jobs::flat));
  CHECK(desk.free_name() == "job-1.toml");
  static_cast<void>(folder.file("job-1.toml", "there"));
  CHECK(desk.free_name() == "job-2.toml");
}
