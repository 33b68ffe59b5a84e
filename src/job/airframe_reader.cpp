// SPDX-License-Identifier: GPL-3.0-or-later
#include "airframe_reader.hpp"

#include <algorithm>

namespace grainwright {
namespace {

using Form = Node::Form;

std::vector<DragPoint> read_drag(Section& section) {
  const Node* node = section.value("drag_coefficient");
  if (node == nullptr) return {};
  if (node->is_number()) return {{0, node->number}};
  std::vector<DragPoint> table;
  for (const Node& item : node->items) {
    const bool pair = item.is_pair() && std::ranges::all_of(item.items, &Node::is_number);
    if (!pair) {
      section.complain("drag_coefficient", item.words(),
                       "points of two numbers, [Mach, drag coefficient], e.g. [0.8, 0.5]");
      return {};
    }
    table.push_back({item.items[0].number, item.items[1].number});
  }
  if (node->form != Form::list) {
    section.complain("drag_coefficient", node->words(),
                     "a number, or points such as [[0, 0.5], [0.9, 0.55], [1.1, 0.8]]");
  }
  return table;
}

}  // namespace

std::optional<Airframe> read_airframe(Section& section, double altitude) {
  Airframe airframe;
  section.read("mass", airframe.mass);
  section.read("motor_hardware", airframe.hardware);
  section.read("diameter", airframe.diameter);
  airframe.drag = read_drag(section);
  section.read("rail_length", airframe.rail_length);
  section.read("rail_elevation", airframe.rail_elevation);
  airframe.altitude = altitude;
  section.read("launch_altitude", airframe.altitude);
  section.read("air_temperature", airframe.temperature);
  if (section.sound()) section.adopt(complaints(airframe));
  if (!section.sound()) return std::nullopt;
  return airframe;
}

}  // namespace grainwright
