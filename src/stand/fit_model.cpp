// SPDX-License-Identifier: GPL-3.0-or-later
#include "fit_model.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "grainwright/error.hpp"
#include "grainwright/firing/transient.hpp"

namespace grainwright {
namespace {

constexpr double model_tolerance = 1e-7;
constexpr double first_noise = 0.01;       // of the peak: weights of a first fit
constexpr double least_rest_error = 1e-6;  // of the peak
constexpr double lost = 1e3;               // a residual where the motor cannot burn
// Of a parameter's scale: burnout is a corner, and rows are near.
constexpr double slope_step = 1e-3;
// What is left is judged in so many parts of the burn.
constexpr std::size_t parts = 20;
constexpr double clearly_alike = 1.5;  // of a part's square over a row's: white noise gives 1
constexpr double one_burn = 1e12;
constexpr std::size_t runs_kept = 12;

double peak_of(const Channel& channel) {
  return std::ranges::max(channel.rows, {}, &FitRow::value).value;
}

double deviation(const Channel& channel, const FitRow& row) {
  return std::hypot(channel.noise / row.weight, row.extra);
}

/// Rows of the burn, the rise apart.
bool judged(const FitRow& row, double end) {
  return row.extra == 0 && row.from > 0 && row.to < end;
}

}  // namespace

WebFactor factor_of(double start, double end) {
  return WebFactor{1 + start, 1, 1 + end}.levelled();
}

Motor changed(const Motor& motor, const Burn& burn, double about) {
  Motor result = motor;
  Propellant& propellant = result.propellant;
  propellant.law = BurnLaw(tilted(propellant.law.pieces(), std::exp(burn.ln_rate), burn.dn, about));
  propellant.characteristic_velocity *= std::exp(burn.ln_c_star);
  if (burn.web) propellant.web_factor = factor_of(burn.web_start, burn.web_end);
  if (burn.throat != 0) {
    result.nozzle = result.nozzle.drilled_to(result.nozzle.throat_diameter + burn.throat);
    result.nozzle.exit_diameter =
        std::max(result.nozzle.exit_diameter, result.nozzle.throat_diameter);
  }
  return result;
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
    channel.peak = peak_of(channel);
    channel.noise = first_noise * channel.peak;
    for (double* error : {&channel.rest.before_error, &channel.rest.after_error}) {
      *error = std::max(*error, least_rest_error * channel.peak);
    }
  }
  return channels;
}

/// How a log shows a firing.
struct FitModel::Reading {
  std::size_t shot = 0;
  double gain = 1;
  double moment = 0;
  double clock = 1;
  double lag = 0;
  std::vector<std::pair<double, double>> rests;  // of each of the shot's channels
};

FitModel::FitModel(const std::vector<Shot>& shots, std::vector<Channel> channels, double about)
    : shots_(&shots), channels_(std::move(channels)), about_(about), last_(shots.size()) {}

bool FitModel::has(FitParameter which) const {
  return std::ranges::any_of(parameters,
                             [&](const Parameter& p) { return p.common && p.which == which; });
}

double FitModel::common(const std::vector<double>& values, FitParameter which) const {
  for (std::size_t i = 0; i < parameters.size(); ++i) {
    if (parameters[i].common && parameters[i].which == which) return values[i];
  }
  return 0;
}

double FitModel::own(const std::vector<double>& values, LogParameter which, std::size_t log) const {
  for (std::size_t i = 0; i < parameters.size(); ++i) {
    const Parameter& p = parameters[i];
    if (!p.common && p.which == which && p.log == log) return values[i];
  }
  return 0;
}

Burn FitModel::burn_of(const std::vector<double>& values, const std::vector<Parameter>& of,
                       std::size_t shot) const {
  Burn burn = held;
  for (std::size_t i = 0; i < of.size(); ++i) {
    const Parameter& p = of[i];
    const double value = values[i];
    if (p.common) {
      if (p.which == ln_rate) burn.ln_rate += value;
      if (p.which == exponent) burn.dn = value;
      if (p.which == ln_c_star) burn.ln_c_star = value;
      if (p.which == web_start) burn.web_start = value;
      if (p.which == web_end) burn.web_end = value;
      burn.web = burn.web || p.which == web_start || p.which == web_end;
    } else if (p.log == shot) {
      if (p.which == throat) burn.throat = value;
      if (p.which == batch) burn.ln_rate += value;
    }
  }
  // One burn is one whichever way it was come to.
  burn.ln_rate = std::round(burn.ln_rate * one_burn) / one_burn;
  return burn;
}

Burn FitModel::burn_of(const std::vector<double>& values, std::size_t shot) const {
  return burn_of(values, parameters, shot);
}

const Curve& FitModel::curve_of(const Burn& burn, std::size_t shot) const {
  auto& known = last_[shot];
  for (const auto& [one, curve] : known) {
    if (one == burn) return curve;
  }
  const auto& [motor, lighting, trace] = (*shots_)[shot];
  Curve curve;
  try {
    ++runs_;
    curve = fire_transient(changed(motor, burn, about_),
                           {.lighting = lighting, .tolerance = model_tolerance})
                .curve;
  } catch (const InputError&) {
    // Slag closes the throat, or the like: no such motor was seen.
  }
  if (known.size() >= runs_kept) known.erase(known.begin());
  known.emplace_back(burn, std::move(curve));
  return known.back().second;
}

FitModel::Reading FitModel::reading_of(const std::vector<double>& values,
                                       const std::vector<Parameter>& of, std::size_t shot) const {
  Reading reading;
  reading.shot = shot;
  double ln_gain = 0;
  std::vector<std::pair<double, double>> rests_off(channels_.size(), {0, 0});
  for (std::size_t i = 0; i < of.size(); ++i) {
    const Parameter& p = of[i];
    if (p.common) {
      if (p.which == ln_efficiency) ln_gain += values[i];
      continue;
    }
    if (p.which == rests) rests_off[p.log].first = values[i];
    if (p.which == rests + 1) rests_off[p.log].second = values[i];
    if (p.which >= rests || p.log != shot) continue;
    if (p.which == scale) ln_gain += values[i];
    if (p.which == moment) reading.moment = values[i];
    if (p.which == clock_off) reading.clock = 1 + values[i];
    if (p.which == lag) reading.lag = values[i];
  }
  reading.gain = std::exp(ln_gain);
  for (std::size_t i = 0; i < channels_.size(); ++i) {
    if (channels_[i].shot == shot) reading.rests.push_back(rests_off[i]);
  }
  return reading;
}

void FitModel::read(const Curve& curve, const Reading& reading, std::vector<double>& model) const {
  const Motor& motor = (*shots_)[reading.shot].motor;
  auto rest_off = reading.rests.begin();
  for (const Channel& channel : channels_) {
    if (channel.shot != reading.shot) continue;
    const double ambient = channel.pressure ? motor.day.ambient_pressure : 0;
    const double gain = channel.pressure ? 1 : reading.gain;
    std::vector<double> time = curve.time;
    std::vector<double> value = channel.pressure ? curve.pressure : curve.thrust;
    if (reading.lag > 0 && !time.empty()) value = lagged(time, value, ambient, reading.lag);
    const Followed followed(time, value, ambient);
    const auto [before, after] = *rest_off++;
    for (const FitRow& row : channel.rows) {
      const double rest = channel.rest.at((row.from + row.to) / 2, before, after);
      model.push_back(curve.time.empty()
                          ? lost * channel.peak
                          : rest + gain * followed.over(row, reading.moment, reading.clock));
    }
  }
}

std::vector<double> FitModel::modelled(const std::vector<double>& values,
                                       const std::vector<Parameter>& of, std::size_t shot) const {
  std::vector<double> model;
  read(curve_of(burn_of(values, of, shot), shot), reading_of(values, of, shot), model);
  return model;
}

std::vector<double> FitModel::residuals(const std::vector<double>& values) const {
  std::vector<double> left;
  for (std::size_t shot = 0; shot < shots_->size(); ++shot) {
    const std::vector<double> model = modelled(values, parameters, shot);
    auto said = model.begin();
    for (const Channel& channel : channels_) {
      if (channel.shot != shot) continue;
      for (const FitRow& row : channel.rows) {
        left.push_back((row.value - *said++) / deviation(channel, row));
      }
    }
  }
  for (std::size_t i = 0; i < parameters.size(); ++i) {
    if (parameters[i].known > 0) left.push_back(values[i] / parameters[i].known);
  }
  return left;
}

std::vector<double> FitModel::column(std::size_t j, const std::vector<double>& here,
                                     const std::vector<Parameter>& all,
                                     const std::vector<std::vector<double>>& base) const {
  const Parameter& p = all[j];
  // Away from a bound: what lies outside is not asked.
  const bool room = here[j] + slope_step * p.scale <= p.most;
  const double step = room ? slope_step * p.scale : -slope_step * p.scale;
  std::vector<double> there = here;
  there[j] += step;
  std::vector<double> slopes;
  for (std::size_t shot = 0; shot < shots_->size(); ++shot) {
    const bool of_channel = !p.common && p.which >= rests;
    const bool touched = p.common || (of_channel ? channels_[p.log].shot == shot : p.log == shot);
    if (!touched) {
      slopes.insert(slopes.end(), base[shot].size(), 0);
      continue;
    }
    const std::vector<double> then = modelled(there, all, shot);
    std::size_t k = 0;
    for (const Channel& channel : channels_) {
      if (channel.shot != shot) continue;
      for (const FitRow& row : channel.rows) {
        slopes.push_back((base[shot][k] - then[k]) / (step * deviation(channel, row)));
        ++k;
      }
    }
  }
  return slopes;
}

Sloped FitModel::slopes(const std::vector<double>& values,
                        const std::vector<Parameter>& further) const {
  Sloped sloped{residuals(values), {}};
  std::vector<Parameter> all = parameters;
  all.insert(all.end(), further.begin(), further.end());
  std::vector<double> here = values;
  for (const Parameter& p : further) here.push_back(p.at);
  std::vector<std::vector<double>> base;
  std::size_t prior = 0;
  for (std::size_t shot = 0; shot < shots_->size(); ++shot) {
    base.push_back(modelled(here, all, shot));
    prior += base.back().size();
  }
  for (std::size_t j = 0; j < all.size(); ++j) {
    sloped.columns.push_back(column(j, here, all, base));
    sloped.columns.back().resize(sloped.residuals.size(), 0);
    const bool fitted = j < parameters.size();
    if (fitted && all[j].known > 0) sloped.columns.back()[prior++] = 1 / all[j].known;
  }
  return sloped;
}

LeastSquares FitModel::solved(const std::vector<double>& start) const {
  MarquardtProblem problem;
  problem.residuals = [this](const std::vector<double>& p) { return residuals(p); };
  problem.slopes = [this](const std::vector<double>& p) { return slopes(p); };
  problem.start = start;
  for (const Parameter& p : parameters) {
    problem.least.push_back(p.least);
    problem.most.push_back(p.most);
    problem.scale.push_back(p.scale);
  }
  return marquardt(problem);
}

void FitModel::weigh(const std::vector<double>& left, double model_error) {
  std::size_t at = 0;
  for (Channel& channel : channels_) {
    const double end = (*shots_)[channel.shot].trace.end;
    double squares = 0, count = 0, rows = 0;
    std::vector<std::pair<double, double>> part(parts, {0, 0});  // sum, count
    for (const FitRow& row : channel.rows) {
      const double one = left[at++];
      if (!judged(row, end)) continue;
      squares += one * one;
      rows += row.weight * row.weight;
      ++count;
      const auto place = static_cast<std::size_t>(static_cast<double>(parts) * row.from / end);
      auto& [sum, counted] = part[std::min(place, parts - 1)];
      sum += one;
      ++counted;
    }
    if (count < 2) continue;
    double of_parts = 0, filled = 0;
    for (const auto& [sum, counted] : part) {
      if (counted == 0) continue;
      of_parts += sum * sum / counted;
      ++filled;
    }
    const double mean = std::max(squares / count, 1e-12);
    const double alike = of_parts / filled / mean;
    const double noise = channel.noise * std::sqrt(mean * (alike > clearly_alike ? alike : 1));
    const double trusted =
        model_error * channel.peak * std::sqrt(rows / static_cast<double>(parts));
    channel.noise = std::hypot(noise, trusted);
  }
}

double FitModel::misfit(const std::vector<double>& left) const {
  double sum = 0, count = 0;
  std::size_t i = 0;
  for (const Channel& channel : channels_) {
    for (const FitRow& row : channel.rows) {
      const double share = left[i++] * deviation(channel, row) / channel.peak;
      if (channel.pressure || !judged(row, (*shots_)[channel.shot].trace.end)) continue;
      sum += share * share;
      ++count;
    }
  }
  return std::sqrt(sum / std::max(1.0, count));
}

}  // namespace grainwright
