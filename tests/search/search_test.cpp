// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/search/search.hpp"

#include <catch2/catch.hpp>

#include "search/brute_force.hpp"
#include "search/shops.hpp"

namespace {

using namespace grainwright;
using shops::mm;

constexpr int brute_steps = 200;
// What a midpoint march of so many steps leaves on a misfit.
constexpr double brute_error = 2e-4;
// The same where stretches are many, and slivers burn on at next to no pressure.
constexpr int odd_steps = 12;
constexpr double odd_error = 2e-3;

// The search's answer is what the slow one finds, and is what it says it is.
void compare_with_brute_force(const SearchTask& task, int steps = brute_steps,
                              double error = brute_error) {
  const SearchResult result = search(task);
  const brute_force::Best slow = brute_force::search(task, steps);
  CHECK(result.proven);
  if (slow.allowed == 0) {
    CHECK(result.designs.empty());
    return;
  }
  REQUIRE_FALSE(result.designs.empty());
  const Design& best = result.designs.front();
  INFO("search " << best.misfit << " in throat " << best.throat_diameter << ", brute force "
                 << slow.misfit << " in throat " << slow.throat << ", allowed " << slow.allowed);
  CHECK(std::abs(best.misfit - slow.misfit) < error);
  const Motor motor = motor_of(task, best);
  CHECK(std::abs(misfit(motor, task.wish.profile) - best.misfit) < 1e-8);
  // No build is better, judged by the same slow march.
  const SteadyChamber chamber(motor.propellant, motor.nozzle, motor.day);
  const double marched =
      brute_force::misfit(brute_force::burn(best.grain, chamber, steps), task.wish.profile);
  CHECK(marched <= slow.misfit + brute_error);
}

Core cross_core() {
  return {NamedCore{Cross{{.length = 22 * mm, .width = 5 * mm}}}};
}

Core core_off_centre() {
  return {OffCentreCore{.diameter = 10 * mm, .offset = 4 * mm}};
}

Core drawn_core() {
  const auto outline = read_outline_wkt("POLYGON ((-9 -4, 9 -4, 9 4, -9 4, -9 -4))", mm);
  return {DrawnCore{outline, "POLYGON ((-9 -4, 9 -4, 9 4, -9 4, -9 -4))", "mm"}};
}

}  // namespace

TEST_CASE("a flat burn: the lattice search finds what brute force finds") {
  SearchTask task = shops::small();
  task.limits.pressure = 5e6;
  task.limits.pressure_floor = 0.5e6;
  task.wish.loading = 0.5;
  compare_with_brute_force(task);
}

TEST_CASE("a front-loaded burn: the lattice search finds what brute force finds") {
  SearchTask task = shops::small();
  task.wish.profile = Profile::front_loaded(1.4);
  task.limits.pressure = 6e6;
  compare_with_brute_force(task);
}

TEST_CASE("a profile with kinks and a step: the lattice search finds what brute force finds") {
  SearchTask task = shops::small();
  task.wish.profile = Profile::through({{0, 1.5}, {0.3, 1.3}, {0.3, 0.9}, {0.8, 0.8}, {1, 0.4}});
  task.wish.loading = 0.4;
  compare_with_brute_force(task);
}

TEST_CASE("a law of several pieces: the lattice search finds what brute force finds") {
  SearchTask task = shops::small();
  task.propellant.law = shops::pieced_law();
  task.limits.port_to_throat = 1.2;
  task.wish.total_impulse.least = 90;
  compare_with_brute_force(task);
}

TEST_CASE("one kind and only bare ends: the lattice search finds what brute force finds") {
  SearchTask task = shops::small();
  task.shop.most_kinds = 1;
  task.shop.bare_ends = {2};
  compare_with_brute_force(task);
}

TEST_CASE("three kinds: the best found is no worse than two kinds, and close to brute force") {
  SearchTask task = shops::small();
  task.limits.pressure = 5e6;
  task.wish.loading = 0.5;
  const double two_kinds = search(task).designs.at(0).misfit;
  task.shop.most_kinds = 3;
  const SearchResult result = search(task);
  CHECK_FALSE(result.proven);
  CHECK(result.designs.at(0).misfit <= two_kinds + 1e-12);
  const brute_force::Best slow = brute_force::search(task, brute_steps);
  CHECK(result.designs.at(0).misfit < slow.misfit + 0.002);
}

TEST_CASE("free lengths: at least as good as a fine saw, and within every limit") {
  SearchTask task = shops::small();
  task.limits.pressure = 5e6;
  task.limits.port_to_throat = 1.2;
  task.wish.loading = 0.5;
  task.shop.length_step = 2 * mm;
  const double on_the_saw = search(task).designs.at(0).misfit;
  task.shop.length_step = 0;
  const SearchResult result = search(task);
  CHECK_FALSE(result.proven);
  REQUIRE_FALSE(result.designs.empty());
  const Design& best = result.designs.front();
  CHECK(best.misfit < on_the_saw + 1e-3);
  CHECK(best.grain.stack_length() <= task.grain_room * (1 + 1e-9));
  CHECK(best.summary.peak_pressure <= task.limits.pressure);
  CHECK(best.loading >= task.wish.loading * (1 - 1e-9));
  for (const Layer& layer : best.grain.layers) {
    CHECK(layer.segment.length >= task.shop.shortest_segment * (1 - 1e-9));
  }
}

TEST_CASE("the answer is the same on one thread and on three") {
  SearchTask task = shops::small();
  task.wish.loading = 0.4;
  task.shop.length_step = 4 * mm;
  for (int kinds : {2, 3}) {
    task.shop.most_kinds = kinds;
    const SearchResult alone = search(task, {.threads = 1});
    const SearchResult together = search(task, {.threads = 3});
    REQUIRE(alone.designs.size() == together.designs.size());
    CHECK(alone.builds == together.builds);
    for (std::size_t i = 0; i < alone.designs.size(); ++i) {
      CHECK(alone.designs[i].grain == together.designs[i].grain);
      CHECK(alone.designs[i].throat_diameter == together.designs[i].throat_diameter);
      CHECK(alone.designs[i].misfit == together.designs[i].misfit);
    }
  }
}

TEST_CASE("the order of rods and throats in the shop decides nothing") {
  SearchTask task = shops::small();
  const SearchResult as_given = search(task);
  std::ranges::reverse(task.shop.mandrels);
  std::ranges::reverse(task.shop.throats);
  task.shop.throats.push_back(task.shop.throats.front());
  const SearchResult reversed = search(task);
  CHECK(as_given.designs.at(0).grain == reversed.designs.at(0).grain);
  CHECK(as_given.designs.at(0).misfit == reversed.designs.at(0).misfit);
}

TEST_CASE("every design on the shortlist meets every limit and says what it gives up") {
  SearchTask task = shops::small();
  task.shop.length_step = 5 * mm;
  task.limits.pressure = 4e6;
  task.limits.mass_flux = 900;
  task.wish.burn_time.least = 0.5;
  task.wish.loading = 0.5;
  const SearchResult result = search(task);
  REQUIRE(result.designs.size() > 1);
  CHECK(result.designs.front().gives_up.empty());
  for (const Design& design : result.designs) {
    const Motor motor = motor_of(task, design);
    const Firing firing = fire_steady(motor);
    CHECK(firing.summary.peak_pressure <= task.limits.pressure);
    CHECK(firing.summary.peak_mass_flux <= task.limits.mass_flux);
    CHECK(firing.summary.burn_time >= 0.5);
    CHECK(firing.summary.total_impulse == Approx(design.summary.total_impulse).epsilon(1e-12));
    CHECK(design.misfit >= result.designs.front().misfit);
    CHECK((&design == &result.designs.front()) == design.gives_up.empty());
  }
}

TEST_CASE("when nothing fits, each relief alone lets a build through, and a little less does not") {
  SearchTask task = shops::small();
  task.limits.pressure = 1.2e6;
  task.wish.loading = 0.8;
  const SearchResult result = search(task);
  REQUIRE(result.designs.empty());
  REQUIRE_FALSE(result.reliefs.empty());
  int enough = 0;
  for (const Relief& relief : result.reliefs) {
    if (!relief.enough) continue;
    ++enough;
    const auto designs_with = [&](double value) {
      SearchTask relieved = task;
      if (relief.key == "limits.pressure") relieved.limits.pressure = value;
      if (relief.key == "wish.loading") relieved.wish.loading = value;
      if (relief.key == "limits.pressure_floor") relieved.limits.pressure_floor = value;
      return search(relieved).designs.size();
    };
    INFO(relief.key << ": " << relief.asked << " asked, " << relief.needed << " needed");
    if (relief.key == "casing.grain_room") continue;  // it changes the lattice too
    CHECK(designs_with(relief.needed + 1e-6 * (relief.needed - relief.asked)) > 0);
    CHECK(designs_with(relief.asked + 0.999 * (relief.needed - relief.asked)) == 0);
  }
  CHECK(enough > 0);
}

TEST_CASE("a search asked to stop stops, and says so") {
  SearchTask task = shops::small();
  task.shop.length_step = 1 * mm;
  std::stop_source stop;
  stop.request_stop();
  const SearchResult result = search(task, {.stop = stop.get_token()});
  CHECK(result.stopped);
  CHECK_FALSE(result.proven);
}

TEST_CASE("a rod as wide as the propellant is complained of, not passed over") {
  SearchTask task = shops::small();
  CHECK(complaints(task).empty());
  task.shop.mandrels.push_back(task.outer_diameter);
  const std::vector<Complaint> found = complaints(task);
  REQUIRE(found.size() == 1);
  CHECK(found[0].key == "shop.mandrels");
  CHECK(found[0].allowed.find("narrower than the propellant") != std::string::npos);
}

TEST_CASE("a search that cannot begin says which key to change") {
  SearchTask task = shops::small();
  task.shop.mandrels = {40 * mm};
  task.shop.bare_ends = {3};
  task.shop.throats.clear();
  try {
    (void)search(task);
    FAIL("accepted");
  } catch (const InputError& error) {
    std::string keys;
    for (const Complaint& complaint : error.complaints()) keys += complaint.key + " ";
    CHECK(keys.find("shop.mandrels") != std::string::npos);
    CHECK(keys.find("shop.bare_ends") != std::string::npos);
    CHECK(keys.find("shop.throats") != std::string::npos);
  }
}

TEST_CASE("cores that are not round: the lattice search finds what brute force finds") {
  SearchTask task = shops::small();
  task.shop.mandrels = {16 * mm};
  task.shop.cores = {cross_core()};
  task.shop.length_step = 20 * mm;
  task.shop.most_segments = 3;
  task.limits.pressure = 5e6;
  task.limits.port_to_throat = 1.2;
  task.wish.loading = 0.4;
  compare_with_brute_force(task, odd_steps, odd_error);
  const Design best = search(task).designs.at(0);
  CHECK(std::ranges::any_of(best.grain.layers,
                            [](const Layer& layer) { return layer.segment.core != nullptr; }));
  task.shop.cores = {core_off_centre(), drawn_core()};
  task.shop.mandrels.clear();
  task.limits.port_to_throat = 0;
  task.wish.profile = Profile::front_loaded(1.4);
  compare_with_brute_force(task, odd_steps, odd_error);
}

TEST_CASE("an odd core is taken where only it can give what is asked") {
  SearchTask task = shops::small();
  task.shop.mandrels = {10 * mm};
  task.shop.throats = {8 * mm};
  task.shop.bare_ends = {0};
  task.wish.initial_thrust.least = 120;
  CHECK(search(task).designs.empty());
  task.shop.cores = {cross_core()};
  for (int kinds : {1, 2, 3}) {
    task.shop.most_kinds = kinds;
    const SearchResult result = search(task);
    REQUIRE_FALSE(result.designs.empty());
    for (const Design& design : result.designs) {
      CHECK(design.summary.initial_thrust >= 120);
      CHECK(std::ranges::any_of(design.grain.layers, [](const Layer& layer) {
        return layer.segment.core && *layer.segment.core == cross_core();
      }));
      CHECK(std::abs(misfit(motor_of(task, design), task.wish.profile) - design.misfit) < 1e-8);
    }
  }
}

TEST_CASE("odd cores with free lengths, or a bound on mass flux, keep every limit") {
  SearchTask task = shops::small();
  task.shop.mandrels = {16 * mm};
  task.shop.cores = {cross_core()};
  task.shop.most_segments = 2;
  task.limits.pressure = 5e6;
  task.limits.mass_flux = 500;
  for (double step : {10 * mm, 0.0}) {
    task.shop.length_step = step;
    const SearchResult result = search(task);
    REQUIRE_FALSE(result.designs.empty());
    for (const Design& design : result.designs) {
      CHECK(design.summary.peak_pressure <= task.limits.pressure);
      CHECK(design.summary.peak_mass_flux <= task.limits.mass_flux);
      CHECK(design.grain.stack_length() <= task.grain_room * (1 + 1e-9));
    }
    task.limits.mass_flux = std::numeric_limits<double>::infinity();
  }
}

TEST_CASE("an odd core that makes no segment of this shop is complained of under its key") {
  SearchTask task = shops::small();
  task.shop.cores = {cross_core(), {OffCentreCore{.diameter = 10 * mm, .offset = 20 * mm}}};
  std::vector<Complaint> found = complaints(task);
  REQUIRE(found.size() == 1);
  CHECK(found[0].key == "shop.cores 2: offset");
  CHECK(found[0].given == "20 mm");
  task.shop.cores = {{NamedCore{Cross{{.length = 60 * mm, .width = 5 * mm}}}}};
  found = complaints(task);
  REQUIRE(found.size() == 1);
  CHECK(found[0].key == "shop.cores 1");
  task.shop.cores = {{tapered_core(0.1, 10 * mm, 12 * mm)}};
  found = complaints(task);
  REQUIRE(found.size() == 1);
  CHECK(found[0].allowed.find("the same from end to end") != std::string::npos);
  task.shop.mandrels.clear();
  task.shop.cores = {cross_core()};
  CHECK(complaints(task).empty());
  task.shop.cores.clear();
  REQUIRE(complaints(task).size() == 1);
  CHECK(complaints(task)[0].key == "shop.mandrels");
}
