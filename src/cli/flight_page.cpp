// SPDX-License-Identifier: GPL-3.0-or-later
#include "flight_page.hpp"

#include <fmt/format.h>

#include <string>

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

using Rows = std::vector<std::vector<std::string>>;

Rows rail_rows(const Flight& flight, UnitSystem units) {
  using enum Dimension;
  return {{"thrust / weight",
           fmt::format("{} at first motion, {} at the rail's exit, {} at least",
                       plain(flight.thrust_to_weight), plain(flight.exit_thrust_to_weight),
                       plain(flight.least_thrust_to_weight))},
          {"rail exit", fmt::format("{}, {} from ignition, accelerating at {}",
                                    show(flight.rail_exit_speed, speed, units),
                                    show(flight.rail_exit_time, time, units, 3),
                                    in_gs(flight.rail_exit_acceleration))}};
}

/// Nothing where the top comes before burnout.
Rows burnout_rows(const Flight& flight, UnitSystem units) {
  using enum Dimension;
  if (flight.burnout_time == 0) return {};
  return {{"burnout",
           fmt::format("{} at {}, {} from ignition", show(flight.burnout_speed, speed, units),
                       show(flight.burnout_height, distance, units),
                       show(flight.burnout_time, time, units))}};
}

Rows apogee_rows(const Flight& flight, UnitSystem units) {
  using enum Dimension;
  Rows rows = {{"apogee", fmt::format("{} above the launch, {} from ignition",
                                      show(flight.apogee, distance, units),
                                      show(flight.apogee_time, time, units))}};
  if (flight.apogee_downrange >= 1) {
    rows.push_back({"downrange there", show(flight.apogee_downrange, distance, units)});
  }
  if (flight.burnout_time > 0) {
    rows.push_back(
        {"ideal ejection delay", show(flight.best_delay, time, units, 3) + " from burnout"});
  }
  return rows;
}

void add(Rows& rows, const Rows& more) {
  rows.insert(rows.end(), more.begin(), more.end());
}

void tell_rail(Page& page, const Flight& flight, const Airframe& airframe, UnitSystem units) {
  using enum Dimension;
  page.heading("On the rail");
  Rows rows = {{"rail", fmt::format("{} to the last guide, {} above the horizon",
                                    show(airframe.rail_length, distance, units),
                                    show(airframe.rail_elevation, angle, units))},
               {"mass at ignition", show(flight.liftoff_mass, mass, units)}};
  if (flight.end == FlightEnd::apogee) {
    rows.push_back(
        {"first motion", fmt::format("{} ms from ignition", plain(flight.first_motion * 1e3))});
    add(rows, rail_rows(flight, units));
  }
  page.table({.align = "ll", .rows = rows});
}

void tell_ascent(Page& page, const Flight& flight, UnitSystem units) {
  page.heading("Ascent");
  Rows rows = burnout_rows(flight, units);
  rows.push_back(
      {"peak speed", fmt::format("{}, Mach {}", show(flight.peak_speed, Dimension::speed, units),
                                 plain(flight.peak_mach))});
  rows.push_back({"peak acceleration", in_gs(flight.peak_acceleration)});
  add(rows, apogee_rows(flight, units));
  page.table({.align = "ll", .rows = rows});
}

std::string_view failure(FlightEnd end) {
  return end == FlightEnd::never_lifts
             ? "It NEVER LIFTS: thrust stays under the weight."
             : "It STAYS ON THE RAIL: it stops and falls back before its last guide leaves.";
}

}  // namespace

void tell(Page& page, const Flight& flight, const Airframe& airframe, UnitSystem units) {
  tell_rail(page, flight, airframe, units);
  if (flight.end == FlightEnd::apogee) return tell_ascent(page, flight, units);
  page.gap();
  page.paragraph(failure(flight.end));
}

void tell_briefly(Page& page, const Flight& flight, UnitSystem units) {
  if (flight.end != FlightEnd::apogee) return page.paragraph(failure(flight.end));
  Rows rows = rail_rows(flight, units);
  add(rows, burnout_rows(flight, units));
  add(rows, apogee_rows(flight, units));
  page.table({.align = "ll", .rows = rows});
}

void tell_bounds(Page& page, const std::vector<Check>& bounds, const Flight& flight,
                 UnitSystem units) {
  page.heading("Asked of the flight");
  for (const Check& check : bounds) page.item("- ", sentence(check, units));
  if (bounds.empty()) {
    page.paragraph("Nothing: wish.rail_speed, thrust_to_weight and apogee would say.");
  }
  if (flight.end != FlightEnd::apogee) return;
  page.item("- ", "rule of thumb: " +
                      sentence(figure_row("thrust_to_weight").label, flight.thrust_to_weight, false,
                               practised_thrust_to_weight, Dimension::ratio, units));
}

}  // namespace grainwright::cli
