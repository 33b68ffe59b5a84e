// SPDX-License-Identifier: GPL-3.0-or-later
//
// The builds that a shop can make with lengths on the saw's step, made of groups of equal segments.
//
// What keeps them few: equal segments are interchangeable; and while every segment of one core
// burns to the wall, their area depends only on the sum of their lengths and the sum of their bare
// ends, so of all groups (and pairs of groups of one core) that tie, only the one with fewest pours
// stays.
#pragma once

#include <compare>
#include <cstdint>
#include <map>
#include <span>
#include <vector>

#include "stock.hpp"

namespace grainwright {

/// `count` equal segments.
struct Group {
  Segment segment;
  int count = 0;
  int mandrel = 0;           ///< number of the shop's rod
  Quadratic area;            ///< of all of them together, where the core is round
  SharedStretches bent;      ///< the same, where it is not; else null
  double port = 0;           ///< m2, of one before lighting
  double burnout = 0;        ///< web, m
  double volume = 0;         ///< of all of them, m3
  double length = 0;         ///< of all of them without spacers, m
  int steps = 0;             ///< the same in steps of the saw
  int ends = 0;              ///< bare ends of all of them
  bool to_the_wall = false;  ///< burns until the core meets the wall, not until its ends meet
};

/// A group of `count` equal segments cast round a mandrel, outside inhibited.
[[nodiscard]] Group make_group(const StockedTask& task, int mandrel, int bare_ends, double length,
                               int count);

class Lattice {
 public:
  /// Every group that fits a room, which may be wider than the task's own when looking for relief.
  Lattice(const StockedTask& task, double step, double room);

  /// Groups in rising order of length.
  [[nodiscard]] std::span<const Group> groups() const { return groups_; }
  /// Calls visit(span of one or two groups) for every build whose longest-sorted first group is
  /// `first`, ties left out. Returns how many builds that was.
  template <class Visit>
  long long for_each_build(std::size_t first, int most_kinds, Visit&& visit) const {
    long long builds = 0;
    const Group& a = groups_[first];
    if (is_kept(first, first)) {
      visit(std::span<const Group>(&a, 1));
      ++builds;
    }
    if (most_kinds < 2) return builds;
    Group pair[] = {a, a};
    for (std::size_t second = 0; second < first; ++second) {
      const Group& b = groups_[second];
      if (a.length + b.length > room_ * (1 + 1e-12)) break;
      if (a.count + b.count > most_segments_) continue;
      if (a.length + b.length + (a.count + b.count - 1) * spacer_ > room_ * (1 + 1e-12)) continue;
      if (a.mandrel == b.mandrel && !is_kept(second, first)) continue;
      pair[1] = b;
      visit(std::span<const Group>(pair));
      ++builds;
    }
    return builds;
  }

 private:
  struct Key {
    int mandrel;
    int ends;
    int steps;
    auto operator<=>(const Key&) const = default;
  };
  struct Holder {
    int count;
    int groups;
    std::size_t first;
    std::size_t second;
    auto operator<=>(const Holder&) const = default;
  };

  void add_groups(const StockedTask& task, double step);
  void find_ties();
  [[nodiscard]] bool is_kept(std::size_t first, std::size_t second) const;

  double room_;
  double spacer_;
  int most_segments_;
  std::vector<Group> groups_;
  std::map<Key, Holder> holders_;
};

/// The grain of some groups: narrow cores at the head end, so that the gas of the whole stack
/// leaves through the widest port.
[[nodiscard]] Grain grain_of(std::span<const Group> groups, double spacer);

}  // namespace grainwright
