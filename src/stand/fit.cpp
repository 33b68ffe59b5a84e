// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/stand/fit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "fit_trial.hpp"
#include "grainwright/error.hpp"
#include "grainwright/quantity.hpp"

namespace grainwright {
namespace {

/// A minimum and what it was the minimum of.
struct Solved {
  FitTrial trial;
  LeastSquares least;
  double inflation = 1;
};

/// Parameters of a minimum as a start for others.
std::vector<double> start_from(const Solved& solved, const std::vector<FitParameter>& active,
                               std::size_t shots) {
  const LawChange change = solved.trial.change_of(solved.least.parameters);
  std::vector<double> start;
  for (const FitParameter parameter : active) start.push_back(change[parameter]);
  for (std::size_t i = 0; i < shots; ++i) {
    start.push_back(solved.trial.moment_of(solved.least.parameters, i));
  }
  // What channels read at rest stays as it is.
  const auto rests = solved.least.parameters.begin() +
                     static_cast<std::ptrdiff_t>(solved.trial.active().size() + shots);
  start.insert(start.end(), rests, solved.least.parameters.end());
  return start;
}

using Covariance = std::vector<std::vector<double>>;

Covariance covariance_of(const Solved& solved) {
  Covariance all(fit_parameters, std::vector<double>(fit_parameters, 0));
  const auto& active = solved.trial.active();
  for (std::size_t a = 0; a < active.size(); ++a) {
    for (std::size_t b = 0; b < active.size(); ++b) {
      all[active[a]][active[b]] = solved.inflation * solved.least.covariance[a][b];
    }
  }
  return all;
}

/// Pressures between which burns spend nine tenths of their time, of all of them.
struct Pressures {
  double least = std::numeric_limits<double>::infinity();
  double most = 0;
};
void take_pressures(Pressures& pressures, const Firing& firing) {
  const Curve& curve = firing.curve;
  std::vector<std::pair<double, double>> spent;  // pressure, time
  double all = 0;
  for (std::size_t i = 1; i < curve.time.size() && curve.time[i] <= firing.summary.burn_time; ++i) {
    const double step = curve.time[i] - curve.time[i - 1];
    spent.emplace_back((curve.pressure[i] + curve.pressure[i - 1]) / 2, step);
    all += step;
  }
  std::ranges::sort(spent);
  double passed = 0;
  for (const auto& [pressure, step] : spent) {
    passed += step;
    if (passed < 0.05 * all) continue;
    pressures.least = std::min(pressures.least, pressure);
    pressures.most = std::max(pressures.most, pressure);
    if (passed > 0.95 * all) break;
  }
}

std::string words_for(double pressure) {
  return show(pressure, Dimension::pressure, UnitSystem::si, 3);
}

std::string range_words(const Pressures& pressures) {
  return fmt::format("pressures from {} to {}", words_for(pressures.least),
                     words_for(pressures.most));
}

/// Why the exponent cannot be told; empty where it can.
std::string n_untold(const Pressures& pressures, double n_error, std::size_t logs) {
  const std::string remedy =
      logs == 1 ? "fire the same propellant through another throat and fit both logs together"
                : "throats further apart would tell";
  if (pressures.most < tellable_pressures * pressures.least) {
    return fmt::format(
        "Rate and exponent cannot be told apart: {} are too near each other, and a higher rate "
        "with a lower exponent would burn alike. The job's exponent is kept; {}.",
        range_words(pressures), remedy);
  }
  if (n_error > tellable_n_error) {
    return fmt::format(
        "Rate and exponent cannot be told apart: over {} the exponent would be known to plus or "
        "minus {:.2g} only. The job's is kept; {}.",
        range_words(pressures), interval_factor * n_error, remedy);
  }
  return "";
}

/// Moves rate and exponent's covariance from one pressure to where the two are uncorrelated.
void untangle(Fit& fit, double about) {
  Covariance& c = fit.covariance;
  const double slope = -c[ln_rate][exponent] / c[exponent][exponent];
  fit.at = about * std::exp(slope);
  for (std::size_t k = 0; k < fit_parameters; ++k) c[ln_rate][k] += slope * c[exponent][k];
  for (std::size_t k = 0; k < fit_parameters; ++k) c[k][ln_rate] += slope * c[k][exponent];
}

const LawPiece& piece_at(const std::vector<LawPiece>& law, double pressure) {
  const auto holds = [&](const LawPiece& piece) { return pressure <= piece.to; };
  const auto found = std::ranges::find_if(law, holds);
  return found == law.end() ? law.back() : *found;
}

void take_values(Fit& fit, const Motor& motor, const LawChange& change, const FitOptions& options) {
  const LawPiece& piece = piece_at(fit.law, fit.at);
  const Covariance& c = fit.covariance;
  const auto error = [&](FitParameter p) { return std::sqrt(std::max(0.0, c[p][p])); };
  fit.rate = {piece(fit.at), piece(fit.at) * error(ln_rate)};
  fit.n = {piece.exponent, error(exponent)};
  const double efficiency = motor.nozzle.efficiency;
  fit.efficiency = {efficiency, 0};
  if (fit.efficiency_fitted) {
    // The scale's error stays in it: thrust alone cannot tell the two apart.
    fit.covariance[ln_efficiency][ln_efficiency] += options.scale_error * options.scale_error;
    const double gained = efficiency * std::exp(change[ln_efficiency]);
    fit.efficiency = {std::min(1.0, gained), gained * error(ln_efficiency)};
    if (gained > 1) {
      fit.remarks.push_back(fmt::format(
          "thrust is {:.3g} times what a perfect nozzle would give: mistrust the scale, c* or the "
          "throat; efficiency is taken as 1",
          gained));
    }
  }
  const double c_star = motor.propellant.characteristic_velocity * std::exp(change[ln_c_star]);
  if (fit.c_star_fitted) {
    fit.covariance[ln_c_star][ln_c_star] += options.pressure_error * options.pressure_error;
  }
  fit.characteristic_velocity = {c_star, c_star * error(ln_c_star)};
}

/// The shots with the first one's propellant and efficiency, of their traces only end and step.
std::vector<Shot> alike(const std::vector<Shot>& shots) {
  std::vector<Shot> all;
  for (const Shot& shot : shots) {
    all.push_back({shot.motor, shot.lighting, {}});
    all.back().trace.end = shot.trace.end;
    all.back().trace.step = shot.trace.step;
    all.back().motor.propellant = shots.front().motor.propellant;
    all.back().motor.nozzle.efficiency = shots.front().motor.nozzle.efficiency;
  }
  return all;
}

/// What a fit is asked.
struct Task {
  std::vector<Shot> shots;  // alike but for grain, nozzle, day and lighting
  std::vector<Channel> channels;
  double about = 0;       // Pa, about which laws are tilted
  bool pressure = false;  // is logged somewhere
  double leash = 0;       // of a held gain
  bool gain = false;      // is fitted
};

Task task_of(const std::vector<Shot>& shots, const FitOptions& options) {
  Task task{.shots = alike(shots), .channels = channels_of(shots)};
  const Shot& first = task.shots.front();
  task.about = fire_transient(first.motor, {.lighting = first.lighting}).summary.mean_pressure;
  task.pressure = std::ranges::any_of(task.channels, &Channel::pressure);
  task.leash = options.hold_efficiency ? options.scale_error : 0;
  task.gain = !options.hold_efficiency || task.leash > 0;
  return task;
}

std::vector<FitParameter> active(const Task& task, bool with_n) {
  std::vector<FitParameter> chosen = {ln_rate};
  if (with_n) chosen.push_back(exponent);
  if (task.gain) chosen.push_back(ln_efficiency);
  if (task.pressure) chosen.push_back(ln_c_star);
  return chosen;
}

/// Solved twice: once with the noise of each channel guessed, once with what is left of it.
Solved solve(const Task& task, const std::vector<FitParameter>& active,
             const std::vector<double>* from = nullptr) {
  FitTrial trial(task.shots, task.channels, task.about, active, task.leash);
  LeastSquares least = trial.solved(from);
  trial.weigh(least.residuals);
  const int runs = least.runs;
  least = trial.solved(&least.parameters);
  least.runs += runs;
  const double inflation = trial.alikeness(least.residuals);
  return {std::move(trial), std::move(least), inflation};
}

/// Without the exponent, and with it where it can be told; says which in the fit.
Solved solved_task(const Task& task, const FitOptions& options, Fit& fit) {
  Solved held = solve(task, active(task, false));
  Pressures pressures;
  const LawChange change = held.trial.change_of(held.least.parameters);
  for (const Shot& shot : task.shots) {
    take_pressures(pressures, fired(shot.motor, shot.lighting, change, task.about));
  }
  fit.lowest_pressure = pressures.least;
  fit.highest_pressure = pressures.most;
  fit.runs = held.least.runs;
  fit.n_words = "The exponent is held, as asked.";
  if (options.hold_n) return held;

  const std::vector<double> start = start_from(held, active(task, true), task.shots.size());
  Solved free = solve(task, active(task, true), &start);
  fit.runs += free.least.runs;
  const double n_error = std::sqrt(covariance_of(free)[exponent][exponent]);
  fit.n_words = n_untold(pressures, n_error, task.shots.size());
  fit.n_fitted = fit.n_words.empty();
  if (!fit.n_fitted) return held;
  fit.n_words = "Rate and exponent are told apart by " + range_words(pressures) + ".";
  return free;
}

void take_covariance(Fit& fit, const Solved& solved) {
  fit.covariance = covariance_of(solved);
  if (fit.efficiency_fitted) return;
  for (std::size_t k = 0; k < fit_parameters; ++k) {
    fit.covariance[ln_efficiency][k] = fit.covariance[k][ln_efficiency] = 0;
  }
}

void take_firings(Fit& fit, const Task& task, const Solved& solved) {
  const LawChange change = solved.trial.change_of(solved.least.parameters);
  for (std::size_t i = 0; i < task.shots.size(); ++i) {
    const auto& [motor, lighting, trace] = task.shots[i];
    fit.firings.push_back(fired(motor, lighting, change, task.about));
    fit.lighting_moments.push_back(solved.trial.moment_of(solved.least.parameters, i));
  }
}

/// Peak and time of a changed rate and gain, over their errors.
std::vector<double> missed(const Motor& motor, const Lighting& lighting, const PeakAndTime& seen,
                           const std::vector<double>& p, double about) {
  const Firing firing = fired(motor, lighting, {p[0], 0, p[1], 0}, about);
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
  fitted.propellant.characteristic_velocity = fit.characteristic_velocity.value;
  if (fit.efficiency_fitted) fitted.nozzle.efficiency = fit.efficiency.value;
  return fitted;
}

Fit fit(const std::vector<Shot>& shots, const FitOptions& options) {
  const Task task = task_of(shots, options);
  Fit fit;
  fit.efficiency_fitted = !options.hold_efficiency;
  fit.c_star_fitted = task.pressure;
  const Solved solved = solved_task(task, options, fit);
  fit.misfit = solved.trial.misfit(solved.least.residuals);
  if (solved.least.at_bound) {
    fit.remarks.emplace_back("the fit ran to the end of what it may change: this is no such motor");
  }
  take_covariance(fit, solved);
  take_firings(fit, task, solved);
  const Motor& motor = task.shots.front().motor;
  const LawChange change = solved.trial.change_of(solved.least.parameters);
  fit.law = tilted(motor.propellant.law.pieces(), std::exp(change[ln_rate]), change[exponent],
                   task.about);
  if (fit.n_fitted) {
    untangle(fit, task.about);
  } else {
    fit.at = fit.firings.front().summary.mean_pressure;
  }
  take_values(fit, motor, change, options);
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
  const LawChange change = {least.parameters[0], 0, least.parameters[1], 0};
  Fit fit;
  fit.runs = least.runs;
  fit.efficiency_fitted = true;
  fit.n_words = "A peak and a time say nothing of the exponent: the job's is kept.";
  fit.law = tilted(motor.propellant.law.pieces(), std::exp(change[ln_rate]), 0, about);
  fit.firings.push_back(fired(motor, lighting, change, about));
  fit.lighting_moments.push_back(0);
  fit.at = fit.firings.front().summary.mean_pressure;
  Pressures pressures;
  take_pressures(pressures, fit.firings.front());
  fit.lowest_pressure = pressures.least;
  fit.highest_pressure = pressures.most;
  fit.covariance.assign(fit_parameters, std::vector<double>(fit_parameters, 0));
  const FitParameter places[] = {ln_rate, ln_efficiency};
  for (std::size_t a = 0; a < 2; ++a) {
    for (std::size_t b = 0; b < 2; ++b) {
      fit.covariance[places[a]][places[b]] = least.covariance[a][b];
    }
  }
  take_values(fit, motor, change, {});
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
  return known;
}

}  // namespace grainwright
