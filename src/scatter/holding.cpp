// SPDX-License-Identifier: GPL-3.0-or-later
#include "holding.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <span>
#include <utility>

#include "grainwright/parallel.hpp"

namespace grainwright {
namespace {

constexpr int curve_points = 101;
// The table: motors up to so many sigmas of the logarithm of the peak pressure to both sides.
constexpr std::size_t table_size = 13;
constexpr std::size_t middle = table_size / 2;
constexpr double table_reach = 3.5;

HeldPart part_of(const std::string& name) {
  if (name.starts_with("pipe")) return HeldPart::pipe;
  return name.starts_with("head") ? HeldPart::head : HeldPart::nozzle;
}

double gauge_of(const Curve& curve, const FiringGround& ground) {
  return std::ranges::max(curve.pressure) - ground.motor().day.ambient_pressure;
}

struct Judged {
  double log_time = 0;
  double gauge = 0;
  std::vector<PartState> parts;

  [[nodiscard]] double holds(std::size_t part) const { return gauge * parts[part].ratio; }
};

Judged judged(const Shell& shell, const FiringGround& ground, const Draw& draw) {
  QuickFiring trial(ground);
  trial.take(draw);
  const Curve curve = trial.curve(curve_points);
  const Motor motor = motor_of(ground.scene(draw.faults), ground.motor());
  return {std::log(curve.time.back()), gauge_of(curve, ground),
          states_of(margins(shell, motor, curve))};
}

/// Growth of the logarithm of the peak pressure with that of the burn rate.
double pressure_exponent(const FiringGround& ground, Draw draw) {
  constexpr double step = 0.02;
  QuickFiring trial(ground);
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

Margins margins_of(const Shell& shell, const FiringGround& ground, const Draw& draw) {
  QuickFiring trial(ground);
  trial.take(draw);
  return margins(shell, motor_of(ground.scene(draw.faults), ground.motor()),
                 trial.curve(curve_points));
}

Holding::Holding(const Shell& shell, const FiringGround& ground, const Draw& nominal,
                 double log_sigma, unsigned threads) {
  const double reach = table_reach * std::max(log_sigma, 0.01) / pressure_exponent(ground, nominal);
  std::vector<Judged> all(table_size + ground.faults().size());
  in_parallel(
      all.size(), threads,
      [&](std::size_t i) {
        Draw draw = nominal;
        if (i < table_size) {
          // Quick burns first, so that burn times rise.
          draw.burn_rate = std::exp(reach * (1 - static_cast<double>(i) / middle));
        } else {
          draw.faults = FaultSet{1} << (i - table_size);
        }
        all[i] = judged(shell, ground, draw);
      },
      [](std::size_t) {});
  as_drawn_ = all[middle].parts;
  log_holds_.resize(as_drawn_.size());
  for (const Judged& one : std::span(all).first(table_size)) {
    log_time_.push_back(one.log_time);
    for (std::size_t p = 0; p < parts(); ++p) log_holds_[p].push_back(std::log(one.holds(p)));
  }
  for (const Judged& mistake : std::span(all).subspan(table_size)) {
    mistakes_.push_back(mistake.parts);
    scale_.emplace_back();
    for (std::size_t p = 0; p < parts(); ++p) {
      scale_.back().push_back(mistake.holds(p) / as_drawn_holds(p, std::exp(mistake.log_time)));
    }
  }
}

double Holding::as_drawn_holds(std::size_t part, double burn_time) const {
  const double x = std::clamp(std::log(burn_time), log_time_.front(), log_time_.back());
  const auto above = std::ranges::lower_bound(log_time_, x);
  const auto i = static_cast<std::size_t>(
      std::clamp<std::ptrdiff_t>(above - log_time_.begin(), 1, std::ssize(log_time_) - 1));
  const double share = (x - log_time_[i - 1]) / (log_time_[i] - log_time_[i - 1]);
  return std::exp(std::lerp(log_holds_[part][i - 1], log_holds_[part][i], share));
}

double Holding::holds(std::size_t part, FaultSet faults, double burn_time) const {
  const double holds = as_drawn_holds(part, burn_time);
  if (faults == 0) return holds;
  double scale = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; faults != 0; ++i, faults >>= 1U) {
    if ((faults & 1U) != 0) scale = std::min(scale, scale_[i][part]);
  }
  return scale * holds;
}

}  // namespace grainwright
