// SPDX-License-Identifier: GPL-3.0-or-later
//
// Least squares of a model that is only known by running it. Started without slopes (Rowan's
// subplex, as NLopt's SBPLX has it), which strides over what is rough, then followed by NLopt's
// SLSQP with difference quotients, and finished by Gauss and Newton's steps. The covariance is that
// of the linear problem at the minimum: s2 (J'J)^-1 with s2 = sum of squares / (rows - parameters)
// (Bates & Watts, Nonlinear Regression Analysis, 1988, chapter 2).
#pragma once

#include <functional>
#include <vector>

namespace grainwright {

/// Residuals of some parameters, always as many. A row without meaning at these parameters may be
/// large, never NaN.
using Residuals = std::function<std::vector<double>(const std::vector<double>&)>;

/// Residuals to make small.
struct LeastSquaresProblem {
  Residuals residuals;
  std::vector<double> start;
  std::vector<double> least;  ///< bounds
  std::vector<double> most;
  std::vector<double> scale;  ///< of each parameter: about what it can be wrong by
  double slope_step = 1e-3;   ///< of the scale, for difference quotients
  bool weighed = false;       ///< residuals are over their standard deviations: s2 is 1
  int coarse_runs = 150;      ///< of the start without slopes, at most
};

/// The solution.
struct LeastSquares {
  std::vector<double> parameters;
  std::vector<std::vector<double>> covariance;  ///< infinite variances where nothing is told
  std::vector<double> residuals;
  double sum_of_squares = 0;
  bool at_bound = false;  ///< a parameter stands at the end of its range
  int runs = 0;           ///< of the model

  double variance = 0;  ///< s2
};

[[nodiscard]] LeastSquares least_squares(const LeastSquaresProblem& problem);

}  // namespace grainwright
