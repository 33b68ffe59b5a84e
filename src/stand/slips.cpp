// SPDX-License-Identifier: GPL-3.0-or-later
#include "slips.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <span>

#include "fit_rows.hpp"
#include "grainwright/firing/transient.hpp"
#include "grainwright/stand/round_trip.hpp"

namespace grainwright {
namespace {

// Rows that were counted, not timed: a logger that dropped some has stretched nothing, it has lost.
constexpr double least_counted_efficiency = 0.75;

/// A reading that is so many times too great.
struct Slip {
  double factor;
  const char* looks_like;
};
const Slip force_slips[] = {
    {4.4482216152605, "newtons labelled pounds-force"},
    {1 / 4.4482216152605, "pounds-force labelled newtons"},
    {9.80665, "newtons labelled kilograms"},
    {1 / 9.80665, "kilograms labelled newtons"},
    {2.2046226218488, "pounds labelled kilograms"},
    {1 / 2.2046226218488, "kilograms labelled pounds"},
    {1000, "newtons labelled kilonewtons, or grams labelled kilograms"},
    {1e-3, "kilonewtons labelled newtons, or kilograms labelled grams"},
    {101.971621, "grams labelled newtons"},
    {2, "a bridge or gain off by two"},
    {0.5, "a bridge or gain off by two"},
};
const Slip time_slips[] = {
    {1000, "milliseconds labelled seconds"}, {1e-3, "seconds labelled milliseconds"},
    {2, "a sample rate off by two"},         {0.5, "a sample rate off by two"},
    {60, "seconds labelled minutes"},
};

struct Seen {
  double efficiency = 0;  // that the impulse asks for
  double ln_force = 0;    // of mean thrust over the job's own firing's
  double ln_time = 0;     // likewise of the action time
};

Seen seen_of(const Shot& shot) {
  const Rise rise = rise_of(shot.trace);
  const double lasts = std::max(rise.last_tenth - rise.tenth, shot.trace.step);
  const double impulse = integral(shot.trace.time, shot.trace.thrust, 0, shot.trace.end);
  const Firing firing = fire_transient(shot.motor, {.lighting = shot.lighting});
  const double own = firing.summary.total_impulse;
  return {shot.motor.nozzle.efficiency * impulse / own,
          std::log(impulse / lasts / (own / firing.transient->action_time)),
          std::log(lasts / firing.transient->action_time)};
}

/// The slip whose undoing leaves the likeliest nozzle; none where none does.
const Slip* slip_of(std::span<const Slip> slips, double efficiency) {
  const Slip* best = nullptr;
  const auto away = [&](const Slip& slip) { return std::abs(efficiency / slip.factor - 0.87); };
  for (const Slip& slip : slips) {
    const double left = efficiency / slip.factor;
    if (left < least_efficiency || left > most_efficiency) continue;
    if (best == nullptr || away(slip) < away(*best)) best = &slip;
  }
  return best;
}

std::string factor_words(double factor) {
  return factor >= 1 ? fmt::format("{:.4g} times too great", factor)
                     : fmt::format("{:.4g} times too small", 1 / factor);
}

Doubt doubt_of(const Seen& seen) {
  const bool strong = seen.efficiency > 1;
  std::string words =
      strong
          ? fmt::format("thrust is {:.3g} times what a perfect nozzle would give.", seen.efficiency)
          : fmt::format(
                "the impulse is what a nozzle of efficiency {:.3g} would give; from "
                "{:.2g} to 1 is what nozzles have.",
                seen.efficiency, least_efficiency);
  const Slip* force = slip_of(force_slips, seen.efficiency);
  const Slip* time = slip_of(time_slips, seen.efficiency);
  // A wrong force leaves the burning time of the job's law, a wrong clock its thrust.
  const bool clock = time != nullptr && std::abs(seen.ln_force) < std::abs(seen.ln_time);
  if (clock) {
    words +=
        fmt::format(" Thrust is about the job's and the time is not, by {}: these look like {}.",
                    factor_words(time->factor), time->looks_like);
  } else if (force != nullptr) {
    words += fmt::format(" The readings seem {}: these look like {}.", factor_words(force->factor),
                         force->looks_like);
  } else {
    words += " Mistrust the scale, the clock, the mass of propellant, c* and the throat.";
  }
  const DoubtKind kind = clock    ? DoubtKind::time_base
                         : strong ? DoubtKind::too_strong
                                  : DoubtKind::efficiency;
  return {kind, words};
}

}  // namespace

std::vector<Doubt> doubts_on_strength(const std::vector<Shot>& shots, const Fit& fit) {
  std::vector<Doubt> doubts;
  for (const Shot& shot : shots) {
    if (shot.trace.time.empty()) continue;
    const Seen seen = seen_of(shot);
    const double least = shot.trace.counted ? least_counted_efficiency : least_efficiency;
    if (seen.efficiency < least && seen.efficiency >= least_efficiency) {
      doubts.push_back({DoubtKind::time_base,
                        fmt::format("the impulse is what a nozzle of efficiency {:.3g} would give, "
                                    "and rows were counted for time: has the logger dropped some?",
                                    seen.efficiency)});
    } else if (seen.efficiency < least || seen.efficiency > most_efficiency) {
      doubts.push_back(doubt_of(seen));
    }
  }
  const bool outside = fit.gain < least_efficiency || fit.gain > most_efficiency;
  if (doubts.empty() && fit.efficiency_fitted && outside) {
    doubts.push_back(doubt_of({fit.gain, 0, 0}));
  }
  return doubts;
}

}  // namespace grainwright
