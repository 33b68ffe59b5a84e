// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/firing/transient.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

#include "dense.hpp"
#include "grainwright/firing/steady.hpp"
#include "grainwright/quantity.hpp"
#include "joined_law.hpp"
#include "recorder.hpp"
#include "remarks.hpp"
#include "throat.hpp"

namespace grainwright {
namespace {

using std::numbers::pi;

// Blow-down ends where the gauge pressure, or in vacuum the pressure, is down to this share.
constexpr double over_ambient = 1e-3;
constexpr double of_burnout = 1e-4;
constexpr int tail_points = 60;
// Points of the rise, spread over so many filling times.
constexpr double rise_times = 12;
constexpr int rise_points = 120;

// What is integrated. While the grain burns, `gas` changes with the web; in the tail it follows
// from the pressure.
enum Part : std::size_t { time, gas, gas_out, impulse, pressure_time };
using State = std::array<double, 5>;

// Volume burned from the start of a stretch to a web in it.
double burned(const Stretch& stretch, double web) {
  const double x = stretch.from;
  const auto& c = stretch.area.c;
  const auto primitive = [&](double at) { return at * (c[0] + at * (c[1] / 2 + at * c[2] / 3)); };
  return primitive(web) - primitive(x);
}

class Follower {
 public:
  Follower(const PreparedMotor& prepared, const TransientOptions& options)
      : burnback_(prepared.burnback()),
        law_(prepared.chamber().law()),
        web_factor_(prepared.chamber().web_factor()),
        throat_(prepared.motor()),
        density_(prepared.chamber().density()),
        heat_(prepared.motor().propellant.gas_heat()),
        gamma_(prepared.motor().propellant.gamma),
        ambient_(prepared.chamber().ambient_pressure()),
        blow_down_(options.lighting.blow_down),
        tolerance_(options.tolerance),
        spacing_(burnback_.burnout() / (std::max(2, options.points) - 1)),
        volume_(free_volume(prepared.motor(), options.lighting)),
        steady_pressure_(prepared.steady().initial_pressure) {}

  // From lighting to the last web.
  void burn(double pressure) {
    state_ = {0, pressure * volume_ / heat_, 0, 0, 0};
    for (const Stretch& stretch : burnback_.stretches()) burn(stretch);
    at_burnout_ = state_;
  }

  void blow_down();

  [[nodiscard]] const State& state() const { return state_; }
  [[nodiscard]] const State& at_burnout() const { return at_burnout_; }
  [[nodiscard]] double volume() const { return volume_; }
  [[nodiscard]] double slivers_from() const { return burnback_.slivers_from(); }
  [[nodiscard]] double filling_time() const {
    return volume_ / (heat_ * throat_.area(state_[time]) * throat_.per_area());
  }
  Curve curve;

 private:
  void burn(const Stretch& stretch);
  void record(double web, double area, double pressure) {
    append(curve, {state_[time], web, area, area / throat_.area(state_[time]), pressure,
                   throat_.thrust(pressure, state_[time])});
  }
  [[nodiscard]] State slope_in_web(const Stretch& stretch, const State& y, double web) const;
  [[nodiscard]] double share_of_heat(double pressure) const;
  [[nodiscard]] State slope_in_tail(const State& y, double pressure) const;

  const Burnback& burnback_;
  JoinedLaw law_;
  std::optional<WebFactor> web_factor_;
  Throat throat_;
  double density_, heat_, gamma_, ambient_;
  BlowDown blow_down_;
  double tolerance_, spacing_;
  double volume_;           // at the start of the stretch
  double steady_pressure_;  // at lighting
  double burnout_pressure_ = 0;
  State state_ = {};
  State at_burnout_ = {};
};

State Follower::slope_in_web(const Stretch& stretch, const State& y, double web) const {
  const double pressure = y[gas] * heat_ / (volume_ + burned(stretch, web));
  const double factor = web_factor_ ? (*web_factor_)(web / burnback_.burnout()) : 1;
  const double slowness = 1 / (factor * law_.rate(pressure));
  const double out = throat_.outflow(pressure, y[time]) * slowness;
  return {slowness, density_ * stretch.area(web) - out, out,
          throat_.thrust(pressure, y[time]) * slowness, pressure * slowness};
}

void Follower::burn(const Stretch& stretch) {
  const auto pressure = [&](double web) {
    return state_[gas] * heat_ / (volume_ + burned(stretch, web));
  };
  // Only at an event does the area jump; elsewhere the point stands already.
  if (stretch.from == 0 || std::ranges::binary_search(burnback_.events(), stretch.from)) {
    record(stretch.from, stretch.area(stretch.from), pressure(stretch.from));
  }
  const auto go = [&](double from, double to, double spacing) {
    const double first_step = 0.1 * filling_time() * law_.rate(pressure(from));
    follow(
        {from, to, first_step, tolerance_, spacing}, state_,
        [&](const State& y, State& slope, double web) { slope = slope_in_web(stretch, y, web); },
        [&](double web, const State&) { record(web, stretch.area(web), pressure(web)); });
  };
  // The rise is over within this web, and deserves points of its own.
  const double rise = rise_times * filling_time() * law_.rate(steady_pressure_);
  const double settled = stretch.from == 0 ? std::min(rise, stretch.to) : stretch.from;
  if (settled > stretch.from) go(stretch.from, settled, std::min(spacing_, settled / rise_points));
  if (settled < stretch.to) go(settled, stretch.to, spacing_);
  volume_ += burned(stretch, stretch.to);
}

// T / T0 at a pressure of the tail.
double Follower::share_of_heat(double pressure) const {
  return blow_down_ == BlowDown::isothermal
             ? 1
             : std::pow(pressure / burnout_pressure_, (gamma_ - 1) / gamma_);
}

// Slopes against -ln P. Isothermal, V/(R T) dP = -outflow dt; adiabatic, V/(gamma R T) dP.
State Follower::slope_in_tail(const State& y, double pressure) const {
  const double share = share_of_heat(pressure);
  const double stiffness = blow_down_ == BlowDown::isothermal ? 1 : gamma_;
  const double held = volume_ * pressure / (stiffness * heat_ * share);
  const double slowness = held / (throat_.outflow(pressure, y[time]) / std::sqrt(share));
  return {slowness, 0, held, throat_.thrust(pressure, y[time]) * slowness, pressure * slowness};
}

void Follower::blow_down() {
  burnout_pressure_ = state_[gas] * heat_ / volume_;
  const double end = std::max((1 + over_ambient) * ambient_, of_burnout * burnout_pressure_);
  if (burnout_pressure_ <= end) return;
  record(burnback_.burnout(), 0, burnout_pressure_);
  // Corners of outflow and thrust.
  std::vector<double> stops = {throat_.first_law().full_flow_pressure(),
                               throat_.first_law().choking_pressure(), end};
  std::ranges::sort(stops, std::greater<>());
  // The tail's own sums, so that the tolerance is relative to them.
  const State before = state_;
  state_[gas_out] = state_[impulse] = state_[pressure_time] = 0;
  const double spacing = std::log(burnout_pressure_ / end) / tail_points;
  double from = burnout_pressure_;
  for (double to : stops) {
    if (to >= from || to < end) continue;
    const Leg leg{-std::log(from), -std::log(to), spacing, tolerance_, spacing};
    follow(
        leg, state_,
        [&](const State& y, State& slope, double u) { slope = slope_in_tail(y, std::exp(-u)); },
        [&](double u, const State&) { record(burnback_.burnout(), 0, std::exp(-u)); });
    from = to;
  }
  for (const Part sum : {gas_out, impulse, pressure_time}) state_[sum] += before[sum];
  state_[gas] = from * volume_ / (heat_ * share_of_heat(from));
}

// First moment that holds 99 % of what its web would hold steadily while gas takes the place of
// what burns.
std::optional<double> rise_end(const Curve& curve, const SteadyChamber& chamber, double gas_heat,
                               double burnout) {
  constexpr double full = 0.99;
  double before = 0;
  for (std::size_t i = 0; i < curve.time.size() && curve.burning_area[i] > 0; ++i) {
    const double gas_share = curve.pressure[i] / (gas_heat * chamber.density());
    const double share = curve.pressure[i] /
                         chamber.pressure(curve.burning_area[i] *
                                          chamber.factor(curve.web[i] / burnout) * (1 - gas_share));
    if (share >= full) {
      if (i == 0) return 0;
      const double part = (full - before) / (share - before);
      return curve.time[i - 1] + part * (curve.time[i] - curve.time[i - 1]);
    }
    before = share;
  }
  return std::nullopt;
}

TransientFigures figures_of(const Curve& curve, const Summary& steady, double burn_time,
                            double peak_thrust) {
  TransientFigures figures;
  figures.igniter_pressure = curve.pressure.front();
  const double held = steady.initial_pressure;
  const auto tenth = span_above(curve.time, curve.pressure, 0.1 * held);
  const auto most = span_above(curve.time, curve.pressure, 0.9 * held);
  if (tenth && most && most->from < burn_time) {
    figures.delay = most->from;
    figures.rise_time = most->from - tenth->from;
  }
  if (const auto acting = span_above(curve.time, curve.thrust, 0.1 * peak_thrust)) {
    figures.action_time = acting->to - acting->from;
    figures.tail_off_time = std::max(0.0, acting->to - burn_time);
  }
  return figures;
}

// Value of a column at a time, by a straight line.
double value_at(const Curve& curve, const std::vector<double>& column, double when) {
  const auto after = std::ranges::lower_bound(curve.time, when);
  const auto i = static_cast<std::size_t>(after - curve.time.begin());
  if (i == 0) return column.front();
  const double span = curve.time[i] - curve.time[i - 1];
  const double share = span > 0 ? (when - curve.time[i - 1]) / span : 1;
  return column[i - 1] + share * (column[i] - column[i - 1]);
}

void fill_summary(Summary& summary, const Follower& followed, std::optional<double> settled) {
  const State& end = followed.state();
  const State& burnout = followed.at_burnout();
  const Curve& curve = followed.curve;
  const double from = settled.value_or(0);
  summary.burn_time = burnout[time];
  summary.initial_pressure = value_at(curve, curve.pressure, from);
  summary.initial_thrust = value_at(curve, curve.thrust, from);
  summary.peak_pressure = peak_of(curve.time, curve.pressure);
  summary.peak_thrust = peak_of(curve.time, curve.thrust);
  summary.lowest_pressure = summary.initial_pressure;
  for (std::size_t i = 0; i < curve.time.size() && curve.web[i] <= followed.slivers_from(); ++i) {
    if (curve.time[i] < from || curve.time[i] > summary.burn_time) continue;
    summary.lowest_pressure = std::min(summary.lowest_pressure, curve.pressure[i]);
  }
  summary.mean_pressure = burnout[pressure_time] / burnout[time];
  summary.mean_thrust = burnout[impulse] / burnout[time];
  summary.total_impulse = end[impulse];
  summary.specific_impulse = end[impulse] / (summary.propellant_mass * standard_gravity);
  summary.letter_class = letter_class(end[impulse]);
  summary.neutrality = summary.peak_thrust / summary.mean_thrust;
}

}  // namespace

double entry_volume(const Motor& motor) {
  const double wide = motor.grain.layers.back().segment.outer_diameter / 2;
  const double narrow = std::min(wide, motor.nozzle.throat_diameter / 2);
  return pi / 3 * (wide - narrow) * (wide * wide + wide * narrow + narrow * narrow);
}

double free_volume(const Motor& motor, const Lighting& lighting) {
  const Grain& grain = motor.grain;
  double volume = lighting.spare_volume.value_or(entry_volume(motor));
  double bore = 0;  // of the segment headward of a gap
  for (const Layer& layer : grain.layers) {
    const double outer = layer.segment.outer_diameter;
    const double section = pi / 4 * outer * outer;
    volume += pi / 4 * bore * bore * (bore > 0 ? grain.spacer : 0);
    volume += section * (layer.count * layer.segment.length + (layer.count - 1) * grain.spacer);
    bore = outer;
  }
  return volume - grain.propellant_volume();
}

std::vector<Complaint> complaints(const Lighting& lighting, const Motor& motor) {
  std::vector<Complaint> found;
  if (lighting.igniter_pressure) {
    const double pressure = *lighting.igniter_pressure;
    const double ambient = motor.day.ambient_pressure;
    if (!(std::isfinite(pressure) && pressure > 0 && pressure >= ambient)) {
      found.push_back({"igniter_pressure", write_quantity(pressure, Dimension::pressure),
                       "above zero and at least the ambient pressure of " +
                           show(ambient, Dimension::pressure, UnitSystem::si)});
    }
  }
  if (lighting.spare_volume &&
      !(std::isfinite(*lighting.spare_volume) && *lighting.spare_volume >= 0)) {
    found.push_back({"spare_volume", write_quantity(*lighting.spare_volume, Dimension::volume),
                     "a volume, 0 or more"});
  } else if (!(free_volume(motor, lighting) > 0)) {
    found.push_back({"spare_volume", "0", "above 0 where the grain leaves no room for gas"});
  }
  return found;
}

Firing fire_transient(const PreparedMotor& prepared, const TransientOptions& options) {
  const Motor& motor = prepared.motor();
  const SteadyChamber& chamber = prepared.chamber();
  if (auto found = complaints(options.lighting, motor); !found.empty()) {
    throw InputError(std::move(found));
  }
  Firing firing;
  firing.summary = prepared.steady();
  Follower followed(prepared, options);
  const double volume = followed.volume();
  const double filling_time = followed.filling_time();
  followed.burn(options.lighting.igniter_pressure.value_or(
      motor.day.ambient_pressure + igniter_share * firing.summary.initial_pressure));
  const double gas_at_lighting =
      followed.curve.pressure.front() * volume / motor.propellant.gas_heat();
  followed.blow_down();
  const auto settled =
      rise_end(followed.curve, chamber, motor.propellant.gas_heat(), prepared.burnback().burnout());
  fill_summary(firing.summary, followed, settled);
  TransientFigures figures = figures_of(followed.curve, prepared.steady(), firing.summary.burn_time,
                                        firing.summary.peak_thrust);
  figures.rise_end = settled;
  figures.free_volume = volume;
  figures.filling_time = filling_time;
  figures.gas_at_lighting = gas_at_lighting;
  figures.gas_left = followed.state()[gas];
  figures.gas_out = followed.state()[gas_out];
  firing.transient = figures;
  firing.curve = std::move(followed.curve);
  firing.remarks = remarks_on(firing.summary, chamber);
  return firing;
}

}  // namespace grainwright
