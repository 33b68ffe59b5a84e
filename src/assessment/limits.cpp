// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/assessment/limits.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace grainwright {
namespace {

using enum LimitCost;
using F = LimitedFigures;

Bound when_above_zero(double value) {
  return value > 0 ? Bound::at_least(value) : Bound{};
}

constexpr auto table = std::to_array<LimitRow>({
    {"casing.grain_room", "stack_length_m", &F::stack_length, looked_at, false,
     [](const Asked& a) { return Bound::at_most(a.grain_room); }},
    {"limits.pressure", "peak_pressure_Pa", &F::peak_pressure, looked_at, true,
     [](const Asked& a) { return Bound::at_most(a.limits.pressure); }},
    {"limits.pressure_floor", "lowest_pressure_Pa", &F::lowest_pressure, looked_at, false,
     [](const Asked& a) { return when_above_zero(a.limits.pressure_floor); }},
    {"limits.port_to_throat", "port_to_throat", &F::port_to_throat, looked_at, true,
     [](const Asked& a) { return when_above_zero(a.limits.port_to_throat); }},
    {"limits.mass_flux", "peak_mass_flux_kg_m2s", &F::mass_flux, burned, true,
     [](const Asked& a) { return Bound::at_most(a.limits.mass_flux); }},
    {"wish.loading", "volumetric_loading", &F::loading, looked_at, false,
     [](const Asked& a) { return when_above_zero(a.bounds.loading); }},
    {"wish.burn_time", "burn_time_s", &F::burn_time, burned, false,
     [](const Asked& a) { return a.bounds.burn_time; }},
    {"wish.total_impulse", "total_impulse_Ns", &F::total_impulse, burned, false,
     [](const Asked& a) { return a.bounds.total_impulse; }},
    {"wish.initial_thrust", "initial_thrust_N", &F::initial_thrust, looked_at, false,
     [](const Asked& a) { return a.bounds.initial_thrust; }},
    {"wish.mean_thrust", "mean_thrust_N", &F::mean_thrust, burned, false,
     [](const Asked& a) { return a.bounds.mean_thrust; }},
    {"wish.peak_thrust", "peak_thrust_N", &F::peak_thrust, looked_at, false,
     [](const Asked& a) { return a.bounds.peak_thrust; }},
    {"wish.thrust_to_weight", "thrust_to_weight", &F::thrust_to_weight, looked_at, true,
     [](const Asked& a) { return a.bounds.thrust_to_weight; }},
    {"wish.rail_speed", "rail_exit_speed_m_s", &F::rail_speed, flown, true,
     [](const Asked& a) { return a.bounds.rail_speed; }},
    {"wish.apogee", "apogee_m", &F::apogee, flown, false,
     [](const Asked& a) { return a.bounds.apogee; }},
});

}  // namespace

bool Bound::set() const {
  return std::isfinite(least) || std::isfinite(most);
}

Bound Bound::at_least(double value) {
  return {value, std::numeric_limits<double>::infinity()};
}

Bound Bound::at_most(double value) {
  return {-std::numeric_limits<double>::infinity(), value};
}

std::span<const LimitRow> limit_table() {
  return table;
}

const LimitRow* limit_row(std::string_view key) {
  const auto found =
      std::ranges::find_if(table, [&](const LimitRow& row) { return key.starts_with(row.key); });
  // "limits.pressure_floor" begins with "limits.pressure": the longest name is meant.
  const LimitRow* best = nullptr;
  for (auto row = found; row != table.end(); ++row) {
    if (key.starts_with(row->key) && (best == nullptr || row->key.size() > best->key.size())) {
      best = &*row;
    }
  }
  return best;
}

std::vector<Limit> limits_asked(const Asked& asked) {
  std::vector<Limit> all;
  for (const LimitRow& row : table) {
    const Bound bound = row.bound(asked);
    if (std::isfinite(bound.least)) all.push_back({&row, false, bound.least});
    if (std::isfinite(bound.most)) all.push_back({&row, true, bound.most});
  }
  return all;
}

bool Check::broken() const {
  // A figure that is no number keeps no limit.
  return !(limit.ceiling ? value <= limit.value : value >= limit.value);
}

bool Check::near() const {
  return !broken() && std::abs(value - limit.value) <= near_limit * std::abs(limit.value);
}

bool any_broken(const std::vector<Check>& checks) {
  return std::ranges::any_of(checks, &Check::broken);
}

}  // namespace grainwright
