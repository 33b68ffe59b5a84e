// SPDX-License-Identifier: GPL-3.0-or-later
#include "phases.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "grainwright/stand/trace.hpp"
#include "spikes.hpp"

namespace grainwright {
namespace {

constexpr double times_noise = 3;
// Rest between two bursts that are two: so many rows, and so much of the time between first and
// last thrust.
constexpr std::size_t least_pause = 5;
constexpr double pause_share = 0.02;
// Of all impulse: a burst that makes less is an igniter's, or a cough.
constexpr double firing_impulse = 0.1;

/// Rows that burn without a rest between.
struct Burst {
  std::size_t from = 0;
  std::size_t to = 0;  // the last
  double impulse = 0;
};

std::vector<Burst> bursts_of(const std::vector<double>& time, const std::vector<double>& force,
                             double before, double calm) {
  const double peak = std::ranges::max(force) - before;
  const auto burning = [&](std::size_t i) { return force[i] - before >= firing_share * peak; };
  std::vector<Burst> bursts;
  std::size_t first = force.size(), last = 0;
  for (std::size_t i = 0; i < force.size(); ++i) {
    if (!burning(i)) continue;
    first = std::min(first, i);
    last = i;
  }
  const double pause = pause_share * (time[last] - time[first]);
  std::size_t rest = 0;  // rows at rest since the last burning one
  double rest_from = 0;
  for (std::size_t i = first; i <= last; ++i) {
    if (burning(i)) {
      const bool apart = rest >= least_pause && time[i] - rest_from >= pause;
      if (bursts.empty() || apart) bursts.push_back({i, i, 0});
      bursts.back().to = i;
      rest = 0;
    } else if (std::abs(force[i] - before) <= calm) {
      if (rest++ == 0) rest_from = time[i];
    }
    if (i > first) bursts.back().impulse += (time[i] - time[i - 1]) * (force[i] - before);
  }
  return bursts;
}

}  // namespace

Phases phases_of(const std::vector<double>& time, const std::vector<double>& force, double before,
                 double after) {
  const double peak = std::ranges::max(force) - before;
  const double calm = std::max(times_noise * noise_of(force), rest_share * peak);
  const std::vector<Burst> bursts = bursts_of(time, force, before, calm);
  const auto main = std::ranges::max_element(bursts, {}, &Burst::impulse);
  const double all = std::accumulate(bursts.begin(), bursts.end(), 0.0,
                                     [](double sum, const Burst& b) { return sum + b.impulse; });
  Phases phases{main->from, main->to, {}};
  for (const Burst& burst : bursts) {
    if (burst.impulse >= firing_impulse * all) phases.firings.push_back(burst.from);
  }
  while (phases.lit > 0 && force[phases.lit] - before > calm) --phases.lit;
  while (phases.out < force.size() && std::abs(force[phases.out] - after) > calm) ++phases.out;
  return phases;
}

namespace {

struct Line {
  double value = 0;  // in the middle
  double slope = 0;  // a row
};

/// Least squares over rows [from, to).
Line line_of(const std::vector<double>& force, std::size_t from, std::size_t to) {
  const auto count = static_cast<double>(to - from);
  const double middle = (count - 1) / 2;
  Line line;
  double tt = 0, tv = 0;
  for (std::size_t i = from; i < to; ++i) line.value += force[i] / count;
  for (std::size_t i = from; i < to; ++i) {
    const double t = static_cast<double>(i - from) - middle;
    tt += t * t;
    tv += t * (force[i] - line.value);
  }
  line.slope = tt > 0 ? tv / tt : 0;
  return line;
}

}  // namespace

namespace {

constexpr double least_part = 0.08;    // of the burn that stands still
constexpr double excess_share = 0.02;  // of the top, by which the sides would meet above it
constexpr double off_level = 4;        // standard deviations of the mean of some rows
constexpr double level_part = 0.4;     // of the burn, all of it as level as noise lets it be
constexpr double level_noise = 1.35;   // of the means' scatter over their error
constexpr double sure_error = 0.003;   // of the top: where noise hides no real shape
constexpr double curved = 8;           // errors, by which the sides of a round top meet above it

/// Means of some rows, a hundred or so over the burn.
struct Means {
  std::vector<double> mean;
  std::size_t together = 1;
  double error = 0;  // of each
};
Means means_of(const std::vector<double>& force, std::size_t from, std::size_t end, double noise) {
  Means means;
  means.together = std::max<std::size_t>(1, (end - from) / 100);
  means.error = noise / std::sqrt(static_cast<double>(means.together));
  for (std::size_t i = from; i + means.together <= end; i += means.together) {
    means.mean.push_back(line_of(force, i, i + means.together).value);
  }
  return means;
}

/// The longest stretch [from, to) that keeps to a level.
struct Level {
  std::size_t from = 0;
  std::size_t to = 0;
  [[nodiscard]] double length() const { return static_cast<double>(to - from); }
};
Level level_of(const std::vector<double>& mean, double top, double band) {
  Level best;
  std::size_t run = 0;
  for (std::size_t i = 0; i < mean.size(); ++i) {
    run = std::abs(mean[i] - top) <= band ? run + 1 : 0;
    if (static_cast<double>(run) > best.length()) best = {i + 1 - run, i + 1};
  }
  return best;
}

/// How far above a level the lines on its sides would meet in its middle, going on as before.
double meeting(const std::vector<double>& mean, const Level& level, double height) {
  const std::size_t beside = std::max<std::size_t>(4, (level.to - level.from) / 3);
  if (level.from < beside + 2) return 0;
  const double reach = (static_cast<double>(beside) + level.length()) / 2;
  const Line up = line_of(mean, level.from - beside, level.from);
  double meet = up.value + up.slope * reach - height;
  if (level.to + beside < mean.size()) {
    const Line down = line_of(mean, level.to, level.to + beside);
    meet = std::min(meet, down.value - down.slope * reach - height);
  }
  return meet;
}

double scatter_about(const std::vector<double>& mean, const Level& level, double height) {
  double squares = 0;
  for (std::size_t i = level.from; i < level.to; ++i) {
    squares += (mean[i] - height) * (mean[i] - height);
  }
  return std::sqrt(squares / level.length());
}

}  // namespace

std::size_t flat_top(const std::vector<double>& force, const Phases& phases, double rest,
                     double noise) {
  const std::size_t end = std::min(phases.out, force.size());
  if (end < phases.lit + 40 || noise <= 0) return 0;
  const auto [mean, together, error] = means_of(force, phases.lit, end, noise);
  std::vector<double> sorted = mean;
  std::ranges::sort(sorted);
  const double top = sorted[sorted.size() - 1 - sorted.size() / 20];
  const Level level = level_of(mean, top, off_level * error);
  const auto all = static_cast<double>(mean.size());
  if (level.length() < least_part * all) return 0;
  const std::size_t rows = (level.to - level.from) * together;
  const Line line = line_of(mean, level.from, level.to);
  const double slope_error = error * std::sqrt(12 / level.length());
  const double sloping = std::abs(line.slope) * level.length();
  if (sloping > 3 * slope_error + 1e-3 * (top - rest)) return 0;
  // Nothing burns so evenly that most of it is level to within the noise of its means.
  if (level.length() > level_part * all && error < sure_error * (top - rest) &&
      scatter_about(mean, level, line.value) < level_noise * error) {
    return rows;
  }
  const double least = std::max(curved * error, excess_share * (top - rest));
  return meeting(mean, level, line.value) > least ? rows : 0;
}

}  // namespace grainwright
