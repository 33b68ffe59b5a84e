// SPDX-License-Identifier: GPL-3.0-or-later
//
// Signs and suspects are the trade's: common practice, no source.
#include "hints.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace grainwright {
namespace {

// From where on a difference is a sign.
constexpr double slow_rise = 3;      // times the predicted rise, and
constexpr double rise_share = 0.05;  // of the burning time
constexpr double long_tail = 2.5;    // times the predicted fall, and
constexpr double tail_share = 0.05;  // of the action time
constexpr double hump = 0.12;        // of the first fifth over the mean, more than predicted
constexpr double even = 0.06;        // scatter of the tenths' ratios that still counts as even
constexpr double low = 0.07;         // of a ratio
constexpr double missing = 0.07;     // of the impulse

std::string milliseconds(double seconds) {
  return fmt::format("{:.3g} ms", seconds * 1e3);
}

std::string times(double ratio) {
  return fmt::format("{:.3g}", ratio);
}

/// Measured over predicted of each whole tenth, the first and the last left out.
std::vector<double> ratios_of(const std::vector<Tenth>& tenths) {
  std::vector<double> ratios;
  for (std::size_t i = 1; i + 1 < tenths.size(); ++i) {
    ratios.push_back(tenths[i].measured / tenths[i].predicted);
  }
  return ratios;
}

double mean_of(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

double scatter_of(const std::vector<double>& values) {
  const double mean = mean_of(values);
  double sum = 0;
  for (const double v : values) sum += (v - mean) * (v - mean);
  return std::sqrt(sum / static_cast<double>(values.size())) / mean;
}

/// The second and third tenth over the mean of all: before them thrust rises.
double early_share(const std::vector<Tenth>& tenths, double Tenth::*thrust) {
  double all = 0;
  for (const Tenth& tenth : tenths) all += tenth.*thrust / static_cast<double>(tenths.size());
  return (tenths[1].*thrust + tenths[2].*thrust) / 2 / all;
}

bool rises_late(const StandFigures& seen, const StandFigures& said) {
  return seen.rise_time > slow_rise * said.rise_time &&
         seen.rise_time > rise_share * said.burning_time;
}

void judge_rise(std::vector<Hint>& hints, const StandFigures& seen, const StandFigures& said) {
  if (!rises_late(seen, said)) return;
  hints.push_back({fmt::format("A late rise: {} from 10 to 90 % of the early thrust, {} predicted.",
                               milliseconds(seen.rise_time), milliseconds(said.rise_time)),
                   "a face that should be bare is inhibited, or the grain lights slowly: a weak "
                   "igniter, a glazed core"});
}

void judge_start(std::vector<Hint>& hints, const Comparison& comparison, double port_to_throat) {
  const double seen = early_share(comparison.tenths, &Tenth::measured);
  const double said = early_share(comparison.tenths, &Tenth::predicted);
  if (!(seen > (1 + hump) * said)) return;
  std::string suspect = "erosive burning while the port is narrow";
  if (port_to_throat > 0) suspect += fmt::format(" (port / throat area {:.3g})", port_to_throat);
  suspect += ", or a cracked segment or an inhibitor that let go, which bare more area";
  hints.push_back({fmt::format("An early hump: the second and third tenth are {} times the mean "
                               "thrust, {} predicted.",
                               times(seen), times(said)),
                   suspect});
}

void judge_tail(std::vector<Hint>& hints, const StandFigures& seen, const StandFigures& said) {
  if (!(seen.fall > long_tail * said.fall && seen.fall > tail_share * seen.action_10.length())) {
    return;
  }
  hints.push_back({fmt::format("A long tail: {} from the last 75 % of mean thrust to the last 10 % "
                               "of peak, {} predicted.",
                               milliseconds(seen.fall), milliseconds(said.fall)),
                   "a core off centre leaves a sliver; or segments that burn out one by one"});
}

void judge_level(std::vector<Hint>& hints, const Comparison& comparison, const StandFigures& seen) {
  const StandFigures& said = comparison.figures;
  const std::vector<double> ratios = ratios_of(comparison.tenths);
  const double level = mean_of(ratios);
  const double time = seen.burning_time / said.burning_time;
  const double impulse = seen.total_impulse.value / said.total_impulse.value;
  if (scatter_of(ratios) > even) return;
  if (std::abs(time - 1) <= low && std::abs(level - 1) > low) {
    hints.push_back(
        {fmt::format("{} all through: thrust {} times the predicted one in every tenth, within "
                     "{:.2g} %, over {} times the burning time.",
                     level < 1 ? "Low" : "High", times(level), 100 * scatter_of(ratios),
                     times(time)),
         level < 1 ? "the nozzle's efficiency or c* is lower than the job says; or the scale"
                   : "the nozzle's efficiency or c* is higher than the job says; or the scale"});
  } else if (std::abs(time - 1) > low && std::abs(impulse - 1) <= missing) {
    hints.push_back({fmt::format("{} than its law: burning time {} times the predicted one, "
                                 "impulse {} times.",
                                 time < 1 ? "Quicker" : "Slower", times(time), times(impulse)),
                     "the burn rate: another batch, another grain temperature; the fit tells it"});
  } else if (time < 1 - low && impulse < 1 - missing) {
    hints.push_back({fmt::format("Short and weak: burning time {} times the predicted one, impulse "
                                 "{} times.",
                                 times(time), times(impulse)),
                     "propellant that is not there or did not burn: weigh the segments, look for "
                     "lumps blown out"});
  }
}

}  // namespace

std::vector<Hint> hints_for(const Comparison& comparison, const StandFigures& measured,
                            double port_to_throat) {
  std::vector<Hint> hints;
  judge_rise(hints, measured, comparison.figures);
  judge_start(hints, comparison, port_to_throat);
  judge_tail(hints, measured, comparison.figures);
  judge_level(hints, comparison, measured);
  return hints;
}

}  // namespace grainwright
