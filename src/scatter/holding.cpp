// SPDX-License-Identifier: GPL-3.0-or-later
#include "holding.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "grainwright/parallel.hpp"

namespace grainwright {
namespace {

constexpr int curve_points = 101;
// Where the table stands, in sigmas of the logarithm of the peak pressure.
constexpr std::array table_sigmas = {-3.5, -1.5, 0.0, 1.5, 3.5};
constexpr std::size_t middle = 2;

HeldPart part_of(const std::string& name) {
  if (name.starts_with("pipe")) return HeldPart::pipe;
  return name.starts_with("head") ? HeldPart::head : HeldPart::nozzle;
}

double gauge_of(const Curve& curve, const TrialGround& ground) {
  return std::ranges::max(curve.pressure) - ground.motor().day.ambient_pressure;
}

struct Judged {
  double gauge = 0;
  std::vector<PartState> parts;
};

Judged judged(const Shell& shell, const TrialGround& ground, const Draw& draw) {
  Trial trial(ground);
  trial.take(draw);
  const Curve curve = trial.curve(curve_points);
  const Motor motor = motor_of(ground.scene(draw.faults), ground.motor());
  return {gauge_of(curve, ground), states_of(margins(shell, motor, curve))};
}

/// Growth of the logarithm of the peak pressure with that of the burn rate.
double pressure_exponent(const TrialGround& ground, Draw draw) {
  constexpr double step = 0.02;
  Trial trial(ground);
  const auto log_peak = [&](double rate) {
    draw.burn_rate = rate;
    trial.take(draw);
    return std::log(trial.peak_pressure());
  };
  return std::max(1.0, (log_peak(1 + step) - log_peak(1 - step)) / (2 * step));
}

}  // namespace

std::string name_of(HeldPart part) {
  switch (part) {
    case HeldPart::pipe:
      return "pipe";
    case HeldPart::head:
      return "head closure";
    case HeldPart::nozzle:
      return "nozzle seat";
  }
  return "";
}

std::vector<PartState> states_of(const Margins& margins) {
  std::vector<PartState> states;
  for (const PartMargin& part : margins.parts) {
    const PartState state{part_of(part.part), part.weakest().mode, part.weakest().ratio};
    const auto known = std::ranges::find(states, state.part, &PartState::part);
    if (known == states.end()) {
      states.push_back(state);
    } else if (state.ratio < known->ratio) {
      *known = state;
    }
  }
  std::ranges::sort(states, {}, &PartState::part);
  return states;
}

Margins margins_of(const Shell& shell, const TrialGround& ground, const Draw& draw) {
  Trial trial(ground);
  trial.take(draw);
  return margins(shell, motor_of(ground.scene(draw.faults), ground.motor()),
                 trial.curve(curve_points));
}

Holding::Holding(const Shell& shell, const TrialGround& ground, const Draw& nominal,
                 double log_sigma, unsigned threads) {
  const double exponent = pressure_exponent(ground, nominal);
  const double apart = std::max(log_sigma, 0.01) / exponent;
  const std::size_t faults = ground.faults().size();
  std::vector<Judged> all(table_sigmas.size() + faults);
  in_parallel(
      all.size(), threads,
      [&](std::size_t i) {
        Draw draw = nominal;
        if (i < table_sigmas.size()) {
          draw.burn_rate = std::exp(table_sigmas[i] * apart);
        } else {
          draw.faults = FaultSet{1} << (i - table_sigmas.size());
        }
        all[i] = judged(shell, ground, draw);
      },
      [](std::size_t) {});
  as_drawn_ = all[middle].parts;
  log_holds_.resize(as_drawn_.size());
  for (std::size_t i = 0; i < table_sigmas.size(); ++i) {
    log_gauge_.push_back(std::log(all[i].gauge));
    for (std::size_t p = 0; p < parts(); ++p) {
      log_holds_[p].push_back(std::log(all[i].gauge * all[i].parts[p].ratio));
    }
  }
  for (std::size_t i = 0; i < faults; ++i) {
    const Judged& mistake = all[table_sigmas.size() + i];
    mistakes_.push_back(mistake.parts);
    scale_.emplace_back();
    for (std::size_t p = 0; p < parts(); ++p) {
      scale_.back().push_back(mistake.gauge * mistake.parts[p].ratio /
                              as_drawn_holds(p, mistake.gauge));
    }
  }
}

double Holding::as_drawn_holds(std::size_t part, double gauge) const {
  const double x =
      std::clamp(std::log(std::max(gauge, 1.0)), log_gauge_.front(), log_gauge_.back());
  const auto above = std::ranges::lower_bound(log_gauge_, x);
  const auto i = static_cast<std::size_t>(
      std::clamp<std::ptrdiff_t>(above - log_gauge_.begin(), 1, std::ssize(log_gauge_) - 1));
  const double share = (x - log_gauge_[i - 1]) / (log_gauge_[i] - log_gauge_[i - 1]);
  const auto& holds = log_holds_[part];
  return std::exp(holds[i - 1] + share * (holds[i] - holds[i - 1]));
}

double Holding::holds(std::size_t part, FaultSet faults, double gauge) const {
  const double holds = as_drawn_holds(part, gauge);
  if (faults == 0) return holds;
  double scale = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; faults != 0; ++i, faults >>= 1U) {
    if ((faults & 1U) != 0) scale = std::min(scale, scale_[i][part]);
  }
  return scale * holds;
}

}  // namespace grainwright
