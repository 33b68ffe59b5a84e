// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/strength/joint.hpp"

#include <algorithm>
#include <numbers>

namespace grainwright {
namespace {

constexpr double pi = std::numbers::pi;

double disc(double diameter) {
  return pi / 4 * diameter * diameter;
}

std::vector<JointMode> modes(const BondedJoint& joint, const Seat&) {
  return {{"shear of the bond",
           pi * joint.diameter * joint.length * joint.bond.lap_shear(joint.cure_time), joint.bond,
           joint.starts, joint.starts + joint.length}};
}

/// Pins of one material: the pipe's holes, then the pin.
std::vector<JointMode> pin_modes(const Material& pin, double shear_area, int count, double diameter,
                                 double depth, double end_distance, const Seat& seat) {
  const double n = count;
  const double wall = seat.tube.wall;
  const double across = n * diameter * wall;
  const double net = pi * (seat.tube.outer_diameter - wall) * wall - across;
  const Material& pipe = seat.pipe;
  return {
      {"shear of the pins", n * shear_area * pin.shear, pin, depth, depth},
      {"bearing in the pins", across * pin.bearing, pin, depth, depth},
      {"bearing in the pipe", across * pipe.bearing, pipe, depth, depth},
      {"tear-out of the pipe's end", 2 * n * (end_distance - diameter / 2) * wall * pipe.shear,
       pipe, depth, depth},
      {"tension between the holes", net * pipe.ultimate, pipe, depth, depth},
  };
}

std::vector<JointMode> modes(const PinnedJoint& joint, const Seat& seat) {
  const double area = joint.pitch > 0
                          ? stress_area(joint.diameter, joint.pitch, ThreadForm::unified)
                          : disc(joint.diameter);
  auto found = pin_modes(joint.pin, area, joint.count, joint.diameter, joint.depth,
                         joint.end_distance, seat);
  const double n = joint.count;
  const Material& plug = seat.plug;
  found.push_back({"bearing in the closure", n * joint.diameter * joint.reach * plug.bearing, plug,
                   joint.depth, joint.depth});
  found.push_back({"tear-out of the closure",
                   2 * n * (joint.depth - joint.diameter / 2) * joint.reach * plug.shear, plug, 0,
                   joint.depth});
  return found;
}

std::vector<JointMode> modes(const HoleJoint& joint, const Seat& seat) {
  auto found = pin_modes(seat.plug, disc(joint.diameter), joint.count, joint.diameter, joint.depth,
                         joint.end_distance, seat);
  found[0].name = "shear of the plug's stubs";
  found[1].name = "bearing in the plug";
  return found;
}

std::vector<JointMode> modes(const LipJoint& joint, const Seat& seat) {
  const double bore = 2 * seat.tube.inner_radius();
  const double rim = (bore - joint.opening) / 2;
  const double ring = disc(bore) - disc(joint.opening);
  const double back = seat.thickness;
  const double root = pi * bore;
  return {
      {"shear of the plug at the lip", pi * joint.opening * seat.thickness * seat.plug.shear,
       seat.plug, 0, back},
      {"bearing of plug on the lip", ring * seat.plug.bearing, seat.plug, back, back},
      {"bearing of the lip", ring * seat.pipe.bearing, seat.pipe, back, back},
      {"shear of the lip", root * joint.thickness * seat.pipe.shear, seat.pipe, back, back},
      {"bending of the lip",
       root * joint.thickness * joint.thickness * seat.pipe.ultimate / (3 * rim), seat.pipe, back,
       back},
  };
}

/// The basic profile, with half of the play taken from the screw and half added to the hole.
ThreadLimits limits_of(const ThreadedJoint& joint) {
  const double height = std::numbers::sqrt3 / 2 * joint.pitch;
  const double half = joint.play / 2;
  return {.least_major = joint.diameter - half,
          .least_pitch_diameter = joint.diameter - 0.75 * height - half,
          .most_pitch_diameter = joint.diameter - 0.75 * height + half,
          .most_minor = joint.diameter - 1.25 * height + half,
          .pitch = joint.pitch};
}

std::vector<JointMode> modes(const ThreadedJoint& joint, const Seat& seat) {
  const ThreadLimits thread = limits_of(joint);
  const double end = joint.engagement;
  const double behind = disc(seat.tube.outer_diameter) - disc(joint.diameter);
  return {
      {"stripping of its own thread", screw_strip_area(thread, joint.engagement) * seat.plug.shear,
       seat.plug, 0, end},
      {"stripping of pipe's thread", hole_strip_area(thread, joint.engagement) * seat.pipe.shear,
       seat.pipe, 0, end},
      {"tension under the thread", behind * seat.pipe.ultimate, seat.pipe, 0, end},
  };
}

std::vector<JointMode> modes(const RatedJoint& joint, const Seat& seat) {
  return {{"the load that was proved", joint.load, seat.plug, 0, seat.thickness}};
}

}  // namespace

std::vector<JointMode> modes_of(const Joint& joint, const Seat& seat) {
  return std::visit([&](const auto& kind) { return modes(kind, seat); }, joint);
}

std::string name_of(const Joint& joint) {
  struct Namer {
    std::string operator()(const BondedJoint&) { return "bonded"; }
    std::string operator()(const PinnedJoint& pins) {
      return pins.pitch > 0 ? "screwed" : "pinned";
    }
    std::string operator()(const LipJoint&) { return "keyed"; }
    std::string operator()(const HoleJoint&) { return "keyed"; }
    std::string operator()(const ThreadedJoint&) { return "threaded"; }
    std::string operator()(const RatedJoint&) { return "rated"; }
  };
  return std::visit(Namer{}, joint);
}

double stress_area(double diameter, double pitch, ThreadForm form) {
  return disc(diameter - (form == ThreadForm::iso ? 0.938194 : 0.9743) * pitch);
}

double screw_strip_area(const ThreadLimits& thread, double engagement) {
  const double flank = (thread.least_pitch_diameter - thread.most_minor) / std::numbers::sqrt3;
  return pi * engagement * thread.most_minor * (0.5 + flank / thread.pitch);
}

double hole_strip_area(const ThreadLimits& thread, double engagement) {
  const double flank = (thread.least_major - thread.most_pitch_diameter) / std::numbers::sqrt3;
  return pi * engagement * thread.least_major * (0.5 + flank / thread.pitch);
}

double full_strength_engagement(const ThreadLimits& thread, double stress_area) {
  return 2 * stress_area / screw_strip_area(thread, 1);
}

}  // namespace grainwright
