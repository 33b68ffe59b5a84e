// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <variant>

#include "layout.hpp"

namespace grainwright::drawing {
namespace {

std::vector<Spot> box(double z1, double z2, double r1, double r2) {
  return {{z1, r1}, {z2, r1}, {z2, r2}, {z1, r2}};
}

/// What of a closure is drawn: its gas side at `face`, reaching away from the grain in the sense of
/// `way` (-1 at the head end, +1 at the nozzle's).
struct Plug {
  const Layout& layout;
  double face = 0;
  double way = 1;

  [[nodiscard]] double z(double depth) const { return face + way * depth; }
};

std::string pins_svg(const Plug& plug, double depth, double diameter, double reach) {
  const Layout& layout = plug.layout;
  return path("pin",
              mirrored(layout, box(plug.z(depth - diameter / 2), plug.z(depth + diameter / 2),
                                   layout.bore - reach, layout.outside)));
}

std::string joint_svg(const Plug& plug, const Closure& closure) {
  const Layout& layout = plug.layout;
  if (const auto* bond = std::get_if<BondedJoint>(&closure.joint)) {
    const double r = std::min(bond->diameter / 2, layout.outside);
    return path("bond", mirrored_line(layout, {{plug.z(bond->starts), r},
                                               {plug.z(bond->starts + bond->length), r}}));
  }
  if (const auto* pins = std::get_if<PinnedJoint>(&closure.joint)) {
    return pins_svg(plug, pins->depth, pins->diameter, pins->reach);
  }
  if (const auto* holes = std::get_if<HoleJoint>(&closure.joint)) {
    return pins_svg(plug, holes->depth, holes->diameter, 0);
  }
  if (const auto* lip = std::get_if<LipJoint>(&closure.joint)) {
    return path("pipe", mirrored(layout, box(plug.z(closure.thickness),
                                             plug.z(closure.thickness + lip->thickness),
                                             lip->opening / 2, layout.outside)));
  }
  if (const auto* thread = std::get_if<ThreadedJoint>(&closure.joint)) {
    return path("thread", mirrored_line(layout, {{plug.z(0), layout.bore},
                                                 {plug.z(thread->engagement), layout.bore}}));
  }
  return "";
}

std::string head_svg(const MotorParts& parts, const Layout& layout) {
  if (!parts.shell || !parts.shell->head) {
    return path("unsaid", mirrored(layout, box(-layout.head, 0, 0, layout.bore)));
  }
  const Closure& head = *parts.shell->head;
  std::string svg;
  double z = 0;
  for (const Protection& layer : head.protection) {
    svg += path("protection", mirrored(layout, box(z - layer.thickness, z, 0, layout.bore)));
    z -= layer.thickness;
  }
  svg += path("closure", mirrored(layout, box(z - head.thickness, z, 0, layout.bore)));
  return svg + joint_svg({layout, z, -1}, head);
}

// From the entry along the gas side to the exit, and back along the outside.
std::vector<Spot> nozzle_outline(const Nozzle& nozzle, const Layout& layout) {
  const double throat = nozzle.throat_diameter / 2;
  const double exit = nozzle.exit_diameter / 2;
  std::vector<Spot> spots;
  if (exit == throat) return box(layout.room, layout.seat_end, throat, layout.bore);
  spots = {{layout.room, layout.bore}, {layout.throat_at, throat}, {layout.nozzle_end, exit}};
  if (layout.nozzle_end > layout.seat_end) {
    const double skirt = 0.08 * layout.bore;
    const double share =
        (layout.seat_end - layout.throat_at) / (layout.nozzle_end - layout.throat_at);
    const double root = throat + share * (exit - throat) + 4 * skirt;
    spots.push_back({layout.nozzle_end, exit + skirt});
    spots.push_back({layout.seat_end, std::min(root, layout.bore)});
  }
  spots.push_back({layout.seat_end, layout.bore});
  return spots;
}

std::string nozzle_svg(const MotorParts& parts, const Layout& layout) {
  std::string svg = path("closure", mirrored(layout, nozzle_outline(parts.motor.nozzle, layout)));
  if (!parts.shell || !parts.shell->nozzle) return svg;
  return svg + joint_svg({layout, layout.room, 1}, *parts.shell->nozzle);
}

}  // namespace

std::string shell_svg(const MotorParts& parts, const Layout& layout) {
  std::string svg;
  if (parts.casing) {
    svg += path("pipe",
                mirrored(layout, box(-layout.head, layout.seat_end, layout.bore, layout.outside)));
  }
  return svg + head_svg(parts, layout) + nozzle_svg(parts, layout);
}

}  // namespace grainwright::drawing
