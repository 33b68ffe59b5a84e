// SPDX-License-Identifier: GPL-3.0-or-later
//
// The rows of a log that a firing is held against, and what the firing says at them.
#pragma once

#include <vector>

#include "grainwright/firing/firing.hpp"
#include "grainwright/stand/trace.hpp"

namespace grainwright {

/// The mean of some neighbouring rows, or one of them.
struct FitRow {
  double from = 0;    ///< s from ignition; equal to `to` for one row
  double to = 0;      ///< s
  double value = 0;   ///< N or Pa
  double weight = 1;  ///< square root of how many rows it is the mean of
  double extra = 0;   ///< N or Pa, standard deviation of what a firing may differ by besides noise
};

/// When a log's thrust rises.
struct Rise {
  double tenth = 0;       ///< s from ignition: the first 10 % of peak thrust
  double risen = 0;       ///< s: the first 90 % of the mean over 5 to 15 % of the action time
  double length = 0;      ///< s from the one to the other, a row at least
  double last_tenth = 0;  ///< s: the last 10 % of peak thrust
};
[[nodiscard]] Rise rise_of(const Trace& trace);

/// Rows from rest to rest, those of a scale at its end left out. Some of the rest before the rise
/// is among them: a firing that burns before the log did meets thrust where there was none. The
/// rise itself, and what follows to a twentieth of the action time, is the igniter's and the
/// flame's as much as the propellant's, so there each row may differ by `rise_share` of the peak
/// besides. Above some hundreds, neighbours are put together.
[[nodiscard]] std::vector<FitRow> thrust_rows(const Trace& trace);
[[nodiscard]] std::vector<FitRow> pressure_rows(const Trace& trace);
inline constexpr double rise_share = 0.05;

/// A column of a firing's curve over time, with its integral.
class Followed {
 public:
  /// Before lighting and after its end the value is `rest`.
  Followed(const std::vector<double>& time, const std::vector<double>& value, double rest);
  /// Its mean over a row, the log's time `moment` being the firing's 0 and a second of the log
  /// 1 / clock of the firing's.
  [[nodiscard]] double over(const FitRow& row, double moment, double clock = 1) const;

 private:
  [[nodiscard]] double at(double time) const;
  [[nodiscard]] double integral_to(double time) const;
  const std::vector<double>& time_;
  const std::vector<double>& value_;
  std::vector<double> integral_;
  double rest_;
};

/// A column as an amplifier of first order shows it that lags by a time constant in s: at the
/// column's own times, and after its end at those that are added to `time`.
[[nodiscard]] std::vector<double> lagged(std::vector<double>& time,
                                         const std::vector<double>& value, double rest, double lag);

}  // namespace grainwright
