// SPDX-License-Identifier: GPL-3.0-or-later
#include "ink.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace grainwright {
namespace {

constexpr double arrow = 5;  // px

// Hundredths of a pixel, and no "-0".
std::string number(double px) {
  const double rounded = std::round(100 * px) / 100;
  return fmt::format("{:g}", rounded == 0 ? 0.0 : rounded);
}

std::string pair(Point p) {
  return number(p.x) + ' ' + number(p.y);
}

}  // namespace

// Anticlockwise with y upward is SVG's sweep 0.
std::string Ink::edge(Point from, Point to, double turn) const {
  if (turn == 0) return 'L' + pair(at(to));
  const double chord = std::hypot(to.x - from.x, to.y - from.y);
  const double radius = px(chord / (2 * std::sin(std::abs(turn) / 2)));
  const int large = std::abs(turn) > std::numbers::pi ? 1 : 0;
  return fmt::format("A{0} {0} 0 {1} {2} {3}", number(radius), large, turn > 0 ? 0 : 1,
                     pair(at(to)));
}

std::string Ink::path_of(const std::vector<Stroke>& strokes) const {
  std::string data;
  for (const Stroke& stroke : strokes) {
    data += 'M' + pair(at(stroke.from)) + edge(stroke.from, stroke.to, stroke.turn);
  }
  return data;
}

std::string Ink::path_of(const Ring& ring) const {
  if (ring.empty()) return {};
  std::string data = 'M' + pair(at(ring.front().at));
  for (std::size_t i = 0; i < ring.size(); ++i) {
    data += edge(ring[i].at, ring[(i + 1) % ring.size()].at, ring[i].turn);
  }
  return data + 'Z';
}

void Ink::path(const std::string& data, std::string_view style) {
  if (!data.empty()) body_ += fmt::format("<path d=\"{}\" {}/>\n", data, style);
}

void Ink::circle(double radius, std::string_view style) {
  body_ += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" {}/>\n", number(origin_.x),
                       number(origin_.y), number(px(radius)), style);
}

void Ink::rectangle(Point low, Point high, std::string_view style) {
  const Point corner = at({low.x, high.y});
  body_ +=
      fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" {}/>\n", number(corner.x),
                  number(corner.y), number(px(high.x - low.x)), number(px(high.y - low.y)), style);
}

void Ink::text(Point where, const std::string& words) {
  body_ += fmt::format("<text x=\"{}\" y=\"{}\" text-anchor=\"middle\">{}</text>\n",
                       number(where.x), number(where.y), words);
}

void Ink::level_size(Point from, Point to, double below, const std::string& words) {
  const Point a = at(from);
  const Point b = at(to);
  const double y = std::max(a.y, b.y) + below;
  path(fmt::format("M{0} {1}V{2}M{3} {4}V{2}M{0} {5}H{3}M{6} {7}L{0} {5}L{6} {8}"
                   "M{9} {7}L{3} {5}L{9} {8}",
                   number(a.x), number(a.y + 3), number(y + 3), number(b.x), number(b.y + 3),
                   number(y), number(a.x + arrow), number(y - 3), number(y + 3),
                   number(b.x - arrow)),
       "class=\"size\"");
  text({(a.x + b.x) / 2, y + 14}, words);
}

void Ink::upright_size(Point from, Point to, double x, const std::string& words) {
  const Point a = at(from);
  const Point b = at(to);
  path(fmt::format("M{0} {1}H{2}M{0} {3}H{4}M{0} {1}V{3}M{5} {6}L{0} {1}L{7} {6}"
                   "M{5} {8}L{0} {3}L{7} {8}",
                   number(x), number(a.y), number(a.x - 3), number(b.y), number(b.x - 3),
                   number(x - 3), number(a.y - arrow), number(x + 3), number(b.y + arrow)),
       "class=\"size\"");
  body_ += fmt::format(
      "<text transform=\"translate({} {}) rotate(-90)\" "
      "text-anchor=\"middle\">{}</text>\n",
      number(x - 6), number((a.y + b.y) / 2), words);
}

std::string svg_element(double width, double height, const std::string& body) {
  return fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}\" height=\"{1}\" viewBox=\"0 0 {0} "
      "{1}\" "
      "font-family=\"sans-serif\" font-size=\"12\" fill=\"{2}\">\n"
      "<style>.size{{fill:none;stroke:{2};stroke-width:.8}}.front{{fill:none;stroke:{3};"
      "stroke-width:1}}.wall{{fill:none;stroke:{2};stroke-width:1.4}}"
      ".held{{fill:none;stroke:{2};stroke-width:3.5}}.void{{fill:{4};stroke:{2};stroke-width:1.4}}"
      "</style>\n{5}</svg>\n",
      number(width), number(height), paint::ink, paint::blue, paint::paper, body);
}

std::string hatch(const std::string& id) {
  return fmt::format(
      "<pattern id=\"{}\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\" "
      "patternTransform=\"rotate(45)\"><rect width=\"6\" height=\"6\" fill=\"{}\"/>"
      "<rect width=\"1.6\" height=\"6\" fill=\"{}\"/></pattern>",
      id, paint::sand, paint::rust);
}

}  // namespace grainwright
