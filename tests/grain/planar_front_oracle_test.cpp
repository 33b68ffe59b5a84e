// SPDX-License-Identifier: GPL-3.0-or-later
//
// Drawn cores against methods that share nothing with the kernel: a distance grid, CGAL's Minkowski
// sums, and Shapely.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <sstream>

#include "drawn.hpp"
#include "grainwright/grain/core_shapes.hpp"
#include "reference/minkowski.hpp"

using namespace grainwright;
using drawn::wall;
using std::numbers::pi;

namespace {

// Distance to a polygon's void, negative inside, by looking at every edge.
double distance_to(const Ring& ring, Point p) {
  double nearest = 1e9;
  bool inside = false;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    Point a = ring[i].at;
    Point b = ring[(i + 1) % ring.size()].at;
    Point v = {b.x - a.x, b.y - a.y};
    Point w = {p.x - a.x, p.y - a.y};
    double k = std::clamp((v.x * w.x + v.y * w.y) / (v.x * v.x + v.y * v.y), 0.0, 1.0);
    nearest = std::min(nearest, std::hypot(w.x - k * v.x, w.y - k * v.y));
    if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + v.x * (p.y - a.y) / v.y) inside = !inside;
  }
  return inside ? -nearest : nearest;
}

// Section by a grid whose cells count by the part of them that a straight front leaves.
double section_on_grid(const Ring& ring, double web, int cells) {
  double step = 2 * wall / cells;
  double sum = 0;
  for (int i = 0; i < cells; ++i) {
    for (int j = 0; j < cells; ++j) {
      Point p = {-wall + (i + 0.5) * step, -wall + (j + 0.5) * step};
      double to_wall = wall - std::hypot(p.x, p.y);
      if (to_wall < -step) continue;
      double clear = std::min(distance_to(ring, p) - web, to_wall);
      sum += step * step * std::clamp(clear / step + 0.5, 0.0, 1.0);
    }
  }
  return sum;
}

std::string well_known_text(const Ring& ring) {
  std::ostringstream text;
  text.precision(17);
  text << "POLYGON ((";
  for (const Corner& corner : ring) text << corner.at.x << ' ' << corner.at.y << ", ";
  text << ring.front().at.x << ' ' << ring.front().at.y << "))";
  return text.str();
}

// Runs the reference on the lines; one pair of numbers comes back for each.
std::vector<std::pair<double, double>> by_shapely(const std::string& lines) {
  std::string input = std::string(GRAINWRIGHT_BINARY_DIR) + "/planar_front_oracle.txt";
  std::ofstream(input) << lines;
  std::string command = GRAINWRIGHT_PYTHON " -B " GRAINWRIGHT_SOURCE_DIR
                                           "/tests/reference/planar_front.py < " +
                        input;
  FILE* pipe = popen(command.c_str(), "r");
  REQUIRE(pipe != nullptr);
  std::vector<std::pair<double, double>> found;
  double section = 0;
  double length = 0;
  while (std::fscanf(pipe, "%lf %lf", &section, &length) == 2) found.push_back({section, length});
  REQUIRE(pclose(pipe) == 0);
  return found;
}

}  // namespace

TEST_CASE("a distance grid converges on the kernel at its order") {
  std::vector<Outline> outlines = {star({5, 0.7, 1, 0, 15}), cross({30, 6, false}),
                                   drawn::polygon(drawn::winding(12, 3))};
  auto error = [&](int cells) {
    double sum = 0;
    for (const Outline& outline : outlines) {
      PlanarFront front(outline, wall);
      for (double web : {0.7, 3.1, 6.3}) {
        sum += std::abs(section_on_grid(outline.voids[0].outer, web, cells) - front.section(web));
      }
    }
    return sum;
  };
  double coarse = error(60);
  double fine = error(480);
  CHECK(fine < 0.1);
  // Each cell that the front cuts aslant errs by a part of its area, one way or the other: summed
  // along the front that is between orders 1.5 and 2.
  CHECK(std::log(coarse / fine) / std::log(8.0) == Approx(1.75).margin(0.4));
}

TEST_CASE("CGAL's Minkowski sums agree on random polygons") {
  for (unsigned seed = 200; seed < 230; ++seed) {
    std::vector<Point> corners = drawn::winding(6 + seed % 20, seed);
    Outline outline = tidied(drawn::polygon(corners), wall).outline;
    corners.clear();
    for (const Corner& corner : outline.voids[0].outer) corners.push_back(corner.at);
    PlanarFront front(outline, wall);
    for (double part : {0.1, 0.35, 0.6, 0.85}) {
      double web = part * front.burnout();
      INFO("polygon " << seed << drawn::at_web(web));
      reference::Grown grown = reference::grown(corners, web, wall);
      CHECK(front.section(web) == Approx(pi * wall * wall - grown.area).margin(1e-6));
      CHECK(front.perimeter(web) == Approx(grown.front).margin(1e-6));
    }
  }
}

TEST_CASE("Shapely's buffer agrees on random polygons") {
  std::ostringstream lines;
  lines.precision(17);
  std::vector<std::pair<double, double>> ours;
  for (unsigned seed = 100; seed < 140; ++seed) {
    Outline outline = drawn::polygon(drawn::winding(6 + seed % 25, seed));
    PlanarFront front(outline, wall);
    for (double part : {0.1, 0.35, 0.6, 0.85}) {
      double web = part * front.burnout();
      lines << wall << '\t' << web << '\t' << well_known_text(outline.voids[0].outer) << '\n';
      ours.push_back({front.section(web), front.perimeter(web)});
    }
  }
  auto theirs = by_shapely(lines.str());
  REQUIRE(theirs.size() == ours.size());
  for (std::size_t i = 0; i < ours.size(); ++i) {
    INFO("line " << i + 1);
    // 32 chords a quarter fall short of their circle by 3e-4 of its radius at most.
    CHECK(std::abs(ours[i].first - theirs[i].first) < 3e-4 * pi * wall * wall);
    CHECK(std::abs(ours[i].second - theirs[i].second) < 2e-2 * ours[i].second + 0.2);
  }
}
