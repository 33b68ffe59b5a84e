// SPDX-License-Identifier: GPL-3.0-or-later
#include "front_sum.hpp"

#include <algorithm>
#include <map>
#include <utility>

#include "front_neighbours.hpp"

namespace grainwright {
namespace {

using front::Cover;
using front::Range;
using front::Strip;

constexpr double event_grain = 1e-12;  // of the figure's size
constexpr double thinnest = 1e-12;     // strip: of the figure's size, or rad
constexpr double surely_past = 1e3;    // event grains

std::size_t below(const std::vector<double>& rising, double web) {
  if (rising.size() == 1) return rising[0] < web ? 1 : 0;
  return static_cast<std::size_t>(std::ranges::lower_bound(rising, web) - rising.begin());
}

}  // namespace

// What a strip adds to the stretches: `whole` while the front is below it, `partial` while it is
// cut.
struct FrontSum::Part {
  double low, high;
  Quadratic whole;
  Quadratic partial;
};

FrontSum::FrontSum(const Figure& figure)
    : weight_(figure.weight), grain_(event_grain * figure.scale) {
  settle(figure);
  place_events();
  add_stretches(part(figure.scale));
}

double FrontSum::Group::factor(double web) const {
  return share * static_cast<double>(below(lows, web) - below(highs, web));
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

std::vector<FrontSum::Part> FrontSum::part(double scale) {
  const bool plain = weight_ == front::Weight{};
  std::vector<Part> parts;
  std::vector<Bend> bends;
  std::map<std::pair<front::Term::Key, double>, Group> groups;
  for (std::size_t i = 0; i < strips_.size(); ++i) {
    const Strip& strip = strips_[i];
    Part part = {snapped(strip.low()), snapped(strip.high()), strip.whole(weight_), {}};
    if (part.high > part.low) {
      const double low = part.low > 0 ? part.low : -1;  // at work at web 0 too
      if (auto partial = strip.partial(weight_)) {
        part.partial = *partial;
      } else if (auto shared = plain ? front::term_of(strip, scale) : std::nullopt) {
        part.partial = shared->rest;
        Group& group = groups[{shared->term.key(scale), shared->share}];
        if (group.lows.empty()) group = {low, part.high, shared->term, shared->share, {}, {}};
        group.low = std::min(group.low, low);
        group.high = std::max(group.high, part.high);
        group.lows.push_back(low);
        group.highs.push_back(part.high);
      } else {
        bends.push_back({low, part.high, i});
      }
    }
    parts.push_back(part);
  }
  std::vector<Group> sorted;
  for (auto& [key, group] : groups) {
    std::ranges::sort(group.lows);
    std::ranges::sort(group.highs);
    sorted.push_back(std::move(group));
  }
  groups_ = front::Ranges(std::move(sorted));
  bends_ = front::Ranges(std::move(bends));
  return parts;
}

// Each stretch is summed afresh, from burnout backward: slivers are then no difference of large
// sums, and what a steep strip contributes for a short while leaves no rounding behind.
void FrontSum::add_stretches(const std::vector<Part>& parts) {
  double left = 0;
  for (std::size_t i = events_.size(); i-- > 0;) {
    const double from = i == 0 ? 0 : events_[i - 1];
    Stretch stretch = {events_[i], {}, left, false};
    for (const Part& part : parts) {
      if (part.low >= stretch.to) {
        stretch.area += part.whole;
      } else if (part.high >= stretch.to) {
        stretch.area += part.partial;
      }
    }
    left += stretch.area.integral(from, stretch.to);
    groups_.visit(stretch.to, [&](const Group& group) {
      const double factor = group.factor(stretch.to);
      if (factor == 0) return;
      stretch.bent = true;
      left += factor * (group.term.integral(stretch.to) - group.term.integral(from));
    });
    bends_.visit(stretch.to, [&](const Bend& bend) {
      stretch.bent = true;
      if (std::max(bend.low, 0.0) != from) return;
      const Strip& strip = strips_[bend.strip];
      left += strip.area(strip.range, from, weight_);
    });
    stretches_.push_back(stretch);
  }
  std::reverse(stretches_.begin(), stretches_.end());
}

const FrontSum::Stretch* FrontSum::stretch_of(double web) const {
  auto at = std::lower_bound(events_.begin(), events_.end(), web);
  return at == events_.end() ? nullptr
                             : &stretches_[static_cast<std::size_t>(at - events_.begin())];
}

std::optional<Quadratic> FrontSum::formula(double web) const {
  const Stretch* stretch = stretch_of(web);
  if (stretch == nullptr) return Quadratic{};
  if (stretch->bent) return std::nullopt;
  return stretch->area;
}

double FrontSum::length(double web) const {
  const Stretch* stretch = stretch_of(web);
  if (stretch == nullptr) return 0;
  double sum = stretch->area(web);
  if (!stretch->bent) return std::max(0.0, sum);
  groups_.visit(web, [&](const Group& group) {
    const double factor = group.factor(web);
    if (factor != 0) sum += factor * group.term.value(web);
  });
  bends_.visit(web, [&](const Bend& bend) {
    const Strip& strip = strips_[bend.strip];
    sum += strip.length(strip.live(web), web, weight_);
  });
  return std::max(0.0, sum);
}

double FrontSum::left(double web) const {
  const Stretch* stretch = stretch_of(web);
  if (stretch == nullptr) return 0;
  double sum = stretch->left + stretch->area.integral(web, stretch->to);
  if (!stretch->bent) return std::max(0.0, sum);
  groups_.visit(web, [&](const Group& group) {
    const double factor = group.factor(web);
    if (factor == 0) return;
    sum += factor * (group.term.integral(stretch->to) - group.term.integral(web));
  });
  bends_.visit(web, [&](const Bend& bend) {
    const Strip& strip = strips_[bend.strip];
    sum += strip.area(strip.live(web), web, weight_);
  });
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
