// SPDX-License-Identifier: GPL-3.0-or-later
#include "lattice.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>

namespace grainwright {

namespace {

void burn_round(Group& group) {
  const double core = group.segment.core_diameter;
  group.area = burning_area_of(group.segment);
  for (double& coefficient : group.area.c) coefficient *= group.count;
  group.burnout = burnout_web(group.segment);
  group.volume = group.count * state_at(group.segment, 0).volume;
  group.port = std::numbers::pi / 4 * core * core;
  group.to_the_wall =
      group.segment.bare_ends() * (group.segment.outer_diameter - core) / 2 <= group.segment.length;
}

void burn_odd(Group& group, const CoreBurn& burn) {
  const double length = group.segment.length;
  const int bare_ends = group.segment.bare_ends();
  group.bent = burn.stretches(length, bare_ends, group.count);
  group.burnout = group.bent->back().to;
  group.volume = group.count * length * burn.section();
  group.port = burn.port();
  group.to_the_wall = bare_ends * burn.to_wall() <= length;
}

}  // namespace

Group make_group(const StockedTask& task, int mandrel, int bare_ends, double length, int count) {
  Group group;
  group.segment = segment_of(task, mandrel);
  group.segment.length = length;
  if (bare_ends < 2) group.segment.inhibited.insert(Face::head);
  if (bare_ends < 1) group.segment.inhibited.insert(Face::nozzle);
  group.count = count;
  group.mandrel = mandrel;
  group.length = count * length;
  group.ends = count * bare_ends;
  if (group.segment.core) {
    burn_odd(group, task.burns[static_cast<std::size_t>(mandrel) - task.shop.mandrels.size()]);
  } else {
    burn_round(group);
  }
  return group;
}

Lattice::Lattice(const StockedTask& task, double step, double room)
    : room_(room), spacer_(task.shop.spacer), most_segments_(task.shop.most_segments) {
  add_groups(task, step);
  std::ranges::stable_sort(groups_, {}, &Group::length);
  find_ties();
}

void Lattice::add_groups(const StockedTask& task, double step) {
  const Shop& shop = task.shop;
  // A step's multiple that differs from a limit by rounding alone counts as that limit.
  constexpr double rounding = 1e-9;
  const int shortest =
      std::max(1, static_cast<int>(std::ceil(shop.shortest_segment / step - rounding)));
  const double longest = std::min(shop.longest_segment, room_);
  for (int mandrel = 0; mandrel < rods_of(shop); ++mandrel) {
    for (int ends : shop.bare_ends) {
      for (int count = 1; count <= shop.most_segments; ++count) {
        const double each = std::min(longest, (room_ - (count - 1) * spacer_) / count);
        const int most_steps = static_cast<int>(std::floor(each / step + rounding));
        for (int steps = shortest; steps <= most_steps; ++steps) {
          groups_.push_back(make_group(task, mandrel, ends, steps * step, count));
          groups_.back().steps = steps * count;
        }
      }
    }
  }
}

void Lattice::find_ties() {
  const auto offer = [&](const Key& key, const Holder& holder) {
    const auto [entry, added] = holders_.try_emplace(key, holder);
    if (!added) entry->second = std::min(entry->second, holder);
  };
  for (std::size_t i = 0; i < groups_.size(); ++i) {
    const Group& group = groups_[i];
    if (group.to_the_wall) offer({group.mandrel, group.ends, group.steps}, {group.count, 1, i, i});
  }
  // A group that ties with one of fewer pours never helps, alone or beside another.
  std::vector<Group> kept;
  for (std::size_t i = 0; i < groups_.size(); ++i) {
    const Group& group = groups_[i];
    if (!group.to_the_wall || holders_.at({group.mandrel, group.ends, group.steps}).first == i) {
      kept.push_back(group);
    }
  }
  groups_ = std::move(kept);
  holders_.clear();
  for (std::size_t second = 0; second < groups_.size(); ++second) {
    const Group& b = groups_[second];
    if (!b.to_the_wall) continue;
    offer({b.mandrel, b.ends, b.steps}, {b.count, 1, second, second});
    for (std::size_t first = 0; first < second; ++first) {
      const Group& a = groups_[first];
      if (a.length + b.length > room_ * (1 + 1e-12)) break;
      if (a.mandrel != b.mandrel || !a.to_the_wall) continue;
      const int count = a.count + b.count;
      if (count > most_segments_) continue;
      offer({a.mandrel, a.ends + b.ends, a.steps + b.steps}, {count, 2, first, second});
    }
  }
}

bool Lattice::is_kept(std::size_t first, std::size_t second) const {
  const Group& a = groups_[first];
  const Group& b = groups_[second];
  if (!a.to_the_wall || !b.to_the_wall) return true;
  const bool alone = first == second;
  const Key key{b.mandrel, alone ? b.ends : a.ends + b.ends, alone ? b.steps : a.steps + b.steps};
  const Holder& holder = holders_.at(key);
  return holder.first == first && holder.second == second;
}

Grain grain_of(std::span<const Group> groups, double spacer) {
  Grain grain;
  grain.spacer = spacer;
  std::vector<Group> sorted(groups.begin(), groups.end());
  std::ranges::stable_sort(sorted, [](const Group& a, const Group& b) {
    return std::tie(a.port, a.segment.length) < std::tie(b.port, b.segment.length);
  });
  for (const Group& group : sorted) grain.layers.push_back({group.segment, group.count});
  return grain;
}

}  // namespace grainwright
