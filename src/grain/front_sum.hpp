// SPDX-License-Identifier: GPL-3.0-or-later
//
// The whole front: every site's strips, added up between events.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "front_ranges.hpp"
#include "front_strip.hpp"
#include "front_term.hpp"
#include "grainwright/grain/planar_front.hpp"

namespace grainwright {

/// Weighted length of front and weighted area left against web.
class FrontSum {
 public:
  /// The figure: what burns and what stops it. `wall` 0 is no wall, then dams must close the
  /// figure. `scale` is its size, m, against which lengths count as nothing.
  struct Figure {
    std::vector<front::Site> sites;  ///< dams among them
    double wall = 0;
    double scale = 1;
    front::Weight weight = {};
  };
  explicit FrontSum(const Figure& figure);

  [[nodiscard]] double length(double web) const;
  [[nodiscard]] double left(double web) const;
  [[nodiscard]] std::span<const double> events() const { return events_; }
  /// length() from the event before this web to the one at or after it, where it is a quadratic.
  [[nodiscard]] std::optional<Quadratic> formula(double web) const;
  /// The last event; 0 where nothing burns.
  [[nodiscard]] double burnout() const { return events_.empty() ? 0 : events_.back(); }
  /// Directions of the normals along which the front runs through this point and on.
  [[nodiscard]] std::vector<Point> passing(Point p) const;
  /// The front itself, its parts in no order.
  [[nodiscard]] std::vector<Stroke> strokes(double web) const;

 private:
  /// A strip whose cut has no term (front_term.hpp), while the front is inside its heights.
  struct Bend {
    double low, high;
    std::size_t strip;
  };
  /// Strips that share a term, and the ranges of heights in which each is cut.
  struct Group {
    double low, high;  ///< of all
    front::Term term;
    double share;
    std::vector<double> lows, highs;  ///< of each, rising
    /// The term's factor at a web: as many as are cut.
    [[nodiscard]] double factor(double web) const;
  };
  struct Stretch {
    double to;       ///< web of the event that ends it
    Quadratic area;  ///< length of all but terms and bends
    double left;     ///< area left at `to`, without what is over bends that `to` cuts
    bool bent;       ///< a term or bend is at work
  };
  struct Part;
  void settle(const Figure& figure);
  void place_events();
  [[nodiscard]] std::vector<Part> part(double scale);
  void add_stretches(const std::vector<Part>& parts);
  /// The event a height belongs to; 0 before the first.
  [[nodiscard]] double snapped(double web) const;
  [[nodiscard]] const Stretch* stretch_of(double web) const;

  front::Weight weight_;
  double grain_ = 0;  ///< webs closer than this are one event
  std::vector<front::Strip> strips_;
  std::vector<double> events_;
  std::vector<Stretch> stretches_;
  front::Ranges<Bend> bends_;
  front::Ranges<Group> groups_;
};

}  // namespace grainwright
