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

/// One figure, measured and predicted by the same definition.
struct Compared {
  std::string name;
  Dimension dimension = Dimension::ratio;
  double measured = 0;
  double predicted = 0;
  double low = 0;  ///< predicted, with the burn rate 1.96 standard deviations off either way
  double high = 0;
  [[nodiscard]] double ratio() const { return measured / predicted; }
  [[nodiscard]] bool within() const { return measured >= low && measured <= high; }
};

/// One tenth of the action time, each firing over its own.
struct Tenth {
  double measured = 0;   ///< N, mean
  double predicted = 0;  ///< N, mean
  double residual = 0;   ///< N: measured less predicted, both at the log's time, mean
};

struct Hint {
  std::string sign;     ///< what is seen, with its figures
  std::string suspect;  ///< what usually makes it
};

struct Comparison {
  Firing predicted;       ///< the job's, transient
  StandFigures figures;   ///< of the predicted curve, as if it had been measured
  double rate_error = 0;  ///< relative, one standard deviation
  std::vector<Compared> figures_compared;
  std::vector<Tenth> tenths;
  std::vector<Hint> hints;  ///< none where the shape is as predicted
};

/// `measured` are the figures of the shot's trace. `rate_error` above 0 takes the place of that of
/// the propellant, and of the usual one.
[[nodiscard]] Comparison compare(const Shot& shot, const StandFigures& measured,
                                 double rate_error = 0);

/// A firing's curve as a trace without noise.
[[nodiscard]] Trace trace_of(const Firing& firing);

}  // namespace grainwright
