// SPDX-License-Identifier: GPL-3.0-or-later
//
// The rows of a log that a firing is held against, and what the firing says at them.
#pragma once

#include <vector>

#include "grainwright/firing/firing.hpp"
#include "grainwright/stand/trace.hpp"

namespace grainwright {

/// Of peak thrust, from which on rows count.
inline constexpr double lit_share = 0.1;

/// The mean of some neighbouring rows, or one of them.
struct FitRow {
  double from = 0;    ///< s from ignition; equal to `to` for one row
  double to = 0;      ///< s
  double value = 0;   ///< N or Pa
  double weight = 1;  ///< square root of how many rows it is the mean of
};

/// Rows from the first 10 % of peak thrust to rest, those of a scale at its end left out: before
/// them the igniter burns, and the model begins with a jump. Above a few thousand, neighbours are
/// put together.
[[nodiscard]] std::vector<FitRow> thrust_rows(const Trace& trace);
[[nodiscard]] std::vector<FitRow> pressure_rows(const Trace& trace);

/// A column of a firing's curve over time, with its integral.
class Followed {
 public:
  /// Before lighting and after its end the value is `rest`.
  Followed(const std::vector<double>& time, const std::vector<double>& value, double rest);
  /// Its mean over a row, the log's time `moment` being the firing's 0.
  [[nodiscard]] double over(const FitRow& row, double moment) const;

 private:
  [[nodiscard]] double at(double time) const;
  [[nodiscard]] double integral_to(double time) const;
  const std::vector<double>& time_;
  const std::vector<double>& value_;
  std::vector<double> integral_;
  double rest_;
};

}  // namespace grainwright
