// SPDX-License-Identifier: GPL-3.0-or-later
//
// Before a law is kept: the motor fired with it, behind each log's own throat, must do what the log
// says; and what the fit found must be something that motors, nozzles and scales are.
#pragma once

#include <vector>

#include "grainwright/stand/compare.hpp"
#include "grainwright/stand/doubt.hpp"
#include "grainwright/stand/fit.hpp"

namespace grainwright {

/// By how much a figure may come back otherwise; where there are several logs, the load cell's
/// error more. Common practice, no source.
inline constexpr double round_trip_share = 0.03;
/// What nozzles have, by the builder's c*. Common practice, no source.
inline constexpr double least_efficiency = 0.7;
inline constexpr double most_efficiency = 1.03;
/// RMS of what is left, of peak thrust. Common practice, no source.
inline constexpr double most_left_over = 0.03;

/// One log, and the motor fired with the law that it taught.
struct RoundTrip {
  std::vector<Compared> figures;  ///< `low` and `high` are what is allowed of the prediction
  double allowed = 0;             ///< relative
  [[nodiscard]] bool met() const;
};

/// One a shot: peak thrust (mean over a hundredth of the burn, the rise apart), mean thrust, action
/// time and impulse, and peak pressure where it was logged.
[[nodiscard]] std::vector<RoundTrip> round_trips(const std::vector<Shot>& shots, const Fit& fit,
                                                 const FitOptions& options = {});

/// What speaks against the logs and the law: the traces' doubts, and the fit's. Slips that are
/// common (newtons for pounds, a time base off by two) are named with their factor.
[[nodiscard]] std::vector<Doubt> doubts_on(const std::vector<Shot>& shots, const Fit& fit,
                                           const std::vector<RoundTrip>& trips);

}  // namespace grainwright
