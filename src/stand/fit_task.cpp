// SPDX-License-Identifier: GPL-3.0-or-later
#include "fit_task.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "grainwright/firing/transient.hpp"
#include "grainwright/quantity.hpp"

namespace grainwright {
namespace {

constexpr double steepest = 0.9;    // exponents are held below 1
constexpr double rate_reach = 0.7;  // in ln, about the start
constexpr double gain_reach = 0.7;
constexpr double web_reach = 0.4;
constexpr double moment_rises = 3;    // before the rise, by which the lighting may be off
constexpr double nuisance_reach = 5;  // standard deviations
// Of the sum of squares, with two more numbers; 99 % of chi squared with two degrees of freedom.
constexpr double clear_gain = 9.21;
// Starts of the exponent beside that which the job has.
constexpr double other_starts[] = {-0.15, 0.15};

Parameter common_of(FitParameter which, const BurnLaw& law, const Start& start) {
  Parameter p{.which = which};
  switch (which) {
    case ln_rate:
      p.least = start.ln_rate - rate_reach;
      p.most = start.ln_rate + rate_reach;
      p.scale = 0.1;
      break;
    case exponent:
      p.least = -0.4;
      p.most = 0.4;
      for (const LawPiece& piece : law.pieces())
        p.most = std::min(p.most, steepest - piece.exponent);
      p.scale = 0.05;
      break;
    case ln_efficiency:
      p.least = start.ln_gain - gain_reach;
      p.most = start.ln_gain + gain_reach;
      p.scale = 0.1;
      break;
    case ln_c_star:
      p.least = -0.4;
      p.most = 0.4;
      p.scale = 0.05;
      break;
    case web_start:
    case web_end:
      p.least = -web_reach;
      p.most = web_reach;
      p.scale = 0.1;
      break;
  }
  return p;
}

Parameter own_of(LogParameter which, std::size_t log, double error) {
  Parameter p{.common = false, .which = which, .log = log, .known = error};
  p.least = which == lag ? 0 : -nuisance_reach * error;
  p.most = nuisance_reach * error;
  // Slopes of what does the same must be taken over the same step: burnout is a corner.
  p.scale = which == batch || which == clock_off ? 0.1 : error;
  return p;
}

/// A fit's task: logs, what is known, and where to start.
class Task {
 public:
  Task(const std::vector<Shot>& shots, const FitOptions& options)
      : shots_(shots),
        options_(options),
        channels_(channels_of(shots)),
        start_(start_of(shots)),
        pressure_(std::ranges::any_of(channels_, &Channel::pressure)),
        several_(shots.size() > 1) {
    if (const auto& factor = shots.front().motor.propellant.web_factor) {
      held_.web_start = factor->start / factor->middle - 1;
      held_.web_end = factor->end / factor->middle - 1;
    }
  }

  [[nodiscard]] bool web_free() const { return !options_.hold_web && options_.web_error > 0; }

  /// The minimum of a model from another one's, or from the start.
  /// `lean` leaves what is known of the instruments at what it is taken as.
  [[nodiscard]] Solved solved(bool n, bool web, const Solved* from, double dn = 0,
                              bool lean = false) const {
    Solved result{
        FitModel(shots_, from ? from->model.channels() : channels_, start_.about), {}, web, n, {}};
    result.model.held = held_;
    add_parameters(result.model, n, web, lean);
    std::vector<double> values;
    for (const Parameter& p : result.model.parameters) {
      values.push_back(value_of(p, from));
      if (p.common && p.which == exponent) values.back() += dn;
    }
    result.least = result.model.solved(values);
    return result;
  }
  /// Once more, with the noise that it left.
  [[nodiscard]] Solved weighed(Solved solved) const {
    solved.model.weigh(solved.least.residuals, options_.model_error);
    const std::vector<double> values = solved.least.parameters;
    solved.least = solved.model.solved(values);
    return solved;
  }
  void take_covariance(Solved& solved) const;

 private:
  void add_parameters(FitModel& model, bool n, bool web, bool lean) const;
  [[nodiscard]] std::vector<Parameter> not_fitted(const Solved& solved) const;
  [[nodiscard]] double value_of(const Parameter& p, const Solved* from) const;
  [[nodiscard]] double error_of(LogParameter which) const {
    switch (which) {
      case scale:
        return options_.scale_error;
      case throat:
        return options_.throat_error;
      case clock_off:
        return options_.clock_error;
      case lag:
        return options_.lag_error;
      case batch:
        return several_ ? options_.batch_error : 0;
      default:
        return 0;
    }
  }

  const std::vector<Shot>& shots_;
  const FitOptions& options_;
  std::vector<Channel> channels_;
  Start start_;
  bool pressure_;
  bool several_;
  Burn held_;
};

void Task::add_parameters(FitModel& model, bool n, bool web, bool lean) const {
  const BurnLaw& law = shots_.front().motor.propellant.law;
  const auto add = [&](FitParameter which, double known) {
    model.parameters.push_back(common_of(which, law, start_));
    model.parameters.back().known = known;
  };
  add(ln_rate, 0);
  if (n) add(exponent, 0);
  if (!options_.hold_efficiency) add(ln_efficiency, 0);
  if (pressure_) add(ln_c_star, 0);
  if (web) {
    add(web_start, options_.web_error);
    add(web_end, options_.web_error);
  }
  for (std::size_t i = 0; i < shots_.size(); ++i) {
    const Rise rise = rise_of(shots_[i].trace);
    Parameter lit{.common = false, .which = moment, .log = i};
    lit.least = std::min(0.0, start_.moments[i]) - moment_rises * rise.length;
    lit.most = std::max(rise.tenth, start_.moments[i]) + rise.length;
    lit.scale = 0.02 * shots_[i].trace.end;
    model.parameters.push_back(lit);
  }
  for (std::size_t i = 0; i < model.channels().size(); ++i) {
    const RestLine& rest = model.channels()[i].rest;
    const double errors[] = {rest.before_error, rest.after_error};
    for (std::size_t k = 0; k < 2; ++k) {
      model.parameters.push_back(own_of(static_cast<LogParameter>(rests + k), i, errors[k]));
      model.parameters.back().least = -10 * errors[k];
      model.parameters.back().most = 10 * errors[k];
    }
  }
  // Of one log nothing tells these from the law: they are considered. Of several the logs do.
  for (const LogParameter which : {scale, throat, clock_off, batch}) {
    const bool fitted = !lean && (several_ || (which == scale && options_.hold_efficiency));
    for (std::size_t i = 0; fitted && error_of(which) > 0 && i < shots_.size(); ++i) {
      model.parameters.push_back(own_of(which, i, error_of(which)));
    }
  }
}

double Task::value_of(const Parameter& p, const Solved* from) const {
  if (from != nullptr) {
    const auto& known = from->model.parameters;
    for (std::size_t i = 0; i < known.size(); ++i) {
      if (known[i].common == p.common && known[i].which == p.which && known[i].log == p.log) {
        return from->least.parameters[i];
      }
    }
  }
  if (!p.common) return p.which == moment ? start_.moments[p.log] : 0;
  if (p.which == ln_rate) return start_.ln_rate;
  if (p.which == ln_efficiency) return start_.ln_gain;
  if (p.which == web_start) return held_.web_start;
  if (p.which == web_end) return held_.web_end;
  return 0;
}

std::vector<Parameter> Task::not_fitted(const Solved& solved) const {
  std::vector<Parameter> held;
  const BurnLaw& law = shots_.front().motor.propellant.law;
  const auto add = [&](FitParameter which, double known, double at) {
    if (known <= 0 || solved.model.has(which)) return;
    held.push_back(common_of(which, law, start_));
    held.back().known = known;
    held.back().at = at;
  };
  add(exponent, options_.n_error, 0);
  add(ln_c_star, options_.c_star_error, 0);
  add(web_start, options_.web_error, held_.web_start);
  add(web_end, options_.web_error, held_.web_end);
  for (const LogParameter which : {scale, throat, clock_off, lag, batch}) {
    for (std::size_t i = 0; error_of(which) > 0 && i < shots_.size(); ++i) {
      const bool fitted = std::ranges::any_of(solved.model.parameters, [&](const Parameter& p) {
        return !p.common && p.which == which && p.log == i;
      });
      if (!fitted) held.push_back(own_of(which, i, error_of(which)));
    }
  }
  return held;
}

void Task::take_covariance(Solved& solved) const {
  const std::vector<Parameter> held = not_fitted(solved);
  Sloped sloped = solved.model.slopes(solved.least.parameters, held);
  const auto fitted = static_cast<std::ptrdiff_t>(solved.model.parameters.size());
  const Covariance columns(sloped.columns.begin() + fitted, sloped.columns.end());
  sloped.columns.resize(solved.model.parameters.size());
  std::vector<double> variances;
  for (const Parameter& p : held) variances.push_back(p.known * p.known);
  const Covariance all = considered_covariance(sloped.columns, columns, variances);
  std::vector<Parameter> parameters = solved.model.parameters;
  parameters.insert(parameters.end(), held.begin(), held.end());
  solved.covariance.assign(fit_parameters, std::vector<double>(fit_parameters, 0));
  for (std::size_t a = 0; a < parameters.size(); ++a) {
    for (std::size_t b = 0; b < parameters.size(); ++b) {
      if (!parameters[a].common || !parameters[b].common) continue;
      solved.covariance[parameters[a].which][parameters[b].which] = all[a][b];
    }
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
  if (pressures.ratio() < tellable_pressures) {
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

std::vector<Firing> firings_of(const Solved& solved) {
  std::vector<Firing> firings;
  const auto& shots = solved.model.shots();
  for (std::size_t i = 0; i < shots.size(); ++i) {
    const Burn burn = solved.model.burn_of(solved.least.parameters, i);
    firings.push_back(fire_transient(changed(shots[i].motor, burn, solved.model.about()),
                                     {.lighting = shots[i].lighting}));
  }
  return firings;
}

/// With the exponent free, the best from several starts.
Solved with_n(const Task& task, const Solved& held) {
  Solved best = task.solved(true, false, &held, 0, true);
  for (const double dn : other_starts) {
    Solved other = task.solved(true, false, &held, dn, true);
    if (other.least.sum_of_squares < best.least.sum_of_squares) best = std::move(other);
  }
  return task.weighed(task.solved(true, held.web, &best));
}

std::string web_told(const WebFactor& factor, double gain) {
  return fmt::format(
      "The rate changes along the web: without that, the sum of squares would be greater by "
      "{:.3g}. "
      "It is {:.3g} times the law's where the burn begins, {:.3g} half way and {:.3g} at burnout.",
      gain, factor.start, factor.middle, factor.end);
}

/// The exponent free where that tells it; the better model then takes the place of `best`.
void free_n(const Task& task, const FitOptions& options, std::size_t logs, Solved& best,
            Chosen& chosen) {
  if (options.hold_n) {
    chosen.n_words = "The exponent is held, as asked.";
    return;
  }
  chosen.n_words = n_untold(chosen.pressures, 0, logs);
  if (!chosen.n_words.empty()) return;
  // A parabola over the web leaves of any other shape enough for a wrong exponent to fit.
  if (logs == 1 && task.web_free()) {
    chosen.n_words =
        "Rate and exponent cannot be told apart by one log: a rate that changes along the web "
        "would burn alike. The job's exponent is kept; fire the same propellant through another "
        "throat and fit both logs together.";
    return;
  }
  Solved free = with_n(task, best);
  task.take_covariance(free);
  const Pressures pressures = pressures_of(firings_of(free));
  chosen.n_words = n_untold(pressures, std::sqrt(free.covariance[exponent][exponent]), logs);
  if (!chosen.n_words.empty()) return;
  chosen.n_words = "Rate and exponent are told apart by " + range_words(pressures) + ".";
  chosen.pressures = pressures;
  best = std::move(free);
}

/// An even web where the rows do not ask for another.
void even_web(const Task& task, Solved& best, Chosen& chosen) {
  task.take_covariance(best);
  Solved even = task.solved(best.n, false, &best);
  const double gain = even.least.sum_of_squares - best.least.sum_of_squares;
  if (gain < clear_gain) {
    chosen.web_words =
        "No change of the rate along the web shows; that there is none the log cannot tell "
        "either, and the errors allow for it.";
    // How even it is, is known as well as the rows told when they were asked.
    even = task.weighed(std::move(even));
    even.covariance = best.covariance;
    best = std::move(even);
    return;
  }
  const Burn burn = best.model.burn_of(best.least.parameters, 0);
  chosen.web_words = web_told(factor_of(burn.web_start, burn.web_end), gain);
  if (!best.n) {
    chosen.web_words +=
        " One throat cannot tell this from another exponent: through another throat it may "
        "burn otherwise.";
  }
}

}  // namespace

Chosen chosen_of(const std::vector<Shot>& shots, const FitOptions& options) {
  const Task task(shots, options);
  Solved best = task.weighed(task.solved(false, task.web_free(), nullptr));
  Chosen chosen{best, pressures_of(firings_of(best)), "",
                "The web is taken as one throughout, as asked.", 0};
  free_n(task, options, shots.size(), best, chosen);
  if (task.web_free()) {
    even_web(task, best, chosen);
  } else {
    task.take_covariance(best);
  }
  chosen.runs = best.model.runs();
  chosen.solved = std::move(best);
  return chosen;
}

}  // namespace grainwright
