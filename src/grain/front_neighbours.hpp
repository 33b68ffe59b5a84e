// SPDX-License-Identifier: GPL-3.0-or-later
//
// Which sites can matter to a site, found by a tree of disks: a ball from the site that is no
// higher than its envelope so far must be able to reach the disk.
#pragma once

#include <span>
#include <vector>

#include "front_envelope.hpp"

namespace grainwright::front {

class Neighbours {
 public:
  explicit Neighbours(std::span<const Site> sites);

  /// The envelope over one site by all others; not yet cut at the wall.
  [[nodiscard]] Envelope envelope_over(const Site& site, double wall, double scale) const;

 private:
  struct Node {
    Point centre;
    double reach;
    std::size_t first, last;  ///< of order_
    std::size_t left, right;  ///< nodes; both 0 in a leaf
  };
  std::size_t build(std::size_t first, std::size_t last);
  void enclose(Node& node) const;
  void lower(Envelope& envelope, const Site& site, const Node& node, double scale) const;
  void lower_by(Envelope& envelope, const Site& site, const Site& other, double scale) const;

  std::span<const Site> sites_;
  std::vector<std::size_t> order_;
  std::vector<Node> nodes_;
};

}  // namespace grainwright::front
