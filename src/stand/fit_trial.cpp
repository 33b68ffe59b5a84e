// SPDX-License-Identifier: GPL-3.0-or-later
#include "fit_trial.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "grainwright/error.hpp"

namespace grainwright {
namespace {

constexpr double model_tolerance = 1e-8;
constexpr double steepest = 0.9;           // exponents are held below 1
constexpr double first_noise = 0.01;       // of the peak: weights of a first fit
constexpr double least_rest_error = 1e-6;  // of the peak
constexpr double lost = 1e3;               // a residual where the motor cannot burn
constexpr double moment_reach = 0.3;       // of the firing, by which its lighting may be off
constexpr double near_rows = 2;            // by which a lighting agrees with the log's first tenth
constexpr double slope_step = 5e-4;  // of the scales below: burnout is a corner, and rows are near

/// How far a parameter may go, and about what it can be wrong by.
struct Reach {
  double least;
  double most;
  double scale;
};
Reach reach_of(FitParameter parameter, const BurnLaw& law) {
  double dn = 0.4;
  switch (parameter) {
    case exponent:
      for (const LawPiece& piece : law.pieces()) dn = std::min(dn, steepest - piece.exponent);
      return {-0.4, dn, 0.05};
    case ln_c_star:
      return {-0.4, 0.4, 0.05};
    default:
      return {-1.2, 1.2, 0.1};
  }
}

double peak_of(const Channel& channel) {
  return std::ranges::max(channel.rows, {}, &FitRow::value).value;
}

}  // namespace

Firing fired(const Motor& motor, const Lighting& lighting, const LawChange& change, double about) {
  Motor changed = motor;
  changed.propellant.law = BurnLaw(
      tilted(motor.propellant.law.pieces(), std::exp(change[ln_rate]), change[exponent], about));
  changed.propellant.characteristic_velocity *= std::exp(change[ln_c_star]);
  Firing firing = fire_transient(changed, {.lighting = lighting, .tolerance = model_tolerance});
  // Thrust grows with efficiency, and nothing else does.
  for (double& thrust : firing.curve.thrust) thrust *= std::exp(change[ln_efficiency]);
  return firing;
}

std::vector<Channel> channels_of(const std::vector<Shot>& shots) {
  std::vector<Channel> channels;
  for (std::size_t i = 0; i < shots.size(); ++i) {
    const Trace& trace = shots[i].trace;
    channels.push_back({thrust_rows(trace), i, false, 1, trace.rest});
    if (trace.pressure.empty()) continue;
    channels.push_back({pressure_rows(trace), i, true, 1, trace.pressure_rest});
  }
  for (Channel& channel : channels) {
    const double peak = peak_of(channel);
    channel.noise = first_noise * peak;
    for (double* error : {&channel.rest.before_error, &channel.rest.after_error}) {
      *error = std::max(*error, least_rest_error * peak);
    }
  }
  return channels;
}

FitTrial::FitTrial(const std::vector<Shot>& shots, std::vector<Channel> channels, double about,
                   std::vector<FitParameter> active, double leash)
    : shots_(&shots),
      about_(about),
      active_(std::move(active)),
      leash_(leash),
      channels_(std::move(channels)) {}

LawChange FitTrial::change_of(const std::vector<double>& parameters) const {
  LawChange change = {};
  for (std::size_t i = 0; i < active_.size(); ++i) change[active_[i]] = parameters[i];
  return change;
}

void FitTrial::add_residuals(std::size_t shot, const std::vector<double>& parameters,
                             std::vector<double>& left) const {
  const auto& [motor, lighting, trace] = (*shots_)[shot];
  const double moment = moment_of(parameters, shot);
  Curve curve;
  try {
    curve = fired(motor, lighting, change_of(parameters), about_).curve;
  } catch (const InputError&) {
    // Slag closes the throat, or the like: no such motor was seen.
  }
  for (std::size_t i = 0; i < channels_.size(); ++i) {
    const Channel& channel = channels_[i];
    if (channel.shot != shot) continue;
    const double ambient = channel.pressure ? motor.day.ambient_pressure : 0;
    const Followed model(curve.time, channel.pressure ? curve.pressure : curve.thrust, ambient);
    const auto [before, after] = rests_off(parameters, i);
    for (const FitRow& row : channel.rows) {
      const double rest = channel.rest.at((row.from + row.to) / 2, before, after);
      const double difference =
          curve.time.empty() ? lost * channel.noise : row.value - rest - model.over(row, moment);
      left.push_back(difference * row.weight / channel.noise);
    }
  }
}

std::vector<double> FitTrial::residuals(const std::vector<double>& parameters) const {
  std::vector<double> left;
  for (std::size_t shot = 0; shot < shots_->size(); ++shot) add_residuals(shot, parameters, left);
  for (std::size_t i = 0; i < channels_.size(); ++i) {
    const auto [before, after] = rests_off(parameters, i);
    left.push_back(before / channels_[i].rest.before_error);
    left.push_back(after / channels_[i].rest.after_error);
  }
  if (leash_ > 0) left.push_back(change_of(parameters)[ln_efficiency] / leash_);
  return left;
}

LeastSquares FitTrial::solved(const std::vector<double>* from) const {
  LeastSquaresProblem problem;
  problem.residuals = [this](const std::vector<double>& p) { return residuals(p); };
  const auto put = [&](const Reach& reach) {
    problem.start.push_back(0);
    problem.least.push_back(reach.least);
    problem.most.push_back(reach.most);
    problem.scale.push_back(reach.scale);
  };
  const BurnLaw& law = shots_->front().motor.propellant.law;
  for (const FitParameter parameter : active_) put(reach_of(parameter, law));
  for (const Shot& shot : *shots_) {
    const double end = shot.trace.end;
    put({-moment_reach * end, moment_reach * end, 0.02 * end});
  }
  for (const Channel& channel : channels_) {
    for (const double error : {channel.rest.before_error, channel.rest.after_error}) {
      put({-10 * error, 10 * error, error});
    }
  }
  if (from != nullptr) {
    problem.start = *from;
    problem.coarse_runs = 0;
  }
  problem.slope_step = slope_step;
  LeastSquares first = least_squares(problem);
  problem.start = lit_by_rows(first.parameters);
  if (problem.start == first.parameters) return first;
  problem.coarse_runs = 0;
  LeastSquares second = least_squares(problem);
  LeastSquares& best = second.sum_of_squares < first.sum_of_squares ? second : first;
  best.runs = first.runs + second.runs;
  return best;
}

// Rows from before the first tenth do not count, so one that lights too early is not pushed back.
std::vector<double> FitTrial::lit_by_rows(std::vector<double> parameters) const {
  for (const Channel& channel : channels_) {
    if (channel.pressure) continue;
    const auto& [motor, lighting, trace] = (*shots_)[channel.shot];
    const Curve curve = fired(motor, lighting, change_of(parameters), about_).curve;
    const double lit = lit_share * std::ranges::max(curve.thrust);
    const auto risen = std::ranges::find_if(curve.thrust, [&](double f) { return f >= lit; });
    const double rise = curve.time[static_cast<std::size_t>(risen - curve.thrust.begin())];
    double& moment = parameters[active_.size() + channel.shot];
    const double by_rows = channel.rows.front().from - rise;
    if (std::abs(moment - by_rows) > near_rows * trace.step) moment = by_rows;
  }
  return parameters;
}

void FitTrial::weigh(const std::vector<double>& left) {
  std::size_t i = 0;
  for (Channel& channel : channels_) {
    double sum = 0;
    for (std::size_t k = 0; k < channel.rows.size(); ++k, ++i) sum += left[i] * left[i];
    channel.noise *= std::sqrt(std::max(sum, 1e-12) / static_cast<double>(channel.rows.size()));
  }
}

double FitTrial::alikeness(const std::vector<double>& left) const {
  double all = 0, next = 0;
  std::size_t i = 0;
  for (const Channel& channel : channels_) {
    for (std::size_t k = 0; k < channel.rows.size(); ++k, ++i) {
      all += left[i] * left[i];
      if (k > 0) next += left[i] * left[i - 1];
    }
  }
  const double correlation = all > 0 ? next / all : 0;
  // Two standard deviations of what white noise would show.
  if (correlation < 2 / std::sqrt(static_cast<double>(i))) return 1;
  return (1 + correlation) / (1 - std::min(correlation, 0.99));
}

double FitTrial::misfit(const std::vector<double>& left) const {
  double sum = 0;
  std::size_t i = 0, count = 0;
  for (const Channel& channel : channels_) {
    const double peak = peak_of(channel);
    for (const FitRow& row : channel.rows) {
      const double share = left[i++] * channel.noise / (row.weight * peak);
      if (channel.pressure) continue;
      sum += share * share;
      ++count;
    }
  }
  return std::sqrt(sum / static_cast<double>(std::max<std::size_t>(1, count)));
}

}  // namespace grainwright
