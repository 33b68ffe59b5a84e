// SPDX-License-Identifier: GPL-3.0-or-later
//
// Logs against firings: what least squares is asked for a fit. A parameter is of the propellant and
// nozzle, for all logs, or of one log: when it was lit, what its line of rest is off by, and what
// is known of its scale, throat, clock, lag and batch.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <vector>

#include "fit_rows.hpp"
#include "grainwright/stand/fit.hpp"
#include "marquardt.hpp"

namespace grainwright {

/// Thrust or pressure of one log.
struct Channel {
  std::vector<FitRow> rows;
  std::size_t shot = 0;
  bool pressure = false;
  double noise = 1;    ///< standard deviation of a row
  RestLine rest = {};  ///< what was taken off as rest
  double peak = 0;     ///< of the rows
};
/// Of all shots, shot by shot.
[[nodiscard]] std::vector<Channel> channels_of(const std::vector<Shot>& shots);

/// What one log has of its own.
enum LogParameter : std::size_t { moment, scale, throat, clock_off, lag, batch, rests };

/// A parameter of the fit.
struct Parameter {
  bool common = true;
  std::size_t which = 0;  ///< FitParameter or LogParameter; from `rests` on, two a channel
  std::size_t log = 0;    ///< shot, or channel for a rest
  double known = 0;       ///< standard deviation of what is known beforehand; 0 for nothing
  double least = 0;
  double most = 0;
  double scale = 1;  ///< about what it can be wrong by
  double at = 0;     ///< where it stands if it is not fitted
};

/// What a firing is run with.
struct Burn {
  double ln_rate = 0;
  double dn = 0;
  double ln_c_star = 0;
  double web_start = 0;  ///< as FitParameter has it
  double web_end = 0;
  bool web = false;   ///< else the motor's own factor
  double throat = 0;  ///< m more than the motor has
  bool operator==(const Burn&) const = default;
};
/// The motor with it; `about` is the pressure that laws are tilted about.
[[nodiscard]] Motor changed(const Motor& motor, const Burn& burn, double about);
[[nodiscard]] WebFactor factor_of(double start, double end);

class FitModel {
 public:
  FitModel(const std::vector<Shot>& shots, std::vector<Channel> channels, double about);

  std::vector<Parameter> parameters;
  Burn held;  ///< what parameters that are not there stand at

  [[nodiscard]] std::vector<double> residuals(const std::vector<double>& values) const;
  /// With the slopes of all parameters, and of further ones that are not fitted.
  [[nodiscard]] Sloped slopes(const std::vector<double>& values,
                              const std::vector<Parameter>& further = {}) const;
  [[nodiscard]] LeastSquares solved(const std::vector<double>& start) const;

  /// Sets each channel's noise to what is left of it, greater where that is alike from row to row,
  /// and at least what the model is trusted to, a share of the peak.
  void weigh(const std::vector<double>& left, double model_error);
  /// RMS of measured - fitted thrust over peak thrust, the rise apart.
  [[nodiscard]] double misfit(const std::vector<double>& left) const;

  [[nodiscard]] double common(const std::vector<double>& values, FitParameter which) const;
  [[nodiscard]] double own(const std::vector<double>& values, LogParameter which,
                           std::size_t log) const;
  [[nodiscard]] bool has(FitParameter which) const;
  [[nodiscard]] Burn burn_of(const std::vector<double>& values, std::size_t shot) const;
  [[nodiscard]] const std::vector<Shot>& shots() const { return *shots_; }
  [[nodiscard]] const std::vector<Channel>& channels() const { return channels_; }
  [[nodiscard]] double about() const { return about_; }
  [[nodiscard]] int runs() const { return runs_; }

 private:
  struct Reading;
  [[nodiscard]] std::optional<std::size_t> place(const Parameter& parameter) const;
  [[nodiscard]] const Curve& curve_of(const Burn& burn, std::size_t shot) const;
  void read(const Curve& curve, const Reading& reading, std::vector<double>& model) const;
  [[nodiscard]] Reading reading_of(const std::vector<double>& values,
                                   const std::vector<Parameter>& of, std::size_t shot) const;
  [[nodiscard]] std::vector<double> modelled(const std::vector<double>& values,
                                             const std::vector<Parameter>& of,
                                             std::size_t shot) const;
  [[nodiscard]] Burn burn_of(const std::vector<double>& values, const std::vector<Parameter>& of,
                             std::size_t shot) const;
  /// Slopes of all rows against one parameter; `base` is what each shot's model says here.
  [[nodiscard]] std::vector<double> column(std::size_t j, const std::vector<double>& here,
                                           const std::vector<Parameter>& all,
                                           const std::vector<std::vector<double>>& base) const;

  const std::vector<Shot>* shots_;
  std::vector<Channel> channels_;
  double about_;
  mutable std::vector<std::vector<std::pair<Burn, Curve>>> last_;  // few runs of each shot
  mutable int runs_ = 0;
};

}  // namespace grainwright
