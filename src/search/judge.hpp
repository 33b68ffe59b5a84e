// SPDX-License-Identifier: GPL-3.0-or-later
//
// The limits and bounds of a task as rows of one table: what is judged here decides what is
// allowed, and, when nothing is, which limit stands in the way.
#pragma once

#include <vector>

#include "grainwright/search/search.hpp"

namespace grainwright {

/// The figures of a build that a limit can be set on. SI.
struct Figures {
  double stack_length = 0;
  double loading = 0;
  double peak_pressure = 0;
  double lowest_pressure = 0;
  double port_to_throat = 0;
  double mass_flux = 0;
  double burn_time = 0;
  double total_impulse = 0;
  double initial_thrust = 0;
  double mean_thrust = 0;
  double peak_thrust = 0;
  double thrust_to_weight = 0;
  double rail_speed = 0;
  double apogee = 0;
};

/// When a figure is known, and at what cost.
enum class Stage {
  looked_at,  ///< before the firing is integrated
  burned,     ///< the firing is integrated
  flown,      ///< the flight is
};

struct LimitRow {
  const char* key = nullptr;  ///< of the job file
  double Figures::*figure = nullptr;
  Bound bound;  ///< with room for rounding
  Bound asked;  ///< as the job has it; not set where the program adds the limit
  Stage stage = Stage::burned;

  [[nodiscard]] bool holds(const Figures& figures) const { return bound.holds(figures.*figure); }
};

/// The rows that are set, the cheap ones first.
[[nodiscard]] std::vector<LimitRow> limit_rows(const SearchTask& task);

}  // namespace grainwright
