// SPDX-License-Identifier: GPL-3.0-or-later
//
// What would help: each change is tried, not guessed, by firing and judging the changed motor.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "grainwright/strength/margins.hpp"

namespace grainwright {

/// A motor's firings over time, by whatever models judge it; the hardest counts. Nothing where it
/// cannot be fired, as when a port chokes: such a change is no help.
using Fire = std::function<std::optional<std::vector<Curve>>(const Motor&)>;

/// In rising order of the trouble that they make.
enum class ChangeKind { thicker_protection, longer_bond, more_pins, larger_throat };

/// One change of the shell, and what it does.
struct Change {
  ChangeKind kind = ChangeKind::thicker_protection;
  std::string part;        ///< which is changed; of a throat, the part that it is to help
  double from = 0;         ///< m, or a count
  double to = 0;           ///< the least that gives the part its factor, or the most that was tried
  double part_ratio = 0;   ///< of that part, changed
  double motor_ratio = 0;  ///< of what gives first then
  std::string gives_first;  ///< the part that gives first then
  bool helps = false;       ///< the part's ratio grows by a hundredth or more
};

/// What the changes may be made of.
struct ChangeOptions {
  Material spare;               ///< laid before a closure that has no protection
  std::vector<double> throats;  ///< m, to choose from; past the largest, steps of 1/64 in
};

/// For every part under its factor, or the weakest where all hold: every kind of change that it can
/// have, each as small as gives the part its factor. Cheapest kinds first.
[[nodiscard]] std::vector<Change> tried_changes(const Shell& shell, const Motor& motor,
                                                const Margins& now, const Fire& fire,
                                                const ChangeOptions& options);

/// The smallest of these throats (m) with which every part keeps its factor, with the same grain.
[[nodiscard]] std::optional<double> smallest_throat(const Shell& shell, const Motor& motor,
                                                    std::vector<double> throats, const Fire& fire);

/// The motor with another throat; a straight hole stays one, and an exit is never narrower.
[[nodiscard]] Motor with_throat(Motor motor, double throat_diameter);

}  // namespace grainwright
