// SPDX-License-Identifier: GPL-3.0-or-later
//
// The pipe, and what room it leaves for the grain. Pipe sizes: ASTM D1785 (outside diameter and
// least wall, schedules 40 and 80). The average bore is OD - 2.12 t: walls run from t to about 1.12
// t (tolerance of the standard), and this reproduces catalogue bores within 0.002 in.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "grainwright/error.hpp"

namespace grainwright {

/// A standard pipe. Unit m.
struct PipeSize {
  std::string_view name;  ///< "1-1/2 sch 40"
  double outer_diameter = 0;
  double least_wall = 0;
  [[nodiscard]] double average_bore() const { return outer_diameter - 2.12 * least_wall; }
};

/// All known sizes, 3/4 to 4 in.
[[nodiscard]] const std::vector<PipeSize>& pipe_sizes();
/// The size of that name ("1-1/2 sch 40", spacing and case forgiven), if known.
[[nodiscard]] std::optional<PipeSize> find_pipe(std::string_view name);

/// The pipe and what lines it.
struct Casing {
  std::string pipe;       ///< name of a standard size, or empty
  double bore = 0;        ///< m
  double wall = 0;        ///< m, least
  double grain_room = 0;  ///< m, for segments and spacers together
  double tube_wall = 0;   ///< m, wall of the casting tube
  double fit = 0;         ///< m, casting tube's clearance on the diameter

  bool operator==(const Casing&) const = default;
  /// Outer diameter of the propellant: bore - 2 tube_wall - fit.
  [[nodiscard]] double grain_outer_diameter() const { return bore - 2 * tube_wall - fit; }
};

[[nodiscard]] std::vector<Complaint> complaints(const Casing& casing);

}  // namespace grainwright
