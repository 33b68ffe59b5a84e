// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/firing/steady.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "grainwright/firing/nodes.hpp"
#include "grainwright/firing/prepared_motor.hpp"
#include "remarks.hpp"

namespace grainwright {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

double thrust_at(const SteadyChamber& chamber, const SteadyChamber::Band& band, double pressure) {
  const ThrustLaw& law = chamber.thrust_law();
  return band.full_flow ? law.per_pressure() * pressure - law.loss() : law(pressure);
}

constexpr double factor_pieces = 48;  // over the web, of one that has a factor

/// One piece under the plain law, from y on: ends and volume are the motor's own.
Stretch even_piece(const Stretch& piece, const WebFactor& factor, double burnout, double y) {
  const double width = piece.to - piece.from;
  const auto slowness = [&](double share) {
    return 1 / factor((piece.from + share * width) / burnout);
  };
  // Boole's rule: the factor is a parabola of which this is a small part.
  const double even_width = width / 90 *
                            (7 * slowness(0) + 32 * slowness(0.25) + 12 * slowness(0.5) +
                             32 * slowness(0.75) + 7 * slowness(1));
  const double start = piece.area(piece.from) / slowness(0);
  const double end = piece.area(piece.to) / slowness(1);
  const double mean = piece.area.integral(piece.from, piece.to) / even_width;
  // b0 + b1 s + b2 s^2 over s = (Y - y) / even_width.
  const double b2 = 3 * (start + end) - 6 * mean;
  const double b1 = end - start - b2;
  const double per = 1 / even_width;
  const double c2 = b2 * per * per;
  const double c1 = b1 * per - 2 * c2 * y;
  return {y, y + even_width, {{start - b1 * per * y + c2 * y * y, c1, c2}}};
}

struct Sums {
  double time = 0;
  double impulse = 0;
  double pressure_time = 0;  // Pa s
};

// While the nozzle flows full, thrust is linear in pressure, and the integral of pressure is
// density c* / At times the volume burned: only the time is not exact.
void add_stretch(const Stretch& stretch, const SteadyChamber& chamber, Sums& sums) {
  visit_nodes(stretch, chamber, [&](const SteadyChamber::Band& band, double pressure, double time) {
    sums.time += time;
    sums.pressure_time += pressure * time;
    sums.impulse += thrust_at(chamber, band, pressure) * time;
  });
}

// Mass flux at the nozzle end of each layer's port, where all gas made headward has gathered.
double greatest_mass_flux(const Burnback& burnback, const SteadyChamber& chamber, double web) {
  const double factor = chamber.factor(web / burnback.burnout());
  const double burning_area = burnback.burning_area(web) * factor;
  const auto& band = chamber.band_of(burning_area);
  const double rate = factor / chamber.slowness(band, burning_area, band.pressure(burning_area));
  double headward = 0;
  double greatest = 0;
  const auto& layers = burnback.grain().layers;
  const std::vector<SegmentState> states = burnback.states(web);
  for (std::size_t i = 0; i < layers.size(); ++i) {
    const SegmentState& state = states[i];
    headward += layers[i].count * state.burning_area;
    if (layers[i].segment.solid() && !layers[i].segment.bare(Face::outer)) continue;
    if (state.port_area > 0) greatest = std::max(greatest, headward / state.port_area);
  }
  return greatest * chamber.density() * rate;
}

double smallest_port(const Burnback& burnback) {
  double smallest = infinity;
  for (double area : burnback.port_areas(0)) {
    if (area > 0) smallest = std::min(smallest, area);
  }
  return std::isinf(smallest) ? 0 : smallest;
}

// The curve, point by point. Areas come from the stretches, so that a jump at an event stands twice
// at one time.
class CurveMaker {
 public:
  CurveMaker(const Burnback& burnback, const SteadyChamber& chamber)
      : chamber_(chamber), burnout_(burnback.burnout()), stretch_(burnback.stretches().begin()) {}

  // From one event to the next: its start, its end, and equal steps of web between.
  void span(double from, double to, int steps) {
    while (stretch_->to <= from) ++stretch_;
    append(from);
    web_ = from;
    for (int i = 1; i <= steps; ++i) {
      go_on_to(i == steps ? to : from + (to - from) * i / steps);
      append(web_);
    }
  }
  [[nodiscard]] Curve done() && { return std::move(curve_); }

 private:
  void go_on_to(double web) {
    while (true) {
      const double end = std::min(web, stretch_->to);
      pass({web_, end, stretch_->area});
      web_ = end;
      if (end == web) return;
      ++stretch_;
    }
  }
  void pass(const Stretch& stretch) {
    const auto add = [&](const auto&, double, double time) { time_ += time; };
    if (!chamber_.web_factor()) return visit_nodes(stretch, chamber_, add);
    for (const Stretch& part : even_rate({&stretch, 1}, chamber_.web_factor(), burnout_)) {
      visit_nodes(part, chamber_, add);
    }
  }
  void append(double web) {
    const double area = stretch_->area(web);
    const double making = area * chamber_.factor(web / burnout_);
    const SteadyChamber::Band& band = chamber_.band_of(making);
    const double pressure = band.pressure(making);
    curve_.time.push_back(time_);
    curve_.web.push_back(web);
    curve_.burning_area.push_back(area);
    curve_.kn.push_back(area / chamber_.throat_area());
    curve_.pressure.push_back(pressure);
    curve_.thrust.push_back(thrust_at(chamber_, band, pressure));
  }

  const SteadyChamber& chamber_;
  double burnout_;
  std::span<const Stretch>::iterator stretch_;
  double web_ = 0;
  double time_ = 0;
  Curve curve_;
};

/// Least and greatest area times factor, the least until only slivers are left.
AreaRange making_range(const Burnback& burnback, const SteadyChamber& chamber,
                       std::span<const Stretch> even) {
  AreaRange range{infinity, 0, 0};
  const double burnout = burnback.burnout();
  const double last = burnout * chamber.web_factor()->passed(burnback.slivers_from() / burnout);
  for (const Stretch& stretch : even) {
    const AreaRange one = area_range(stretch);
    if (one.greatest > range.greatest) {
      range.greatest = one.greatest;
      range.greatest_at = one.greatest_at;
    }
    if (stretch.from >= last) continue;
    const Stretch kept{stretch.from, std::min(stretch.to, last), stretch.area};
    range.least = std::min(range.least, area_range(kept).least);
  }
  return range;
}

Curve curve_of(const Burnback& burnback, const SteadyChamber& chamber, int points) {
  CurveMaker curve(burnback, chamber);
  double from = 0;
  for (double to : burnback.events()) {
    const double share = (to - from) / burnback.burnout();
    curve.span(from, to, std::max(1, static_cast<int>(std::lround(share * (points - 1)))));
    from = to;
  }
  return std::move(curve).done();
}

}  // namespace

SteadyChamber::SteadyChamber(const Propellant& propellant, const Nozzle& nozzle, const Day& day)
    : law_(propellant.law_at(day.temperature)),
      web_factor_(propellant.web_factor),
      thrust_(nozzle, propellant.gamma, propellant.expansion_gamma, day.ambient_pressure),
      throat_area_(nozzle.throat_area()),
      density_(propellant.density()),
      ambient_(day.ambient_pressure),
      mass_per_pressure_(density_ * propellant.characteristic_velocity / throat_area_) {
  // Bands of load become bands of area; a load is mass_per_pressure times an area.
  std::vector<Band> whole;
  for (const BurnLaw::Band& band : law_.bands()) {
    Band area{band.from / mass_per_pressure_, band.to / mass_per_pressure_, 0, 0, 0, true};
    if (band.joint_pressure > 0) {
      area.scale = band.joint_pressure;
    } else {
      area.power = 1 / (1 - band.exponent);
      area.scale = band.scale * std::pow(mass_per_pressure_, area.power);
    }
    whole.push_back(area);
  }
  bands_ = std::move(whole);
  // Cut them where thrust takes another formula: at ambient pressure, where the throat begins to
  // choke and where the nozzle begins to flow full.
  const double at_ambient = ambient_ > 0 ? area_at(ambient_) : 0;
  const double at_choking = std::max(at_ambient, area_at(thrust_.choking_pressure()));
  const double at_full_flow = std::max(at_ambient, area_at(thrust_.full_flow_pressure()));
  std::vector<Band> cut;
  const auto add = [&](Band band, double from, double to) {
    band.from = std::max(band.from, from);
    band.to = std::min(band.to, to);
    if (band.from < band.to) cut.push_back(band);
  };
  if (at_ambient > 0) {
    cut.push_back({0, at_ambient, 0, ambient_, 1 / law_.rate(ambient_), false});
  }
  for (Band band : bands_) {
    band.full_flow = false;
    add(band, at_ambient, at_choking);
    add(band, at_choking, at_full_flow);
    band.full_flow = true;
    add(band, at_full_flow, infinity);
  }
  bands_ = std::move(cut);
}

const SteadyChamber::Band& SteadyChamber::band_of(double burning_area) const {
  const auto found =
      std::ranges::find_if(bands_, [&](const Band& band) { return burning_area <= band.to; });
  return found == bands_.end() ? bands_.back() : *found;
}

double SteadyChamber::area_at(double pressure) const {
  for (auto band = bands_.rbegin(); band != bands_.rend(); ++band) {
    if (band->pressure(band->from) > pressure) continue;
    if (band->power == 0) return band->to;
    return std::min(band->to, std::pow(pressure / band->scale, 1 / band->power));
  }
  return 0;
}

double peak_mass_flux(const Burnback& burnback, const SteadyChamber& chamber) {
  // The busiest moment is at lighting or at an event for all but odd stacks; looking also at even
  // steps between catches those.
  constexpr int steps = 8;
  double peak = 0;
  double from = 0;
  for (double to : burnback.events()) {
    for (int i = 0; i <= steps; ++i) {
      const double web = from + (to - from) * i / steps;
      peak = std::max(peak, greatest_mass_flux(burnback, chamber, web));
    }
    from = to;
  }
  return peak;
}

std::vector<Stretch> even_rate(std::span<const Stretch> stretches,
                               const std::optional<WebFactor>& factor, double burnout) {
  if (!factor) return {stretches.begin(), stretches.end()};
  std::vector<Stretch> even;
  double y = 0;
  for (const Stretch& stretch : stretches) {
    const double width = stretch.to - stretch.from;
    const auto parts = static_cast<int>(std::ceil(factor_pieces * width / burnout));
    for (int i = 0; i < std::max(1, parts); ++i) {
      const double from = stretch.from + width * i / std::max(1, parts);
      const double to =
          i + 1 >= parts ? stretch.to : stretch.from + width * (i + 1) / std::max(1, parts);
      even.push_back(even_piece({from, to, stretch.area}, *factor, burnout, y));
      y = even.back().to;
    }
  }
  return even;
}

BurnSums burn_sums(std::span<const Stretch> stretches, const SteadyChamber& chamber) {
  Sums sums;
  for (const Stretch& stretch : stretches) add_stretch(stretch, chamber, sums);
  return {sums.time, sums.impulse};
}

Summary steady_summary(const Burnback& burnback, const SteadyChamber& chamber) {
  Sums sums;
  AreaRange range = burnback.range();
  if (chamber.web_factor()) {
    const double burnout = burnback.burnout();
    const auto stretches = even_rate(burnback.stretches(), chamber.web_factor(), burnout);
    for (const Stretch& stretch : stretches) add_stretch(stretch, chamber, sums);
    range = making_range(burnback, chamber, stretches);
  } else {
    for (const Stretch& stretch : burnback.stretches()) add_stretch(stretch, chamber, sums);
  }
  const auto thrust = [&](double area) {
    const SteadyChamber::Band& band = chamber.band_of(area);
    return thrust_at(chamber, band, band.pressure(area));
  };
  Summary summary;
  summary.initial_burning_area = burnback.burning_area(0);
  summary.peak_burning_area = burnback.range().greatest;
  summary.initial_kn = summary.initial_burning_area / chamber.throat_area();
  summary.peak_kn = summary.peak_burning_area / chamber.throat_area();
  const double at_lighting = summary.initial_burning_area * chamber.factor(0);
  summary.initial_pressure = chamber.pressure(at_lighting);
  summary.peak_pressure = chamber.pressure(range.greatest);
  summary.lowest_pressure = chamber.pressure(range.least);
  summary.mean_pressure = sums.pressure_time / sums.time;
  summary.initial_thrust = thrust(at_lighting);
  summary.peak_thrust = thrust(range.greatest);
  summary.mean_thrust = sums.impulse / sums.time;
  summary.burn_time = sums.time;
  summary.total_impulse = sums.impulse;
  summary.propellant_mass = chamber.density() * burnback.propellant_volume(0);
  summary.specific_impulse = sums.impulse / (summary.propellant_mass * standard_gravity);
  summary.letter_class = letter_class(sums.impulse);
  summary.port_to_throat = smallest_port(burnback) / chamber.throat_area();
  summary.peak_mass_flux = peak_mass_flux(burnback, chamber);
  summary.neutrality = summary.peak_thrust / summary.mean_thrust;
  return summary;
}

Firing fire_steady(const PreparedMotor& motor, const SteadyOptions& options) {
  Firing firing;
  firing.summary = motor.steady();
  firing.curve = curve_of(motor.burnback(), motor.chamber(), std::max(2, options.points));
  firing.remarks = remarks_on(firing.summary, motor.chamber());
  return firing;
}

}  // namespace grainwright
