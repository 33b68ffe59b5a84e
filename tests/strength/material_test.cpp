// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/strength/material.hpp"

#include <catch2/catch.hpp>

using namespace grainwright;

TEST_CASE("Strength falls along straight lines and ends with its table") {
  const Material plastic{.name = "invented", .strength_at = {{300, 1}, {320, 0.6}, {340, 0.2}}};
  CHECK(plastic.strength_share(250) == 1);
  CHECK(plastic.strength_share(300) == 1);
  CHECK(plastic.strength_share(310) == Approx(0.8));
  CHECK(plastic.strength_share(320) == Approx(0.6));
  CHECK(plastic.strength_share(340) == Approx(0.2));
  CHECK(plastic.strength_share(340.1) == 0);
  CHECK(Material{.name = "unknown"}.strength_share(2000) == 1);
}

TEST_CASE("A bond has what it has reached, and nothing before its first hours") {
  const Material cement{.name = "invented", .cure = {{7200, 1.7e6}, {57600, 3.4e6}}};
  CHECK(cement.lap_shear(7199) == 0);
  CHECK(cement.lap_shear(7200) == 1.7e6);
  CHECK(cement.lap_shear(50000) == 1.7e6);
  CHECK(cement.lap_shear(1e9) == 3.4e6);
  CHECK(Material{.name = "glue", .shear = 9e6}.lap_shear(0) == 9e6);
}

TEST_CASE("Values that no material has are complained of") {
  const Material odd{.name = "odd",
                     .conductivity = -1,
                     .cure = {{2, 1e6}, {1, 0}},
                     .strength_at = {{300, 1.2}, {300, 0.5}}};
  std::vector<std::string> keys;
  for (const Complaint& complaint : complaints(odd)) keys.push_back(complaint.key);
  CHECK(keys ==
        std::vector<std::string>{"conductivity", "strength_at", "strength_at", "cure", "cure"});
  CHECK(complaints(Material{.name = "nothing known"}).empty());
}
