// SPDX-License-Identifier: GPL-3.0-or-later
#include "flight_page.hpp"

#include <fmt/format.h>

#include "grainwright/motor/gas.hpp"
#include "numbers.hpp"

namespace grainwright::cli {
namespace {

std::string in_gs(double acceleration) {
  return show(acceleration / standard_gravity, Dimension::ratio, UnitSystem::si, 3) + " g";
}

std::string plain(double value) {
  return show(value, Dimension::ratio, UnitSystem::si, 3);
}

void tell_rail(Page& page, const Flight& flight, const Airframe& airframe, UnitSystem units) {
  using enum Dimension;
  page.heading("On the rail");
  std::vector<std::vector<std::string>> rows = {
      {"rail", fmt::format("{} to the last guide, {} above the horizon",
                           show(airframe.rail_length, distance, units),
                           show(airframe.rail_elevation, angle, units))},
      {"mass at lighting", show(flight.liftoff_mass, mass, units)}};
  if (flight.end == FlightEnd::apogee) {
    rows.push_back({"first motion", show(flight.first_motion, time, units, 3)});
    rows.push_back({"thrust / weight",
                    fmt::format("{} at first motion, {} at the exit, {} at least",
                                plain(flight.thrust_to_weight), plain(flight.exit_thrust_to_weight),
                                plain(flight.least_thrust_to_weight))});
    rows.push_back({"rail exit", fmt::format("{} after {}, accelerating at {}",
                                             show(flight.rail_exit_speed, speed, units),
                                             show(flight.rail_exit_time, time, units, 3),
                                             in_gs(flight.rail_exit_acceleration))});
  }
  page.table({.align = "ll", .rows = rows});
}

void tell_ascent(Page& page, const Flight& flight, UnitSystem units) {
  using enum Dimension;
  page.heading("Ascent");
  std::vector<std::vector<std::string>> rows;
  if (flight.burnout_time > 0) {
    rows.push_back(
        {"burnout", fmt::format("{} at {}, after {}", show(flight.burnout_speed, speed, units),
                                show(flight.burnout_height, distance, units),
                                show(flight.burnout_time, time, units))});
  }
  rows.push_back(
      {"greatest speed",
       fmt::format("{}, Mach {}", show(flight.peak_speed, speed, units), plain(flight.peak_mach))});
  rows.push_back({"greatest acceleration", in_gs(flight.peak_acceleration)});
  rows.push_back(
      {"apogee", fmt::format("{} above the launch, after {}", show(flight.apogee, distance, units),
                             show(flight.apogee_time, time, units))});
  if (flight.apogee_downrange >= 1) {
    rows.push_back({"downrange there", show(flight.apogee_downrange, distance, units)});
  }
  if (flight.burnout_time > 0) {
    rows.push_back({"best delay", show(flight.best_delay, time, units, 3) + " from burnout"});
  }
  page.table({.align = "ll", .rows = rows});
}

}  // namespace

void tell(Page& page, const Flight& flight, const Airframe& airframe, UnitSystem units) {
  tell_rail(page, flight, airframe, units);
  switch (flight.end) {
    case FlightEnd::apogee:
      return tell_ascent(page, flight, units);
    case FlightEnd::never_lifts:
      page.gap();
      return page.paragraph("It NEVER LIFTS: thrust stays under the weight.");
    case FlightEnd::stays_on_rail:
      page.gap();
      return page.paragraph(
          "It STAYS ON THE RAIL: it stops and falls back before its last guide "
          "leaves.");
  }
}

void tell_bounds(Page& page, const std::vector<Check>& bounds, const Flight& flight,
                 UnitSystem units) {
  page.heading("Asked of the flight");
  for (const Check& check : bounds) page.item("- ", sentence(check, units));
  if (bounds.empty()) {
    page.paragraph("Nothing: wish.rail_speed, thrust_to_weight and apogee would say.");
  }
  if (flight.end != FlightEnd::apogee) return;
  const Check practice{{.key = "",
                        .what = "thrust / weight at first motion",
                        .ceiling = false,
                        .value = practised_thrust_to_weight},
                       flight.thrust_to_weight};
  page.item("- ", "common practice, no source: " + sentence(practice, units));
}

}  // namespace grainwright::cli
