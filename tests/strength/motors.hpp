// SPDX-License-Identifier: GPL-3.0-or-later
//
// An invented motor and its shell for the tests of margins.
#pragma once

#include "grainwright/firing/steady.hpp"
#include "grainwright/strength/change.hpp"
#include "grainwright/strength/margins.hpp"

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
  return {.grain = {.layers = {{.segment = {.length = 60 * mm,
                                            .outer_diameter = 38 * mm,
                                            .core_diameter = 12 * mm},
                                .count = 3}},
                    .spacer = 2 * mm},
          .propellant = {.name = "invented",
                         .ideal_density = 1840,
                         .density_ratio = 0.95,
                         .characteristic_velocity = 900,
                         .gamma = 1.136,
                         .expansion_gamma = 1.05,
                         .flame_temperature = 1600,
                         .molar_mass = 0.0399,
                         .law = grainwright::BurnLaw({{.rate = 8e-3, .at = 1e6, .exponent = 0.3}})},
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

}  // namespace motors
