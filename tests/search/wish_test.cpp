// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/search/wish.hpp"

#include <catch2/catch.hpp>

#include "grainwright/search/search.hpp"
#include "search/brute_force.hpp"
#include "search/shops.hpp"
#include "support/checks.hpp"

namespace {

using namespace grainwright;
using shops::mm;

double mean_of(const Profile& profile, double power) {
  constexpr int steps = 20000;
  double sum = 0;
  for (int i = 0; i < steps; ++i) sum += std::pow(profile((i + 0.5) / steps), power);
  return sum / steps;
}

}  // namespace

TEST_CASE("every profile has unit mean, whatever it was given") {
  for (const Profile& profile : {Profile::flat(), Profile::front_loaded(1.5),
                                 Profile::through({{0, 30}, {0.25, 60}, {1, 10}}),
                                 Profile::through({{0, 2}, {0.5, 2}, {0.5, 1}, {1, 1}})}) {
    CHECK(mean_of(profile, 1) == Approx(1).epsilon(1e-7));
    CHECK(mean_of(profile, 2) == Approx(profile.mean_square()).epsilon(1e-6));
  }
}

TEST_CASE("a front-loaded profile starts at its lead") {
  CHECK(Profile::front_loaded(1.5)(0) == 1.5);
  CHECK(Profile::front_loaded(1.5)(1) == 0.5);
}

TEST_CASE("profiles that mean nothing are refused") {
  using Points = std::vector<Profile::Point>;
  for (const Points& points :
       {Points{}, Points{{0, 1}}, Points{{0, 0}, {1, 0}}, Points{{0, 1}, {0.9, 1}},
        Points{{0.1, 1}, {1, 1}}, Points{{0, 1}, {0.6, 1}, {0.4, 1}, {1, 1}},
        Points{{0, 1}, {1, -1}}, Points{{0, NAN}, {1, 1}}, Points{{0, 1}, {NAN, 1}, {1, 1}}}) {
    CHECK_THROWS_AS(Profile::through(points), InputError);
  }
  for (double lead : {1.0, 2.1, -1.0, double{NAN}}) {
    CHECK_THROWS_AS(Profile::front_loaded(lead), InputError);
  }
}

TEST_CASE("misfit agrees with a march in very small steps, for every kind of profile") {
  const Grain grain{{{{40 * mm, 38 * mm, 10 * mm, {Face::outer}}, 2},
                     {{25 * mm, 38 * mm, 16 * mm, {Face::outer, Face::head}}, 1}},
                    2 * mm};
  const SearchTask task = shops::small();
  for (bool pieced : {false, true}) {
    Propellant propellant = task.propellant;
    if (pieced) propellant.law = shops::pieced_law();
    const Motor motor{grain, propellant, task.nozzle, task.day};
    const SteadyChamber chamber(propellant, task.nozzle, task.day);
    const brute_force::Burn marched = brute_force::burn(grain, chamber, 200000);
    for (const Profile& profile :
         {Profile::flat(), Profile::front_loaded(1.3),
          Profile::through({{0, 1.5}, {0.3, 1.3}, {0.3, 0.9}, {0.8, 0.8}, {1, 0.4}})}) {
      checks::expect("misfit against a march in 400 000 steps of web", checks::closed_form,
                     brute_force::misfit(marched, profile), misfit(motor, profile),
                     checks::relative(2e-5));
    }
  }
}

TEST_CASE("a burn of constant thrust misses a straight profile by its slope over root twelve") {
  // Both ends and the core inhibited but one end: an end burner, whose area does not change.
  const Grain grain{{{{60 * mm, 38 * mm, 0, {Face::outer, Face::head}}, 1}}, 0};
  const SearchTask task = shops::small();
  Nozzle nozzle = task.nozzle;
  nozzle.throat_diameter = 3 * mm;
  nozzle.exit_diameter = 5 * mm;
  const Motor motor{grain, task.propellant, nozzle, task.day};
  checks::expect("misfit of constant thrust against a lead of 1.3", checks::closed_form,
                 0.6 / std::sqrt(12.0), misfit(motor, Profile::front_loaded(1.3)),
                 checks::relative(1e-9));
  CHECK(misfit(motor, Profile::flat()) < 1e-7);
}
