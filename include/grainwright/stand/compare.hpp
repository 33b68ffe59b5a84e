// SPDX-License-Identifier: GPL-3.0-or-later
//
// A measured firing against the predicted one: how the figures stand to each other, whether they
// lie within what the burn rate's own doubt allows, where over the burn thrust differs, and which
// causes such a difference usually has. A hint is a hint: each names the figure that points to it.
#pragma once

#include <string>
#include <vector>

#include "grainwright/firing/firing.hpp"
#include "grainwright/quantity.hpp"
#include "grainwright/stand/fit.hpp"

namespace grainwright {

/// Burn rate's relative standard deviation where the job says nothing of its own: batches of the
/// same recipe differ by so much. Common practice, no source.
inline constexpr double usual_rate_error = 0.10;

/// The nozzle efficiency's, likewise.
inline constexpr double usual_efficiency_error = 0.03;

/// One figure, measured and predicted by the same definition.
struct Compared {
  std::string name;
  Dimension dimension = Dimension::ratio;
  double measured = 0;
  double predicted = 0;
  double low = 0;  ///< predicted, less 1.96 standard deviations by rate and efficiency
  double high = 0;
  /// Measured over predicted.
  [[nodiscard]] double ratio() const { return measured / predicted; }
  /// Whether the doubt of the prediction covers it.
  [[nodiscard]] bool within() const { return measured >= low && measured <= high; }
};

/// One tenth of the action time, each firing over its own.
struct Tenth {
  double measured = 0;   ///< N, mean
  double predicted = 0;  ///< N, mean
  double residual = 0;   ///< N: measured less predicted, both at the log's time, mean
};

/// What a difference may come from, by the experience of the trade.
struct Hint {
  std::string sign;     ///< what is seen, with its figures
  std::string suspect;  ///< what usually makes it
};

/// A measured firing beside the predicted one.
struct Comparison {
  Firing predicted;       ///< the job's, transient
  StandFigures figures;   ///< of the predicted curve, as if it had been measured
  double moment = 0;      ///< s after the log's ignition: lighting, were their first 10 % together
  double rate_error = 0;  ///< relative, one standard deviation
  double efficiency_error = 0;  ///< likewise
  std::vector<Compared> figures_compared;
  std::vector<Tenth> tenths;
  std::vector<Hint> hints;  ///< none where the shape is as predicted
};

/// `measured` are the figures of the shot's trace. `rate_error` above 0 takes the place of that of
/// the propellant, and of the usual one.
[[nodiscard]] Comparison compare(const Shot& shot, const StandFigures& measured,
                                 double rate_error = 0);

/// The log beside what was predicted and what was fitted, row by row; columns of equal length,
/// those empty that there are not.
struct Beside {
  std::vector<double> time;    ///< s from ignition
  std::vector<double> thrust;  ///< N
  std::vector<double> predicted_thrust;
  std::vector<double> fitted_thrust;
  std::vector<double> pressure;  ///< Pa
  std::vector<double> predicted_pressure;
  std::vector<double> fitted_pressure;
};
/// From a little before ignition to a little after rest. Above `most` rows, neighbours are
/// averaged.
[[nodiscard]] Beside beside(const Trace& trace, const Comparison* comparison, const Fit* fit,
                            std::size_t most);

/// A firing's curve as a trace without noise.
[[nodiscard]] Trace trace_of(const Firing& firing);

}  // namespace grainwright
