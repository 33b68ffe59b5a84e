// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/firing/axial.hpp"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <boost/numeric/odeint/stepper/generation.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta_dopri5.hpp>
#include <cmath>
#include <cstdint>
#include <stdexcept>
#include <utility>

#include "axial_flow.hpp"
#include "grainwright/firing/steady.hpp"
#include "recorder.hpp"
#include "remarks.hpp"

namespace grainwright {
namespace {

namespace odeint = boost::numeric::odeint;

// Sums that are integrated after the webs.
enum Sum : std::size_t { gas_out, impulse, pressure_time, sums };

constexpr int profile_count = 11;
// Web below which an error does not count, as a share of the burnout; a front at rest has none.
constexpr double nothing = 1e-9;
// A step reaches this much past the next burnout as foreseen, so that it is not missed by a hair.
constexpr double past_event = 1.02;

class Burn {
 public:
  Burn(const Motor& motor, const AxialOptions& options, const Summary& steady, double burnout)
      : flow_(motor, burnout),
        throat_(motor),
        stack_(motor.grain, options.slices),
        state_(stack_.web_count() + sums, 0.0),
        rates_(state_.size(), 0.0),
        volume_(stack_.volume(state_)),
        guess_(steady.initial_pressure),
        spacing_(steady.burn_time / (std::max(2, options.points) - 1)),
        tolerance_(options.tolerance),
        scale_(nothing * steady.burn_time) {}

  void run();

  [[nodiscard]] double time() const { return time_; }
  [[nodiscard]] double sum(Sum which) const { return state_[stack_.web_count() + which]; }
  /// Points of the curve until only slivers are left.
  [[nodiscard]] std::ptrdiff_t points_before_slivers() const { return points_before_slivers_; }
  Curve curve;
  AxialFigures figures;

 private:
  void slope(const Webs& state, Webs& slopes, double time) {
    const AxialMoment moment = flow_.solve(stack_, state, time, guess_, slopes);
    guess_ = moment.head_pressure;
    const std::size_t after = stack_.web_count();
    slopes[after + gas_out] = moment.outflow;
    slopes[after + impulse] = throat_.thrust(moment.nozzle_pressure, time);
    slopes[after + pressure_time] = moment.head_pressure;
  }
  void record();

  AxialFlow flow_;
  Throat throat_;
  AxialStack stack_;
  Webs state_;
  Webs rates_;
  double volume_;  // of propellant at lighting
  std::ptrdiff_t points_before_slivers_ = 0;
  double time_ = 0;
  double guess_;
  double spacing_;
  double tolerance_;
  double scale_;
};

void Burn::record() {
  PortProfile profile;
  const AxialMoment moment = flow_.solve(stack_, state_, time_, guess_, rates_, &profile);
  guess_ = moment.head_pressure;
  const double area = stack_.burning_area(state_);
  if (stack_.volume(state_) >= sliver_share * volume_) ++points_before_slivers_;
  append(curve, {time_, stack_.mean_web(state_), area, area / throat_.area(time_),
                 moment.head_pressure, throat_.thrust(moment.nozzle_pressure, time_)});
  figures.nozzle_pressure.push_back(moment.nozzle_pressure);
  figures.port_mach.push_back(moment.port_mach);
  figures.mass_flux.push_back(moment.mass_flux);
  figures.peak_port_mach = std::max(figures.peak_port_mach, moment.port_mach);
  figures.peak_head_excess =
      std::max(figures.peak_head_excess, moment.head_pressure / moment.nozzle_pressure - 1);
  figures.peak_rate_gain = std::max(figures.peak_rate_gain, moment.rate_gain);
  profile.time = time_;
  figures.profiles.push_back(std::move(profile));
}

void Burn::run() {
  figures.slices = static_cast<int>(stack_.slices().size());
  const auto system = [this](const Webs& state, Webs& slopes, double time) {
    slope(state, slopes, time);
  };
  auto stepper = odeint::make_dense_output(scale_ * tolerance_, tolerance_,
                                           odeint::runge_kutta_dopri5<Webs>());
  stepper.initialize(state_, 0, spacing_);
  record();
  while (stack_.left()) {
    const double foreseen = past_event * stack_.time_left(state_, rates_);
    if (stepper.current_time_step() > foreseen) stepper.initialize(state_, time_, foreseen);
    stepper.do_step(system);
    double end = stepper.current_time();
    const bool ended = stack_.margin(stepper.current_state()) <= 0;
    if (ended) {
      Webs there = state_;
      const auto margin = [&](double when) {
        stepper.calc_state(when, there);
        return stack_.margin(there);
      };
      const auto close = [this](double a, double b) { return b - a <= 1e-12 * (b + spacing_); };
      std::uintmax_t tries = 100;
      end = boost::math::tools::toms748_solve(margin, time_, end, close, tries).second;
    }
    const double from = time_;
    const double parts = std::ceil((end - from) / spacing_);
    for (double part = 1; part <= parts; ++part) {
      time_ = part == parts ? end : from + (end - from) * part / parts;
      stepper.calc_state(time_, state_);
      record();
    }
    if (!ended) continue;
    const double step = stepper.current_time_step();
    stack_.retire(state_);
    if (!stack_.left()) break;
    record();
    stepper.initialize(state_, time_, step);
  }
}

// Evenly over the burn, first and last included.
void thin(std::vector<PortProfile>& profiles) {
  if (profiles.empty()) return;
  const double end = profiles.back().time;
  std::vector<PortProfile> kept;
  for (int i = 0; i < profile_count; ++i) {
    const double when = end * i / (profile_count - 1);
    const auto found = std::ranges::lower_bound(profiles, when, {}, &PortProfile::time);
    kept.push_back(found == profiles.end() ? profiles.back() : *found);
  }
  profiles = std::move(kept);
}

void fill_summary(Summary& summary, const Burn& burn) {
  const Curve& curve = burn.curve;
  summary.burn_time = burn.time();
  summary.initial_pressure = curve.pressure.front();
  summary.initial_thrust = curve.thrust.front();
  summary.peak_pressure = peak_of(curve.time, curve.pressure);
  summary.peak_thrust = peak_of(curve.time, curve.thrust);
  summary.lowest_pressure = *std::min_element(
      curve.pressure.begin(), curve.pressure.begin() + burn.points_before_slivers());
  summary.peak_burning_area = peak_of(curve.time, curve.burning_area);
  summary.peak_kn = peak_of(curve.time, curve.kn);
  summary.mean_pressure = burn.sum(pressure_time) / summary.burn_time;
  summary.mean_thrust = burn.sum(impulse) / summary.burn_time;
  summary.total_impulse = burn.sum(impulse);
  summary.specific_impulse = summary.total_impulse / (summary.propellant_mass * standard_gravity);
  summary.letter_class = letter_class(summary.total_impulse);
  summary.peak_mass_flux = *std::ranges::max_element(burn.figures.mass_flux);
  summary.neutrality = summary.peak_thrust / summary.mean_thrust;
}

}  // namespace

Firing fire_axial(const PreparedMotor& motor, const AxialOptions& options) {
  Firing firing;
  firing.summary = motor.steady();
  Burn burn(motor.motor(), options, motor.steady(), motor.burnback().burnout());
  try {
    burn.run();
    fill_summary(firing.summary, burn);
  } catch (const PortChokes& chokes) {
    burn.figures.choked = chokes.port;
  } catch (const std::domain_error&) {  // no pressure at all satisfies the march
    burn.figures.choked = ChokedPort{0, burn.time(), motor.steady().port_to_throat};
  }
  firing.remarks = remarks_on(firing.summary, motor.chamber());
  burn.figures.gas_out = burn.sum(gas_out);
  thin(burn.figures.profiles);
  firing.curve = std::move(burn.curve);
  firing.axial = std::move(burn.figures);
  return firing;
}

PortProfile port_at_lighting(const Motor& motor, const AxialOptions& options) {
  if (auto found = complaints(motor); !found.empty()) throw InputError(std::move(found));
  const SteadyChamber chamber(motor.propellant, motor.nozzle, motor.day);
  const double burnout = Burnback(motor.grain).burnout();
  const AxialStack stack(motor.grain, options.slices);
  const Webs webs(stack.web_count(), 0.0);
  Webs rates = webs;
  PortProfile profile;
  try {
    AxialFlow(motor, burnout)
        .solve(stack, webs, 0, chamber.pressure(stack.burning_area(webs) * chamber.factor(0)),
               rates, &profile);
  } catch (const PortChokes& chokes) {
    throw InputError("segment " + std::to_string(chokes.port.layer + 1) + ": core",
                     "a port that chokes before the throat", "a wider core or a smaller throat");
  }
  return profile;
}

}  // namespace grainwright
