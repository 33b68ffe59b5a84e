// SPDX-License-Identifier: GPL-3.0-or-later
//
// How a fit is gone about: which parameters there are, where it starts, and which of the models
// that are tried is the one to be believed.
#pragma once

#include <string>
#include <vector>

#include "fit_model.hpp"

namespace grainwright {

using Covariance = std::vector<std::vector<double>>;

/// The shots with the first one's propellant and efficiency.
[[nodiscard]] std::vector<Shot> alike(const std::vector<Shot>& shots);

/// Pressures between which burns spend nine tenths of their time, of all of them.
struct Pressures {
  double least = 0;
  double most = 0;
  [[nodiscard]] double ratio() const { return most / least; }
};
[[nodiscard]] Pressures pressures_of(const std::vector<Firing>& firings);

/// A start that knows nothing of the job's law but its exponent: the rate with which the motor
/// burns as long as the logs do, the efficiency that gives their impulse, and when each was lit.
struct Start {
  double ln_rate = 0;
  double ln_gain = 0;
  double about = 0;             ///< Pa, mean pressure
  std::vector<double> moments;  ///< s, of each shot
};
[[nodiscard]] Start start_of(const std::vector<Shot>& shots);

/// A model at its minimum.
struct Solved {
  FitModel model;
  LeastSquares least;
  bool web = false;
  bool n = false;
  /// Of Fit's parameters, with what was held and what is known of each log's instruments.
  Covariance covariance;
};

/// What was chosen, and why.
struct Chosen {
  Solved solved;
  Pressures pressures;
  std::string n_words;
  std::string web_words;
  int runs = 0;
};
[[nodiscard]] Chosen chosen_of(const std::vector<Shot>& shots, const FitOptions& options);

}  // namespace grainwright
