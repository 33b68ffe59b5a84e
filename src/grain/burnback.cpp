// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/grain/burnback.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace grainwright {
namespace {

using std::numbers::pi;

// Webs this close together, relative to the larger, are one event: equal segments written in
// different units must not leave a sliver of a stretch between them.
constexpr double same_event = 1e-13;

}  // namespace

AreaRange area_range(const Stretch& stretch) {
  const auto& c = stretch.area.c;
  const double start = stretch.area(stretch.from);
  const double end = stretch.area(stretch.to);
  AreaRange range =
      start >= end ? AreaRange{end, start, stretch.from} : AreaRange{start, end, stretch.to};
  if (c[2] == 0) return range;
  const double vertex = -c[1] / (2 * c[2]);
  if (vertex <= stretch.from || vertex >= stretch.to) return range;
  const double turn = stretch.area(vertex);
  range.least = std::min(range.least, turn);
  if (turn > range.greatest) {
    range.greatest = turn;
    range.greatest_at = vertex;
  }
  return range;
}

Quadratic burning_area_of(const Segment& segment) {
  const double core = segment.bare(Face::core) ? 1 : 0;
  const double outer = segment.bare(Face::outer) ? 1 : 0;
  const double ends = segment.bare_ends();
  const double d = segment.core_diameter;
  const double o = segment.outer_diameter;
  // Burning girth g = g0 + g1 x; section s = pi/4 (D - d)(D + d) - g0 x - g1 x^2 / 2 (its slope is
  // minus the girth); area = g (L - m x) + m s.
  const double g0 = pi * (core * d + outer * o);
  const double g1 = 2 * pi * (core - outer);
  const double length = segment.length;
  return {{g0 * length + ends * pi / 4 * (o - d) * (o + d), g1 * length - 2 * ends * g0,
           -1.5 * ends * g1}};
}

Burnback::Burnback(Grain grain) : grain_(std::move(grain)) {
  if (auto found = complaints(grain_); !found.empty()) throw InputError(std::move(found));
  for (const Layer& layer : grain_.layers) events_.push_back(burnout_web(layer.segment));
  std::ranges::sort(events_);
  const auto same = [](double a, double b) { return b - a <= same_event * b; };
  events_.erase(std::unique(events_.begin(), events_.end(), same), events_.end());
  double from = 0;
  for (double to : events_) {
    Stretch stretch{from, to, {}};
    for (const Layer& layer : grain_.layers) {
      if (burnout_web(layer.segment) <= from * (1 + same_event)) continue;
      const Quadratic area = burning_area_of(layer.segment);
      for (std::size_t i = 0; i < 3; ++i) stretch.area.c[i] += layer.count * area.c[i];
    }
    stretches_.push_back(stretch);
    from = to;
  }
}

double Burnback::burning_area(double web) const {
  for (const Stretch& stretch : stretches_) {
    if (web <= stretch.to) return stretch.area(web);
  }
  return 0;
}

double Burnback::propellant_volume(double web) const {
  double volume = 0;
  for (const Layer& layer : grain_.layers)
    volume += layer.count * state_at(layer.segment, web).volume;
  return volume;
}

std::vector<double> Burnback::port_areas(double web) const {
  std::vector<double> areas;
  for (const Layer& layer : grain_.layers) areas.push_back(state_at(layer.segment, web).port_area);
  return areas;
}

std::vector<Faces> Burnback::burning_faces(double web) const {
  std::vector<Faces> burning;
  for (const Layer& layer : grain_.layers) {
    Faces faces;
    for (Face face : all_faces) {
      if (web < burnout_web(layer.segment) && layer.segment.bare(face)) faces.insert(face);
    }
    burning.push_back(faces);
  }
  return burning;
}

double Burnback::centre_of_mass(double web) const {
  double moment = 0;
  double volume = 0;
  double head = 0;
  for (const Layer& layer : grain_.layers) {
    const SegmentState state = state_at(layer.segment, web);
    // The middle of what is left moves toward the inhibited end when only one end burns.
    const double shift = layer.segment.bare(Face::head) ? web : 0;
    const double pitch = layer.segment.length + grain_.spacer;
    const double middle = head + shift + state.length / 2 + (layer.count - 1) * pitch / 2;
    moment += layer.count * state.volume * middle;
    volume += layer.count * state.volume;
    head += layer.count * pitch;
  }
  return volume > 0 ? moment / volume : 0;
}

AreaRange Burnback::range() const {
  AreaRange whole = area_range(stretches_.front());
  for (const Stretch& stretch : stretches_) {
    const AreaRange part = area_range(stretch);
    whole.least = std::min(whole.least, part.least);
    if (part.greatest > whole.greatest) {
      whole.greatest = part.greatest;
      whole.greatest_at = part.greatest_at;
    }
  }
  return whole;
}

}  // namespace grainwright
