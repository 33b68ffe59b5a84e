// SPDX-License-Identifier: GPL-3.0-or-later
//
// From a log to the thrust of one firing: spikes set aside, the reading at rest and its drift taken
// off, the sign turned so that thrust is positive, the weight of the propellant that has left given
// back, and gaps and a scale at its end found. Nothing is smoothed: a filter would move the moments
// at which the thrust crosses a level.
#pragma once

#include <cmath>
#include <cstddef>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "grainwright/motor/gas.hpp"
#include "grainwright/stand/doubt.hpp"
#include "grainwright/stand/log.hpp"

namespace grainwright {

/// How the motor stands. Upright, the scale carries its weight as well.
enum class StandPosition {
  horizontal,
  nozzle_up,    ///< thrust presses on the scale as the weight does; the reading falls as it burns
  nozzle_down,  ///< thrust lifts; the reading rises as it burns
};

/// What a person says of a firing's log.
struct Handling {
  double from = -std::numeric_limits<double>::infinity();  ///< s of the log: rows before are unused
  double to = std::numeric_limits<double>::infinity();     ///< s of the log: rows after are unused
  std::optional<double> tare = {};      ///< N, the reading at rest; else from before ignition
  std::optional<bool> reversed = {};    ///< thrust reads negative; else found out
  std::optional<double> capacity = {};  ///< N of reading at which the scale is at its end
  StandPosition position = StandPosition::horizontal;
  double propellant_mass = 0;                     ///< kg, 0 where unknown
  double ambient_pressure = standard_atmosphere;  ///< Pa, that of the chamber before ignition
  bool keep_spikes = false;
};

/// Where rows are missing.
struct LogGap {
  double time = 0;       ///< s from ignition
  double length = 0;     ///< s
  std::size_t line = 0;  ///< of the file, of the row after it
};

/// How far off the line may be that is taken off as the reading at rest, through a mean before the
/// firing and one after it.
struct RestLine {
  double before_error = 0;  ///< N or Pa, standard deviation of the mean before
  double after_error = 0;   ///< likewise of that after; 0 where none was taken
  double from = 0;          ///< s from ignition: where the line is as wrong as the mean before,
  double to = 0;            ///< s: and as that after; equal where the line is level

  /// What is off at a time where the two means are off by so much.
  [[nodiscard]] double at(double time, double before, double after) const {
    return to > from ? before + (after - before) * (time - from) / (to - from) : before;
  }
  /// Standard deviation of the line at a time.
  [[nodiscard]] double error(double time) const {
    return std::hypot(at(time, before_error, 0), at(time, 0, after_error));
  }
};

/// A firing in SI; columns of equal length.
struct Trace {
  std::vector<double> time;      ///< s from ignition, rising
  std::vector<double> thrust;    ///< N
  std::vector<double> pressure;  ///< Pa, absolute; empty where none was logged
  double end = 0;                ///< s, from where on the thrust is at rest again
  double ignition = 0;           ///< s of the log
  double step = 0;               ///< s between rows, the median
  double noise = 0;              ///< N, standard deviation of a row at rest
  double pressure_noise = 0;     ///< Pa, likewise
  RestLine rest;                 ///< N, of the reading of thrust at rest
  RestLine pressure_rest;        ///< Pa
  double tare = 0;               ///< N, the reading at rest before ignition
  double tare_error = 0;         ///< N, standard deviation of the reading at rest amid the burn
  double drift = 0;              ///< N, of the reading at rest over the firing, weight apart
  double weight_change = 0;      ///< N, of the reading at rest by the propellant that left
  bool reversed = false;
  bool counted = false;          ///< rows were counted for time: one that was dropped does not show
  std::size_t quiet_before = 0;  ///< rows
  std::size_t quiet_after = 0;   ///< rows
  FaultCount spikes;             ///< rows set aside
  std::vector<LogGap> gaps;      ///< no row for `gap_steps` steps or more, in the burn
  std::size_t clipped = 0;  ///< rows at the scale's end; peak and impulse are then least values
  double clip_thrust = std::numeric_limits<double>::infinity();  ///< N, from where on it may be
  std::vector<std::string> remarks;
  std::vector<Doubt> doubts;  ///< why no law is to be learnt from it
};
/// Where no row comes for so many steps there is a gap. Common practice, no source.
inline constexpr double gap_steps = 5;
/// Thrust counts as rest within three times the noise, or this share of the peak.
inline constexpr double rest_share = 0.005;

/// Throws InputError where there is no firing in the log, no rest before it to take the tare from,
/// or where the sign is in doubt; each says what settles it, by the name of a Handling's field.
[[nodiscard]] Trace cleaned(Log log, const Handling& handling = {});

}  // namespace grainwright
