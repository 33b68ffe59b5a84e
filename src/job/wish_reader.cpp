// SPDX-License-Identifier: GPL-3.0-or-later
#include "wish_reader.hpp"

#include <algorithm>

#include "core_reader.hpp"

namespace grainwright {
namespace {

using Form = Node::Form;

constexpr const char* profiles =
    R"("flat", "front-loaded", "for the rail", or a list of [fraction of burn time, relative thrust])";

/// A plain value is the least; a table holds one or both ends.
Bound read_bound(Section& wish, std::string_view key) {
  Bound bound;
  const Node* node = wish.value(key);
  if (node == nullptr) return bound;
  if (node->form != Form::table) {
    bound.least = wish.number(key, *node).value_or(bound.least);
    return bound;
  }
  if (node->entries.empty()) wish.complain(key, "an empty table", "at_least, at_most, or both");
  for (const Entry& entry : node->entries) {
    if (entry.key != "at_least" && entry.key != "at_most") {
      wish.complain(std::string(key) + "." + entry.key, "unknown key", "at_least or at_most");
      continue;
    }
    double& end = entry.key == "at_least" ? bound.least : bound.most;
    end = wish.number(key, entry.value).value_or(end);
  }
  if (bound.least > bound.most) {
    wish.complain(std::string(key) + ".at_least", node->find("at_least")->value.words(),
                  "no more than at_most, " + node->find("at_most")->value.words());
  }
  return bound;
}

std::optional<Profile> read_points(Section& wish, const Node& list) {
  std::vector<Profile::Point> points;
  for (const Node& item : list.items) {
    const bool pair = item.is_pair() && std::ranges::all_of(item.items, &Node::is_number);
    if (!pair) {
      wish.complain("profile", item.words(), "points of two numbers, e.g. [0, 1.2]");
      return std::nullopt;
    }
    points.push_back({item.items[0].number, item.items[1].number});
  }
  try {
    return Profile::through(points);
  } catch (const InputError& error) {
    for (const Complaint& complaint : error.complaints()) {
      wish.complain("profile", complaint.given, complaint.allowed);
    }
    return std::nullopt;
  }
}

bool is_for_the_rail(Section& wish) {
  const Node* node = wish.value("profile");
  if (node == nullptr || node->text != "for the rail") return false;
  wish.require({"rail_speed"}, "the profile is for the rail");
  return true;
}

Profile read_profile(Section& wish) {
  const Node* node = wish.value("profile");
  const bool front_loaded = node != nullptr && node->text == "front-loaded";
  double lead = 0;
  wish.read("lead", lead);
  if (wish.has("lead") && !front_loaded) {
    wish.complain("lead", wish.value("lead")->words(), "only with profile = \"front-loaded\"");
  }
  if (node == nullptr || node->text == "flat" || node->text == "for the rail") {
    return Profile::flat();
  }
  if (front_loaded) {
    wish.require({"lead"}, "the profile is front-loaded");
    return lead > 0 ? Profile::front_loaded(lead) : Profile::flat();
  }
  if (node->form == Form::list) return read_points(wish, *node).value_or(Profile::flat());
  wish.complain("profile", node->words(), profiles);
  return Profile::flat();
}

}  // namespace

bool asks_strength(Section& limits) {
  const Node* pressure = limits.value("pressure");
  return pressure != nullptr && pressure->text == "from strength";
}

Limits read_limits(Section& section) {
  Limits limits;
  if (!asks_strength(section)) section.read("pressure", limits.pressure);
  section.read("confidence", limits.confidence);
  section.read("pressure_floor", limits.pressure_floor);
  section.read("port_to_throat", limits.port_to_throat);
  section.read("mass_flux", limits.mass_flux);
  if (limits.pressure_floor > limits.pressure) {
    section.complain("pressure_floor", section.value("pressure_floor")->words(),
                     "no more than the ceiling, " + section.value("pressure")->words());
  }
  return limits;
}

Shop read_shop(Section& section, const std::filesystem::path& folder) {
  Shop shop;
  section.read("mandrels", shop.mandrels);
  shop.cores = read_cores(section, "cores", folder);
  section.read("throats", shop.throats);
  section.read("length_step", shop.length_step);
  section.read("spacer", shop.spacer);
  section.read("most_segments", shop.most_segments);
  section.read("most_kinds", shop.most_kinds);
  section.read("shortest_segment", shop.shortest_segment);
  section.read("longest_segment", shop.longest_segment);
  section.read("bare_ends", shop.bare_ends);
  section.read("kerf", shop.kerf);
  section.read("tube_stock", shop.tube_stock);
  section.read("waste", shop.waste);
  section.read("length_tolerance", shop.length_tolerance);
  section.read("density_tolerance", shop.density_tolerance);
  section.read("mandrel_grip", shop.mandrel_grip);
  if (shop.shortest_segment > shop.longest_segment) {
    section.complain("shortest_segment", section.value("shortest_segment")->words(),
                     "no more than the longest, " + section.value("longest_segment")->words());
  }
  return shop;
}

Wish read_wish(Section& section) {
  Wish wish;
  wish.profile = read_profile(section);
  wish.for_the_rail = is_for_the_rail(section);
  section.read("loading", wish.loading);
  wish.burn_time = read_bound(section, "burn_time");
  wish.total_impulse = read_bound(section, "total_impulse");
  wish.initial_thrust = read_bound(section, "initial_thrust");
  wish.mean_thrust = read_bound(section, "mean_thrust");
  wish.peak_thrust = read_bound(section, "peak_thrust");
  wish.rail_speed = read_bound(section, "rail_speed");
  wish.thrust_to_weight = read_bound(section, "thrust_to_weight");
  wish.apogee = read_bound(section, "apogee");
  return wish;
}

}  // namespace grainwright
