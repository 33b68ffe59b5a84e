// SPDX-License-Identifier: GPL-3.0-or-later
//
// Levenberg and Marquardt's method (Marquardt, SIAM J. Appl. Math. 11, 1963, 431) for residuals
// that come with their slopes, each over its standard deviation; what is known of a parameter
// beforehand is a residual of its own. Parameters stay within bounds: one at its end that wants
// further out is held there for the step.
#pragma once

#include <functional>
#include <vector>

#include "grainwright/stand/least_squares.hpp"

namespace grainwright {

/// Residuals, and of each parameter the column of their slopes.
struct Sloped {
  std::vector<double> residuals;
  std::vector<std::vector<double>> columns;
};

struct MarquardtProblem {
  Residuals residuals;
  std::function<Sloped(const std::vector<double>&)> slopes;
  std::vector<double> start;
  std::vector<double> least;  ///< bounds
  std::vector<double> most;
  std::vector<double> scale;  ///< about what each parameter can be wrong by
  int most_steps = 40;
};

/// The minimum near the start. Covariances are `(J'J)^-1`: residuals are over their deviations.
[[nodiscard]] LeastSquares marquardt(const MarquardtProblem& problem);

/// What parameters that were not fitted add to the errors of those that were: `considered` are the
/// columns of slopes of the former and `variances` what is known of them. The fitted ones come
/// first in the result, then the others. Source: Schmidt's consider covariance; Bierman,
/// Factorization Methods for Discrete Sequential Estimation, 1977, chapter 8 (from memory).
[[nodiscard]] std::vector<std::vector<double>> considered_covariance(
    const std::vector<std::vector<double>>& fitted,
    const std::vector<std::vector<double>>& considered, const std::vector<double>& variances);

}  // namespace grainwright
