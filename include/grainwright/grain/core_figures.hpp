// SPDX-License-Identifier: GPL-3.0-or-later
//
// The numbers of a named core by the keys that a job gives them: one list for who reads, writes and
// shows them.
#pragma once

#include <optional>
#include <string_view>
#include <type_traits>

#include "grainwright/grain/core.hpp"
#include "grainwright/quantity.hpp"

namespace grainwright {

/// "star", "slot", "cross", "slotted tube" or "wheel".
[[nodiscard]] std::string_view name_of(const NamedCore& core);
/// The core of this name, its numbers still to be given; none where there is no such name.
[[nodiscard]] std::optional<NamedCore> named_core(std::string_view name);

/// Whether a shape can do without a number.
enum class Need { must, may };

/// Calls visit(key, number, Dimension, Need) for each length, angle and ratio of a shape, and
/// visit(key, number, Need) for each count and each switch (`ends`, true where they are round).
template <class Shape, class Visit>
void each_figure(Shape& shape, Visit&& visit) {
  using enum Dimension;
  using Plain = std::remove_const_t<Shape>;
  if constexpr (std::is_same_v<Plain, Star>) {
    visit("points", shape.points, Need::must);
    visit("half_angle", shape.half_angle, angle, Need::must);
    visit("fillet_centre", shape.fillet_centre, length, Need::must);
    visit("fillet", shape.fillet, length, Need::may);
    visit("angle_fraction", shape.angle_fraction, ratio, Need::may);
  } else if constexpr (std::is_same_v<Plain, Slot>) {
    visit("length", shape.length, length, Need::must);
    visit("width", shape.width, length, Need::must);
    visit("ends", shape.round_ends, Need::may);
  } else if constexpr (std::is_same_v<Plain, Cross>) {
    each_figure(shape.arm, visit);
  } else if constexpr (std::is_same_v<Plain, SlottedTube>) {
    visit("bore_radius", shape.bore, length, Need::must);
    visit("slots", shape.slots, Need::must);
    visit("slot_width", shape.slot_width, length, Need::must);
    if (!shape.through_wall) visit("slot_reach", shape.slot_reach, length, Need::may);
  } else {
    static_assert(std::is_same_v<Plain, Wheel>);
    visit("spokes", shape.spokes, Need::must);
    visit("spoke_width", shape.spoke_width, length, Need::must);
    visit("rim", shape.rim, length, Need::must);
    visit("fillet", shape.fillet, length, Need::may);
    visit("tip", shape.tip, length, Need::must);
    visit("tip_half_angle", shape.tip_half_angle, angle, Need::may);
  }
}

}  // namespace grainwright
