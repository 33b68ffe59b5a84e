// SPDX-License-Identifier: GPL-3.0-or-later
#include "segment_front.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "grainwright/grain/burnback.hpp"
#include "grainwright/grain/core.hpp"
#include "grainwright/grain/planar_front.hpp"
#include "grainwright/grain/revolved_front.hpp"
#include "plane.hpp"

namespace grainwright {
namespace {

using std::numbers::pi;

double circle(double diameter) {
  return pi / 4 * diameter * diameter;
}

// A plain round core: everything in closed form, by segment.cpp.
class Round final : public SegmentFront {
 public:
  explicit Round(const Segment& segment) : segment_(segment), area_(burning_area_of(segment)) {
    events_ = {burnout_web(segment)};
  }
  [[nodiscard]] double area(double web) const override { return web > burnout() ? 0 : area_(web); }
  [[nodiscard]] std::optional<Quadratic> formula(double web) const override {
    return web > burnout() ? Quadratic{} : area_;
  }
  [[nodiscard]] double volume(double web) const override { return state(web).volume; }
  [[nodiscard]] SegmentState state(double web) const override { return state_at(segment_, web); }
  [[nodiscard]] double centre(double web) const override {
    // The middle of what is left moves toward the inhibited end when only one end burns.
    const double shift = segment_.bare(Face::head) ? web : 0;
    return shift + state(web).length / 2;
  }

 private:
  Segment segment_;
  Quadratic area_;
};

// One core from end to end: perimeter and section of its plane, and ends that move.
class Swept : public SegmentFront {
 public:
  explicit Swept(const Segment& segment)
      : length_(segment.length),
        wall_(segment.outer_diameter),
        ends_(segment.bare_ends()),
        core_burns_(segment.bare(Face::core)),
        head_burns_(segment.bare(Face::head)) {}

  [[nodiscard]] double area(double web) const final {
    if (web > burnout()) return 0;
    return (core_burns_ ? perimeter(web) * length_at(web) : 0) + ends_ * section_at(web);
  }
  [[nodiscard]] std::optional<Quadratic> formula(double web) const final {
    if (web > burnout()) return Quadratic{};
    const auto girth = core_burns_ ? straight(web) : Quadratic{};
    if (!girth) return std::nullopt;
    // The section's slope is minus the girth g0 + g1 x, and area = girth (L - m x) + m section.
    const double g0 = girth->c[0];
    const double g1 = girth->c[1];
    const double uncut = section_at(web) + web * (g0 + web * g1 / 2);
    return Quadratic{
        {g0 * length_ + ends_ * uncut, g1 * length_ - 2 * ends_ * g0, -1.5 * ends_ * g1}};
  }
  [[nodiscard]] double volume(double web) const final {
    return web > burnout() ? 0 : section_at(web) * length_at(web);
  }
  [[nodiscard]] SegmentState state(double web) const final {
    if (web > burnout()) return {.port_area = circle(wall_)};
    const double port = circle(wall_) - section_at(web);
    return {.length = length_at(web),
            .core_diameter = std::sqrt(4 / pi * port),
            .outer_diameter = wall_,
            .burning_area = area(web),
            .volume = section_at(web) * length_at(web),
            .port_area = port};
  }
  [[nodiscard]] double centre(double web) const final {
    return (head_burns_ ? web : 0) + length_at(web) / 2;
  }

 protected:
  [[nodiscard]] virtual double perimeter(double web) const = 0;
  [[nodiscard]] virtual double section(double web) const = 0;
  // perimeter() about this web where it is straight.
  [[nodiscard]] virtual std::optional<Quadratic> straight(double web) const = 0;

  // The plane's events that the moving faces leave.
  void settle(std::span<const double> webs) {
    const double infinity = std::numeric_limits<double>::infinity();
    const double ends_meet = ends_ > 0 ? length_ / ends_ : infinity;
    const double last = std::min(core_burns_ ? webs.back() : infinity, ends_meet);
    for (double web : webs) {
      if (core_burns_ && web > 0 && web < last) events_.push_back(web);
    }
    events_.push_back(last);
  }

 private:
  [[nodiscard]] double length_at(double web) const { return std::max(0.0, length_ - ends_ * web); }
  [[nodiscard]] double section_at(double web) const { return section(core_burns_ ? web : 0); }

  double length_;
  double wall_;
  int ends_;
  bool core_burns_;
  bool head_burns_;
};

class Planar final : public Swept {
 public:
  Planar(const Segment& segment, PlanarFront front) : Swept(segment), front_(std::move(front)) {
    settle(front_.events());
  }

 private:
  [[nodiscard]] double perimeter(double web) const override { return front_.perimeter(web); }
  [[nodiscard]] double section(double web) const override { return front_.section(web); }
  [[nodiscard]] std::optional<Quadratic> straight(double web) const override {
    return front_.formula(web);
  }
  PlanarFront front_;
};

class Beside final : public Swept {
 public:
  Beside(const Segment& segment, const OffCentreCore& core)
      : Swept(segment), core_(core), wall_radius_(segment.outer_diameter / 2) {
    const double thick = wall_radius_ - core.diameter / 2;
    settle(std::array{thick - core.offset, thick + core.offset});
  }

 private:
  [[nodiscard]] OffCentre at(double web) const {
    return off_centre_core(wall_radius_, core_.diameter / 2, core_.offset, web);
  }
  [[nodiscard]] double perimeter(double web) const override { return at(web).perimeter; }
  [[nodiscard]] double section(double web) const override { return at(web).section; }
  [[nodiscard]] std::optional<Quadratic> straight(double web) const override {
    if (web > wall_radius_ - core_.diameter / 2 - core_.offset) return std::nullopt;
    return Quadratic{{pi * core_.diameter, 2 * pi, 0}};
  }
  OffCentreCore core_;
  double wall_radius_;
};

// Gauss-Legendre with three nodes on [0, 1].
constexpr std::array<double, 3> node = {0.11270166537925831, 0.5, 0.88729833462074169};
constexpr std::array<double, 3> weight = {5.0 / 18, 8.0 / 18, 5.0 / 18};

// A stroke as a curve of a parameter from 0 to 1.
class StrokeCurve {
 public:
  explicit StrokeCurve(const Stroke& stroke) : stroke_(stroke) {
    const Point chord = stroke.to - stroke.from;
    length_ = norm(chord);
    if (stroke.turn == 0) return;
    const double radius = length_ / (2 * std::sin(std::abs(stroke.turn) / 2));
    const double height = length_ / (2 * std::tan(stroke.turn / 2));
    centre_ = {(stroke.from.x + stroke.to.x) / 2 - height * chord.y / length_,
               (stroke.from.y + stroke.to.y) / 2 + height * chord.x / length_};
    length_ = radius * std::abs(stroke.turn);
  }
  [[nodiscard]] double length() const { return length_; }
  [[nodiscard]] Point at(double t) const {
    if (stroke_.turn == 0) return stroke_.from + t * (stroke_.to - stroke_.from);
    const Point arm = stroke_.from - centre_;
    const double c = std::cos(t * stroke_.turn);
    const double s = std::sin(t * stroke_.turn);
    return centre_ + Point{c * arm.x - s * arm.y, s * arm.x + c * arm.y};
  }

 private:
  Stroke stroke_;
  Point centre_;
  double length_ = 0;
};

class Revolved final : public SegmentFront {
 public:
  Revolved(const Segment& segment, const TurnedCore& core)
      : wall_(segment.outer_diameter),
        length_(segment.length),
        ends_(segment.bare_ends()),
        narrow_(std::ranges::min(core.stations, {}, &CoreStation::diameter).diameter / 2),
        front_(profile_of(body_of(segment, core))) {
    for (double web : front_.events()) {
      if (web > 0) events_.push_back(web);
    }
  }
  [[nodiscard]] double area(double web) const override { return front_.burning_area(web); }
  [[nodiscard]] std::optional<Quadratic> formula(double web) const override {
    return front_.formula(web);
  }
  [[nodiscard]] double volume(double web) const override { return front_.volume(web); }
  [[nodiscard]] SegmentState state(double web) const override {
    if (web > burnout()) return {.port_area = circle(wall_)};
    const double port = 2 * narrowest(web);
    return {.length = std::max(0.0, length_ - ends_ * web),
            .core_diameter = port,
            .outer_diameter = wall_,
            .burning_area = area(web),
            .volume = front_.volume(web),
            .port_area = circle(port)};
  }
  // What is left from here on is what the front still sweeps: its moment about the head end.
  [[nodiscard]] double centre(double web) const override {
    constexpr int pieces = 16;  // between two events
    double moment = 0;
    double volume = 0;
    double from = web;
    for (double event : events_) {
      if (event <= web) continue;
      for (int i = 0; i < pieces; ++i) {
        for (std::size_t k = 0; k < node.size(); ++k) {
          const double width = (event - from) / pieces;
          add_swept(from + width * (i + node[k]), width * weight[k], moment, volume);
        }
      }
      from = event;
    }
    return volume > 0 ? moment / volume : length_ / 2;
  }

 private:
  [[nodiscard]] double narrowest(double web) const {
    double radius = wall_ / 2;
    for (const Stroke& stroke : front_.strokes(web)) {
      const StrokeCurve curve(stroke);
      for (double t : {0.0, 0.25, 0.5, 0.75, 1.0}) radius = std::min(radius, curve.at(t).y);
    }
    return std::max(radius, narrow_);
  }
  void add_swept(double web, double width, double& moment, double& volume) const {
    for (const Stroke& stroke : front_.strokes(web)) {
      const StrokeCurve curve(stroke);
      for (std::size_t k = 0; k < node.size(); ++k) {
        const Point p = curve.at(node[k]);
        const double swept = width * weight[k] * curve.length() * 2 * pi * p.y;
        moment += p.x * swept;
        volume += swept;
      }
    }
  }

  double wall_;
  double length_;
  int ends_;
  double narrow_;
  RevolvedFront front_;
};

}  // namespace

Turned body_of(const Segment& segment, const TurnedCore& core) {
  Turned body;
  body.length = segment.length;
  body.outer_radius = segment.outer_diameter / 2;
  for (const CoreStation& station : core.stations) {
    body.core.push_back({station.at, station.diameter / 2});
  }
  body.head_dish = core.head_dish;
  body.nozzle_dish = core.nozzle_dish;
  body.inhibited = segment.inhibited;
  for (const CoreSlot& slot : core.slots) {
    const double from = slot.at - slot.width / 2;
    const double widest = std::max(core.diameter_at(from), core.diameter_at(from + slot.width));
    body = with_slot(std::move(body), {from, slot.width, widest / 2 + slot.depth});
  }
  return body;
}

SharedFront front_of(const Segment& segment) {
  if (!segment.core) return std::make_shared<Round>(segment);
  const auto& shape = segment.core->shape;
  if (const auto* core = std::get_if<TurnedCore>(&shape)) {
    return std::make_shared<Revolved>(segment, *core);
  }
  const auto* beside = std::get_if<OffCentreCore>(&shape);
  if (beside != nullptr && beside->count == 1) return std::make_shared<Beside>(segment, *beside);
  return std::make_shared<Planar>(segment, planar_front_of(segment));
}

PlanarFront planar_front_of(const Segment& segment) {
  const double wall = segment.outer_diameter / 2;
  return segment.core->kept.inside(wall,
                                   [&] { return PlanarFront(*outline_of(*segment.core), wall); });
}

}  // namespace grainwright
