// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/grain/burnback.hpp"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <utility>

#include "pieces.hpp"
#include "segment_front.hpp"

namespace grainwright {
namespace {

using std::numbers::pi;

// Webs this close together, relative to the larger, are one event: equal segments written in
// different units must not leave a sliver of a stretch between them.
constexpr double same_event = 1e-13;

// A step of the area, of the peak, within a web too short for the steepest slope: of burnout.
constexpr double jump = 1e-3;
constexpr double hair = 1e-9;

void sort_unique(std::vector<double>& webs) {
  std::ranges::sort(webs);
  const auto same = [](double a, double b) { return b - a <= same_event * b; };
  webs.erase(std::unique(webs.begin(), webs.end(), same), webs.end());
}

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
  if (auto found = complaints(grain_, fronts_); !found.empty()) throw InputError(std::move(found));
  std::vector<double> cuts;
  for (std::size_t i = 0; i < fronts_.size(); ++i) {
    plain_ = plain_ && fronts_[i] == nullptr;
    if (!fronts_[i]) fronts_[i] = front_of(grain_.layers[i].segment);
    events_.push_back(fronts_[i]->burnout());
    const std::vector<double>& own = fronts_[i]->events();
    cuts.insert(cuts.end(), own.begin(), own.end());
  }
  sort_unique(events_);
  sort_unique(cuts);
  double from = 0;
  for (double to : cuts) {
    add_stretch(from, to);
    from = to;
  }
  if (!plain_) stretches_ = joined(stretches_, bent_burn(), cuts);
  slivers_from_ = plain_ ? burnout() : web_of_slivers();
  set_range();
  if (!plain_) add_jumps();
}

// The layers whose area is a quadratic here are one; the others are cut into pieces with it.
void Burnback::add_stretch(double from, double to) {
  Stretch exact{from, to, {}};
  bool bent = false;
  for (std::size_t i = 0; i < fronts_.size(); ++i) {
    if (fronts_[i]->burnout() <= from * (1 + same_event)) continue;
    const auto formula = fronts_[i]->formula((from + to) / 2);
    bent = bent || !formula;
    if (formula) exact.area += grain_.layers[i].count * *formula;
  }
  if (!bent) {
    stretches_.push_back(exact);
    return;
  }
  const auto pieces = pieces_of(bent_burn(), from, to);
  stretches_.insert(stretches_.end(), pieces.begin(), pieces.end());
}

BentBurn Burnback::bent_burn() const {
  return {[this](double web) { return burning_area(web); },
          [this](double web) { return propellant_volume(web); }, burnout(), propellant_volume(0)};
}

double Burnback::web_of_slivers() const {
  if (burning_area(burnout()) > sliver_share * burning_area(0)) return burnout();
  const double share = sliver_share * propellant_volume(0);
  const auto excess = [&](double web) { return propellant_volume(web) - share; };
  const auto close = [this](double a, double b) { return b - a <= same_event * burnout(); };
  std::uintmax_t tries = 100;
  return boost::math::tools::toms748_solve(excess, 0.0, burnout(), close, tries).first;
}

void Burnback::add_jumps() {
  const double least_step = jump * range_.greatest;
  for (std::size_t i = 1; i < stretches_.size(); ++i) {
    const double web = stretches_[i].from;
    const double step = burning_area(web + hair * burnout()) - burning_area(web);
    if (std::abs(step) > least_step) events_.push_back(web);
  }
  sort_unique(events_);
}

std::vector<double> Burnback::burnouts() const {
  std::vector<double> webs;
  for (const auto& front : fronts_) webs.push_back(front->burnout());
  return webs;
}

std::vector<SegmentState> Burnback::states(double web) const {
  std::vector<SegmentState> states;
  for (const auto& front : fronts_) states.push_back(front->state(web));
  return states;
}

double Burnback::burning_area(double web) const {
  if (!plain_) {
    double area = 0;
    for (std::size_t i = 0; i < fronts_.size(); ++i) {
      area += grain_.layers[i].count * fronts_[i]->area(web);
    }
    return area;
  }
  for (const Stretch& stretch : stretches_) {
    if (web <= stretch.to) return stretch.area(web);
  }
  return 0;
}

double Burnback::propellant_volume(double web) const {
  double volume = 0;
  for (std::size_t i = 0; i < fronts_.size(); ++i) {
    volume += grain_.layers[i].count * fronts_[i]->volume(web);
  }
  return volume;
}

std::vector<double> Burnback::port_areas(double web) const {
  std::vector<double> areas;
  for (const SegmentState& state : states(web)) areas.push_back(state.port_area);
  return areas;
}

std::vector<Faces> Burnback::burning_faces(double web) const {
  std::vector<Faces> burning;
  for (std::size_t i = 0; i < fronts_.size(); ++i) {
    Faces faces;
    for (Face face : all_faces) {
      if (web < fronts_[i]->burnout() && grain_.layers[i].segment.bare(face)) faces.insert(face);
    }
    burning.push_back(faces);
  }
  return burning;
}

double Burnback::centre_of_mass(double web) const {
  double moment = 0;
  double volume = 0;
  double head = 0;
  for (std::size_t i = 0; i < fronts_.size(); ++i) {
    const Layer& layer = grain_.layers[i];
    const double pitch = layer.segment.length + grain_.spacer;
    const double middle = head + fronts_[i]->centre(web) + (layer.count - 1) * pitch / 2;
    const double here = layer.count * fronts_[i]->volume(web);
    moment += here * middle;
    volume += here;
    head += layer.count * pitch;
  }
  return volume > 0 ? moment / volume : 0;
}

void Burnback::set_range() {
  range_ = {burning_area(0), 0, 0};
  for (const Stretch& stretch : stretches_) {
    AreaRange part = area_range(stretch);
    if (!plain_) {
      // The front itself is asked at a piece's own peak, and at its end, which may be steep.
      if (part.greatest_at > stretch.from && part.greatest_at < stretch.to) {
        part.greatest = burning_area(part.greatest_at);
      }
      const double end = burning_area(stretch.to);
      part.least = std::min(part.least, end);
      if (end > part.greatest) part = {part.least, end, stretch.to};
    }
    if (part.greatest > range_.greatest) {
      range_.greatest = part.greatest;
      range_.greatest_at = part.greatest_at;
    }
    if (stretch.from >= slivers_from_) continue;
    const bool cut = stretch.to > slivers_from_;
    const Stretch before{stretch.from, slivers_from_, stretch.area};
    range_.least = std::min(range_.least, cut ? area_range(before).least : part.least);
  }
}

}  // namespace grainwright
