// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/grain/core_shapes.hpp"

#include <boost/math/tools/toms748_solve.hpp>
#include <numbers>

#include "plane.hpp"

namespace grainwright {
namespace {

using std::numbers::pi;

void require(bool fit, const char* key, double given, const char* allowed) {
  if (!fit) throw InputError(key, std::to_string(given), allowed);
}

// A ring that is whole only after `copies` turns of its sector about the axis.
Ring around(const Ring& sector, int copies) {
  Ring ring;
  for (int i = 0; i < copies; ++i) {
    Point e = unit(2 * pi * i / copies);
    for (const Corner& c : sector) {
      ring.push_back({{e.x * c.at.x - e.y * c.at.y, e.y * c.at.x + e.x * c.at.y}, c.turn});
    }
  }
  return ring;
}

// Adds the mirror image in the line through the axis at this angle: the path runs up to that line
// in `sector` and comes back down. The last corner's edge crosses the line.
void mirror_back(Ring& sector, double angle) {
  Point across = unit(2 * angle);
  auto image = [&](Point p) {
    return Point{across.x * p.x + across.y * p.y, across.y * p.x - across.x * p.y};
  };
  for (std::size_t i = sector.size(); i-- > 0;) {
    double turn = i > 0 ? sector[i - 1].turn : 0;
    sector.push_back({image(sector[i].at), turn});
  }
}

}  // namespace

Outline round_cores(const std::vector<RoundCore>& cores) {
  Outline outline;
  for (const RoundCore& core : cores) {
    require(core.radius > 0, "core radius", core.radius, "more than 0");
    Point side = {core.radius, 0};
    outline.voids.push_back({{{core.centre - side, pi}, {core.centre + side, pi}}, {}});
  }
  return outline;
}

Outline star(const Star& shape) {
  require(shape.points >= 2, "points", shape.points, "2 or more");
  require(shape.angle_fraction > 0 && shape.angle_fraction <= 1, "angle fraction",
          shape.angle_fraction, "above 0, up to 1");
  require(shape.fillet >= 0, "fillet", shape.fillet, "0 or more");
  require(shape.fillet_centre > 0, "fillet centre", shape.fillet_centre, "more than 0");
  require(shape.half_angle > 0 && shape.half_angle <= pi / 2, "half angle", shape.half_angle,
          "above 0, up to a right angle");
  double sector = pi / shape.points;
  double q = sector * shape.angle_fraction;
  double t = shape.half_angle;
  Point centre = shape.fillet_centre * unit(q);
  double inner = centre.x - centre.y / std::tan(t) + shape.fillet / std::sin(t);
  require(inner > 0, "half angle", t, "an angle whose flanks meet short of the axis");
  Point flank_end = centre + shape.fillet * Point{std::sin(t), -std::cos(t)};
  require(flank_end.y > 0, "fillet", shape.fillet, "a fillet that leaves some of the flank");
  Ring half = {{{inner, 0}, 0}};
  double reach = shape.fillet_centre + shape.fillet;
  bool arc = shape.angle_fraction < 1;
  double rim = arc ? 2 * (sector - q) : 0;
  if (shape.fillet > 0) half.push_back({flank_end, pi / 2 - t + q});
  half.push_back({reach * unit(q), rim});
  std::size_t own = half.size();
  mirror_back(half, sector);
  if (!arc) half.erase(half.begin() + static_cast<std::ptrdiff_t>(own));  // both are the tip
  if (!arc) half[own - 1].turn = half[own - 2].turn;
  half.pop_back();  // the next sector's inner point
  return {{{around(half, shape.points), {}}}, false};
}

double neutral_half_angle(int points) {
  require(points >= 2, "points", points, "2 or more");
  double target = pi / 2 + pi / points;
  auto excess = [&](double t) { return t + 1 / std::tan(t) - target; };
  std::uintmax_t most = 100;
  auto close = [](double a, double b) { return b - a < 1e-15; };
  auto [a, b] = boost::math::tools::toms748_solve(excess, 1e-3, pi / 2, close, most);
  return 0.5 * (a + b);
}

Outline slot(const Slot& shape) {
  require(shape.width > 0, "slot width", shape.width, "more than 0");
  require(shape.length > shape.width, "slot length", shape.length, "more than the width");
  double h = 0.5 * shape.width;
  double end = 0.5 * shape.length - (shape.round_ends ? h : 0);
  double turn = shape.round_ends ? pi : 0;
  return {{{{{{-end, -h}, 0}, {{end, -h}, turn}, {{end, h}, 0}, {{-end, h}, turn}}, {}}}, false};
}

Outline cross(const Slot& arm) {
  require(arm.width > 0, "slot width", arm.width, "more than 0");
  require(arm.length > arm.width, "slot length", arm.length, "more than the width");
  double h = 0.5 * arm.width;
  double end = 0.5 * arm.length - (arm.round_ends ? h : 0);
  require(end > h, "slot length", arm.length, "more than the width and its round ends");
  Ring quarter = {{{end, -h}, arm.round_ends ? pi : 0}, {{end, h}, 0}, {{h, h}, 0}};
  return {{{around(quarter, 4), {}}}, false};
}

Outline slotted_tube(const SlottedTube& shape) {
  double h = 0.5 * shape.slot_width;
  double r = shape.bore;
  require(shape.slots >= 1, "slots", shape.slots, "1 or more");
  require(r > 0, "bore", r, "more than 0");
  double half = std::asin(std::min(1.0, h / r));
  require(h > 0 && h < r && half * shape.slots < pi, "slot width", shape.slot_width,
          "above 0, and slots that leave some of the bore between them");
  // Far past the wall of any tube; a longer reach would only cost digits.
  double reach = shape.through_wall ? 100 * r : shape.slot_reach;
  Point mouth = r * unit(half);
  require(reach > mouth.x, "slot reach", reach, "more than the bore");
  double arc = 2 * (pi / shape.slots - half);
  Ring sector = {{{mouth.x, -h}, 0}, {{reach, -h}, 0}, {{reach, h}, 0}, {{mouth.x, h}, arc}};
  return {{{around(sector, shape.slots), {}}}, shape.through_wall};
}

Outline wheel(const Wheel& shape) {
  double h = 0.5 * shape.spoke_width;
  double f = shape.fillet;
  double sector = pi / std::max(1, shape.spokes);
  require(shape.spokes >= 2, "spokes", shape.spokes, "2 or more");
  require(h > 0, "spoke width", shape.spoke_width, "more than 0");
  require(shape.tip > 0, "tip", shape.tip, "more than 0");
  require(f >= 0 && f < shape.rim, "fillet", f, "0 or more, and less than the rim");
  require(shape.tip_half_angle > 0 && shape.tip_half_angle <= pi / 2, "tip half angle",
          shape.tip_half_angle, "above 0, up to a right angle");
  double shoulder = shape.tip + h / std::tan(shape.tip_half_angle);
  // The fillet's centre stands f beside the spoke and f short of the rim.
  double l = shape.rim - f;
  require(h + f < l * std::sin(sector), "spoke width", shape.spoke_width,
          "spokes and fillets that leave some of the rim");
  require(h < shoulder * std::tan(sector), "tip", shape.tip, "tips that stay clear of each other");
  double foot = std::sqrt(l * l - (h + f) * (h + f));
  require(foot > shoulder, "tip", shape.tip, "a spoke longer than its tip");
  double q = std::asin((h + f) / l);
  Ring half;
  if (shape.tip_half_angle < pi / 2) half.push_back({{shape.tip, 0}, 0});
  half.push_back({{shoulder, h}, 0});
  if (f > 0) half.push_back({{foot, h}, pi / 2 + q});
  half.push_back({shape.rim * unit(q), 2 * (sector - q)});
  mirror_back(half, sector);
  if (shape.tip_half_angle < pi / 2) half.pop_back();
  return {{{around(half, shape.spokes), {}}}, false};
}

}  // namespace grainwright
