// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/assessment/figures.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>
#include <string>

namespace grainwright {
namespace {

using enum Dimension;
using enum FigureOf;
using S = Summary;
using F = Flight;

constexpr auto table = std::to_array<FigureRow>({
    {"stack_length_m", "stack length", length, build},
    {"volumetric_loading", "volumetric loading", ratio, build},

    {"initial_burning_area_m2", "burning area at ignition", area, firing, &S::initial_burning_area},
    {"peak_burning_area_m2", "peak burning area", area, firing, &S::peak_burning_area},
    {"initial_kn", "Kn at ignition", ratio, firing, &S::initial_kn},
    {"peak_kn", "peak Kn", ratio, firing, &S::peak_kn},
    {"initial_pressure_Pa", "pressure at ignition", pressure, firing, &S::initial_pressure},
    {"peak_pressure_Pa", "peak pressure", pressure, firing, &S::peak_pressure},
    {"mean_pressure_Pa", "mean pressure", pressure, firing, &S::mean_pressure},
    {"lowest_pressure_Pa", "lowest pressure", pressure, firing, &S::lowest_pressure},
    {"initial_thrust_N", "thrust at ignition", force, firing, &S::initial_thrust},
    {"peak_thrust_N", "peak thrust", force, firing, &S::peak_thrust},
    {"mean_thrust_N", "mean thrust", force, firing, &S::mean_thrust},
    {"burn_time_s", "burn time", time, firing, &S::burn_time},
    {"total_impulse_Ns", "total impulse", impulse, firing, &S::total_impulse},
    {"specific_impulse_s", "specific impulse", time, firing, &S::specific_impulse},
    {"propellant_mass_kg", "propellant", mass, firing, &S::propellant_mass},
    {"port_to_throat", "port-to-throat", ratio, firing, &S::port_to_throat},
    {"peak_mass_flux_kg_m2s", "peak mass flux", mass_flux, firing, &S::peak_mass_flux},
    {"peak_to_mean_thrust", "peak / mean thrust", ratio, firing, &S::neutrality},

    {"rail_exit_speed_m_s", "rail exit speed", speed, flight, nullptr, &F::rail_exit_speed},
    {"thrust_to_weight", "thrust / weight at first motion", ratio, flight, nullptr,
     &F::thrust_to_weight},
    {"least_thrust_to_weight", "minimum thrust / weight on the rail", ratio, flight, nullptr,
     &F::least_thrust_to_weight},
    {"exit_thrust_to_weight", "thrust / weight at rail exit", ratio, flight, nullptr,
     &F::exit_thrust_to_weight},
    {"liftoff_mass_kg", "mass at ignition", mass, flight, nullptr, &F::liftoff_mass},
    {"first_motion_s", "first motion", time, flight, nullptr, &F::first_motion},
    {"rail_exit_time_s", "rail exit time", time, flight, nullptr, &F::rail_exit_time},
    {"rail_exit_acceleration_m_s2", "acceleration at rail exit", acceleration, flight, nullptr,
     &F::rail_exit_acceleration},
    {"peak_acceleration_m_s2", "peak acceleration", acceleration, flight, nullptr,
     &F::peak_acceleration},
    {"peak_speed_m_s", "peak speed", speed, flight, nullptr, &F::peak_speed},
    {"peak_mach", "peak Mach number", ratio, flight, nullptr, &F::peak_mach},
    {"burnout_time_s", "burnout time", time, flight, nullptr, &F::burnout_time},
    {"burnout_speed_m_s", "speed at burnout", speed, flight, nullptr, &F::burnout_speed},
    {"burnout_height_m", "height at burnout", distance, flight, nullptr, &F::burnout_height},
    {"apogee_m", "apogee", distance, flight, nullptr, &F::apogee},
    {"time_to_apogee_s", "time to apogee", time, flight, nullptr, &F::apogee_time},
    {"apogee_downrange_m", "downrange at apogee", distance, flight, nullptr, &F::apogee_downrange},
    {"best_delay_s", "ideal ejection delay", time, flight, nullptr, &F::best_delay},
});

}  // namespace

std::span<const FigureRow> figure_table() {
  return table;
}

const FigureRow& figure_row(std::string_view key) {
  const auto found = std::ranges::find(table, key, &FigureRow::key);
  if (found == table.end()) throw std::out_of_range("no figure " + std::string(key));
  return *found;
}

}  // namespace grainwright
