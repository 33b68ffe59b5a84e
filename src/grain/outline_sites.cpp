// SPDX-License-Identifier: GPL-3.0-or-later
#include "outline_sites.hpp"

#include <algorithm>
#include <numbers>

#include "ring.hpp"

namespace grainwright::front {
namespace {

using std::numbers::pi;

// Smooth joints turn by rounding; a fan this narrow (rad) covers nothing that counts.
constexpr double thinnest_fan = 1e-12;

// Edges that follow one another without a gap; closed where the whole ring lies inside the wall.
struct Chain {
  std::vector<Edge> edges;
  bool closed = false;
};

Edge part_of(const Edge& edge, double from, double to) {  // of its length, 0 to 1
  if (edge.turn == 0) {
    auto at = [&](double k) {
      Point v = edge.to - edge.from;
      return k > 0.5 ? edge.to - (1 - k) * v : edge.from + k * v;
    };
    return {at(from), at(to), 0};
  }
  ArcOf arc = arc_of(edge.from, edge.to, edge.turn);
  double start = angle_of(edge.from - arc.centre);
  auto at = [&](double k) {
    if (k == 0) return edge.from;
    return k == 1 ? edge.to : arc.centre + arc.radius * unit(start + k * edge.turn);
  };
  return {at(from), at(to), (to - from) * edge.turn};
}

// Parts of its length at which an edge meets the circle of the wall, within (0, 1).
std::vector<double> wall_cuts(const Edge& edge, double wall) {
  std::vector<double> cuts;
  auto add = [&](double k) {
    if (k > 0 && k < 1) cuts.push_back(k);
  };
  if (edge.turn == 0) {
    // From the end nearer the axis: the other may be drawn far past the wall.
    bool back = norm(edge.from) > norm(edge.to);
    Point base = back ? edge.to : edge.from;
    Point v = edge.to - edge.from;
    double length = norm(v);
    double foot = -dot(base, v) / length;
    double off = wedge(base, v) / length;
    double half = std::sqrt(std::max(0.0, (wall - off) * (wall + off)));
    for (double s : {foot - half, foot + half}) add((back ? 1 : 0) + s / length);
  } else {
    ArcOf arc = arc_of(edge.from, edge.to, edge.turn);
    double start = angle_of(edge.from - arc.centre);
    double power = dot(arc.centre, arc.centre) + arc.radius * arc.radius - wall * wall;
    Point pull = 2 * arc.radius * arc.centre;
    double middle = start + 0.5 * edge.turn;
    for (double s : sinusoid_roots(power, pull.x, pull.y, middle)) {
      add((s - start) / edge.turn);
    }
  }
  std::sort(cuts.begin(), cuts.end());
  return cuts;
}

std::vector<Chain> chains_inside(const Ring& ring, double wall) {
  std::vector<Chain> chains;
  bool joined = false;  // the last chain still reaches the end of the last edge
  bool broken = false;
  for (const Edge& edge : edges_of(ring)) {
    std::vector<double> ends = {0};
    for (double k : wall_cuts(edge, wall)) ends.push_back(k);
    ends.push_back(1);
    for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
      bool inside = norm(part_of(edge, 0.5 * (ends[i] + ends[i + 1]), 1).from) < wall;
      if (inside) {
        if (!joined) chains.push_back({});
        chains.back().edges.push_back(part_of(edge, ends[i], ends[i + 1]));
      }
      broken = broken || !inside;
      joined = inside;
    }
  }
  if (!broken && !chains.empty()) {
    chains.front().closed = true;
  } else if (joined && chains.size() > 1 &&
             chains.front().edges.front().from == chains.back().edges.back().to) {
    Chain& first = chains.front();
    first.edges.insert(first.edges.begin(), chains.back().edges.begin(), chains.back().edges.end());
    chains.pop_back();
  }
  return chains;
}

// Where a chain leaves the wall and comes back from it, as angles.
struct Gates {
  std::vector<double> out, in;
};

// The void's own part of the wall runs anticlockwise from where a chain leaves to the next entry.
double area_along_wall(Gates gates, double wall) {
  std::sort(gates.in.begin(), gates.in.end());
  double sum = 0;
  for (double out : gates.out) {
    auto next = std::lower_bound(gates.in.begin(), gates.in.end(), out);
    double in = next == gates.in.end() ? gates.in.front() + 2 * pi : *next;
    sum += 0.5 * wall * wall * (in - out);
  }
  return sum;
}

void add_corner(const Edge& before, const Edge& after, std::vector<Site>& sites) {
  double turn = angle_between(before.arriving(), after.leaving());
  add_fan(after.from, right_of(before.arriving()), turn, sites);
}

void add_chain(const Chain& chain, Gates& gates, std::vector<Site>& sites) {
  const Edge& first = chain.edges.front();
  const Edge& last = chain.edges.back();
  if (chain.closed) {
    add_corner(last, first, sites);
  } else {
    // The tangent of the wall on the propellant's side bounds the fan where the void meets the
    // wall.
    Point normal = right_of(first.leaving());
    Point along_wall = -1 * right_of((1 / norm(first.from)) * first.from);
    add_fan(first.from, along_wall, angle_between(along_wall, normal), sites);
    gates.in.push_back(angle_of(first.from));
  }
  for (std::size_t i = 0; i < chain.edges.size(); ++i) {
    const Edge& edge = chain.edges[i];
    if (i > 0) add_corner(chain.edges[i - 1], edge, sites);
    add_edge(edge.from, edge.to, edge.turn, sites);
  }
  if (!chain.closed) {
    Point normal = right_of(last.arriving());
    add_fan(last.to, normal, angle_between(normal, right_of(last.to)), sites);
    gates.out.push_back(angle_of(last.to));
  }
}

}  // namespace

void add_edge(Point from, Point to, double turn, std::vector<Site>& sites) {
  if (turn == 0) return sites.push_back(line_site(from, to));
  ArcOf arc = arc_of(from, to, turn);
  double start = angle_of(from - arc.centre);
  int parts = static_cast<int>(std::ceil(std::abs(turn) / pi - 1e-9));
  for (int i = 0; i < parts; ++i) {
    double a = start + turn * i / parts;
    double b = start + turn * (i + 1) / parts;
    sites.push_back(
        round_site(arc.centre, arc.radius, turn > 0 ? 1 : -1, std::min(a, b), std::max(a, b)));
    if (i == 0) sites.back().begin = from;
    if (i == parts - 1) sites.back().end = to;
  }
}

void add_fan(Point corner, Point first_normal, double width, std::vector<Site>& sites) {
  if (!(width > thinnest_fan)) return;
  double from = angle_of(first_normal);
  int parts = width > pi ? 2 : 1;
  for (int i = 0; i < parts; ++i) {
    sites.push_back(
        round_site(corner, 0, 1, from + width * i / parts, from + width * (i + 1) / parts));
  }
}

Boundary boundary_of(const Outline& tidy, double wall_radius) {
  Boundary boundary;
  Gates gates;
  double voids = 0;
  for (const Ring& ring : rings_of(tidy)) {
    std::vector<Chain> chains = tidy.through_wall ? chains_inside(ring, wall_radius)
                                                  : std::vector{Chain{edges_of(ring), true}};
    for (const Chain& chain : chains) {
      for (const Edge& edge : chain.edges) voids += edge.area();
      add_chain(chain, gates, boundary.sites);
    }
  }
  voids += area_along_wall(gates, wall_radius);
  boundary.section = pi * wall_radius * wall_radius - voids;
  return boundary;
}

}  // namespace grainwright::front
