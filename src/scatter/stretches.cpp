// SPDX-License-Identifier: GPL-3.0-or-later
#include "stretches.hpp"

#include <algorithm>
#include <cmath>

namespace grainwright {
namespace {

constexpr double same_event = 1e-13;  // relative distance of webs
constexpr double coarseness = 1e-6;   // of the greatest area

/// The quadratic with these areas at both ends that burns so much between them.
Stretch through(double from, double to, double first, double last, double volume) {
  const double width = to - from;
  const double hump = 6 * (volume / width - (first + last) / 2);
  const double slope = (last - first + hump) / width;
  const double bend = -hump / (width * width);
  return {from, to, {{first - slope * from + bend * from * from, slope - 2 * bend * from, bend}}};
}

bool agrees(const Stretch& one, std::span<const Stretch> many, double within) {
  return std::ranges::all_of(many, [&](const Stretch& part) {
    constexpr int looks = 4;
    for (int i = 0; i <= looks; ++i) {
      const double web = std::lerp(part.from, part.to, static_cast<double>(i) / looks);
      if (!(std::abs(one.area(web) - part.area(web)) <= within)) return false;
    }
    return true;
  });
}

}  // namespace

void StretchSum::clear() {
  parts_.clear();
  ends_.clear();
}

void StretchSum::add(std::span<const Stretch> piece, double count) {
  if (piece.empty()) return;
  for (const Stretch& stretch : piece) {
    parts_.push_back({stretch.from, stretch.to, count * stretch.area});
  }
  ends_.push_back(parts_.size());
}

void StretchSum::add_up(std::vector<Stretch>& sum) {
  events_.clear();
  for (const Stretch& part : parts_) events_.push_back(part.to);
  std::ranges::sort(events_);
  at_.assign(1, 0);
  if (!ends_.empty()) at_.insert(at_.end(), ends_.begin(), ends_.end() - 1);
  sum.clear();
  double from = 0;
  for (double to : events_) {
    if (to <= from * (1 + same_event)) continue;
    Stretch stretch{from, to, {}};
    const double middle = (from + to) / 2;
    for (std::size_t piece = 0; piece < ends_.size(); ++piece) {
      std::size_t& at = at_[piece];
      while (at < ends_[piece] && parts_[at].to <= middle) ++at;
      if (at < ends_[piece]) stretch.area += parts_[at].area;
    }
    sum.push_back(stretch);
    from = to;
  }
}

std::vector<Stretch> coarser(std::span<const Stretch> stretches) {
  double greatest = 0;
  for (const Stretch& stretch : stretches) {
    greatest = std::max(greatest, area_range(stretch).greatest);
  }
  std::vector<Stretch> found;
  for (std::size_t i = 0; i < stretches.size();) {
    Stretch best = stretches[i];
    const double first = best.area(best.from);
    double volume = best.area.integral(best.from, best.to);
    std::size_t next = i + 1;
    for (; next < stretches.size(); ++next) {
      const Stretch& last = stretches[next];
      volume += last.area.integral(last.from, last.to);
      const Stretch longer = through(best.from, last.to, first, last.area(last.to), volume);
      if (!agrees(longer, stretches.subspan(i, next - i + 1), coarseness * greatest)) break;
      best = longer;
    }
    found.push_back(best);
    i = next;
  }
  return found;
}

}  // namespace grainwright
