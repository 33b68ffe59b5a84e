// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/state.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <catch2/catch.hpp>

#include "bench/jobs.hpp"
#include "grainwright/error.hpp"

using namespace grainwright;
using bench::Json;
using bench::State;

namespace {

State some_state(const Job& job) {
  State state;
  for (int i = *rc::gen::inRange(1, 5); i > 0; --i) {
    Layer layer;
    layer.count = *rc::gen::inRange(1, 8);
    layer.segment.length = *rc::gen::inRange(1, 4000) * 1e-4;
    layer.segment.outer_diameter = job.casing->grain_outer_diameter();
    layer.segment.core_diameter = *rc::gen::inRange(0, 300) * 1e-4;
    layer.segment.inhibited = {};
    for (Face face : all_faces) {
      if (*rc::gen::arbitrary<bool>()) layer.segment.inhibited.insert(face);
    }
    state.layers.push_back(layer);
  }
  state.throat = *rc::gen::inRange(10, 300) * 1e-4;
  state.temperature = *rc::gen::inRange(220, 350) + 0.15;
  if (*rc::gen::arbitrary<bool>()) {
    state.asked = {bench::Asked::Shape::front_loaded, 1 + *rc::gen::inRange(1, 21) * 0.05};
  }
  return state;
}

}  // namespace

TEST_CASE("a state comes back from its JSON as it was") {
  const Job job = bench_jobs::job(bench_jobs::flat);
  CHECK(rc::check("state -> JSON -> state", [&] {
    const State state = some_state(job);
    const Json json = Json::parse(bench::json_of(state, job).dump());
    RC_ASSERT(bench::read_state(json, job) == state);
  }));
}

TEST_CASE("snapping is done once: what is snapped stays") {
  const Job job = bench_jobs::job(bench_jobs::flat);
  CHECK(rc::check("snap(snap(s)) == snap(s)", [&] {
    State state = some_state(job);
    for (const char* what : {"length", "core", "throat", "temperature", "lead"}) {
      state = bench::snapped(state, {what, 0}, job);
      RC_ASSERT(bench::snapped(state, {what, 0}, job) == state);
    }
    const auto& rods = job.shop->mandrels;
    RC_ASSERT(std::ranges::find(rods, state.layers[0].segment.core_diameter) != rods.end());
  }));
}

TEST_CASE("a state that asks too much is refused with the key") {
  const Job job = bench_jobs::job(bench_jobs::flat);
  const Json sound = bench_jobs::start(job);
  const auto refused = [&](const char* pointer, const Json& value) {
    Json json = sound;
    json[Json::json_pointer(pointer)] = value;
    CHECK_THROWS_AS(bench::read_state(json, job), InputError);
  };
  refused("/segments", Json::array());
  refused("/segments", 3);
  refused("/segments/0/count", 0);
  refused("/segments/0/count", 41);
  refused("/segments/0/count", 1e300);
  refused("/segments/0/count", "3");
  refused("/segments/0/length_m", -1);
  refused("/segments/0/length_m", 1e9);
  refused("/segments/0/length_m", nullptr);
  refused("/segments/0/inhibited", {"head", "lid"});
  refused("/segments/0/inhibited", "head");
  refused("/throat_m", "3/8");
  refused("/temperature_K", Json::object());
  refused("/profile", "flat");
  refused("/profile/name", "square");
  refused("/profile", {{"name", "front-loaded"}, {"lead", 3}});
  Json many = sound;
  for (int i = 0; i < 12; ++i) many["segments"].push_back(sound["segments"][0]);
  CHECK_THROWS_AS(bench::read_state(many, job), InputError);
}

TEST_CASE("a job that cannot be fired is refused with what it lacks") {
  const Job job = parse_job("[job]\ntitle = \"empty\"\n", "job");
  CHECK_THROWS_WITH(bench::starting_state(job), Catch::Contains("propellant") &&
                                                    Catch::Contains("nozzle") &&
                                                    Catch::Contains("the bench needs it"));
}
