// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/stand/fit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "fit_task.hpp"
#include "grainwright/error.hpp"
#include "grainwright/firing/transient.hpp"
#include "grainwright/quantity.hpp"

namespace grainwright {
namespace {

constexpr double model_tolerance = 1e-8;

/// Moves rate and exponent's covariance from one pressure to where the two are uncorrelated.
void untangle(Fit& fit, double about) {
  Covariance& c = fit.covariance;
  const double slope = std::clamp(-c[ln_rate][exponent] / c[exponent][exponent], -1.0, 1.0);
  fit.at = about * std::exp(slope);
  for (std::size_t k = 0; k < fit_parameters; ++k) c[ln_rate][k] += slope * c[exponent][k];
  for (std::size_t k = 0; k < fit_parameters; ++k) c[k][ln_rate] += slope * c[k][exponent];
}

const LawPiece& piece_at(const std::vector<LawPiece>& law, double pressure) {
  const auto holds = [&](const LawPiece& piece) { return pressure <= piece.to; };
  const auto found = std::ranges::find_if(law, holds);
  return found == law.end() ? law.back() : *found;
}

void take_values(Fit& fit, const Motor& motor, double gain, double ln_c_star_off) {
  const LawPiece& piece = piece_at(fit.law, fit.at);
  const Covariance& c = fit.covariance;
  const auto error = [&](FitParameter p) { return std::sqrt(std::max(0.0, c[p][p])); };
  fit.rate = {piece(fit.at), piece(fit.at) * error(ln_rate)};
  fit.n = {piece.exponent, error(exponent)};
  fit.gain = motor.nozzle.efficiency * (fit.efficiency_fitted ? std::exp(gain) : 1);
  fit.efficiency = {std::min(1.0, fit.gain), fit.gain * error(ln_efficiency)};
  const double c_star = motor.propellant.characteristic_velocity * std::exp(ln_c_star_off);
  fit.characteristic_velocity = {c_star, c_star * error(ln_c_star)};
}

/// A firing with its thrust as a scale of this gain reads it.
Firing fired(const Motor& motor, const Lighting& lighting, double ln_rate_off, double ln_gain,
             double about) {
  Firing firing = fire_transient(changed(motor, {.ln_rate = ln_rate_off}, about),
                                 {.lighting = lighting, .tolerance = model_tolerance});
  for (double& thrust : firing.curve.thrust) thrust *= std::exp(ln_gain);
  return firing;
}

void take_firings(Fit& fit, const Solved& solved) {
  const FitModel& model = solved.model;
  const std::vector<double>& values = solved.least.parameters;
  const double gain = model.common(values, ln_efficiency);
  for (std::size_t i = 0; i < model.shots().size(); ++i) {
    const auto& [motor, lighting, trace] = model.shots()[i];
    Firing firing = fire_transient(changed(motor, model.burn_of(values, i), model.about()),
                                   {.lighting = lighting, .tolerance = model_tolerance});
    for (double& f : firing.curve.thrust) f *= std::exp(gain + model.own(values, scale, i));
    for (double& t : firing.curve.time) t *= 1 + model.own(values, clock_off, i);
    fit.firings.push_back(std::move(firing));
    fit.lighting_moments.push_back(model.own(values, moment, i));
  }
}

/// Whether what is common to the logs ran to the end of its range.
bool at_bound(const Solved& solved) {
  const FitModel& model = solved.model;
  for (std::size_t i = 0; i < model.parameters.size(); ++i) {
    const Parameter& p = model.parameters[i];
    const double value = solved.least.parameters[i];
    if (p.common && (value <= p.least || value >= p.most)) return true;
  }
  return false;
}

/// Peak and time of a changed rate and gain, over their errors.
std::vector<double> missed(const Motor& motor, const Lighting& lighting, const PeakAndTime& seen,
                           const std::vector<double>& p, double about) {
  const Firing firing = fired(motor, lighting, p[0], p[1], about);
  const double peak = firing.summary.peak_thrust * std::exp(p[1]);
  return {std::log(peak / seen.peak_thrust) / seen.peak_error,
          std::log(firing.transient->action_time / seen.time) / seen.time_error};
}

}  // namespace

std::vector<LawPiece> tilted(std::span<const LawPiece> law, double factor, double dn,
                             double about) {
  std::vector<LawPiece> pieces(law.begin(), law.end());
  for (LawPiece& piece : pieces) {
    piece.rate *= factor * std::pow(piece.at / about, dn);
    piece.exponent += dn;
  }
  return pieces;
}

Motor with_fit(const Motor& motor, const Fit& fit) {
  Motor fitted = motor;
  fitted.propellant.law = BurnLaw(fit.law);
  fitted.propellant.web_factor = fit.web_factor;
  fitted.propellant.characteristic_velocity = fit.characteristic_velocity.value;
  if (fit.efficiency_fitted) fitted.nozzle.efficiency = fit.efficiency.value;
  return fitted;
}

Fit fit(const std::vector<Shot>& shots, const FitOptions& options) {
  const std::vector<Shot> all = alike(shots);
  Chosen chosen = chosen_of(all, options);
  const Solved& solved = chosen.solved;
  const std::vector<double>& values = solved.least.parameters;
  const Motor& motor = all.front().motor;
  Fit fit;
  fit.n_fitted = solved.n;
  fit.n_words = std::move(chosen.n_words);
  fit.web_fitted = solved.web;
  fit.web_words = std::move(chosen.web_words);
  fit.efficiency_fitted = !options.hold_efficiency;
  fit.c_star_fitted = solved.model.has(ln_c_star);
  fit.lowest_pressure = chosen.pressures.least;
  fit.highest_pressure = chosen.pressures.most;
  fit.runs = chosen.runs;
  fit.misfit = solved.model.misfit(solved.least.residuals);
  fit.at_bound = at_bound(solved);
  fit.covariance = solved.covariance;
  if (fit.c_star_fitted) {
    fit.covariance[ln_c_star][ln_c_star] += options.pressure_error * options.pressure_error;
  }
  take_firings(fit, solved);
  const double about = solved.model.about();
  const Burn burn{.ln_rate = solved.model.common(values, ln_rate),
                  .dn = solved.model.common(values, exponent)};
  fit.law = tilted(motor.propellant.law.pieces(), std::exp(burn.ln_rate), burn.dn, about);
  fit.web_factor = motor.propellant.web_factor;
  if (solved.web) {
    fit.web_factor =
        factor_of(solved.model.common(values, web_start), solved.model.common(values, web_end));
  }
  fit.at = about;
  if (fit.covariance[exponent][exponent] > 0) untangle(fit, about);
  take_values(fit, motor, solved.model.common(values, ln_efficiency),
              solved.model.common(values, ln_c_star));
  return fit;
}

Fit fit_peak_and_time(const Motor& motor, const Lighting& lighting, const PeakAndTime& seen) {
  const double about = fire_transient(motor, {.lighting = lighting}).summary.mean_pressure;
  LeastSquaresProblem problem{
      .residuals =
          [&](const std::vector<double>& p) { return missed(motor, lighting, seen, p, about); },
      .start = {0, 0},
      .least = {-1.2, -1.2},
      .most = {1.2, 1.2},
      .scale = {0.1, 0.1},
      .slope_step = 1e-2,
      .weighed = true};
  const LeastSquares least = least_squares(problem);
  Fit fit;
  fit.runs = least.runs;
  fit.efficiency_fitted = true;
  fit.n_words = "A peak and a time say nothing of the exponent: the job's is kept.";
  fit.law = tilted(motor.propellant.law.pieces(), std::exp(least.parameters[0]), 0, about);
  fit.firings.push_back(fired(motor, lighting, least.parameters[0], least.parameters[1], about));
  fit.lighting_moments.push_back(0);
  fit.at = fit.firings.front().summary.mean_pressure;
  const Pressures pressures = pressures_of(fit.firings);
  fit.lowest_pressure = pressures.least;
  fit.highest_pressure = pressures.most;
  fit.covariance.assign(fit_parameters, std::vector<double>(fit_parameters, 0));
  const FitParameter places[] = {ln_rate, ln_efficiency};
  for (std::size_t a = 0; a < 2; ++a) {
    for (std::size_t b = 0; b < 2; ++b) {
      fit.covariance[places[a]][places[b]] = least.covariance[a][b];
    }
  }
  fit.web_factor = motor.propellant.web_factor;
  take_values(fit, motor, least.parameters[1], 0);
  if (least.sum_of_squares > 1) {
    fit.remarks.emplace_back("no motor of this job gives both the peak and the time");
  }
  return fit;
}

Measured Fit::measured(std::string date, std::vector<std::string> logs) const {
  Measured known{.date = std::move(date), .logs = std::move(logs)};
  known.at = at;
  known.n_error = n.error;
  const auto next = [&](FitParameter p) {
    return std::hypot(std::sqrt(covariance[p][p]), firing_to_firing);
  };
  known.rate_error = next(ln_rate);
  if (efficiency_fitted) known.efficiency_error = next(ln_efficiency);
  if (c_star_fitted) known.characteristic_velocity_error = next(ln_c_star);
  for (const double error :
       {known.rate_error, known.efficiency_error, known.characteristic_velocity_error}) {
    if (error < 1) continue;
    throw InputError("log", fmt::format("an error of {:.0f} times the value", error),
                     "a firing that tells rate and efficiency to better than themselves");
  }
  return known;
}

}  // namespace grainwright
