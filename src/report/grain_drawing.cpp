// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/report/grain_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "grainwright/grain/core.hpp"
#include "ink.hpp"

namespace grainwright {
namespace {

constexpr double margin = 46;         // px around a view, for its sizes
constexpr double section_size = 260;  // px, of a section's tube
constexpr double key_height = 56;
constexpr double step_tolerance = 1e-9;

std::string shown(double metres, UnitSystem units) {
  return show_length(metres, units);
}

Outline void_of(const Segment& segment) {
  if (segment.core) {
    if (auto outline = outline_of(*segment.core)) return *outline;
  }
  return segment.core_diameter > 0 ? round_cores({{{0, 0}, segment.core_diameter / 2}}) : Outline{};
}

bool is_turned(const Segment& segment) {
  return segment.core && std::holds_alternative<TurnedCore>(segment.core->shape);
}

// Farthest point of a void from the axis, arcs looked at closely; from the wall outward it counts
// as the wall.
double reach_of(const Outline& outline) {
  double reach = 0;
  for (const Region& region : outline.voids) {
    for (std::size_t i = 0; i < region.outer.size(); ++i) {
      const Corner& from = region.outer[i];
      const Point to = region.outer[(i + 1) % region.outer.size()].at;
      reach = std::max(reach, std::hypot(from.at.x, from.at.y));
      if (from.turn == 0) continue;
      const double chord = std::hypot(to.x - from.at.x, to.y - from.at.y);
      const double radius = chord / (2 * std::sin(std::abs(from.turn) / 2));
      const double height = chord / (2 * std::tan(from.turn / 2));
      const Point centre = {(from.at.x + to.x) / 2 - height * (to.y - from.at.y) / chord,
                            (from.at.y + to.y) / 2 + height * (to.x - from.at.x) / chord};
      constexpr int looks = 64;
      const double start = std::atan2(from.at.y - centre.y, from.at.x - centre.x);
      for (int k = 0; k <= looks; ++k) {
        const double angle = start + from.turn * k / looks;
        reach = std::max(reach, std::hypot(centre.x + radius * std::cos(angle),
                                           centre.y + radius * std::sin(angle)));
      }
    }
  }
  return reach;
}

std::string rings_of(const Ink& ink, const Outline& outline) {
  std::string data;
  for (const Region& region : outline.voids) {
    data += ink.path_of(region.outer);
    for (const Ring& hole : region.holes) data += ink.path_of(hole);
  }
  return data;
}

// The void of the outline grown by `web` is the outline drawn with a round pen: what is left past
// that, inside the wall, is hatched.
void draw_propellant(Ink& ink, const std::string& rings, double radius, double web,
                     const std::string& id) {
  ink.raw(fmt::format("<defs>{}<clipPath id=\"{}-wall\">", hatch(id + "-hatch"), id));
  ink.circle(radius, "");
  ink.raw("</clipPath></defs>\n");
  const bool sliver = web > 0;
  ink.circle(radius, sliver ? fmt::format("fill=\"url(#{}-hatch)\"", id)
                            : fmt::format("fill=\"{}\"", paint::sand));
  if (!sliver) return;
  ink.path(rings, fmt::format("clip-path=\"url(#{0}-wall)\" fill=\"{1}\" fill-rule=\"evenodd\" "
                              "stroke=\"{1}\" stroke-width=\"{2:.2f}\" stroke-linejoin=\"round\"",
                              id, paint::sand, 2 * ink.px(web)));
}

// The core's body in the plane of the axis, for a core in the middle.
std::optional<Turned> turned_of(const Segment& segment) {
  if (is_turned(segment)) return body_of(segment, std::get<TurnedCore>(segment.core->shape));
  if (segment.core) return std::nullopt;
  const double radius = segment.core_diameter / 2;
  Turned body = tapered(segment.length, segment.outer_diameter / 2, radius, radius);
  body.inhibited = segment.inhibited;
  return body;
}

std::vector<Stroke> moved(std::vector<Stroke> strokes, double z, bool mirrored) {
  const double side = mirrored ? -1 : 1;
  for (Stroke& stroke : strokes) {
    stroke = {{stroke.from.x + z, side * stroke.from.y},
              {stroke.to.x + z, side * stroke.to.y},
              side * stroke.turn};
  }
  return strokes;
}

// Where a stroke passes the plane x = 0: heights.
void add_crossings(const Stroke& stroke, std::vector<double>& heights) {
  const Point a = stroke.from;
  const Point b = stroke.to;
  if (stroke.turn == 0) {
    if ((a.x < 0) != (b.x < 0)) heights.push_back(a.y + (b.y - a.y) * a.x / (a.x - b.x));
    return;
  }
  const double chord = std::hypot(b.x - a.x, b.y - a.y);
  const double radius = chord / (2 * std::sin(std::abs(stroke.turn) / 2));
  const double height = chord / (2 * std::tan(stroke.turn / 2));
  const Point centre = {(a.x + b.x) / 2 - height * (b.y - a.y) / chord,
                        (a.y + b.y) / 2 + height * (b.x - a.x) / chord};
  const double square = radius * radius - centre.x * centre.x;
  if (square <= 0) return;
  const double start = std::atan2(a.y - centre.y, a.x - centre.x);
  for (const double side : {-1.0, 1.0}) {
    const double y = side * std::sqrt(square);
    double turned = std::atan2(y, -centre.x) - start;
    if (stroke.turn < 0) turned = -turned;
    turned -= 2 * std::numbers::pi * std::floor(turned / (2 * std::numbers::pi));
    if (turned <= std::abs(stroke.turn)) heights.push_back(centre.y + y);
  }
}

std::vector<double> crossings_of(const std::vector<Stroke>& strokes) {
  std::vector<double> heights;
  for (const Stroke& stroke : strokes) add_crossings(stroke, heights);
  std::ranges::sort(heights);
  return heights;
}

std::vector<Stroke> edges_of(const Outline& outline) {
  std::vector<Stroke> edges;
  const auto add = [&](const Ring& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      edges.push_back({ring[i].at, ring[(i + 1) % ring.size()].at, ring[i].turn});
    }
  };
  for (const Region& region : outline.voids) {
    add(region.outer);
    std::ranges::for_each(region.holes, add);
  }
  return edges;
}

// Draws one segment cut along the axis; `z` is its head end.
class CutSegment {
 public:
  CutSegment(Ink& ink, const Segment& segment, double z)
      : ink_(ink), segment_(segment), z_(z), radius_(segment.outer_diameter / 2) {}

  void draw(double step) {
    if (const auto body = turned_of(segment_)) {
      draw_turned(*body, step);
    } else {
      draw_swept(step);
    }
    const double end = z_ + segment_.length;
    if (!segment_.bare(Face::outer)) {
      hold({z_, radius_}, {end, radius_});
      hold({z_, -radius_}, {end, -radius_});
    }
  }

 private:
  void hold(Point from, Point to) {
    ink_.path(ink_.path_of(std::vector<Stroke>{{from, to, 0}}), "class=\"held\"");
  }

  void draw_turned(const Turned& body, double step) {
    const HalfSection profile = profile_of(body);
    const RevolvedFront front(profile);
    for (const bool mirrored : {false, true}) {
      const double side = mirrored ? -1 : 1;
      Ring ring;
      for (const ProfileCorner& corner : profile) {
        ring.push_back({{z_ + corner.z, side * corner.r}, 0});
      }
      ink_.path(ink_.path_of(ring), fmt::format("fill=\"{}\" stroke=\"{}\" stroke-width=\"1.4\"",
                                                paint::sand, paint::ink));
      for (double web = step; web < front.burnout() * (1 - step_tolerance); web += step) {
        ink_.path(ink_.path_of(moved(front.strokes(web), z_, mirrored)), "class=\"front\"");
      }
      for (std::size_t i = 0; i < profile.size(); ++i) {
        const ProfileCorner& next = profile[(i + 1) % profile.size()];
        const bool on_axis = profile[i].r == 0 && next.r == 0;
        if (!profile[i].bare && !on_axis) hold(ring[i].at, ring[(i + 1) % ring.size()].at);
      }
    }
  }

  void draw_swept(double step) {
    const Outline outline = *outline_of(*segment_.core);
    const PlanarFront front(outline, radius_);
    ink_.rectangle(
        {z_, -radius_}, {z_ + segment_.length, radius_},
        fmt::format("fill=\"{}\" stroke=\"{}\" stroke-width=\"1.4\"", paint::sand, paint::ink));
    const std::vector<double> edges = crossings_of(edges_of(outline));
    for (std::size_t i = 0; i + 1 < edges.size(); i += 2) {
      ink_.rectangle({z_, std::max(edges[i], -radius_)},
                     {z_ + segment_.length, std::min(edges[i + 1], radius_)}, "class=\"void\"");
    }
    const double burnout = Burnback(Grain{{{segment_, 1}}, 0}).burnout();
    for (double web = step; web < burnout * (1 - step_tolerance); web += step) {
      draw_swept_front(front, web);
    }
    for (const auto& [face, z] :
         {std::pair{Face::head, z_}, {Face::nozzle, z_ + segment_.length}}) {
      if (!segment_.bare(face)) hold_end(edges, z);
    }
  }

  void hold_end(const std::vector<double>& edges, double z) {
    double low = -radius_;
    for (std::size_t i = 0; i + 1 < edges.size(); i += 2) {
      if (edges[i] > low) hold({z, low}, {z, edges[i]});
      low = edges[i + 1];
    }
    if (low < radius_) hold({z, low}, {z, radius_});
  }

  // The front in the plane of the axis: where the core's front passes it, and the ends between.
  void draw_swept_front(const PlanarFront& front, double web) {
    const bool core_burns = segment_.bare(Face::core);
    const double from = z_ + (segment_.bare(Face::head) ? web : 0);
    const double to = z_ + segment_.length - (segment_.bare(Face::nozzle) ? web : 0);
    std::vector<Stroke> strokes;
    const std::vector<double> heights = crossings_of(front.strokes(core_burns ? web : 0));
    if (core_burns) {
      for (double y : heights) strokes.push_back({{from, y}, {to, y}, 0});
    }
    // Beside the plane's middle lies void or propellant as the count of edges from outside says.
    std::vector<double> stops = heights;
    stops.insert(stops.begin(), -radius_);
    stops.push_back(radius_);
    for (std::size_t i = 0; i + 1 < stops.size(); i += 2) {
      const Stroke end{{0, stops[i]}, {0, stops[i + 1]}, 0};
      if (segment_.bare(Face::head)) strokes.push_back(moved({end}, from, false).front());
      if (segment_.bare(Face::nozzle)) strokes.push_back(moved({end}, to, false).front());
    }
    ink_.path(ink_.path_of(strokes), "class=\"front\"");
  }

  Ink& ink_;
  const Segment& segment_;
  double z_;
  double radius_;
};

// What the marks mean.
std::string key_of(double step, const DrawingOptions& options, bool sections) {
  std::string body = fmt::format("<defs>{}</defs>\n", hatch(options.id + "-key"));
  double x = 12;
  const auto entry = [&](const std::string& mark, const std::string& words) {
    body += fmt::format(
        "<g transform=\"translate({:.0f} 14)\">{}<text x=\"32\" y=\"11\">{}</text></g>\n", x, mark,
        words);
    x += 46 + 6.6 * static_cast<double>(words.size());
  };
  const auto box = [](const std::string& fill) {
    return fmt::format("<rect width=\"26\" height=\"14\" fill=\"{}\" stroke=\"{}\"/>", fill,
                       paint::ink);
  };
  entry(box(std::string(paint::sand)), "propellant");
  entry("<path d=\"M0 7H26\" class=\"front\"/>",
        fmt::format("front, each {} of web", shown(step, options.units)));
  entry("<path d=\"M0 7H26\" class=\"held\"/>", "inhibited");
  if (sections) entry(box("url(#" + options.id + "-key)"), "left when the front meets the wall");
  return svg_element(options.width, key_height, body);
}

std::string placed(const Picture& picture, double x, double y) {
  return fmt::format("<g transform=\"translate({:.2f} {:.2f})\">\n{}</g>\n", x, y, picture.svg);
}

}  // namespace

double contour_step(double burnout, const DrawingOptions& options) {
  const double unit = options.units == UnitSystem::si ? 1e-3 : 25.4e-3 / 32;
  const double wanted = burnout / (options.contours + 1) / unit;
  constexpr double nice[] = {0.1, 0.2, 0.25, 0.5, 1, 2, 2.5, 4, 5, 8, 10, 16, 20, 50};
  double step = nice[0];
  for (double one : nice) {
    if (std::abs(std::log(one / wanted)) < std::abs(std::log(step / wanted))) step = one;
  }
  return step * unit;
}

Picture section_picture(const Segment& segment, double step, const DrawingOptions& options) {
  const double radius = segment.outer_diameter / 2;
  const double side = section_size + 2 * margin;
  Ink ink({side / 2, margin / 2 + section_size / 2}, section_size / segment.outer_diameter);
  const Outline outline = void_of(segment);
  const std::string rings = rings_of(ink, outline);
  const bool core_burns = segment.bare(Face::core) && !outline.voids.empty();
  const double meets = radius - reach_of(outline);
  std::optional<PlanarFront> front;
  if (core_burns) front.emplace(outline, radius);
  const bool sliver = front && meets > 0 && front->section(meets) > 1e-9 * radius * radius;
  draw_propellant(ink, rings, radius, sliver ? meets : 0, options.id);
  if (front) {
    for (double web = step; web < front->burnout() * (1 - step_tolerance); web += step) {
      ink.path(ink.path_of(front->strokes(web)), "class=\"front\"");
    }
  }
  ink.path(rings, fmt::format("class=\"{}\" clip-path=\"url(#{}-wall)\" fill-rule=\"evenodd\"",
                              core_burns ? "void" : "void held", options.id));
  ink.circle(radius, segment.bare(Face::outer) ? "class=\"wall\"" : "class=\"held\"");
  ink.level_size({-radius, 0}, {radius, 0}, ink.px(radius) + 14,
                 shown(segment.outer_diameter, options.units));
  return {side, side, svg_element(side, side, ink.body())};
}

Picture stack_picture(const Burnback& burnback, double step, const DrawingOptions& options) {
  const Grain& grain = burnback.grain();
  double radius = 0;
  for (const Layer& layer : grain.layers)
    radius = std::max(radius, layer.segment.outer_diameter / 2);
  const double length = grain.stack_length();
  const double scale = std::min((options.width - 2 * margin) / length, section_size / (2 * radius));
  const double height = 2 * radius * scale + 2 * margin + 16;
  Ink ink({margin, margin / 2 + radius * scale}, scale);
  double z = 0;
  for (const Layer& layer : grain.layers) {
    for (int i = 0; i < layer.count; ++i) {
      CutSegment(ink, layer.segment, z).draw(step);
      ink.level_size({z, -radius}, {z + layer.segment.length, -radius}, 14,
                     shown(layer.segment.length, options.units));
      z += layer.segment.length + grain.spacer;
    }
  }
  ink.path(ink.path_of(std::vector<Stroke>{{{-0.02 * length, 0}, {1.02 * length, 0}, 0}}),
           "class=\"size\" stroke-dasharray=\"12 3 2 3\"");
  const double outer = grain.layers.front().segment.outer_diameter / 2;
  ink.upright_size({0, -outer}, {0, outer}, margin - 18, shown(2 * outer, options.units));
  if (grain.segment_count() > 1) {
    ink.level_size({0, -radius}, {length, -radius}, 36, shown(length, options.units));
  }
  return {options.width, height, svg_element(options.width, height, ink.body())};
}

std::string burnback_svg(const Burnback& burnback, const DrawingOptions& options) {
  const double step = contour_step(burnback.burnout(), options);
  std::string body =
      fmt::format("<rect width=\"100%\" height=\"100%\" fill=\"{}\"/>\n", paint::paper);
  std::vector<Segment> drawn;
  double x = 0;
  double y = 0;
  double row = 0;
  for (const Layer& layer : burnback.grain().layers) {
    const Segment& segment = layer.segment;
    const auto same = [&](const Segment& other) {
      return other.core_diameter == segment.core_diameter &&
             (other.core && segment.core ? *other.core == *segment.core
                                         : other.core == segment.core);
    };
    if (is_turned(segment) || segment.solid() || std::ranges::any_of(drawn, same)) continue;
    DrawingOptions own = options;
    own.id += fmt::format("-{}", drawn.size() + 1);
    const Picture picture = section_picture(segment, step, own);
    drawn.push_back(segment);
    if (x > 0 && x + picture.width > options.width) {
      x = 0;
      y += row;
    }
    body += placed(picture, x, y);
    x += picture.width;
    row = picture.height;
  }
  y += row;
  const Picture stack = stack_picture(burnback, step, options);
  body += placed(stack, 0, y);
  y += stack.height;
  body += placed({0, 0, key_of(step, options, !drawn.empty())}, 0, y);
  return svg_element(options.width, y + key_height, body);
}

}  // namespace grainwright
