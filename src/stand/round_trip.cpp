// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/stand/round_trip.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "fit_rows.hpp"
#include "grainwright/firing/transient.hpp"
#include "grainwright/quantity.hpp"
#include "slips.hpp"

namespace grainwright {
namespace {

constexpr double window = 0.01;  // of the action time, over which a peak is the mean

/// Greatest mean over a window, from a time on.
double steady_peak(const std::vector<double>& time, const std::vector<double>& value, double from,
                   double to, double width) {
  const Followed followed(time, value, 0);
  double peak = 0;
  for (double at = from; at + width <= to; at += width / 4) {
    peak = std::max(peak, followed.over({at, at + width, 0, 1}, 0));
  }
  return peak;
}

struct Told {
  double peak, mean, time, impulse, pressure;
};

Told told_of(const Trace& trace) {
  const Rise rise = rise_of(trace);
  const double lasts = rise.last_tenth - rise.tenth;
  const double width = std::max(window * lasts, trace.step);
  Told told{};
  told.time = lasts;
  told.peak = steady_peak(trace.time, trace.thrust, rise.risen, rise.last_tenth, width);
  told.impulse = integral(trace.time, trace.thrust, 0, trace.end);
  told.mean = integral(trace.time, trace.thrust, rise.tenth, rise.last_tenth) / lasts;
  if (!trace.pressure.empty()) {
    told.pressure = steady_peak(trace.time, trace.pressure, rise.risen, rise.last_tenth, width);
  }
  return told;
}

/// A law as a file keeps it.
Motor as_saved(const Shot& shot, const Fit& fit) {
  Motor motor = with_fit(shot.motor, fit);
  std::vector<LawPiece> law = fit.law;
  for (LawPiece& piece : law) {
    piece.rate = std::stod(fmt::format("{:.5g}", piece.rate));
    piece.exponent = std::stod(fmt::format("{:.5g}", piece.exponent));
  }
  motor.propellant.law = BurnLaw(law);
  return motor;
}

RoundTrip round_trip(const Shot& shot, const Fit& fit, double allowed) {
  const Firing firing = fire_transient(as_saved(shot, fit), {.lighting = shot.lighting});
  Trace again = trace_of(firing);
  again.pressure = firing.curve.pressure;
  const Told seen = told_of(shot.trace);
  const Told said = told_of(again);
  RoundTrip trip{.figures = {}, .allowed = allowed};
  const auto add = [&](const char* name, Dimension dimension, double measured, double predicted) {
    trip.figures.push_back({name, dimension, measured, predicted, predicted / (1 + allowed),
                            predicted * (1 + allowed)});
  };
  add("peak thrust", Dimension::force, seen.peak, said.peak);
  add("mean thrust", Dimension::force, seen.mean, said.mean);
  add("action time", Dimension::time, seen.time, said.time);
  add("total impulse", Dimension::impulse, seen.impulse, said.impulse);
  if (seen.pressure > 0) add("peak pressure", Dimension::pressure, seen.pressure, said.pressure);
  return trip;
}

std::string differences(const RoundTrip& trip) {
  std::string words;
  for (const Compared& one : trip.figures) {
    if (one.within()) continue;
    words += fmt::format("{}{} {} where {} was measured", words.empty() ? "" : ", ", one.name,
                         show(one.predicted, one.dimension, UnitSystem::si, 4),
                         show(one.measured, one.dimension, UnitSystem::si, 4));
  }
  return words;
}

}  // namespace

bool RoundTrip::met() const {
  return std::ranges::all_of(figures, &Compared::within);
}

std::vector<RoundTrip> round_trips(const std::vector<Shot>& shots, const Fit& fit,
                                   const FitOptions& options) {
  const double allowed = round_trip_share + (shots.size() > 1 ? options.scale_error : 0);
  std::vector<RoundTrip> trips;
  for (const Shot& shot : shots) {
    if (!shot.trace.time.empty()) trips.push_back(round_trip(shot, fit, allowed));
  }
  return trips;
}

std::vector<Doubt> doubts_on(const std::vector<Shot>& shots, const Fit& fit,
                             const std::vector<RoundTrip>& trips) {
  std::vector<Doubt> doubts;
  for (const Shot& shot : shots) {
    doubts.insert(doubts.end(), shot.trace.doubts.begin(), shot.trace.doubts.end());
  }
  const std::vector<Doubt> strength = doubts_on_strength(shots, fit);
  doubts.insert(doubts.end(), strength.begin(), strength.end());
  if (fit.misfit > most_left_over) {
    doubts.push_back({DoubtKind::left_over,
                      fmt::format("the firing that fits best leaves {:.2g} % of peak thrust, RMS; "
                                  "at most {:.2g} % is taken. Is it this motor, this throat, this "
                                  "log?",
                                  100 * fit.misfit, 100 * most_left_over)});
  }
  if (fit.at_bound) {
    doubts.push_back({DoubtKind::out_of_range,
                      "the fit ran to the end of what it may change: this is no such motor"});
  }
  for (const RoundTrip& trip : trips) {
    if (trip.met()) continue;
    doubts.push_back(
        {DoubtKind::round_trip,
         fmt::format("fired with the law that it taught, the motor gives {}; at most {:.2g} % is "
                     "taken. A scale at its end, surface that lit late, a crack, an off-centre "
                     "core or another grain than the job's would explain it.",
                     differences(trip), 100 * trip.allowed)});
  }
  return doubts;
}

}  // namespace grainwright
