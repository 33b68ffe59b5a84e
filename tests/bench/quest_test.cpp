// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/quest.hpp"

#include <catch2/catch.hpp>

#include "bench/jobs.hpp"

using namespace grainwright;
using bench::Json;

namespace {

std::vector<Json> searched(const Job& job, const bench::State& state, std::stop_source stop = {}) {
  std::vector<Json> lines;
  bench::search_aloud(job, state, std::move(stop), [&lines](const Json& line) {
    lines.push_back(line);
    return true;
  });
  return lines;
}

}  // namespace

TEST_CASE("a search from the bench finds what the job's own search finds") {
  const Job job = bench_jobs::job(bench_jobs::flat);
  const std::vector<Json> lines = searched(job, bench::starting_state(job));
  REQUIRE_FALSE(lines.empty());
  const SearchResult result = search(search_task_of(job));
  const Json& last = lines.back();
  CHECK(last["proven"] == true);
  REQUIRE(last["designs"].size() == result.designs.size());
  CHECK(last["designs"][0]["misfit"] == result.designs[0].misfit);
  const bench::State state = bench::read_state(last["designs"][0]["state"], job);
  CHECK(state.layers == result.designs[0].grain.layers);
  CHECK(state.throat == result.designs[0].throat_diameter);
}

TEST_CASE("a search that is stopped, or that nobody hears, ends early") {
  const Job job = bench_jobs::job(bench_jobs::flat);
  std::stop_source stopped;
  stopped.request_stop();
  CHECK(searched(job, bench::starting_state(job), stopped).back()["stopped"] == true);
  std::stop_source stop;
  bench::search_aloud(job, bench::starting_state(job), stop, [](const Json&) { return false; });
  CHECK(stop.stop_requested());
}

TEST_CASE("a job that cannot be searched is refused in words") {
  const Job job = bench_jobs::job(bench_jobs::long_pour);
  const std::vector<Json> lines = searched(job, bench::starting_state(job));
  REQUIRE(lines.size() == 1);
  CHECK(lines[0]["refused"].get<std::string>().find("wish") != std::string::npos);
}

TEST_CASE("so many searches run at once, each stopped by its own ticket") {
  bench::Searches searches;
  const auto first = searches.begin("a");
  REQUIRE(first);
  CHECK_FALSE(searches.begin("a"));
  const auto second = searches.begin("b");
  REQUIRE(second);
  CHECK_FALSE(searches.begin("c"));
  CHECK(searches.stop("a"));
  CHECK(first->stop_requested());
  CHECK_FALSE(second->stop_requested());
  CHECK_FALSE(searches.stop("c"));
  searches.end("a");
  CHECK(searches.begin("c"));
  searches.stop_all();
  CHECK(second->stop_requested());
}
