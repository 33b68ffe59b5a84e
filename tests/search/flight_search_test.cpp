// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a search is asked of the flight: bounds, and the most impulse for the rail.
#include <algorithm>
#include <catch2/catch.hpp>
#include <numbers>

#include "search/brute_force.hpp"
#include "search/shops.hpp"

using namespace grainwright;
using shops::mm;

namespace {

constexpr int march_steps = 500;
constexpr double march_error = 2e-4;  // relative, of impulse and speed

Airframe heavy() {
  return {.mass = 3.2,
          .hardware = 0.4,
          .diameter = 60 * mm,
          .drag = {{0, 0.5}, {0.8, 0.55}},
          .rail_length = 1.5};
}

SearchTask rail_task(double speed) {
  SearchTask task = shops::small();
  task.airframe = heavy();
  task.limits.pressure = 5e6;
  task.wish.for_the_rail = true;
  task.wish.rail_speed.least = speed;
  return task;
}

void compare_for_the_rail(const SearchTask& task) {
  const SearchResult result = search(task);
  const brute_force::Best slow = brute_force::search(task, march_steps);
  CHECK(result.proven);
  REQUIRE(slow.allowed > 0);
  REQUIRE_FALSE(result.designs.empty());
  const Design& best = result.designs.front();
  INFO("search " << best.summary.total_impulse << " N s, brute force " << -slow.misfit
                 << ", allowed " << slow.allowed);
  CHECK(best.summary.total_impulse == Approx(-slow.misfit).epsilon(march_error));
  CHECK(best.throat_diameter == slow.throat);
  CHECK(best.strength == "most impulse");
  REQUIRE(best.flight);
  CHECK(best.flight->rail_exit_speed >= task.wish.rail_speed.least);
}

}  // namespace

TEST_CASE("for the rail: the lattice search finds the most impulse that brute force finds") {
  for (double speed : {1.0, 12.0, 13.5}) {
    INFO(speed << " m/s");
    compare_for_the_rail(rail_task(speed));
  }
}

TEST_CASE("for the rail with a law of several pieces: what brute force finds") {
  SearchTask task = rail_task(9);
  task.propellant.law = shops::pieced_law();
  compare_for_the_rail(task);
}

TEST_CASE("for the rail under a height: what brute force finds") {
  SearchTask task = rail_task(10);
  const double free = search(task).designs.front().flight->apogee;
  task.wish.apogee.most = 0.8 * free;
  compare_for_the_rail(task);
  CHECK(search(task).designs.front().flight->apogee <= 0.8 * free);
}

TEST_CASE(
    "a flat burn with bounds on the flight: the lattice search finds what brute force finds") {
  SearchTask task = shops::small();
  task.airframe = heavy();
  task.wish.rail_speed.least = 11;
  task.wish.thrust_to_weight.least = 5;
  const SearchResult result = search(task);
  const brute_force::Best slow = brute_force::search(task, march_steps);
  CHECK(result.proven);
  REQUIRE(slow.allowed > 0);
  REQUIRE_FALSE(result.designs.empty());
  const Design& best = result.designs.front();
  CHECK(best.misfit == Approx(slow.misfit).margin(1e-4));
  CHECK(best.flight->rail_exit_speed >= 11);
  CHECK(best.flight->thrust_to_weight >= 5);
}

TEST_CASE("the rail costs impulse: the more speed is asked, the less impulse is left") {
  double before = 1e9;
  for (double speed : {1.0, 12.0, 13.5, 14.5}) {
    const SearchResult result = search(rail_task(speed));
    REQUIRE_FALSE(result.designs.empty());
    const double impulse = result.designs.front().summary.total_impulse;
    CHECK(impulse <= before);
    before = impulse;
  }
  CHECK(before < search(rail_task(1)).designs.front().summary.total_impulse);
}

TEST_CASE(
    "every design for the rail leaves it as asked, and none has more impulse than the first") {
  const SearchTask task = rail_task(12);
  const SearchResult result = search(task);
  REQUIRE(result.designs.size() > 1);
  for (const Design& design : result.designs) {
    const Flight flight = fly_steady(motor_of(task, design), *task.airframe);
    CHECK(flight.rail_exit_speed >= 12);
    CHECK(design.flight->rail_exit_speed == flight.rail_exit_speed);
    CHECK(design.summary.total_impulse <= result.designs.front().summary.total_impulse);
    CHECK(design.gives_up.find("fit") == std::string::npos);
  }
}

TEST_CASE(
    "more kinds or free lengths for the rail: at least as much impulse, as fast off the rail") {
  SearchTask task = rail_task(12);
  const double two_kinds = search(task).designs.front().summary.total_impulse;
  task.shop.most_kinds = 3;
  const SearchResult more = search(task);
  CHECK_FALSE(more.proven);
  CHECK(more.designs.front().summary.total_impulse >= two_kinds * (1 - 1e-12));
  CHECK(more.designs.front().flight->rail_exit_speed >= 12);
  task.shop.most_kinds = 2;
  task.shop.length_step = 0;
  const SearchResult free = search(task);
  REQUIRE_FALSE(free.designs.empty());
  CHECK(free.designs.front().summary.total_impulse >= two_kinds * (1 - 2e-3));
  CHECK(free.designs.front().flight->rail_exit_speed >= 12 * (1 - 1e-7));
}

TEST_CASE("an answer for the rail is the same on one thread and on three") {
  const SearchTask task = rail_task(12);
  const SearchResult alone = search(task, {.threads = 1});
  const SearchResult together = search(task, {.threads = 3});
  REQUIRE(alone.designs.size() == together.designs.size());
  for (std::size_t i = 0; i < alone.designs.size(); ++i) {
    CHECK(alone.designs[i].grain == together.designs[i].grain);
    CHECK(alone.designs[i].misfit == together.designs[i].misfit);
  }
}

TEST_CASE("where no build leaves the rail as asked, the relief is the fastest that can") {
  SearchTask task = rail_task(40);
  const SearchResult result = search(task);
  REQUIRE(result.designs.empty());
  const auto relief =
      std::ranges::find(result.reliefs, std::string("wish.rail_speed"), &Relief::key);
  REQUIRE(relief != result.reliefs.end());
  REQUIRE(relief->enough);
  CHECK(relief->asked == 40);
  CHECK(relief->needed < 40);
  task.wish.rail_speed.least = relief->needed * (1 - 1e-9);
  CHECK_FALSE(search(task).designs.empty());
  task.wish.rail_speed.least = relief->needed * (1 + 1e-6);
  CHECK(search(task).designs.empty());
}

TEST_CASE("reliefs name the apogee and the thrust over weight as well") {
  for (const char* key : {"wish.apogee", "wish.thrust_to_weight"}) {
    SearchTask task = shops::small();
    task.airframe = heavy();
    const bool height = std::string(key) == "wish.apogee";
    Bound& bound = height ? task.wish.apogee : task.wish.thrust_to_weight;
    bound.least = height ? 1e5 : 1e3;
    const SearchResult result = search(task);
    REQUIRE(result.designs.empty());
    const auto relief = std::ranges::find(result.reliefs, std::string(key), &Relief::key);
    REQUIRE(relief != result.reliefs.end());
    REQUIRE(relief->enough);
    bound.least = relief->needed * (1 - 1e-9);
    CHECK_FALSE(search(task).designs.empty());
  }
}

TEST_CASE("a wish for the flight without what it needs says which key is missing") {
  const auto keys_of = [](const SearchTask& task) {
    std::string keys;
    for (const Complaint& complaint : complaints(task)) keys += complaint.key + " ";
    return keys;
  };
  SearchTask task = rail_task(12);
  CHECK(keys_of(task).empty());
  task.airframe.reset();
  CHECK(keys_of(task) == "airframe ");
  task = rail_task(12);
  task.limits.pressure = std::numeric_limits<double>::infinity();
  CHECK(keys_of(task) == "limits.pressure ");
  task = rail_task(12);
  task.wish.rail_speed = {};
  CHECK(keys_of(task) == "wish.rail_speed ");
  task = rail_task(12);
  task.airframe->rail_length = 0;
  CHECK(keys_of(task) == "airframe.rail_length ");
}
