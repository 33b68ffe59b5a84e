// SPDX-License-Identifier: GPL-3.0-or-later
#include "layout.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>

namespace grainwright::drawing {
namespace {

constexpr double side = 14;              // free beside the motor, in units of the drawing
constexpr double tallest = 230;          // of the section
constexpr double undrawn_closure = 0.3;  // of the bore, where the job says nothing of it
constexpr double usual_half_angle = 15 * std::numbers::pi / 180;

double thickness_of(const Closure& closure) {
  double sum = closure.thickness;
  for (const Protection& layer : closure.protection) sum += layer.thickness;
  return sum;
}

double length_of(const Grain& grain, const std::optional<Casing>& casing) {
  return casing ? std::max(casing->grain_room, grain.stack_length()) : grain.stack_length();
}

double widest(const Grain& grain) {
  double diameter = 0;
  for (const Layer& layer : grain.layers) {
    diameter = std::max(diameter, layer.segment.outer_diameter);
  }
  return diameter;
}

// The entry is a cone of 45 degrees, as for its volume in the firing.
void place_nozzle(Layout& layout, const Nozzle& nozzle, const std::optional<Closure>& seat) {
  const double throat = nozzle.throat_diameter / 2;
  const double exit = nozzle.exit_diameter / 2;
  const double angle = nozzle.half_angle > 0 ? nozzle.half_angle : usual_half_angle;
  layout.throat_at = layout.room + std::max(0.0, layout.bore - throat);
  layout.seat_end = layout.throat_at;
  if (seat) layout.seat_end = std::max(layout.seat_end, layout.room + thickness_of(*seat));
  layout.nozzle_end =
      std::max(layout.seat_end, layout.throat_at + (exit - throat) / std::tan(angle));
  if (exit > throat) return;
  // A straight hole: its plate is as thick as the seat, else as the hole is wide.
  layout.throat_at = layout.room;
  layout.seat_end = layout.room + (seat ? thickness_of(*seat) : nozzle.throat_diameter);
  layout.nozzle_end = layout.seat_end;
}

void append(std::string& data, const Layout& layout, const std::vector<Spot>& spots,
            double side_of) {
  char command = 'M';
  for (const Spot& spot : spots) {
    fmt::format_to(std::back_inserter(data), "{}{:.1f} {:.1f}", command, layout.x(spot.z),
                   layout.y(side_of * spot.r));
    command = 'L';
  }
}

}  // namespace

Layout layout_of(const MotorParts& parts) {
  const Motor& motor = parts.motor;
  Layout layout;
  layout.bore = (parts.casing ? parts.casing->bore : widest(motor.grain)) / 2;
  layout.outside = layout.bore + (parts.casing ? parts.casing->wall : 0);
  layout.head = parts.shell && parts.shell->head ? thickness_of(*parts.shell->head)
                                                 : 2 * undrawn_closure * layout.bore;
  layout.room = length_of(motor.grain, parts.casing);
  place_nozzle(layout, motor.nozzle, parts.shell ? parts.shell->nozzle : std::nullopt);
  const double most = std::max(layout.outside, motor.nozzle.exit_diameter / 2);
  const double long_way = layout.head + layout.nozzle_end;
  layout.unit = std::min((width - 2 * side) / long_way, tallest / (2 * most));
  layout.left = (width - layout.unit * long_way) / 2 + layout.unit * layout.head;
  layout.axis = layout.unit * most + 26;
  return layout;
}

std::string mirrored(const Layout& layout, const std::vector<Spot>& spots) {
  std::string data;
  for (double half : {1.0, -1.0}) {
    append(data, layout, spots, half);
    data += 'Z';
  }
  return data;
}

std::string mirrored_line(const Layout& layout, const std::vector<Spot>& spots) {
  std::string data;
  for (double half : {1.0, -1.0}) append(data, layout, spots, half);
  return data;
}

std::string path(std::string_view name, const std::string& data) {
  return data.empty() ? "" : fmt::format("<path class=\"{}\" d=\"{}\"/>\n", name, data);
}

std::vector<Placed> placed(const Grain& grain) {
  std::vector<Placed> all;
  double z = 0;
  for (const Layer& layer : grain.layers) {
    for (int i = 0; i < layer.count; ++i) {
      all.push_back({z, &layer.segment});
      z += layer.segment.length + grain.spacer;
    }
  }
  return all;
}

}  // namespace grainwright::drawing
