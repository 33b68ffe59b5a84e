// SPDX-License-Identifier: GPL-3.0-or-later
//
// The burn law that a measured firing implies: the transient firing (firing/transient.hpp) is run
// with other values of the law, until its thrust fits the log in the sense of least squares
// (least_squares.hpp). The law keeps its pieces; all of it is moved by one factor and tilted about
// one pressure, r' = r factor (P / P0)^dn. Beside the law the efficiency of the nozzle and, where
// chamber pressure was logged, c* are fitted, and the moment of lighting of each log.
//
// What thrust alone can tell: burning time tells the rate, impulse tells efficiency times c*. So
// without a pressure log c* stays as the job has it. The exponent shows only where pressure differs
// much, within a firing or between firings through different throats; else it is held, and said.
// A rate that changes along the web is fitted where the law alone leaves what it does not.
// See docs/stand.md.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "grainwright/firing/firing.hpp"
#include "grainwright/firing/transient.hpp"
#include "grainwright/motor/measured.hpp"
#include "grainwright/stand/figures.hpp"

namespace grainwright {

/// One firing to be fitted: the motor as the job has it, and what was measured.
struct Shot {
  Motor motor;
  Lighting lighting;
  Trace trace;
};

/// What is not to be fitted, and how far instruments, job and model are trusted. Errors are one
/// standard deviation; 0 takes a thing as exact. The defaults are common practice, no source.
struct FitOptions {
  bool hold_n = false;
  bool hold_efficiency = false;
  bool hold_web = false;
  double scale_error = 0.02;     ///< of the load cell, relative, each log its own
  double pressure_error = 0;     ///< of the pressure sensor, relative
  double throat_error = 0.1e-3;  ///< m, of the throat's diameter, each log its own
  double clock_error = 0.01;     ///< of the logger's clock, relative, each log its own
  double lag_error = 3e-3;       ///< s, time constant that the reading may lag by
  double c_star_error = 0.03;    ///< of the job's c*, relative, where no pressure tells it
  double n_error = 0.1;          ///< of an exponent that is held
  double web_error = 0.15;       ///< of the rate at the web's ends over that in its middle
  double batch_error = 0.01;     ///< of the rate from firing to firing of one batch, relative
  double model_error = 0.005;    ///< of peak thrust: what the model leaves out, slow over the burn

  /// Everything exact but noise, and no factor over the web.
  [[nodiscard]] static FitOptions noise_alone() {
    return {.hold_web = true,
            .scale_error = 0,
            .throat_error = 0,
            .clock_error = 0,
            .lag_error = 0,
            .c_star_error = 0,
            .n_error = 0,
            .web_error = 0,
            .batch_error = 0,
            .model_error = 0};
  }
};

/// The exponent counts as told where its standard deviation is at most this, and
inline constexpr double tellable_n_error = 0.05;
/// the highest pressure of the burn, or of all burns, is so many times the lowest.
/// Common practice, no source: a model that is a few per cent wrong would otherwise set n.
inline constexpr double tellable_pressures = 1.5;

/// What rate, efficiency and c* differ by from one firing to the next, relative, one standard
/// deviation; one log knows nothing of it. Common practice, no source.
inline constexpr double firing_to_firing = 0.02;

/// Places of the parameters in `Fit::covariance`. The last two are the rate where the web begins
/// and where it ends, over that half way, less 1.
enum FitParameter : std::size_t { ln_rate, exponent, ln_efficiency, ln_c_star, web_start, web_end };
inline constexpr std::size_t fit_parameters = 6;

/// The burn law that measured firings imply.
struct Fit {
  std::vector<LawPiece> law;  ///< at the propellant's reference temperature
  double at = 0;              ///< Pa: where rate and exponent are uncorrelated; else the mean
  WithError rate;             ///< m/s there
  WithError n;                ///< of the piece there
  bool n_fitted = false;
  std::string n_words;                       ///< why it was fitted, or why it could not be
  std::optional<WebFactor> web_factor = {};  ///< fitted, or the job's
  bool web_fitted = false;
  std::string web_words;  ///< likewise
  WithError efficiency;   ///< at most 1
  double gain = 1;        ///< the same, however much it is
  bool efficiency_fitted = false;
  WithError characteristic_velocity;  ///< m/s
  bool c_star_fitted = false;
  /// Of ln rate at `at`, n, ln efficiency, ln c*, web; of what was held, what it was held with.
  std::vector<std::vector<double>> covariance;
  double lowest_pressure =
      0;  ///< Pa, of the fitted burns, first and last twentieth of the time apart
  double highest_pressure = 0;           ///< Pa
  double misfit = 0;                     ///< RMS of measured - fitted thrust / peak thrust
  std::vector<double> lighting_moments;  ///< s after the log's ignition, one a shot
  std::vector<Firing> firings;           ///< as fitted and as the scale read them, one a shot
  bool at_bound = false;                 ///< something ran to the end of what it may change
  int runs = 0;                          ///< of the transient model
  std::vector<std::string> remarks;

  /// As a job keeps it: errors of the next firing, so with `firing_to_firing` in each. Throws
  /// InputError where an error is as great as the value: nothing was measured then.
  [[nodiscard]] Measured measured(std::string date, std::vector<std::string> logs) const;
};

/// Joint 95 % of two parameters is an ellipse with half axes of so many standard deviations
/// (chi squared of two degrees of freedom: sqrt(-2 ln 0.05)); 95 % of one alone 1.96.
inline constexpr double ellipse_factor = 2.447746830680816;
inline constexpr double interval_factor = 1.959963984540054;

/// Fits one law to all shots. The first one's propellant is what is changed; each keeps its grain,
/// nozzle, day and lighting. Throws InputError with a motor's complaints.
[[nodiscard]] Fit fit(const std::vector<Shot>& shots, const FitOptions& options = {});

/// For a builder who has a peak reading and a burn time off a video, no log.
struct PeakAndTime {
  double peak_thrust = 0;  ///< N
  double time = 0;         ///< s, between the first and the last 10 % of peak thrust
  double peak_error = 0;   ///< relative, one standard deviation
  double time_error = 0;   ///< relative, likewise
};
[[nodiscard]] Fit fit_peak_and_time(const Motor& motor, const Lighting& lighting,
                                    const PeakAndTime& seen);

/// A law moved by a factor and tilted about a pressure in Pa.
[[nodiscard]] std::vector<LawPiece> tilted(std::span<const LawPiece> law, double factor, double dn,
                                           double about);

/// The motor with a fit's law, efficiency and c*.
[[nodiscard]] Motor with_fit(const Motor& motor, const Fit& fit);

}  // namespace grainwright
