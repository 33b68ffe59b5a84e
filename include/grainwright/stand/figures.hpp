// SPDX-License-Identifier: GPL-3.0-or-later
//
// The figures of a measured firing. Definitions differ from book to book, so each is named:
//   burning time   from 10 % of peak thrust to the aft tangent bisector (Sutton & Biblarz, Rocket
//                  Propulsion Elements, chapter on solid propellants; from memory)
//   action time    between the first and the last 10 % of peak thrust; 5 % as hobby certification
//                  has it (from memory: NFPA 1125)
// The bisector depends on how the axes are scaled: here time is over the action time at 10 % and
// thrust over its peak. Integrals are by the trapezoidal rule over the rows as logged.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "grainwright/stand/trace.hpp"

namespace grainwright {

/// A figure and its standard deviation.
struct WithError {
  double value = 0;
  double error = 0;
};

/// What is between two moments.
struct TimeSpan {
  double from = 0;  ///< s
  double to = 0;    ///< s
  [[nodiscard]] double length() const { return to - from; }
};

/// The figures, by the definitions above.
struct StandFigures {
  TimeSpan action_10;              ///< s from ignition: first and last 10 % of peak thrust
  TimeSpan action_5;               ///< likewise 5 %
  double burning_time = 0;         ///< s, from the first 10 % to the bisector
  std::optional<double> bisector;  ///< s from ignition; none where no tail-off is seen
  double rise_time = 0;  ///< s, from 10 to 90 % of the mean over 5 to 15 % of the action time
  double tail_off = 0;   ///< s, from the bisector to the last 10 %
  double fall =
      0;  ///< s, from the last 75 % of the mean over the action time to the last 10 % of peak
  WithError total_impulse;      ///< N s, from ignition to rest
  WithError action_impulse_10;  ///< N s, within the action time
  WithError action_impulse_5;   ///< N s
  WithError peak_thrust;        ///< N, the greatest row
  WithError mean_thrust;        ///< N, over the burning time
  std::string letter_class;     ///< of the total impulse
  double share_of_class = 0;    ///< how far into the class: 0 at its lower limit, 1 at its upper
  std::optional<WithError> specific_impulse;         ///< s, where propellant was weighed
  std::optional<WithError> characteristic_velocity;  ///< m/s, where pressure was logged too
  std::optional<double> peak_pressure;               ///< Pa
  std::optional<double> mean_pressure;               ///< Pa, over the burning time
  std::vector<std::string> remarks;
};

/// What the figures need beside the log.
struct FigureOptions {
  double scale_error = 0;      ///< of the load cell, relative, one standard deviation
  double pressure_error = 0;   ///< of the pressure sensor, likewise
  double propellant_mass = 0;  ///< kg as weighed; 0 where not
  double mass_error = 0;       ///< kg, standard deviation
  double throat_area = 0;      ///< m2, for c*; 0 where unknown
};

[[nodiscard]] StandFigures figures_of(const Trace& trace, const FigureOptions& options = {});

/// Where the bisector of the angle between the tangents to the level before tail-off and to the
/// tail-off itself meets the curve: time in s. Axes are divided by the two scales. The level's
/// tangent is the least-squares line over the fifth of the time scale that ends a twentieth before
/// the corner, the tail's that between 75 and 25 % of the level. None where there is no fall.
[[nodiscard]] std::optional<double> aft_tangent_bisector(const std::vector<double>& time,
                                                         const std::vector<double>& thrust,
                                                         double time_scale, double thrust_scale);

/// First and last crossing of a level, by straight lines between rows; none where it is never
/// reached. Ends of the columns count where they are above.
[[nodiscard]] std::optional<TimeSpan> span_over(const std::vector<double>& time,
                                                const std::vector<double>& value, double level);
/// Integral of a column between two times, trapezoidal rule, ends by straight lines.
[[nodiscard]] double integral(const std::vector<double>& time, const std::vector<double>& value,
                              double from, double to);
/// How far an impulse in N s reaches into its letter class (`letter_class` of firing.hpp).
[[nodiscard]] double share_of_class(double impulse);

}  // namespace grainwright
