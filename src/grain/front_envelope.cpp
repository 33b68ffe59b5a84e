// SPDX-License-Identifier: GPL-3.0-or-later
#include "front_envelope.hpp"

#include <algorithm>
#include <limits>

namespace grainwright::front {
namespace {

// Stretches shorter than this part of the site are rounding, and join their neighbour.
constexpr double shortest_part = 1e-13;
// Heights closer than this part of the figure's size are equal.
constexpr double equal_part = 1e-13;

double value(const Site& site, const Ceiling& ceiling, double s) {
  const auto& c = ceiling.c;
  if (site.straight()) return c[0] + s * (c[1] + s * c[2]);
  return c[0] + c[1] * std::cos(s) + c[2] * std::sin(s);
}

}  // namespace

Envelope::Envelope(const Site& site, double open_height, double scale)
    : site_(&site),
      open_height_(open_height),
      highest_(open_height),
      equal_(equal_part * scale),
      shortest_(shortest_part * (site.to - site.from)),
      covers_{{{site.from, site.to}, {}}} {}

// Over a round site the coefficients give 1/r. Ceilings that touch without crossing, as those of an
// arc and of its tangent do, are equal to rounding over some length: the one that is there stays.
bool Envelope::under(const Ceiling& a, const Ceiling& b, double s) const {
  double va = value(*site_, a, s);
  double vb = value(*site_, b, s);
  if (site_->straight()) return va < vb - equal_;
  double margin = vb > 0 ? equal_ * va * vb : 0;
  return site_->sign * (va - vb) > margin;
}

Roots Envelope::crossings(const Ceiling& a, const Ceiling& b) const {
  double d0 = a.c[0] - b.c[0];
  double d1 = a.c[1] - b.c[1];
  double d2 = a.c[2] - b.c[2];
  if (site_->straight()) return quadratic_roots(d0, d1, d2);
  return sinusoid_roots(d0, d1, d2, 0.5 * (site_->from + site_->to));
}

double Envelope::highest_of(const Cover& cover) const {
  if (cover.ceiling.roof == Roof::none) return open_height_;
  const auto& c = cover.ceiling.c;
  double from = cover.range.from;
  double to = cover.range.to;
  double high =
      std::max(curve_height(*site_, cover.ceiling, from), curve_height(*site_, cover.ceiling, to));
  auto look = [&](double s) {
    if (s > from && s < to) high = std::max(high, curve_height(*site_, cover.ceiling, s));
  };
  if (site_->straight()) {
    if (c[2] < 0) look(-0.5 * c[1] / c[2]);
  } else {
    for (double s : sinusoid_roots(0, c[2], -c[1], 0.5 * (from + to))) look(s);
  }
  return std::min(high, open_height_);
}

void Envelope::keep(Range range, const Ceiling& ceiling) {
  if (!next_.empty() &&
      (next_.back().ceiling.c == ceiling.c || range.to - range.from < shortest_)) {
    next_.back().range.to = range.to;
  } else {
    next_.push_back({range, ceiling});
  }
}

// Adds to next_ the old cover with the ceiling worked in; true where the ceiling won anything.
bool Envelope::split(const Cover& old, const Ceiling& ceiling, Range range) {
  double a = std::max(old.range.from, range.from);
  double b = std::min(old.range.to, range.to);
  if (b - a < shortest_) return keep(old.range, old.ceiling), false;
  Few<double, 4> cuts;
  cuts.add(a);
  if (old.ceiling.roof != Roof::none) {
    for (double s : crossings(ceiling, old.ceiling)) {
      if (s > a && s < b) cuts.add(s);
    }
  }
  cuts.add(b);
  bool won = false;
  if (a > old.range.from) keep({old.range.from, a}, old.ceiling);
  for (const double* cut = cuts.begin(); cut + 1 != cuts.end(); ++cut) {
    bool lower =
        old.ceiling.roof == Roof::none || under(ceiling, old.ceiling, 0.5 * (cut[0] + cut[1]));
    keep({cut[0], cut[1]}, lower ? ceiling : old.ceiling);
    won = won || lower;
  }
  if (b < old.range.to) keep({b, old.range.to}, old.ceiling);
  return won;
}

void Envelope::lower(const Ceiling& ceiling, Range range) {
  next_.clear();
  bool won = false;
  for (const Cover& cover : covers_) won = split(cover, ceiling, range) || won;
  if (!won) return;
  covers_.swap(next_);
  highest_ = 0;
  for (const Cover& cover : covers_) highest_ = std::max(highest_, highest_of(cover));
}

}  // namespace grainwright::front
