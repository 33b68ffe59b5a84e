// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell_reader.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <string_view>

#include "material_reader.hpp"

namespace grainwright {
namespace {

using Form = Node::Form;
using Materials = std::vector<Material>;

/// Keys that only some joints have.
struct JointKeys {
  std::string_view joint;
  std::vector<std::string_view> required;
  std::vector<std::string_view> optional = {};
};

const std::array<JointKeys, 7>& joint_keys() {
  static const std::array<JointKeys, 7> keys = {{
      {"bonded", {"bond", "bond_length"}, {"bond_starts", "bond_diameter", "cure_time"}},
      {"pinned",
       {"pins", "pin_diameter", "pin_material", "pin_depth", "pin_reach", "end_distance"}},
      {"screwed",
       {"pins", "pin_diameter", "pin_pitch", "pin_material", "pin_depth", "pin_reach",
        "end_distance"}},
      {"keyed", {"lip_opening", "lip_thickness"}},
      {"keyed in holes", {"holes", "hole_diameter", "hole_depth", "end_distance"}},
      {"threaded", {"thread_diameter", "thread_pitch", "engagement"}, {"play"}},
      {"rated", {"rated_load"}},
  }};
  return keys;
}

bool has(const std::vector<std::string_view>& keys, std::string_view key) {
  return std::ranges::find(keys, key) != keys.end();
}

/// Notes keys that the joint needs and does not have, and those that belong to another.
void check_keys(Section& section, const JointKeys& own) {
  for (std::string_view key : own.required) {
    section.require({key}, fmt::format("the closure is {}", own.joint));
  }
  for (const JointKeys& other : joint_keys()) {
    for (const auto* keys : {&other.required, &other.optional}) {
      for (std::string_view key : *keys) {
        const bool wanted = has(own.required, key) || has(own.optional, key);
        if (wanted || !section.has(key)) continue;
        section.complain(key, section.value(key)->words(),
                         fmt::format("nothing: the closure is {}", own.joint));
      }
    }
  }
}

Material named(Section& section, std::string_view key, const Materials& known) {
  std::string name;
  section.read(key, name);
  if (name.empty()) return {};
  return material_named(section, key, name, known).value_or(Material{});
}

BondedJoint read_bonded(Section& section, const Materials& known, double bore) {
  BondedJoint joint{.bond = named(section, "bond", known), .diameter = bore};
  section.read("bond_length", joint.length);
  section.read("bond_starts", joint.starts);
  section.read("bond_diameter", joint.diameter);
  section.read("cure_time", joint.cure_time);
  if (!joint.bond.cure.empty()) {
    section.require({"cure_time"}, fmt::format("{} has a cure table", joint.bond.name));
  }
  return joint;
}

PinnedJoint read_pinned(Section& section, const Materials& known) {
  PinnedJoint joint{.pin = named(section, "pin_material", known)};
  section.read("pins", joint.count);
  section.read("pin_diameter", joint.diameter);
  section.read("pin_pitch", joint.pitch);
  section.read("pin_depth", joint.depth);
  section.read("pin_reach", joint.reach);
  section.read("end_distance", joint.end_distance);
  return joint;
}

HoleJoint read_holes(Section& section) {
  HoleJoint joint;
  section.read("holes", joint.count);
  section.read("hole_diameter", joint.diameter);
  section.read("hole_depth", joint.depth);
  section.read("end_distance", joint.end_distance);
  return joint;
}

LipJoint read_lip(Section& section) {
  LipJoint joint;
  section.read("lip_opening", joint.opening);
  section.read("lip_thickness", joint.thickness);
  return joint;
}

ThreadedJoint read_threaded(Section& section) {
  ThreadedJoint joint;
  section.read("thread_diameter", joint.diameter);
  section.read("thread_pitch", joint.pitch);
  section.read("engagement", joint.engagement);
  section.read("play", joint.play);
  return joint;
}

RatedJoint read_rated(Section& section) {
  RatedJoint joint;
  section.read("rated_load", joint.load);
  return joint;
}

std::optional<Joint> read_joint(Section& section, const Materials& known, double bore) {
  std::string name;
  section.read("joint", name);
  if (name == "keyed" && section.has("holes")) name = "keyed in holes";
  const auto kind = std::ranges::find(joint_keys(), name, &JointKeys::joint);
  if (kind == joint_keys().end()) {
    if (!name.empty()) {
      section.complain("joint", '"' + name + '"',
                       R"("bonded", "pinned", "screwed", "keyed", "threaded" or "rated")");
    }
    return std::nullopt;
  }
  check_keys(section, *kind);
  if (name == "bonded") return read_bonded(section, known, bore);
  if (name == "pinned" || name == "screwed") return read_pinned(section, known);
  if (name == "keyed") return read_lip(section);
  if (name == "threaded") return read_threaded(section);
  if (name == "rated") return read_rated(section);
  return read_holes(section);
}

std::vector<Protection> read_protection(Section& section, const Materials& known) {
  std::vector<Protection> layers;
  const Node* list = section.value("protection");
  if (list == nullptr) return layers;
  const auto refuse = [&](const Node& node) {
    section.complain("protection", node.words(),
                     R"(a list of layers, gas side first, such as [["cement-mortar", "6 mm"]])");
  };
  if (list->form != Form::list) refuse(*list);
  for (const Node& item : list->items) {
    const bool pair =
        item.is_pair() && item.items[0].form == Form::text && item.items[1].form == Form::text;
    if (!pair) {
      refuse(item);
      continue;
    }
    const auto material = material_named(section, "protection", item.items[0].text, known);
    try {
      const double thickness = read_quantity(item.items[1].text, Dimension::length);
      if (thickness <= 0) {
        section.complain("protection", item.items[1].words(), "a thickness above 0");
      } else if (material) {
        layers.push_back({*material, thickness});
      }
    } catch (const InputError& error) {
      const Complaint& complaint = error.complaints().front();
      section.complain("protection", complaint.given, complaint.allowed);
    }
  }
  return layers;
}

std::optional<Closure> read_closure(Section& section, const Materials& known, double bore) {
  Closure closure{.material = named(section, "material", known),
                  .seal_diameter = bore,
                  .protection = read_protection(section, known),
                  .coefficient = {},
                  .joint = {}};
  section.read("thickness", closure.thickness);
  section.read("gas_coefficient", closure.coefficient);
  const auto joint = read_joint(section, known, bore);
  if (!joint || !section.sound()) return std::nullopt;
  closure.joint = *joint;
  if (const auto* bond = std::get_if<BondedJoint>(&closure.joint)) {
    closure.seal_diameter = bond->diameter;
  }
  section.read("seal_diameter", closure.seal_diameter);
  return closure;
}

void read_heat(Section& root, Shell& shell) {
  auto section = root.table_at("heat");
  if (!section) return;
  section->read("gas_temperature", shell.gas_temperature);
  const Node* node = section->value("gas_coefficient");
  if (node != nullptr && (node->text == "bartz" || node->text == "pipe flow")) {
    shell.estimate = node->text == "bartz" ? GasEstimate::bartz : GasEstimate::pipe_flow;
  } else {
    section->read("gas_coefficient", shell.coefficient);
  }
}

/// The pipe itself, as [casing] has it.
void read_pipe(Section& casing, const Casing& read, const Materials& known, Shell& shell) {
  shell.material = named(casing, "material", known);
  shell.tube = {.outer_diameter = read.bore + 2 * read.wall, .wall = read.wall};
  std::string liner = "paper";
  casing.read("tube_material", liner);
  const auto material = material_named(casing, "tube_material", liner, known);
  if (material && read.tube_wall > 0) shell.liner = {{*material, read.tube_wall}};
  casing.read("length", shell.length);
  shell.grain_room = read.grain_room;
}

void read_closures(Section& root, const Materials& known, double bore, Shell& shell) {
  auto closures = root.table_at("closure");
  if (!closures) return;
  if (auto head = closures->table_at("head")) shell.head = read_closure(*head, known, bore);
  if (auto nozzle = closures->table_at("nozzle", "closure.head")) {
    shell.nozzle = read_closure(*nozzle, known, bore);
  }
}

/// What says something of a shell is not skipped where there is none.
void refuse_orphans(Section& root, Section* casing) {
  constexpr std::string_view wanted = "casing.material beside it, or nothing";
  for (std::string_view key : {"length", "tube_material"}) {
    if (casing == nullptr || !casing->has(key)) continue;
    casing->complain(key, "without the pipe's material", std::string(wanted));
  }
  if (root.has("heat")) root.complain("heat", "without the pipe's material", std::string(wanted));
}

}  // namespace

std::optional<Shell> read_shell(Section& root, Section* casing_section,
                                const std::optional<Casing>& casing, double factor) {
  const std::size_t complaints_before = root.complaint_count();
  const Materials known = read_materials(root);
  Shell shell;
  shell.factor = factor;
  read_heat(root, shell);
  read_closures(root, known, casing ? casing->bore : 0, shell);
  const bool has_material = casing_section != nullptr && casing_section->has("material");
  if (!has_material && root.has("closure")) {
    root.complain("closure", "without the pipe's material",
                  R"([casing] with a material beside it, such as material = "pvc-1120")");
  }
  if (!has_material) refuse_orphans(root, casing_section);
  if (!has_material || !casing) return std::nullopt;
  read_pipe(*casing_section, *casing, known, shell);
  if (root.complaint_count() != complaints_before) return std::nullopt;
  const auto found = complaints(shell);
  root.adopt(found);
  return found.empty() ? std::optional(shell) : std::nullopt;
}

}  // namespace grainwright
