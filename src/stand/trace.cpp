// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/stand/trace.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "grainwright/error.hpp"
#include "grainwright/quantity.hpp"
#include "phases.hpp"
#include "spikes.hpp"

namespace grainwright {
namespace {

constexpr std::size_t least_quiet = 5;  // rows that a reading at rest is taken from
// Of the firing, to both sides of it: what the igniter and the last gas push under the noise would
// pass for rest there, and lift its mean.
constexpr double rest_margin = 0.05;
// The push that a log shows most must be so many times the pull, or the other way round.
constexpr double clear_sign = 3;
// Rows at one greatest value, against the longest run of any other value.
constexpr std::size_t least_clipped = 5;
constexpr std::size_t times_other_runs = 4;
// Of the span, by which the two ends of a log may differ, both at rest.
constexpr double ends_apart = 0.1;

void keep_window(Log& log, const Handling& handling) {
  const auto first = std::ranges::lower_bound(log.time, handling.from) - log.time.begin();
  const auto last = std::ranges::upper_bound(log.time, handling.to) - log.time.begin();
  if (last - first < 3) {
    throw InputError("from and to",
                     fmt::format("{} rows between them", std::max<std::ptrdiff_t>(0, last - first)),
                     "times of the log with the firing between them");
  }
  const auto cut = [&](auto& column) {
    if (column.empty()) return;
    column.erase(column.begin() + last, column.end());
    column.erase(column.begin(), column.begin() + first);
  };
  cut(log.time);
  cut(log.force);
  cut(log.pressure);
  cut(log.line);
}

double median_of(const double* begin, const double* end) {
  std::vector<double> values(begin, end);
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::ranges::nth_element(values, middle);
  return *middle;
}

/// Rows at one end of the log from which its first guess of rest is taken.
std::size_t edge_rows(std::size_t rows) {
  return std::clamp<std::size_t>(rows / 50, std::min<std::size_t>(rows, least_quiet), 2000);
}

/// True where the thrust reads negative.
bool reads_negative(const std::vector<double>& force, double rest, const Handling& handling) {
  if (handling.reversed) return *handling.reversed;
  const auto [least, most] = std::ranges::minmax(force);
  const double push = most - rest;
  const double pull = rest - least;
  if (push < clear_sign * pull && pull < clear_sign * push) {
    const auto show_force = [](double f) { return show(f, Dimension::force, UnitSystem::si); };
    throw InputError("thrust_reads",
                     fmt::format("not given, and the log goes {} up and {} down from rest",
                                 show_force(push), show_force(pull)),
                     "positive or negative; or the times between which the firing is");
  }
  return pull > push;
}

struct Rest {
  double mean = 0;
  double time = 0;   // of the mean
  double noise = 0;  // standard deviation about a line
  std::size_t rows = 0;
};

/// Mean and scatter of some rows.
Rest rest_of(const std::vector<double>& time, const std::vector<double>& value, std::size_t from,
             std::size_t to) {
  Rest rest{.rows = to - from};
  if (rest.rows == 0) return rest;
  const auto count = static_cast<double>(rest.rows);
  for (std::size_t i = from; i < to; ++i) {
    rest.mean += value[i] / count;
    rest.time += time[i] / count;
  }
  double tt = 0, tv = 0, vv = 0;
  for (std::size_t i = from; i < to; ++i) {
    const double t = time[i] - rest.time;
    const double v = value[i] - rest.mean;
    tt += t * t;
    tv += t * v;
    vv += v * v;
  }
  const double left = vv - (tt > 0 ? tv * tv / tt : 0);
  rest.noise = rest.rows > 2 ? std::sqrt(std::max(0.0, left) / (count - 2)) : 0;
  return rest;
}

/// Rows that tell the reading at rest, by their numbers: [0, before) and [after, rows).
struct Quiet {
  std::size_t before = 0;
  std::size_t after = 0;
};
Quiet quiet_of(const std::vector<double>& time, const Phases& phases) {
  const std::size_t out = std::min(phases.out, time.size() - 1);
  const double margin = rest_margin * (time[out] - time[phases.lit]);
  const auto first_from = [&](double when) {
    return static_cast<std::size_t>(std::ranges::lower_bound(time, when) - time.begin());
  };
  Quiet quiet = {first_from(time[phases.lit] - margin), first_from(time[out] + margin)};
  // A log that is short of rest has to make do with all of it.
  if (quiet.before < least_quiet) quiet.before = phases.lit + 1;
  if (time.size() - quiet.after < least_quiet) quiet.after = std::min(phases.out, time.size());
  return quiet;
}

/// Level that the log comes back to; the level before where it ends while burning.
double level_after(const std::vector<double>& force, double before) {
  const double* end = force.data() + force.size();
  const double last = median_of(end - edge_rows(force.size()), end);
  const double peak = std::ranges::max(force) - before;
  return std::abs(last - before) < firing_share * peak ? last : before;
}

/// Impulse up to each row, as a share of all.
std::vector<double> impulse_share(const std::vector<double>& time, const std::vector<double>& force,
                                  const Phases& phases) {
  std::vector<double> share(time.size(), 0);
  for (std::size_t i = phases.lit + 1; i < time.size(); ++i) {
    const double step = time[i] - time[i - 1];
    share[i] = share[i - 1] + (i <= phases.out ? step * (force[i] + force[i - 1]) / 2 : 0);
  }
  const double all = share.back();
  for (double& s : share) s = all > 0 ? s / all : 0;
  return share;
}

double weight_change(const Handling& handling, double change) {
  if (handling.position == StandPosition::horizontal) return 0;
  if (handling.propellant_mass <= 0) return change;
  const double weight = handling.propellant_mass * standard_gravity;
  return handling.position == StandPosition::nozzle_up ? -weight : weight;
}

double mean_error(const Rest& rest) {
  return rest.rows > 0 ? rest.noise / std::sqrt(static_cast<double>(rest.rows)) : 0;
}

/// Takes the reading at rest off the force.
void take_off_rest(Trace& trace, const Phases& phases, const Rest& before, const Rest& after,
                   const Handling& handling) {
  std::vector<double>& force = trace.thrust;
  const double change = after.rows > 0 ? after.mean - before.mean : 0;
  trace.weight_change = weight_change(handling, change);
  const double drift = after.rows > 0 ? change - trace.weight_change : 0;
  RestLine& rest = trace.rest;
  rest = {mean_error(before), mean_error(after), before.time,
          after.rows > 0 ? after.time : before.time};
  const auto drifted = [&](double time) { return rest.at(time, 0, drift); };
  for (std::size_t i = 0; i < force.size(); ++i) {
    force[i] -= before.mean + drifted(trace.time[i]);
  }
  const double lit = trace.time[phases.lit];
  const double out = trace.time[std::min(phases.out, force.size() - 1)];
  trace.drift = drifted(out) - drifted(lit);
  if (trace.weight_change != 0 && drift == 0) {  // all of the change goes with impulse
    rest.from = lit;
    rest.to = out;
  }
  trace.tare_error = rest.error((lit + out) / 2);
  if (trace.weight_change == 0) return;
  const std::vector<double> share = impulse_share(trace.time, force, phases);
  for (std::size_t i = 0; i < force.size(); ++i) force[i] -= trace.weight_change * share[i];
}

/// Rows at the scale's end: at the capacity said, or a greatest value that stands still as no
/// other.
std::size_t clipped_rows(const std::vector<double>& force, double top, const Phases& phases) {
  const double end = std::isnan(top) ? std::ranges::max(force) : top;
  std::size_t at_end = 0, run = 0, longest_other = 0, longest = 0;
  for (std::size_t i = phases.lit; i < std::min(phases.out, force.size()); ++i) {
    const bool same = i > phases.lit && force[i] == force[i - 1];
    run = same ? run + 1 : 1;
    if (force[i] >= end) {
      ++at_end;
      longest = std::max(longest, run);
    } else {
      longest_other = std::max(longest_other, run);
    }
  }
  if (!std::isnan(top)) return at_end;
  const bool stands = longest >= least_clipped &&
                      longest >= times_other_runs * std::max<std::size_t>(1, longest_other);
  return stands ? at_end : 0;
}

void find_gaps(Trace& trace, const std::vector<std::uint32_t>& line) {
  for (std::size_t i = 1; i < trace.time.size(); ++i) {
    const double length = trace.time[i] - trace.time[i - 1];
    const bool burning = trace.time[i] > 0 && trace.time[i - 1] < trace.end;
    if (burning && length >= gap_steps * trace.step) {
      trace.gaps.push_back({trace.time[i - 1], length, line[i]});
    }
  }
}

void take_pressure(Trace& trace, const Quiet& quiet, const Handling& handling) {
  if (trace.pressure.empty()) return;
  const Rest rest = rest_of(trace.time, trace.pressure, 0, quiet.before);
  trace.pressure_noise = rest.noise;
  trace.pressure_rest.before_error = mean_error(rest);
  for (double& p : trace.pressure) p += handling.ambient_pressure - rest.mean;
}

void remark(Trace& trace, const Handling& handling, const Rest& after, bool at_end) {
  if (at_end)
    trace.remarks.emplace_back("the log ends while the motor burns: all figures are least values");
  if (after.rows < least_quiet && !at_end) {
    trace.remarks.emplace_back("too few rows after the firing to see whether the reading drifts");
  }
  if (handling.position != StandPosition::horizontal && handling.propellant_mass <= 0) {
    trace.remarks.emplace_back(
        "the change of the reading at rest is taken as the weight of the propellant that left; "
        "with its mass weighed, drift could be told apart");
  }
  if (trace.clipped > 0) {
    trace.remarks.push_back(fmt::format(
        "the scale is at its end for {} rows: peak thrust and impulse are least values, and the "
        "fit leaves these rows out",
        trace.clipped));
  }
}

/// What speaks against the log as it is.
void doubt(Trace& trace, const Phases& phases, std::size_t rows) {
  if (phases.out >= rows && trace.doubts.empty()) {
    trace.doubts.push_back(
        {DoubtKind::cut, "the log ends while the motor burns: give one that goes on to rest"});
  }
  if (phases.firings.size() > 1) {
    trace.doubts.push_back(
        {DoubtKind::several,
         fmt::format("{} firings in one log: say between which times the one is that is meant",
                     phases.firings.size())});
  }
  if (trace.clipped > 0) {
    trace.doubts.push_back(
        {DoubtKind::clipped,
         fmt::format("the scale is at its end for {} rows: peak and impulse were more than it "
                     "shows. A stronger load cell would tell.",
                     trace.clipped)});
    return;
  }
  const std::size_t flat = flat_top(trace.thrust, phases, 0, trace.noise);
  if (flat > 0) {
    trace.doubts.push_back(
        {DoubtKind::clipped,
         fmt::format("thrust stands still at its top for {} rows, and what goes before and after "
                     "would meet above: the scale, its amplifier or its logger is at its end",
                     flat)});
  }
}

/// Rows near a level, of a hundred over the log.
double rows_near(const std::vector<double>& force, double level, double reach) {
  const std::size_t stride = std::max<std::size_t>(1, force.size() / 2000);
  double near = 0;
  for (std::size_t i = 0; i < force.size(); i += stride) {
    if (std::abs(force[i] - level) <= reach) ++near;
  }
  return near;
}

/// What a log reads at rest: at its beginning; at its end where the two differ and more rows are
/// like the end, which is doubted.
double rest_level(const Log& log, Trace& trace) {
  const double* begin = log.force.data();
  const std::size_t edge = edge_rows(log.force.size());
  const double first = median_of(begin, begin + edge);
  const double last = median_of(begin + log.force.size() - edge, begin + log.force.size());
  const auto [least, most] = std::ranges::minmax(log.force);
  const double apart = ends_apart * (most - least);
  if (std::abs(last - first) <= apart) return first;
  const auto show_force = [](double f) { return show(f, Dimension::force, UnitSystem::si, 3); };
  trace.doubts.push_back(
      {DoubtKind::cut,
       fmt::format("the log's first rows read {} and its last {}: it begins or ends while the "
                   "motor burns. Give a log from rest to rest.",
                   show_force(first), show_force(last))});
  return rows_near(log.force, last, apart / 4) > rows_near(log.force, first, apart / 4) ? last
                                                                                        : first;
}

/// The log with thrust upward, and its first guess of rest.
double turn_up(Log& log, Trace& trace, const Handling& handling) {
  const double found = rest_level(log, trace);
  const double rest = handling.tare.value_or(found);
  trace.reversed = reads_negative(log.force, rest, handling);
  const double sign = trace.reversed ? -1 : 1;
  for (double& f : log.force) f *= sign;
  if (!(std::ranges::max(log.force) > sign * rest)) {
    throw InputError("log", "no thrust in it", "a log with a firing");
  }
  return sign * rest;
}

/// What the rows before and after the firing say; the reading before is the tare where one is
/// given.
void take_rest(Trace& trace, Rest& before, const Rest& after, double level,
               const Handling& handling) {
  const bool doubted = !trace.doubts.empty();
  if (doubted && before.rows < least_quiet) before.mean = level;
  if (before.rows < least_quiet && !handling.tare && !doubted) {
    throw InputError("tare", fmt::format("not given, and {} rows before ignition", before.rows),
                     "the reading at rest, or a log that begins before ignition");
  }
  if (handling.tare) before.mean = level;
  trace.tare = trace.reversed ? -before.mean : before.mean;
  trace.noise = before.rows < least_quiet ? after.noise : before.noise;
  trace.quiet_before = before.rows;
  trace.quiet_after = after.rows;
}

void take_clipping(Trace& trace, const Phases& phases, double rest, const Handling& handling) {
  trace.clipped = clipped_rows(trace.thrust, handling.capacity.value_or(std::nan("")), phases);
  if (trace.clipped == 0) return;
  const double end = handling.capacity.value_or(std::ranges::max(trace.thrust)) - rest;
  trace.clip_thrust = end - rest_share * end;
}

}  // namespace

Trace cleaned(Log log, const Handling& handling) {
  keep_window(log, handling);
  Trace trace;
  trace.counted = log.counted;
  if (!handling.keep_spikes) trace.spikes = set_spikes_aside(log);
  trace.step = median_step(log.time);
  const double level = turn_up(log, trace, handling);
  const std::size_t rows = log.time.size();
  const Phases phases = phases_of(log.time, log.force, level, level_after(log.force, level));
  const Quiet quiet = quiet_of(log.time, phases);
  Rest before = rest_of(log.time, log.force, 0, quiet.before);
  const Rest after = rest_of(log.time, log.force, quiet.after, rows);
  take_rest(trace, before, after, level, handling);

  trace.time = std::move(log.time);
  trace.thrust = std::move(log.force);
  trace.pressure = std::move(log.pressure);
  take_clipping(trace, phases, before.mean, handling);
  take_off_rest(trace, phases, before, after.rows >= least_quiet ? after : Rest{}, handling);
  trace.clip_thrust -= std::abs(trace.drift) + std::abs(trace.weight_change);
  take_pressure(trace, quiet, handling);
  trace.ignition = trace.time[phases.lit];
  trace.end = trace.time[std::min(phases.out, rows - 1)] - trace.ignition;
  for (double& t : trace.time) t -= trace.ignition;
  trace.rest.from -= trace.ignition;
  trace.rest.to -= trace.ignition;
  find_gaps(trace, log.line);
  remark(trace, handling, after, phases.out >= rows);
  doubt(trace, phases, rows);
  return trace;
}

}  // namespace grainwright
