// SPDX-License-Identifier: GPL-3.0-or-later
#include "confidence.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "grainwright/scatter/scatter.hpp"
#include "grainwright/strength/change.hpp"
#include "stock.hpp"

namespace grainwright {
namespace {

// Firings a build of the shortlist, and searches until all of it keeps the ceiling.
constexpr std::size_t firings = 8192;
constexpr int most_rounds = 5;
// Put on the factor that was found, for what the firings do not settle.
constexpr double reserve = 1.001;
// A factor this much larger than need be is worth another search.
constexpr double worth_a_search = 1.01;

/// One segment in the whole room on the first rod, for the first factor.
Motor plain_motor(const SearchTask& task) {
  Segment segment = segment_of(task, 0);
  segment.length = task.grain_room;
  return with_throat({{{{segment}}, task.shop.spacer}, task.propellant, task.nozzle, task.day},
                     std::ranges::min(task.shop.throats));
}

double first_factor(const SearchTask& task) {
  const Motor motor = plain_motor(task);
  const Tolerances tolerances = with_measurements(task.tolerances, motor);
  const double sigmas = Spread{Distribution::normal, 1, false}.departure(task.limits.confidence);
  return std::exp(sigmas * log_pressure_sigma(motor, tolerances));
}

/// Peak pressure that the asked part of a design's motors keeps under.
double pressure_of(const SearchTask& task, const Design& design) {
  ScatterTask scattered{.motor = motor_of(task, design)};
  scattered.tolerances = with_measurements(task.tolerances, scattered.motor);
  return pressure_at_confidence(scattered, task.limits.confidence, firings);
}

/// Fills in what each design's motors keep under; the greatest of that over their own peak.
double judge(const SearchTask& task, SearchResult& result) {
  double factor = 1;
  for (Design& design : result.designs) {
    design.pressure_at_confidence = pressure_of(task, design);
    factor = std::max(factor, design.pressure_at_confidence / design.summary.peak_pressure);
  }
  return factor;
}

bool all_keep(const SearchTask& task, const SearchResult& result) {
  return std::ranges::all_of(result.designs, [&](const Design& design) {
    return design.pressure_at_confidence <= task.limits.pressure;
  });
}

/// What a limit on the peak pressure would have to be, as the job asks it.
void raise_reliefs(const SearchTask& task, double factor, SearchResult& result) {
  for (Relief& relief : result.reliefs) {
    if (relief.key != "limits.pressure") continue;
    relief.asked = task.limits.pressure;
    relief.needed *= factor;
  }
}

}  // namespace

bool asks_confidence(const SearchTask& task) {
  return task.limits.confidence > 0 && std::isfinite(task.limits.pressure);
}

SearchResult search_with_confidence(
    const SearchTask& task, const std::function<SearchResult(const SearchTask&)>& search_once) {
  double factor = first_factor(task);
  SearchResult result;
  long long builds = 0;
  double seconds = 0;
  for (int round = 0; round < most_rounds; ++round) {
    SearchTask lowered = task;
    lowered.limits.confidence = 0;
    lowered.limits.pressure = std::max(
        task.limits.pressure / factor,
        std::nextafter(task.limits.pressure_floor, std::numeric_limits<double>::infinity()));
    result = search_once(lowered);
    result.pressure_factor = factor;
    result.builds = builds += result.builds;
    result.seconds = seconds += result.seconds;
    if (result.designs.empty()) break;
    const double found = judge(task, result) * reserve;
    if (result.stopped || (all_keep(task, result) && factor <= found * worth_a_search)) break;
    factor = found;
  }
  std::erase_if(result.designs, [&](const Design& design) {
    return design.pressure_at_confidence > task.limits.pressure;
  });
  raise_reliefs(task, result.pressure_factor, result);
  return result;
}

}  // namespace grainwright
