// SPDX-License-Identifier: GPL-3.0-or-later
//
// The firing along the axis: every segment, and every slice of a long one, burns its own web at the
// pressure and mass flux that it sees.
//
// At each moment the gas is marched from the head end through ports and gaps (port_flow.hpp) to the
// nozzle, and the head pressure is the one at which the throat chokes: flow = p0 At / c* with the
// stagnation pressure p0 at the nozzle's entry. The march is quasi-steady: gas crosses a grain in
// about a millisecond, so filling and blow-down are left to transient.hpp. The rate is r(p), plus
// the erosive term of motor/erosion.hpp where the propellant has constants. With a wide port
// everything tends to steady.hpp, as (throat area / port area)^2.
//
// Left out: friction, flow across a gap other than what its faces make, the time to light, fronts
// that slope along the axis (a slice is a cylinder). See docs/firing-axial.md.
#pragma once

#include "grainwright/firing/firing.hpp"
#include "grainwright/firing/prepared_motor.hpp"

namespace grainwright {

/// How finely to cut the stack, and how exactly to follow it.
struct AxialOptions {
  int slices = 20;          ///< of the whole stack; each segment has at least one
  int points = 61;          ///< of the curve, at least; burnouts of slices are added
  double tolerance = 1e-6;  ///< relative, of each step in time
};

/// The whole firing, with `Firing::axial`. Pressure, in the curve and the summary, is that of the
/// head end, the highest there is; web in the curve is the mean over the slices. The lowest
/// pressure is that until 1 % of the propellant is left, when slices burn through one by one.
/// Where a port would choke before the throat the firing ends there, with `AxialFigures::choked`;
/// its figures are then the steady ones, which are too low. Throws InputError where a core is not
/// round and in the middle, or where slag closes the throat.
[[nodiscard]] Firing fire_axial(const PreparedMotor& motor, const AxialOptions& options = {});

/// The ports at lighting alone.
[[nodiscard]] PortProfile port_at_lighting(const Motor& motor, const AxialOptions& options = {});

}  // namespace grainwright
