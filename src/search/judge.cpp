// SPDX-License-Identifier: GPL-3.0-or-later
#include "judge.hpp"

#include <algorithm>
#include <limits>

namespace grainwright {

std::vector<LimitRow> limit_rows(const SearchTask& task) {
  constexpr double infinity = std::numeric_limits<double>::infinity();
  const Limits& limits = task.limits;
  const Wish& wish = task.wish;
  // Lengths and volumes are sums of rounded products; a full room is not an overfull one.
  constexpr double rounding = 1e-9;
  const auto at_least = [](double value) { return Bound{value, infinity}; };
  const auto at_most = [](double value) { return Bound{-infinity, value}; };
  const auto when_above_zero = [&](double value) { return value > 0 ? at_least(value) : Bound{}; };
  // A throat that does not choke makes no motor, whatever floor is asked.
  const ThrustLaw thrust(task.nozzle, task.propellant.gamma, task.propellant.expansion_gamma,
                         task.day.ambient_pressure);
  const double floor = std::max(limits.pressure_floor, thrust.choking_pressure());
  const Bound room = at_most(task.grain_room);
  const Bound loading = when_above_zero(wish.loading);
  const Bound port = when_above_zero(limits.port_to_throat);
  const Bound ceiling = at_most(limits.pressure);
  const Bound flux = at_most(limits.mass_flux);
  const LimitRow all[] = {
      {"casing.grain_room", &Figures::stack_length, at_most(task.grain_room * (1 + rounding)), room,
       Stage::looked_at},
      {"wish.loading", &Figures::loading, when_above_zero(wish.loading * (1 - rounding)), loading,
       Stage::looked_at},
      {"limits.port_to_throat", &Figures::port_to_throat, port, port, Stage::looked_at},
      {"limits.pressure", &Figures::peak_pressure, ceiling, ceiling, Stage::looked_at},
      {"limits.pressure_floor", &Figures::lowest_pressure, when_above_zero(floor),
       when_above_zero(limits.pressure_floor), Stage::looked_at},
      {"limits.mass_flux", &Figures::mass_flux, flux, flux, Stage::burned},
      {"wish.burn_time", &Figures::burn_time, wish.burn_time, wish.burn_time, Stage::burned},
      {"wish.total_impulse", &Figures::total_impulse, wish.total_impulse, wish.total_impulse,
       Stage::burned},
      {"wish.initial_thrust", &Figures::initial_thrust, wish.initial_thrust, wish.initial_thrust,
       Stage::looked_at},
      {"wish.mean_thrust", &Figures::mean_thrust, wish.mean_thrust, wish.mean_thrust,
       Stage::burned},
      {"wish.peak_thrust", &Figures::peak_thrust, wish.peak_thrust, wish.peak_thrust,
       Stage::looked_at},
      {"wish.thrust_to_weight", &Figures::thrust_to_weight, wish.thrust_to_weight,
       wish.thrust_to_weight, Stage::looked_at},
      {"wish.rail_speed", &Figures::rail_speed, wish.rail_speed, wish.rail_speed, Stage::flown},
      {"wish.apogee", &Figures::apogee, wish.apogee, wish.apogee, Stage::flown},
  };
  std::vector<LimitRow> rows;
  for (const Stage stage : {Stage::looked_at, Stage::burned, Stage::flown}) {
    for (const LimitRow& row : all) {
      if (row.stage == stage && row.bound.set()) rows.push_back(row);
    }
  }
  return rows;
}

}  // namespace grainwright
