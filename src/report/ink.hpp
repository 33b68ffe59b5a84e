// SPDX-License-Identifier: GPL-3.0-or-later
//
// Shapes of a drawing to scale, as SVG path data and elements. Lengths go in as m, y upward, and
// come out as px, y downward.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "grainwright/grain/planar_front.hpp"

namespace grainwright {

/// Lines and fills. Chosen to differ in grey as well: sand is light, blue middle, ink dark.
namespace paint {
inline constexpr std::string_view ink = "#222222";
inline constexpr std::string_view sand = "#efe2c2";
inline constexpr std::string_view blue = "#2a6496";
inline constexpr std::string_view rust = "#9c3a12";
inline constexpr std::string_view paper = "#ffffff";
}  // namespace paint

class Ink {
 public:
  /// `origin` in px is where the point (0, 0) is drawn; `scale` is px per m.
  Ink(Point origin, double scale) : origin_(origin), scale_(scale) {}

  [[nodiscard]] double px(double metres) const { return scale_ * metres; }
  [[nodiscard]] Point at(Point p) const {
    return {origin_.x + scale_ * p.x, origin_.y - scale_ * p.y};
  }

  /// Path data: each stroke by itself, or a closed ring.
  [[nodiscard]] std::string path_of(const std::vector<Stroke>& strokes) const;
  [[nodiscard]] std::string path_of(const Ring& ring) const;

  /// Elements. `style` is further attributes.
  void path(const std::string& data, std::string_view style);
  void circle(double radius, std::string_view style);
  void rectangle(Point low, Point high, std::string_view style);
  /// Text in px, centred on x.
  void text(Point px, const std::string& words);
  /// A size with arrows at both ends, drawn `below` px under the lower of two points, level.
  void level_size(Point from, Point to, double below, const std::string& words);
  /// The same beside them, upright, at this x in px.
  void upright_size(Point from, Point to, double x, const std::string& words);
  void raw(const std::string& element) { body_ += element; }

  [[nodiscard]] const std::string& body() const { return body_; }

 private:
  [[nodiscard]] std::string edge(Point from, Point to, double turn) const;

  Point origin_;
  double scale_;
  std::string body_;
};

/// The element around a picture's body.
[[nodiscard]] std::string svg_element(double width, double height, const std::string& body);

/// A hatch of 45 degrees with this id, as an element for `<defs>`.
[[nodiscard]] std::string hatch(const std::string& id);

}  // namespace grainwright
