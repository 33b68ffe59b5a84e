// SPDX-License-Identifier: GPL-3.0-or-later
//
// An invented motor and its shell for the tests of margins.
#pragma once

#include "grainwright/firing/prepared_motor.hpp"
#include "grainwright/strength/change.hpp"
#include "grainwright/strength/margins.hpp"
#include "support/invented.hpp"

namespace motors {

inline constexpr double mm = 1e-3;
inline constexpr double mpa = 1e6;

inline grainwright::Material plastic() {
  return {.name = "plastic",
          .conductivity = 0.16,
          .density = 1400,
          .specific_heat = 880,
          .ultimate = 50 * mpa,
          .shear = 25 * mpa,
          .bearing = 60 * mpa,
          .burst_stress = 44 * mpa,
          .strength_at = {{296, 1}, {320, 0.4}, {333, 0.2}},
          .caution = "Plastic shatters."};
}

inline grainwright::Material mortar() {
  return {.name = "mortar", .conductivity = 0.72, .density = 1860, .specific_heat = 780};
}

inline grainwright::Material cement() {
  return {.name = "cement",
          .cure = {{7200, 1.7 * mpa}, {259200, 6.2 * mpa}},
          .strength_at = {{296, 1}, {320, 0.4}, {333, 0.2}}};
}

inline grainwright::Motor motor() {
  return {.grain = invented::three_pours(),
          .propellant = invented::hot_propellant(0.3),
          .nozzle = {.throat_diameter = 11 * mm, .exit_diameter = 22 * mm}};
}

inline grainwright::Closure bonded_closure() {
  return {.material = plastic(),
          .thickness = 30 * mm,
          .seal_diameter = 41 * mm,
          .protection = {{mortar(), 4 * mm}},
          .joint = grainwright::BondedJoint{
              .bond = cement(), .length = 25 * mm, .diameter = 41 * mm, .cure_time = 300000}};
}

inline grainwright::Closure pinned_closure() {
  grainwright::Material steel{
      .name = "steel", .ultimate = 500 * mpa, .shear = 300 * mpa, .bearing = 500 * mpa};
  return {.material = plastic(),
          .thickness = 30 * mm,
          .seal_diameter = 41 * mm,
          .protection = {{mortar(), 4 * mm}},
          .joint = grainwright::PinnedJoint{.pin = steel,
                                            .count = 6,
                                            .diameter = 4 * mm,
                                            .depth = 12 * mm,
                                            .reach = 12 * mm,
                                            .end_distance = 12 * mm}};
}

inline grainwright::Shell shell() {
  grainwright::Shell shell{.tube = {48.3 * mm, 3.65 * mm}, .material = plastic()};
  shell.liner = {{grainwright::Material{"paper", 0.18, 930, 1340}, 1.5 * mm}};
  shell.head = bonded_closure();
  shell.nozzle = pinned_closure();
  return shell;
}

inline grainwright::Curve steady(const grainwright::Motor& motor) {
  return grainwright::fire_steady(motor).curve;
}

/// The same as what a changed motor is judged over.
inline std::optional<std::vector<grainwright::Curve>> steadily(const grainwright::Motor& motor) {
  return std::vector{steady(motor)};
}

}  // namespace motors
