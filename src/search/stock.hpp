// SPDX-License-Identifier: GPL-3.0-or-later
//
// The core rods of a shop: the round ones, whose segments burn by a closed form, and after them
// those of any other core that is the same from end to end.
//
// Whatever its length L and its bare ends m, a segment with such a core burns L g(x) + m h(x) until
// its ends meet, g being the core's girth and h = S - x g with the section S. Both are worked out
// once, so that a segment of any length costs no new front.
#pragma once

#include <memory>
#include <vector>

#include "grainwright/grain/burnback.hpp"
#include "grainwright/search/search.hpp"

namespace grainwright {

/// Stretches of several segments together; never null once made.
using SharedStretches = std::shared_ptr<const std::vector<Stretch>>;

/// How a core burns in any segment of one diameter.
class CoreBurn {
 public:
  CoreBurn(const Core& core, double outer_diameter);

  [[nodiscard]] double to_wall() const { return pieces_.back().to; }  ///< web of the last sliver, m
  [[nodiscard]] double section() const { return section_; }  ///< m2 of propellant before lighting
  [[nodiscard]] double port() const { return port_; }        ///< m2 open before lighting
  /// Of `count` segments together, until they are gone.
  [[nodiscard]] SharedStretches stretches(double length, int bare_ends, int count) const;

 private:
  struct Piece {
    double from = 0;
    double to = 0;
    Quadratic girth;
    Quadratic end;  // h
  };
  std::vector<Piece> pieces_;
  double section_ = 0;
  double port_ = 0;
};

/// A task with what its odd cores need.
struct StockedTask : SearchTask {
  explicit StockedTask(SearchTask task);
  std::vector<CoreBurn> burns = {};  ///< one a core of the shop
};

/// How many rods there are. A rod's number counts the round ones first.
[[nodiscard]] int rods_of(const Shop& shop);

/// A segment with a rod's core: its outside inhibited, its ends bare, length open.
[[nodiscard]] Segment segment_of(const SearchTask& task, int rod);

/// What is wrong with the shop's odd cores.
[[nodiscard]] std::vector<Complaint> stock_complaints(const SearchTask& task);

}  // namespace grainwright
