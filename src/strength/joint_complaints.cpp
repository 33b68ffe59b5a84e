// SPDX-License-Identifier: GPL-3.0-or-later
//
// What cannot be made, or not be judged. Keys are those of a closure in a job.
#include <fmt/format.h>
#include <cmath>
#include <numbers>

#include "grainwright/quantity.hpp"
#include "grainwright/strength/joint.hpp"

namespace grainwright {
namespace {

std::string shown(double metres) {
  return show(metres, Dimension::length, UnitSystem::si);
}

class Judge {
 public:
  explicit Judge(const Seat& seat) : seat_(seat) {}
  [[nodiscard]] std::vector<Complaint> found() && { return std::move(found_); }

  void operator()(const BondedJoint& joint) {
    length("bond_length", joint.length);
    if (!(joint.starts >= 0)) add("bond_starts", shown(joint.starts), "zero or more");
    length("bond_diameter", joint.diameter);
    at_most("bond_length", joint.length, seat_.thickness - joint.starts,
            "what the closure has behind bond_starts");
    at_most("bond_diameter", joint.diameter, seat_.tube.outer_diameter, "the pipe's outside");
    if (joint.bond.lap_shear(joint.cure_time) > 0) return;
    if (joint.bond.cure.empty()) return lacks("bond", joint.bond, "shear");
    add("cure_time", show(joint.cure_time, Dimension::time, UnitSystem::si),
        fmt::format("at least {} for {}",
                    show(joint.bond.cure.front().time, Dimension::time, UnitSystem::si),
                    joint.bond.name));
  }

  void operator()(const PinnedJoint& joint) {
    holes("pin", joint.count, joint.diameter, joint.depth, joint.end_distance);
    length("pin_reach", joint.reach);
    at_most("pin_reach", joint.reach, seat_.tube.inner_radius(), "half of the bore");
    if (!(joint.pitch >= 0) || joint.pitch > joint.diameter / 2) {
      add("pin_pitch", shown(joint.pitch),
          "a thread's pitch, well under the diameter; 0 for a pin");
    }
    need("pin_material", joint.pin, &Material::shear, "shear");
    need("pin_material", joint.pin, &Material::bearing, "bearing");
    need_pipe_with_holes();
    need("material", seat_.plug, &Material::bearing, "bearing");
    need("material", seat_.plug, &Material::shear, "shear");
  }

  void operator()(const HoleJoint& joint) {
    holes("hole", joint.count, joint.diameter, joint.depth, joint.end_distance);
    need_pipe_with_holes();
    need("material", seat_.plug, &Material::bearing, "bearing");
    need("material", seat_.plug, &Material::shear, "shear");
  }

  void operator()(const LipJoint& joint) {
    length("lip_opening", joint.opening);
    length("lip_thickness", joint.thickness);
    const double bore = 2 * seat_.tube.inner_radius();
    if (joint.opening >= bore) {
      add("lip_opening", shown(joint.opening), "under the bore of " + shown(bore));
    }
    need("material", seat_.plug, &Material::bearing, "bearing");
    need("material", seat_.plug, &Material::shear, "shear");
    need("casing.material", seat_.pipe, &Material::bearing, "bearing");
    need("casing.material", seat_.pipe, &Material::shear, "shear");
    need("casing.material", seat_.pipe, &Material::ultimate, "ultimate");
  }

  void operator()(const ThreadedJoint& joint) {
    length("thread_diameter", joint.diameter);
    length("thread_pitch", joint.pitch);
    length("engagement", joint.engagement);
    at_most("engagement", joint.engagement, seat_.thickness, "the closure's thickness");
    at_most("thread_diameter", joint.diameter, seat_.tube.outer_diameter, "the pipe's outside");
    at_most("thread_pitch", joint.pitch, joint.diameter / 4, "a quarter of the diameter");
    // Beyond this the crests no longer reach each other.
    const double most_play = 5 * std::numbers::sqrt3 / 16 * joint.pitch;
    if (!(joint.play >= 0)) add("play", shown(joint.play), "zero or more");
    at_most("play", joint.play, most_play, "what leaves the threads in mesh");
    need("material", seat_.plug, &Material::shear, "shear");
    need("casing.material", seat_.pipe, &Material::shear, "shear");
    need("casing.material", seat_.pipe, &Material::ultimate, "ultimate");
  }

  void operator()(const RatedJoint& joint) {
    if (std::isfinite(joint.load) && joint.load > 0) return;
    add("rated_load", show(joint.load, Dimension::force, UnitSystem::si), "above zero");
  }

 private:
  void add(std::string key, std::string given, std::string allowed) {
    found_.push_back({std::move(key), std::move(given), std::move(allowed)});
  }
  void length(const std::string& key, double metres) {
    if (std::isfinite(metres) && metres > 0) return;
    add(key, shown(metres), "a length above zero");
  }
  void at_most(const std::string& key, double metres, double most, const std::string& what) {
    constexpr double rounding = 1e-9;
    if (metres <= most * (1 + rounding)) return;
    add(key, shown(metres), fmt::format("at most {}, {}", shown(most), what));
  }
  void lacks(const std::string& key, const Material& material, const std::string& property) {
    add(key, '"' + material.name + '"',
        fmt::format(
            "a material whose {} strength is known; a [[material]] like it can give one, with "
            "its source",
            property));
  }
  void need(const std::string& key, const Material& material, double Material::*strength,
            const std::string& property) {
    if (!(material.*strength > 0)) lacks(key, material, property);
  }
  void need_pipe_with_holes() {
    need("casing.material", seat_.pipe, &Material::bearing, "bearing");
    need("casing.material", seat_.pipe, &Material::shear, "shear");
    need("casing.material", seat_.pipe, &Material::ultimate, "ultimate");
  }
  /// `key` is "pin" or "hole".
  void holes(const std::string& key, int count, double diameter, double depth,
             double end_distance) {
    length(key + "_diameter", diameter);
    if (count < 1) add(key + "s", fmt::format("{}", count), "at least 1");
    const double around = 2 * std::numbers::pi * seat_.tube.inner_radius();
    if (count * diameter >= around) {
      add(key + "s", fmt::format("{} of {}, which overlap", count, shown(diameter)),
          fmt::format("fewer or thinner: the bore is {} around", shown(around)));
    }
    if (!(depth > diameter / 2)) {
      add(key + "_depth", shown(depth), "over half of the hole's diameter");
    }
    at_most(key + "_depth", depth, seat_.thickness - diameter / 2,
            "so that the hole ends inside the closure");
    if (!(end_distance > diameter / 2)) {
      add("end_distance", shown(end_distance), "over half of the hole's diameter");
    }
  }

  const Seat& seat_;
  std::vector<Complaint> found_;
};

}  // namespace

std::vector<Complaint> complaints(const Joint& joint, const Seat& seat) {
  Judge judge(seat);
  std::visit(judge, joint);
  return std::move(judge).found();
}

}  // namespace grainwright
