// SPDX-License-Identifier: GPL-3.0-or-later
//
// The search again, with no shortcut: every sequence of segments, one by one, and each firing by a
// plain march in small steps of web. Slow, and sharing nothing with the search but the burnback,
// which has tests of its own.
#pragma once

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <numbers>
#include <optional>
#include <vector>

#include "grainwright/firing/steady.hpp"
#include "grainwright/search/search.hpp"

namespace brute_force {

using namespace grainwright;

struct Burn {
  std::vector<double> time, thrust;
  double impulse = 0;
  double peak_pressure = 0;
  double lowest_pressure = 0;
};

/// Midpoint rule in web.
inline Burn burn(const Grain& grain, const SteadyChamber& chamber, int steps) {
  const Burnback burnback(grain);
  Burn result;
  double time = 0;
  for (const Stretch& stretch : burnback.stretches()) {
    const double step = (stretch.to - stretch.from) / steps;
    for (int i = 0; i < steps; ++i) {
      const double area = burnback.burning_area(stretch.from + (i + 0.5) * step);
      const double pressure = chamber.pressure(area);
      const double duration = step / chamber.law().rate(pressure);
      const double thrust = chamber.thrust_law()(pressure);
      result.time.push_back(time + duration / 2);
      result.thrust.push_back(thrust);
      result.impulse += thrust * duration;
      time += duration;
    }
  }
  result.lowest_pressure = chamber.pressure(burnback.range().least);
  result.peak_pressure = chamber.pressure(burnback.range().greatest);
  result.time.push_back(time);
  return result;
}

struct Climb {
  double rail_speed = 0;
  double apogee = 0;
};

/// A vertical flight in plain steps: midpoint rule in web while it burns, then in time.
inline Climb climb(const Grain& grain, const SteadyChamber& chamber, const Airframe& airframe,
                   int steps) {
  const Burnback burnback(grain);
  const LocalAir air = airframe.air();
  Climb result;
  double speed = 0;
  double height = 0;
  const auto advance = [&](double thrust, double mass, double duration) {
    const Air here = air(airframe.altitude + height);
    const auto gain = [&](double v) {
      const double drag = here.density * v * v / 2 *
                          airframe.drag_coefficient(v / here.speed_of_sound) * airframe.section();
      return (thrust - drag) / mass - standard_gravity;
    };
    const double middle = std::max(0.0, speed + gain(speed) * duration / 2);
    const double before = height;
    const double was = speed;
    height += middle * duration;
    speed = std::max(0.0, speed + gain(middle) * duration);
    if (before < airframe.rail_length && height >= airframe.rail_length) {
      const double share = (airframe.rail_length - before) / (height - before);
      result.rail_speed = std::sqrt(std::lerp(was * was, speed * speed, share));
    }
  };
  const ThrustLaw& law = chamber.thrust_law();
  for (const Stretch& stretch : burnback.stretches()) {
    const double step = (stretch.to - stretch.from) / steps;
    for (int i = 0; i < steps; ++i) {
      const double web = stretch.from + (i + 0.5) * step;
      const double pressure = chamber.pressure(burnback.burning_area(web));
      const double fallen = chamber.ambient_pressure() - air(airframe.altitude + height).pressure;
      const double thrust = law(pressure) + law.exit_area() * fallen;
      const double mass = airframe.mass_with(chamber.density() * burnback.propellant_volume(web));
      advance(thrust, mass, step / chamber.law().rate(pressure));
    }
  }
  constexpr double tick = 1e-3;
  while (speed > 0) {
    const double left = speed;
    advance(0, airframe.mass_with(0), tick);
    if (speed == 0) height -= left * tick / 4;  // it stopped halfway through the tick
  }
  result.apogee = result.rail_speed > 0 ? height : 0;
  return result;
}

/// RMS over burn time of (F/F_mean - asked), as a plain sum.
inline double misfit(const Burn& burn, const Profile& profile) {
  const double total = burn.time.back();
  const double mean = burn.impulse / total;
  double sum = 0;
  double before = 0;
  for (std::size_t i = 0; i < burn.thrust.size(); ++i) {
    const double duration = 2 * (burn.time[i] - before);
    const double off = burn.thrust[i] / mean - profile(burn.time[i] / total);
    sum += off * off * duration;
    before += duration;
  }
  return std::sqrt(sum / total);
}

struct Best {
  double misfit = std::numeric_limits<double>::infinity();  ///< for the rail: less the impulse
  Grain grain;
  double throat = 0;
  long long allowed = 0;
};

/// The best of all sequences of up to `most_segments` segments with up to `most_kinds` kinds.
inline Best search(const SearchTask& task, int steps) {
  const Shop& shop = task.shop;
  std::vector<Segment> rods;
  for (double core : shop.mandrels) rods.push_back({0, task.outer_diameter, core, {Face::outer}});
  for (const Core& core : shop.cores) {
    rods.push_back(with_core({0, task.outer_diameter, 0, {Face::outer}}, core));
  }
  std::vector<Segment> kinds;
  for (const Segment& rod : rods) {
    for (int ends : shop.bare_ends) {
      for (int k = 1; k * shop.length_step <= task.grain_room + 1e-9; ++k) {
        Segment segment = rod;
        segment.length = k * shop.length_step;
        if (segment.length < shop.shortest_segment - 1e-9) continue;
        if (ends < 2) segment.inhibited.insert(Face::head);
        if (ends < 1) segment.inhibited.insert(Face::nozzle);
        kinds.push_back(segment);
      }
    }
  }
  Best best;
  const double room_volume =
      std::numbers::pi / 4 * task.outer_diameter * task.outer_diameter * task.grain_room;
  const auto judge = [&](const std::vector<std::size_t>& chosen) {
    Grain grain;
    grain.spacer = shop.spacer;
    for (std::size_t kind : chosen) grain.layers.push_back({kinds[kind], 1});
    if (grain.propellant_volume() / room_volume < task.wish.loading) return;
    for (double throat : shop.throats) {
      Nozzle nozzle = task.nozzle;
      nozzle.throat_diameter = throat;
      const SteadyChamber chamber(task.propellant, nozzle, task.day);
      const Burn burned = burn(grain, chamber, steps);
      if (burned.peak_pressure > task.limits.pressure) continue;
      if (burned.lowest_pressure <
          std::max(task.limits.pressure_floor, chamber.thrust_law().choking_pressure())) {
        continue;
      }
      const double throat_area = std::numbers::pi / 4 * throat * throat;
      if (std::ranges::min(Burnback(grain).port_areas(0)) <
          task.limits.port_to_throat * throat_area)
        continue;
      if (!task.wish.total_impulse.holds(burned.impulse)) continue;
      if (task.wish.asks_flight()) {
        const Climb flown = climb(grain, chamber, *task.airframe, steps);
        if (!task.wish.rail_speed.holds(flown.rail_speed)) continue;
        if (!task.wish.apogee.holds(flown.apogee)) continue;
        const double mass = task.airframe->mass_with(chamber.density() * grain.propellant_volume());
        const double thrust =
            chamber.thrust_law()(chamber.pressure(Burnback(grain).burning_area(0)));
        if (!task.wish.thrust_to_weight.holds(thrust / (mass * standard_gravity))) continue;
      }
      ++best.allowed;
      const double off =
          task.wish.for_the_rail ? -burned.impulse : misfit(burned, task.wish.profile);
      if (off < best.misfit) best = {off, grain, throat, best.allowed};
    }
  };
  // Multisets of kinds, as rising sequences.
  std::vector<std::size_t> chosen;
  const std::function<void(std::size_t, double, int)> extend = [&](std::size_t from, double length,
                                                                   int distinct) {
    for (std::size_t kind = from; kind < kinds.size(); ++kind) {
      const bool fresh = chosen.empty() || chosen.back() != kind;
      if (distinct + int{fresh} > shop.most_kinds) continue;
      const double grown = length + kinds[kind].length + (chosen.empty() ? 0 : shop.spacer);
      if (grown > task.grain_room + 1e-9) continue;
      chosen.push_back(kind);
      judge(chosen);
      if (static_cast<int>(chosen.size()) < shop.most_segments) {
        extend(kind, grown, distinct + int{fresh});
      }
      chosen.pop_back();
    }
  };
  extend(0, 0, 0);
  return best;
}

}  // namespace brute_force
