// SPDX-License-Identifier: GPL-3.0-or-later
//
// What least squares is asked for a fit: the difference between logs and firings.
#pragma once

#include <array>
#include <vector>

#include "fit_rows.hpp"
#include "grainwright/stand/fit.hpp"
#include "grainwright/stand/least_squares.hpp"

namespace grainwright {

/// Values of what can be fitted, as changes of what the job has; places are of FitParameter.
/// ln_efficiency is the gain of thrust: the nozzle's efficiency, and the scale's error.
using LawChange = std::array<double, fit_parameters>;

/// The motor's firing with a change, its thrust with the gain.
[[nodiscard]] Firing fired(const Motor& motor, const Lighting& lighting, const LawChange& change,
                           double about);

/// Thrust or pressure of one log.
struct Channel {
  std::vector<FitRow> rows;
  std::size_t shot = 0;
  bool pressure = false;
  double noise = 1;    ///< standard deviation of a row
  RestLine rest = {};  ///< what was taken off as rest
};

/// Of all shots, shot by shot.
[[nodiscard]] std::vector<Channel> channels_of(const std::vector<Shot>& shots);

class FitTrial {
 public:
  /// Of the shots' traces only the channels, ends and steps are used. `active` are the parameters
  /// that may change, in the order of FitParameter. With a `leash` above 0 the gain is held near 1
  /// by a residual of its own, over the leash.
  FitTrial(const std::vector<Shot>& shots, std::vector<Channel> channels, double about,
           std::vector<FitParameter> active, double leash);

  /// The minimum, from a start or from what the job has. Where its lighting leaves the log's first
  /// tenth of peak thrust it is sought once more from there, and the better of the two is it.
  [[nodiscard]] LeastSquares solved(const std::vector<double>* from) const;
  /// Sets the noise of each channel to what a fit leaves of it.
  void weigh(const std::vector<double>& left);

  [[nodiscard]] LawChange change_of(const std::vector<double>& parameters) const;
  [[nodiscard]] double moment_of(const std::vector<double>& parameters, std::size_t shot) const {
    return parameters[active_.size() + shot];
  }
  [[nodiscard]] const std::vector<FitParameter>& active() const { return active_; }
  /// By how much what is left is more alike from row to row than noise would be, 1 or more: so many
  /// times fewer rows are independent.
  [[nodiscard]] double alikeness(const std::vector<double>& left) const;
  /// RMS of measured - fitted thrust over peak thrust.
  [[nodiscard]] double misfit(const std::vector<double>& left) const;

 private:
  [[nodiscard]] std::vector<double> residuals(const std::vector<double>& parameters) const;
  void add_residuals(std::size_t shot, const std::vector<double>& parameters,
                     std::vector<double>& left) const;
  /// With each firing's first tenth of peak thrust put on the log's, where they were apart.
  [[nodiscard]] std::vector<double> lit_by_rows(std::vector<double> parameters) const;
  /// What the means of a channel's rest before and after the firing are off by, which their errors
  /// allow.
  struct RestsOff {
    double before;
    double after;
  };
  [[nodiscard]] RestsOff rests_off(const std::vector<double>& parameters,
                                   std::size_t channel) const {
    const std::size_t first = active_.size() + shots_->size() + 2 * channel;
    return {parameters[first], parameters[first + 1]};
  }

  const std::vector<Shot>* shots_;
  double about_;
  std::vector<FitParameter> active_;
  double leash_;
  std::vector<Channel> channels_;  // shot by shot
};

}  // namespace grainwright
