// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/motor/motor.hpp"

#include <catch2/catch.hpp>
#include <limits>

using namespace grainwright;

namespace {

Motor sound_motor() {
  return {.grain = {.layers = {{.segment = {.length = 0.085,
                                            .outer_diameter = 0.05,
                                            .core_diameter = 0.02},
                                .count = 4}}},
          .propellant = {.name = "made up",
                         .ideal_density = 1770,
                         .characteristic_velocity = 1500,
                         .gamma = 1.2,
                         .expansion_gamma = 1.2,
                         .law = BurnLaw({{.rate = 3e-3, .at = 1e6, .exponent = 0.35}})},
          .nozzle = {.throat_diameter = 0.014, .exit_diameter = 0.034}};
}

}  // namespace

TEST_CASE("A sound motor draws no complaint, in vacuum neither") {
  Motor motor = sound_motor();
  CHECK(complaints(motor).empty());
  motor.day.ambient_pressure = 0;
  CHECK(complaints(motor).empty());
}

TEST_CASE("A motor's complaints are those of its parts and of its day, all at once") {
  Motor motor = sound_motor();
  motor.grain.layers[0].segment.core_diameter = 0.06;
  motor.propellant.gamma = 1;
  motor.nozzle.exit_diameter = 0.01;
  motor.day.temperature = -1;
  motor.day.ambient_pressure = std::numeric_limits<double>::quiet_NaN();
  std::vector<std::string> keys;
  for (const Complaint& complaint : complaints(motor)) keys.push_back(complaint.key);
  CHECK(keys == std::vector<std::string>{"segment 1: core", "gamma", "exit", "temperature",
                                         "ambient_pressure"});
}
