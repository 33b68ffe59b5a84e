// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a motor must keep: limits that keep people whole, and bounds that a wish sets on its
// figures. One table says what there is to limit; the search, the assessment and every printed
// list of limits read it. A new limit is a row of that table, a key of the job's reader and a test.
#pragma once

#include <limits>
#include <span>
#include <string_view>
#include <vector>

#include "grainwright/assessment/figures.hpp"

namespace grainwright {

/// A figure's allowed range.
struct Bound {
  double least = -std::numeric_limits<double>::infinity();
  double most = std::numeric_limits<double>::infinity();
  /// Whether a value is allowed.
  [[nodiscard]] bool holds(double value) const { return value >= least && value <= most; }
  /// Whether anything is asked at all.
  [[nodiscard]] bool set() const;
  bool operator==(const Bound&) const = default;

  [[nodiscard]] static Bound at_least(double value);
  [[nodiscard]] static Bound at_most(double value);
};

/// What a build must keep, whatever is wished.
struct Limits {
  double pressure = std::numeric_limits<double>::infinity();  ///< Pa, ceiling on the peak
  double confidence = 0;      ///< part of all motors that must keep the ceiling; 0: not asked
  double pressure_floor = 0;  ///< Pa, while anything burns
  double port_to_throat = 0;  ///< at ignition, minimum
  double mass_flux = std::numeric_limits<double>::infinity();  ///< kg/(m2 s), maximum
};

/// Ranges that a wish sets on figures of the firing and the flight.
struct Bounds {
  double loading = 0;    ///< minimum propellant volume / grain-room volume at the outer diameter
  Bound burn_time;       ///< s
  Bound total_impulse;   ///< N s
  Bound initial_thrust;  ///< N
  Bound mean_thrust;     ///< N
  Bound peak_thrust;     ///< N
  // Of the flight, which needs an airframe.
  Bound rail_speed;        ///< m/s, as the last guide leaves the rail
  Bound thrust_to_weight;  ///< at first motion
  Bound apogee;            ///< m, above the launch

  /// Whether it can be judged only with an airframe.
  [[nodiscard]] bool asks_flight() const {
    return rail_speed.set() || thrust_to_weight.set() || apogee.set();
  }
};

/// The figures of a build that a limit can be set on. SI.
struct LimitedFigures {
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

/// When a figure is known, and so at what cost it is judged.
enum class LimitCost {
  looked_at,  ///< before the firing is integrated
  burned,     ///< the firing is integrated
  flown,      ///< the flight is
};

/// What is asked of a build: all that a row of the table may read.
struct Asked {
  const Limits& limits;
  const Bounds& bounds;
  double grain_room = std::numeric_limits<double>::infinity();  ///< m
};

/// One thing to limit.
struct LimitRow {
  std::string_view key;     ///< of the job file
  std::string_view figure;  ///< JSON key of the figure that it limits, in `figure_table`
  double LimitedFigures::*value = nullptr;
  LimitCost cost = LimitCost::burned;
  bool guards = false;  ///< people, not only the wish: broken, the motor must not be fired
  Bound (*bound)(const Asked&) = nullptr;

  /// Label and dimension are the figure's.
  [[nodiscard]] const FigureRow& row() const { return figure_row(figure); }
};

/// All that can be limited, what is known first in front.
[[nodiscard]] std::span<const LimitRow> limit_table();
/// The row of a job key, a longer key of the same table ("wish.burn_time.most") included; null
/// where nothing of that name is limited.
[[nodiscard]] const LimitRow* limit_row(std::string_view key);

/// One side of a limit that is asked.
struct Limit {
  const LimitRow* row = nullptr;
  bool ceiling = true;
  double value = 0;  ///< SI
};
/// Every side that is asked, limits before bounds.
[[nodiscard]] std::vector<Limit> limits_asked(const Asked& asked);

/// How near to a limit a figure is called near.
inline constexpr double near_limit = 0.10;

/// A figure held against one side of its limit.
struct Check {
  Limit limit;
  double value = 0;  ///< SI
  [[nodiscard]] bool broken() const;
  /// Within `near_limit` of it, and not broken.
  [[nodiscard]] bool near() const;
};
[[nodiscard]] bool any_broken(const std::vector<Check>& checks);

}  // namespace grainwright
