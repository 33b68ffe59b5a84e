// SPDX-License-Identifier: GPL-3.0-or-later
#include "front_neighbours.hpp"

#include <algorithm>
#include <limits>
#include <numeric>

namespace grainwright::front {
namespace {

constexpr std::size_t leaf_size = 4;

// Greatest height to which the wall lets a site burn. The wall is nearest where the normal points
// most outward, farthest where it points most inward.
double most_under_wall(const Site& site, double wall) {
  if (site.straight()) {
    double foot = std::clamp(-dot(site.origin, site.along), site.from, site.to);
    return wall_height(site, wall, foot);
  }
  if (!site.corner()) return 2 * wall;
  double inward = std::remainder(
      angle_of(site.origin) + std::numbers::pi - 0.5 * (site.from + site.to), 2 * std::numbers::pi);
  double half = 0.5 * (site.to - site.from);
  return wall_height(site, wall, 0.5 * (site.from + site.to) + std::clamp(inward, -half, half));
}

// A ball through a foot that touches a point at v from it, n the normal, has height v.v / (2 n.v).
bool can_reach(const Site& site, Point centre, double reach, double highest) {
  double ahead = site.ahead(centre, reach);
  if (ahead <= 0) return false;
  double gap = site.gap(centre, reach);
  return gap * gap <= 2 * highest * ahead && gap <= 2 * highest;
}

}  // namespace

Neighbours::Neighbours(std::span<const Site> sites) : sites_(sites), order_(sites.size()) {
  std::iota(order_.begin(), order_.end(), std::size_t{0});
  nodes_.reserve(sites.size());
  build(0, sites.size());
}

void Neighbours::enclose(Node& node) const {
  double inf = std::numeric_limits<double>::infinity();
  Point low = {inf, inf};
  Point high = {-inf, -inf};
  for (std::size_t i = node.first; i < node.last; ++i) {
    const Site& site = sites_[order_[i]];
    low = {std::min(low.x, site.bound.x - site.reach), std::min(low.y, site.bound.y - site.reach)};
    high = {std::max(high.x, site.bound.x + site.reach),
            std::max(high.y, site.bound.y + site.reach)};
  }
  node.centre = 0.5 * (low + high);
  node.reach = 0.5 * norm(high - low);
}

std::size_t Neighbours::build(std::size_t first, std::size_t last) {
  std::size_t here = nodes_.size();
  nodes_.push_back({{}, 0, first, last, 0, 0});
  enclose(nodes_[here]);
  if (last - first <= leaf_size) return here;
  auto at = [&](std::size_t i) { return order_.begin() + static_cast<std::ptrdiff_t>(i); };
  Point spread = {};
  for (std::size_t i = first; i < last; ++i) {
    Point v = sites_[order_[i]].bound - nodes_[here].centre;
    spread = {spread.x + std::abs(v.x), spread.y + std::abs(v.y)};
  }
  bool wide = spread.x > spread.y;
  std::size_t middle = (first + last) / 2;
  std::nth_element(at(first), at(middle), at(last), [&](std::size_t a, std::size_t b) {
    return wide ? sites_[a].bound.x < sites_[b].bound.x : sites_[a].bound.y < sites_[b].bound.y;
  });
  std::size_t left = build(first, middle);
  std::size_t right = build(middle, last);
  nodes_[here].left = left;
  nodes_[here].right = right;
  return here;
}

void Neighbours::lower_by(Envelope& envelope, const Site& site, const Site& other,
                          double scale) const {
  if (&site == &other || !can_reach(site, other.bound, other.reach, envelope.highest())) return;
  Ceiling ceiling = bisector(site, other, scale);
  if (ceiling.roof == Roof::none) return;
  for (Range range : touching(site, other, ceiling, scale)) envelope.lower(ceiling, range);
}

void Neighbours::lower(Envelope& envelope, const Site& site, const Node& node, double scale) const {
  if (!can_reach(site, node.centre, node.reach, envelope.highest())) return;
  if (node.right == 0) {
    for (std::size_t i = node.first; i < node.last; ++i) {
      lower_by(envelope, site, sites_[order_[i]], scale);
    }
    return;
  }
  const Node* near = &nodes_[node.left];
  const Node* far = &nodes_[node.right];
  if (site.gap(near->centre, near->reach) > site.gap(far->centre, far->reach)) std::swap(near, far);
  lower(envelope, site, *near, scale);
  lower(envelope, site, *far, scale);
}

Envelope Neighbours::envelope_over(const Site& site, double wall, double scale) const {
  Envelope envelope(site, wall > 0 ? most_under_wall(site, wall) : 2 * scale, scale);
  // The sites next in the ring are the most likely ceilings: they cut the search short.
  auto self = static_cast<std::size_t>(&site - sites_.data());
  std::size_t count = sites_.size();
  for (std::size_t step : {std::size_t{1}, std::size_t{2}}) {
    lower_by(envelope, site, sites_[(self + step) % count], scale);
    lower_by(envelope, site, sites_[(self + count - step % count) % count], scale);
  }
  if (!nodes_.empty()) lower(envelope, site, nodes_.front(), scale);
  return envelope;
}

}  // namespace grainwright::front
