// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/strength/conduction.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "grainwright/error.hpp"

namespace grainwright {
namespace {

/// A wall cut into cells.
struct Mesh {
  std::vector<double> edges;              // m, one more than cells
  std::vector<double> capacity = {};      // J/(m2 K) of each cell
  std::vector<double> conductance = {};   // W/(m2 K) from a cell's middle to its edge
  std::vector<double> start = {};         // K
  std::vector<std::size_t> borders = {};  // first cell of each layer but the first

  [[nodiscard]] std::size_t size() const { return capacity.size(); }
  [[nodiscard]] double middle(std::size_t i) const { return (edges[i] + edges[i + 1]) / 2; }
  /// Between the middles of cell i and the next.
  [[nodiscard]] double link(std::size_t i) const {
    return conductance[i] * conductance[i + 1] / (conductance[i] + conductance[i + 1]);
  }
  /// From the gas to the middle of the first cell.
  [[nodiscard]] double entry(double coefficient) const {
    return coefficient * conductance[0] / (coefficient + conductance[0]);
  }
};

/// Widths that grow by a constant ratio and add up to the thickness, the first at most `first`.
std::vector<double> cell_widths(double thickness, const ConductionOptions& options) {
  const double growth = std::max(options.growth, 1.0);
  std::vector<double> widths;
  double sum = 0;
  for (double width = options.first_cell; sum < thickness; width *= growth) {
    widths.push_back(width);
    sum += width;
  }
  while (widths.size() < 3) {
    widths.push_back(widths.back() * growth);
    sum += widths.back();
  }
  for (double& width : widths) width *= thickness / sum;
  return widths;
}

Mesh meshed(std::span<const Slab> wall, const ConductionOptions& options) {
  Mesh mesh{.edges = {0}};
  for (const Slab& slab : wall) {
    if (mesh.size() > 0) mesh.borders.push_back(mesh.size());
    for (double width : cell_widths(slab.thickness, options)) {
      mesh.edges.push_back(mesh.edges.back() + width);
      mesh.capacity.push_back(slab.density * slab.specific_heat * width);
      mesh.conductance.push_back(2 * slab.conductivity / width);
      mesh.start.push_back(slab.start);
    }
  }
  return mesh;
}

/// Marches the cells' temperatures on: capacity dT/dt = sources - K T with a symmetric tridiagonal
/// K. What is solved at each step is factorised as L D L', L having ones and one row of ratios
/// below.
class March {
 public:
  March(const Mesh& mesh, const GasSide& gas)
      : mesh_(mesh),
        gas_(gas),
        state_(mesh.start),
        diagonal_(mesh.size(), 0),
        ratio_(mesh.size(), 0),
        inverse_(mesh.size(), 0),
        right_(mesh.size(), 0) {
    for (std::size_t i = 0; i + 1 < mesh.size(); ++i) {
      link_.push_back(mesh.link(i));
      diagonal_[i] += link_[i];
      diagonal_[i + 1] += link_[i];
    }
  }

  [[nodiscard]] const std::vector<double>& state() const { return state_; }

  /// One step with the weight `implicit` on its end: 1 is backward Euler, 1/2 Crank-Nicolson.
  void step(double time, double length, double implicit) {
    const double now = mesh_.entry(gas_.after(time));
    const double then = mesh_.entry(gas_.before(time + length));
    const double explicit_part = 1 - implicit;
    for (std::size_t i = 0; i < state_.size(); ++i) {
      right_[i] = mesh_.capacity[i] * state_[i] / length;
      if (explicit_part > 0) right_[i] -= explicit_part * outflow(i, now);
    }
    right_[0] += (explicit_part * now + implicit * then) * gas_.temperature;
    factorise(length, implicit, then);
    solve();
  }

 private:
  [[nodiscard]] double outflow(std::size_t i, double entry) const {
    double flow = (diagonal_[i] + (i == 0 ? entry : 0)) * state_[i];
    if (i > 0) flow -= link_[i - 1] * state_[i - 1];
    if (i + 1 < state_.size()) flow -= link_[i] * state_[i + 1];
    return flow;
  }

  void factorise(double length, double implicit, double entry) {
    if (length == length_ && implicit == implicit_ && entry == entry_) return;
    for (std::size_t i = 0; i < state_.size(); ++i) {
      double pivot = mesh_.capacity[i] / length + implicit * (diagonal_[i] + (i == 0 ? entry : 0));
      if (i > 0) pivot += implicit * link_[i - 1] * ratio_[i - 1];
      inverse_[i] = 1 / pivot;
      if (i + 1 < state_.size()) ratio_[i] = -implicit * link_[i] * inverse_[i];
    }
    length_ = length;
    implicit_ = implicit;
    entry_ = entry;
  }

  void solve() {
    for (std::size_t i = 1; i < state_.size(); ++i) right_[i] -= ratio_[i - 1] * right_[i - 1];
    state_.back() = right_.back() * inverse_.back();
    for (std::size_t i = state_.size() - 1; i-- > 0;) {
      state_[i] = right_[i] * inverse_[i] - ratio_[i] * state_[i + 1];
    }
  }

  const Mesh& mesh_;
  const GasSide& gas_;
  std::vector<double> state_;
  std::vector<double> link_;      // from each cell to the next
  std::vector<double> diagonal_;  // of K, the gas's entry left out
  std::vector<double> ratio_;     // of L, below its ones
  std::vector<double> inverse_;   // of D
  std::vector<double> right_;
  double length_ = 0;
  double implicit_ = 0;
  double entry_ = -1;
};

bool jumps(const GasSide& gas, double time) {
  return time == 0 || gas.before(time) != gas.after(time);
}

/// Marches from one asked time to the next, stopping at each jump of the gas side between them.
void march(March& cells, const GasSide& gas, double from, double to,
           const ConductionOptions& options) {
  if (to <= from) return;
  std::vector<double> stops = {from};
  for (const GasSide::Point& point : gas.points) {
    if (point.time > stops.back() && point.time < to) stops.push_back(point.time);
  }
  stops.push_back(to);
  for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
    const double length = stops[i + 1] - stops[i];
    const int count =
        std::max(options.steps_between, static_cast<int>(std::ceil(length / options.longest_step)));
    const double step = length / count;
    for (int k = 0; k < count; ++k) {
      const double time = stops[i] + k * step;
      if (k > 0 || !jumps(gas, time)) {
        cells.step(time, step, 0.5);
        continue;
      }
      for (int quarter = 0; quarter < 4; ++quarter) {
        cells.step(time + quarter * step / 4, step / 4, 1);
      }
    }
  }
}

/// Temperatures at the front face, the middles of cells, the layers' borders and the back face.
std::vector<double> profile(const Mesh& mesh, const std::vector<double>& cells, const GasSide& gas,
                            double time) {
  const double h = time > 0 ? gas.before(time) : 0;  // at 0 nothing has flowed yet
  std::vector<double> result = {(h * gas.temperature + mesh.conductance[0] * cells.front()) /
                                (h + mesh.conductance[0])};
  auto border = mesh.borders.begin();
  for (std::size_t i = 0; i < mesh.size(); ++i) {
    if (border != mesh.borders.end() && *border == i) {
      const double left = mesh.conductance[i - 1];
      const double right = mesh.conductance[i];
      result.push_back((left * cells[i - 1] + right * cells[i]) / (left + right));
      ++border;
    }
    result.push_back(cells[i]);
  }
  result.push_back(cells.back());
  return result;
}

std::vector<double> profile_depths(const Mesh& mesh) {
  std::vector<double> depths = {0};
  auto border = mesh.borders.begin();
  for (std::size_t i = 0; i < mesh.size(); ++i) {
    if (border != mesh.borders.end() && *border == i) {
      depths.push_back(mesh.edges[i]);
      ++border;
    }
    depths.push_back(mesh.middle(i));
  }
  depths.push_back(mesh.edges.back());
  return depths;
}

void check(std::span<const Slab> wall, std::span<const double> times) {
  std::vector<Complaint> found;
  if (wall.empty()) found.push_back({"wall", "no layer", "at least one"});
  for (std::size_t i = 0; i < wall.size(); ++i) {
    const auto positive = [&](const char* key, double value) {
      if (std::isfinite(value) && value > 0) return;
      found.push_back(
          {fmt::format("layer {}: {}", i + 1, key), fmt::format("{}", value), "above zero"});
    };
    positive("thickness", wall[i].thickness);
    positive("conductivity", wall[i].conductivity);
    positive("density", wall[i].density);
    positive("specific_heat", wall[i].specific_heat);
  }
  if (times.empty() || times.front() < 0 || !std::ranges::is_sorted(times)) {
    found.push_back({"times", "none, or not in order", "rising from 0 on"});
  }
  if (!found.empty()) throw InputError(std::move(found));
}

}  // namespace

double GasSide::after(double time) const {
  const auto next = std::ranges::upper_bound(points, time, {}, &Point::time);
  if (next == points.begin()) return points.empty() ? 0 : next->coefficient;
  const Point& last = *std::prev(next);
  if (next == points.end()) return last.coefficient;
  return std::lerp(last.coefficient, next->coefficient,
                   (time - last.time) / (next->time - last.time));
}

double GasSide::before(double time) const {
  const auto next = std::ranges::lower_bound(points, time, {}, &Point::time);
  if (next == points.begin()) return points.empty() ? 0 : next->coefficient;
  const Point& last = *std::prev(next);
  if (next == points.end()) return last.coefficient;
  return std::lerp(last.coefficient, next->coefficient,
                   (time - last.time) / (next->time - last.time));
}

HeatRun::HeatRun(std::vector<double> depths, std::vector<double> edges, std::vector<double> times,
                 std::vector<std::vector<double>> temperatures)
    : depths_(std::move(depths)),
      edges_(std::move(edges)),
      times_(std::move(times)),
      temperatures_(std::move(temperatures)) {}

double HeatRun::temperature(std::size_t at, double depth) const {
  const std::vector<double>& values = temperatures_[at];
  const auto above = std::ranges::lower_bound(depths_, depth);
  if (above == depths_.begin()) return values.front();
  if (above == depths_.end()) return values.back();
  const auto i = static_cast<std::size_t>(above - depths_.begin());
  return std::lerp(values[i - 1], values[i],
                   (depth - depths_[i - 1]) / (depths_[i] - depths_[i - 1]));
}

HeatRun conduct(std::span<const Slab> wall, const GasSide& gas, std::span<const double> times,
                const ConductionOptions& options) {
  check(wall, times);
  const Mesh mesh = meshed(wall, options);
  March cells(mesh, gas);
  std::vector<std::vector<double>> temperatures;
  double now = 0;
  for (double time : times) {
    march(cells, gas, now, time, options);
    now = time;
    temperatures.push_back(profile(mesh, cells.state(), gas, time));
  }
  return {profile_depths(mesh), mesh.edges, {times.begin(), times.end()}, std::move(temperatures)};
}

}  // namespace grainwright
