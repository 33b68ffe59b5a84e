// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/answer.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "bench/jobs.hpp"
#include "cli/json.hpp"
#include "grainwright/firing/transient.hpp"
#include "grainwright/flight/flight.hpp"

using namespace grainwright;
using bench::answer;
using bench::Json;
using bench_jobs::flat;
using bench_jobs::job;
using bench_jobs::start;

namespace {

Json sentence(const Json& said, const std::string& key) {
  for (const Json& one : said["limits"]) {
    if (one["key"] == key) return one;
  }
  return {{"mood", "not said"}, {"text", ""}};
}

}  // namespace

TEST_CASE("an answer's figures are the library's transient firing of that build") {
  const Job flat_job = job(flat);
  const Json said = answer({{"state", start(flat_job)}}, flat_job);
  REQUIRE_FALSE(said.contains("refused"));
  const Job built = bench::with_state(flat_job, bench::starting_state(flat_job));
  const Firing firing = fire_transient(motor_of(built), {.lighting = lighting_of(built)});
  CHECK(said["summary"] == cli::json_of(firing.summary));
  CHECK(said["curves"]["time_s"].size() == firing.curve.time.size());
  CHECK(said["fit"]["misfit"] == misfit(motor_of(built), built.wish->profile));
}

TEST_CASE("a job without segments starts from even ones that fit its room and its saw") {
  const Job flat_job = job(flat);
  const bench::State state = bench::starting_state(flat_job);
  REQUIRE(state.layers.size() == 1);
  const Grain grain{state.layers, flat_job.grain.spacer};
  CHECK(grain.stack_length() <= flat_job.casing->grain_room);
  const double steps = state.layers.front().segment.length / flat_job.shop->length_step;
  CHECK(std::abs(steps - std::round(steps)) < 1e-9);
}

TEST_CASE("a length that is dragged lands on the saw's step, and stays free when asked") {
  const Job flat_job = job(flat);
  Json request = {{"state", start(flat_job)}, {"moved", {{"what", "length"}, {"segment", 0}}}};
  request["state"]["segments"][0]["length_m"] = 0.0601;
  const double snapped = answer(request, flat_job)["state"]["segments"][0]["length_m"];
  const double steps = snapped / flat_job.shop->length_step;
  CHECK(std::abs(steps - std::round(steps)) < 1e-9);
  CHECK(std::abs(snapped - 0.0601) <= flat_job.shop->length_step / 2);
  request["free"] = true;
  CHECK(answer(request, flat_job)["state"]["segments"][0]["length_m"] == 0.0601);
}

TEST_CASE("a core and a throat land on the nearest tool of the shop") {
  const Job flat_job = job(flat);
  Json request = {{"state", start(flat_job)}, {"moved", {{"what", "core"}, {"segment", 0}}}};
  request["state"]["segments"][0]["core_m"] = 0.0145;
  CHECK(answer(request, flat_job)["state"]["segments"][0]["core_m"] == 0.015875);
  request["moved"]["what"] = "throat";
  request["state"]["throat_m"] = 0.0094;
  const Json said = answer(request, flat_job);
  CHECK(said["state"]["throat_m"].get<double>() == Approx(0.009525).epsilon(1e-12));
  CHECK(said["shown"]["throat"] == "0.375 in (3/8)");
}

TEST_CASE("what only one drag has moved stays where it was typed") {
  const Job flat_job = job(flat);
  Json request = {{"state", start(flat_job)}, {"moved", {{"what", "throat"}}}};
  request["state"]["segments"][0]["length_m"] = "50.3 mm";
  const Json said = answer(request, flat_job);
  CHECK(said["state"]["segments"][0]["length_m"] == 0.0503);
}

TEST_CASE("a size typed with its unit is read, one without is refused by name") {
  const Job flat_job = job(flat);
  Json request = {{"state", start(flat_job)}};
  request["state"]["segments"][0]["length_m"] = "2 7/16 in";
  CHECK(answer(request, flat_job)["shown"]["segments"][0]["length"] == "2.4375 in (2 7/16)");
  request["state"]["segments"][0]["length_m"] = "61";
  const Json said = answer(request, flat_job);
  REQUIRE(said.contains("refused"));
  CHECK(said["refused"][0].get<std::string>().find("length_m") == 0);
  CHECK_FALSE(said.contains("summary"));
}

TEST_CASE("a limit's sentence turns when it is crossed") {
  const Job flat_job = job(flat);
  Json request = {{"state", start(flat_job)}};
  request["state"]["throat_m"] = "7/16 in";
  const Json kept = sentence(answer(request, flat_job), "limits.pressure");
  CHECK(kept["mood"] != "broken");
  CHECK(kept["text"].get<std::string>().find("under its ceiling of") != std::string::npos);
  request["state"]["throat_m"] = "1/4 in";
  const Json broken = sentence(answer(request, flat_job), "limits.pressure");
  CHECK(broken["mood"] == "broken");
  CHECK(broken["text"].get<std::string>().find("OVER its ceiling of") != std::string::npos);
}

TEST_CASE("a stack that outgrows its room is fired all the same, and said to be too long") {
  const Job flat_job = job(flat);
  Json request = {{"state", start(flat_job)}};
  request["state"]["segments"][0]["count"] = 6;
  const Json said = answer(request, flat_job);
  CHECK(said.contains("summary"));
  CHECK(sentence(said, "casing.grain_room")["mood"] == "broken");
}

TEST_CASE("a core as wide as the tube is refused in words, and keeps what can be drawn") {
  const Job flat_job = job(flat);
  Json request = {{"state", start(flat_job)}};
  request["state"]["segments"][0]["core_m"] = 0.05;
  const Json said = answer(request, flat_job);
  CHECK(said.contains("refused"));
  CHECK(said["state"]["segments"][0]["core_m"] == 0.05);
}

TEST_CASE("at rest an answer has cuts, remarks and, with a shell, what holds") {
  const Job shell_job = job(bench_jobs::with_shell);
  const Json quick = answer({{"state", start(shell_job)}}, shell_job);
  CHECK_FALSE(quick.contains("cuts"));
  const Json full = answer({{"state", start(shell_job)}, {"full", true}}, shell_job);
  CHECK(full["cuts"]["pieces"].size() == full["state"]["segments"].size());
  CHECK(full["margins"].size() >= 3);
  CHECK(full["margins_verdict"].get<std::string>().find("fails first") != std::string::npos);
  CHECK(full["summary"] == quick["summary"]);
}

TEST_CASE("a job without shop and wish has a bench too") {
  const Job pour = job(bench_jobs::long_pour);
  const Json first = bench::opening(pour);
  CHECK(first["wishes"] == false);
  CHECK(first["searches"] == false);
  const Json said = answer({{"state", first["start"]}, {"full", true}}, pour);
  CHECK(sentence(said, "limits.pressure")["mood"] == "broken");
  CHECK_FALSE(said.contains("fit"));
}

TEST_CASE("the asked profile is the state's, and its line has the firing's mean") {
  const Job flat_job = job(flat);
  Json request = {{"state", start(flat_job)}};
  request["state"]["profile"] = {{"name", "front-loaded"}, {"lead", 1.4}};
  const Json said = answer(request, flat_job);
  const Json line = said["fit"]["line"];
  REQUIRE(line.size() == 2);
  const double mean = said["summary"]["mean_thrust_N"];
  CHECK(line[0][1].get<double>() == Approx(1.4 * mean));
  CHECK(line[1][1].get<double>() == Approx(0.6 * mean));
}

TEST_CASE("a chart's axis ends at or past its curve in round steps of the printed unit") {
  const Job flat_job = job(flat);
  const Json said = answer({{"state", start(flat_job)}}, flat_job);
  const Json axis = said["curves"]["axes"]["pressure"];
  CHECK(axis["end"].get<double>() >= said["summary"]["peak_pressure_Pa"].get<double>());
  CHECK(axis["ticks"][1][1].get<std::string>().ends_with("psi"));
}

TEST_CASE("with an airframe the figures tell the flight, and its bounds are sentences") {
  const Job rail = job("12-for-the-rail.toml");
  const Json said = answer({{"state", start(rail)}}, rail);
  REQUIRE_FALSE(said.contains("refused"));
  const Job built = bench::with_state(rail, bench::starting_state(rail));
  const Motor motor = motor_of(built);
  const Firing firing = fire_transient(motor, {.lighting = lighting_of(built), .points = 801});
  const double speed = fly(firing, motor, *built.airframe).rail_exit_speed;
  bool told = false;
  for (const Json& figure : said["figures"]) {
    told = told || (figure["key"] == "rail_exit_speed_m_s" && figure["value"] == speed);
    if (figure["key"] == "apogee_m") CHECK(figure["text"].get<std::string>().ends_with(" m"));
  }
  CHECK(told);
  CHECK(sentence(said, "wish.rail_speed")["mood"] != "not said");
  CHECK_FALSE(said.contains("fit"));  // it asks for impulse, not for a shape
}

TEST_CASE("a core that is not round stays the job's until it is given up") {
  const Job odd = job("09-cross-core.toml");
  Json request = {{"state", start(odd)}, {"full", true}};
  REQUIRE(request["state"]["segments"][0]["kept"] == 0);
  const Json kept = answer(request, odd);
  REQUIRE_FALSE(kept.contains("refused"));
  const Summary fired = fire_transient(motor_of(odd), {.lighting = lighting_of(odd)}).summary;
  CHECK(kept["summary"] == cli::json_of(fired));
  CHECK(kept["state"] == request["state"]);
  request["state"]["segments"][0].erase("kept");
  const Json round = answer(request, odd);
  CHECK(round["summary"]["initial_burning_area_m2"] != kept["summary"]["initial_burning_area_m2"]);
  request["state"]["segments"][0]["kept"] = 7;
  CHECK(answer(request, odd).contains("refused"));
}
