// SPDX-License-Identifier: GPL-3.0-or-later
#include "front_sum.hpp"

#include <algorithm>

#include "front_neighbours.hpp"

namespace grainwright {
namespace {

using front::Cover;
using front::Range;
using front::Strip;

constexpr double event_grain = 1e-12;  // of the figure's size
constexpr double thinnest = 1e-12;     // strip: of the figure's size, or rad
constexpr double surely_past = 1e3;    // event grains
constexpr std::size_t block = 16;      // bends looked at together

Quadratic operator+(const Quadratic& a, const Quadratic& b) {
  return {{a.c[0] + b.c[0], a.c[1] + b.c[1], a.c[2] + b.c[2]}};
}

}  // namespace

FrontSum::FrontSum(const Figure& figure)
    : weight_(figure.weight), grain_(event_grain * figure.scale) {
  settle(figure);
  place_events();
  add_stretches();
  index_bends();
}

void FrontSum::settle(const Figure& figure) {
  front::Neighbours neighbours(figure.sites);
  for (const front::Site& site : figure.sites) {
    if (site.shape == front::Shape::dam) continue;
    front::Envelope envelope = neighbours.envelope_over(site, figure.wall, figure.scale);
    std::vector<Cover> covers(envelope.covers().begin(), envelope.covers().end());
    if (figure.wall > 0) covers = front::cut_at_wall(site, covers, figure.wall);
    for (const Cover& cover : covers) {
      if (cover.ceiling.roof != front::Roof::none) {
        front::add_strips(site, cover, figure.wall, strips_);
      }
    }
  }
  std::erase_if(strips_, [&](const Strip& strip) {
    double width = strip.range.to - strip.range.from;
    return width < thinnest * (strip.site.straight() ? figure.scale : 1);
  });
}

void FrontSum::place_events() {
  std::vector<double> webs;
  for (const Strip& strip : strips_) {
    webs.push_back(strip.at_from);
    webs.push_back(strip.at_to);
  }
  std::sort(webs.begin(), webs.end());
  for (double web : webs) {
    if (web > grain_ && (events_.empty() || web - events_.back() > grain_)) events_.push_back(web);
  }
}

double FrontSum::snapped(double web) const {
  auto after = std::upper_bound(events_.begin(), events_.end(), web);
  return after == events_.begin() ? 0 : *(after - 1);
}

// Each stretch is summed afresh, from burnout backward: slivers are then no difference of large
// sums, and what a steep strip contributes for a short while leaves no rounding behind.
void FrontSum::add_stretches() {
  struct Part {
    double low, high;
    Quadratic whole;
    std::optional<Quadratic> partial;  // none for a bend
  };
  std::vector<Part> parts;
  for (std::size_t i = 0; i < strips_.size(); ++i) {
    const Strip& strip = strips_[i];
    Part part = {snapped(strip.low()), snapped(strip.high()), strip.whole(weight_),
                 strip.partial(weight_)};
    bool bend = part.high > part.low && !part.partial;
    if (bend) bends_.push_back({part.low > 0 ? part.low : -1, part.high, i});  // live at web 0 too
    parts.push_back(part);
  }
  double left = 0;
  for (std::size_t i = events_.size(); i-- > 0;) {
    double from = i == 0 ? 0 : events_[i - 1];
    double to = events_[i];
    Quadratic area;
    for (const Part& part : parts) {
      if (part.low >= to) {
        area = area + part.whole;
      } else if (part.high >= to && part.partial) {
        area = area + *part.partial;
      }
    }
    for (const Bend& bend : bends_) {
      const Strip& strip = strips_[bend.strip];
      if (bend.low == to) left += strip.area(strip.range, to, weight_);
    }
    stretches_.push_back({to, area, left});
    left += area.integral(from, to);
  }
  std::reverse(stretches_.begin(), stretches_.end());
}

void FrontSum::index_bends() {
  std::sort(bends_.begin(), bends_.end(),
            [](const Bend& a, const Bend& b) { return a.low < b.low; });
  for (std::size_t i = 0; i < bends_.size(); ++i) {
    if (i % block == 0) block_high_.push_back(0);
    block_high_.back() = std::max(block_high_.back(), bends_[i].high);
  }
}

template <typename Use>
void FrontSum::for_bends(double web, Use use) const {
  for (std::size_t b = 0; b < block_high_.size() && bends_[b * block].low < web; ++b) {
    if (block_high_[b] < web) continue;
    std::size_t end = std::min(bends_.size(), (b + 1) * block);
    for (std::size_t i = b * block; i < end && bends_[i].low < web; ++i) {
      if (bends_[i].high >= web) use(strips_[bends_[i].strip]);
    }
  }
}

const FrontSum::Stretch* FrontSum::stretch_of(double web) const {
  auto at = std::lower_bound(events_.begin(), events_.end(), web);
  return at == events_.end() ? nullptr
                             : &stretches_[static_cast<std::size_t>(at - events_.begin())];
}

double FrontSum::length(double web) const {
  const Stretch* stretch = stretch_of(web);
  if (stretch == nullptr) return 0;
  double sum = stretch->area(web);
  for_bends(web, [&](const Strip& strip) { sum += strip.length(strip.live(web), web, weight_); });
  return std::max(0.0, sum);
}

double FrontSum::left(double web) const {
  const Stretch* stretch = stretch_of(web);
  if (stretch == nullptr) return 0;
  double sum = stretch->left + stretch->area.integral(web, stretch->to);
  for_bends(web, [&](const Strip& strip) { sum += strip.area(strip.live(web), web, weight_); });
  return std::max(0.0, sum);
}

std::vector<Point> FrontSum::passing(Point p) const {
  std::vector<Point> directions;
  for (const Strip& strip : strips_) {
    const front::Site& site = strip.site;
    double s = site.parameter(p);
    double slack = site.straight() ? grain_ : event_grain;
    if (s < strip.range.from - slack || s > strip.range.to + slack) continue;
    Point from_centre = p - site.origin;
    double h = site.straight() ? dot(from_centre, site.normal)
                               : site.sign * (norm(from_centre) - site.radius);
    double top = strip.height(std::clamp(s, strip.range.from, strip.range.to));
    if (h < -grain_ || top <= h + surely_past * grain_) continue;
    directions.push_back(site.straight() ? site.normal : site.sign * unit(s));
  }
  return directions;
}

std::vector<Stroke> FrontSum::strokes(double web) const {
  std::vector<Stroke> out;
  for (const Strip& strip : strips_) {
    auto [from, to] = strip.live(web);
    if (to <= from || web > strip.high()) continue;
    out.push_back({strip.site.point(from, web), strip.site.point(to, web),
                   strip.site.straight() ? 0 : to - from});
  }
  return out;
}

}  // namespace grainwright
