// SPDX-License-Identifier: GPL-3.0-or-later
#include "judge.hpp"

#include <algorithm>

namespace grainwright {
namespace {

// Lengths and volumes are sums of rounded products; a full room is not an overfull one.
constexpr double rounding = 1e-9;

Bound with_room_for_rounding(const LimitRow& row, Bound bound) {
  if (row.value == &LimitedFigures::stack_length) bound.most *= 1 + rounding;
  if (row.value == &LimitedFigures::loading) bound.least *= 1 - rounding;
  return bound;
}

// A throat that does not choke makes no motor, whatever floor is asked.
Bound choking(const SearchTask& task, Bound bound) {
  const ThrustLaw thrust(task.nozzle, task.propellant.gamma, task.propellant.expansion_gamma,
                         task.day.ambient_pressure);
  const double floor = std::max(task.limits.pressure_floor, thrust.choking_pressure());
  if (floor > 0) bound.least = floor;
  return bound;
}

}  // namespace

std::vector<SetLimit> set_limits(const SearchTask& task) {
  const Asked asked{task.limits, task.wish, task.grain_room};
  std::vector<SetLimit> limits;
  for (const LimitCost cost : {LimitCost::looked_at, LimitCost::burned, LimitCost::flown}) {
    for (const LimitRow& row : limit_table()) {
      if (row.cost != cost) continue;
      SetLimit limit{&row, {}, row.bound(asked)};
      limit.bound = with_room_for_rounding(row, limit.asked);
      if (row.value == &LimitedFigures::lowest_pressure) limit.bound = choking(task, limit.bound);
      if (limit.bound.set()) limits.push_back(limit);
    }
  }
  return limits;
}

}  // namespace grainwright
