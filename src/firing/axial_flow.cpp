// SPDX-License-Identifier: GPL-3.0-or-later
#include "axial_flow.hpp"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>
#include <stdexcept>
#include <utility>

namespace grainwright {
namespace {

constexpr double pressure_tolerance = 1e-12;  // relative, of the head pressure
constexpr double balance_tolerance = 1e-9;    // of made over passed gas; a tenth of a step's finest
constexpr double unbalanced = 1e-3;           // no solution: the port chokes here
// ln(made / passed) where a port chokes or nothing flows out: any pressure above is better.
constexpr double far_too_much = 1e3;
// A change of port area up to this share between slices is a slope, past it a step.
constexpr double slope_share = 0.1;

// Finds where a falling surplus is zero. A step by `stiffness` = -d surplus / d ln p, stretched a
// little, usually brackets it; where it does not, a widening search does.
// False where there is no such place: however high the pressure, a port chokes.
template <class Surplus, class Close>
bool bracket_and_balance(Surplus& surplus, double guess, double stiffness, Close& close) {
  constexpr double stretch = 1.1;
  std::uintmax_t tries = 200;
  const double first = surplus(guess);
  if (close(guess, 2 * guess)) return true;
  if (first < far_too_much) {
    const double other = guess * std::exp(stretch * first / stiffness);
    const double second = surplus(other);
    if (close(guess, 2 * guess)) return true;
    if (second < far_too_much && first * second < 0) {
      const bool rising = guess < other;
      boost::math::tools::toms748_solve(surplus, std::min(guess, other), std::max(guess, other),
                                        rising ? first : second, rising ? second : first, close,
                                        tries);
      return true;
    }
  }
  constexpr double first_reach = 1.01;
  try {
    boost::math::tools::bracket_and_solve_root(surplus, guess, first_reach, false, close, tries);
  } catch (const std::runtime_error&) {  // it found no change of sign
    return false;
  }
  return true;
}

}  // namespace

// How fast ln(made / passed) falls with ln p where the rate alone decides: 1 - n.
double AxialFlow::stiffness(double pressure) const {
  constexpr double step = 1e-4;
  constexpr double least = 0.05;
  const double grown = law_.rate(pressure * (1 + step)) / law_.rate(pressure);
  return std::max(least, 1 - std::log(grown) / std::log1p(step));
}

double AxialFlow::rate(double pressure, double mass_flux, double web) const {
  const double base = still_rate(pressure, web);
  return erosion_ ? eroded_rate(*erosion_, base, density_, mass_flux, stack_length_) : base;
}

// One way from the head end to the nozzle at a head pressure.
class AxialFlow::March {
 public:
  March(const AxialFlow& flow, const AxialStack& stack, const Webs& webs, Webs& rates,
        PortProfile* profile)
      : flow_(flow), stack_(stack), webs_(webs), rates_(rates), profile_(profile) {}

  // False where a port chokes; `choked` says which.
  bool run(double head_pressure) {
    stream_ = {.pressure = head_pressure};
    for (const Piece& piece : stack_.pieces()) {
      choked = &piece;
      if (!(piece.left ? through(piece) : past(piece))) return false;
    }
    return take(after_adding(flow_.gas_, stream_, std::exchange(waiting_, 0)));
  }

  [[nodiscard]] const Stream& stream() const { return stream_; }
  const Piece* choked = nullptr;
  AxialMoment seen;

 private:
  bool take(const std::optional<Stream>& next) {
    if (!next) return false;
    stream_ = *next;
    seen.port_mach = std::max(seen.port_mach, stream_.mach);
    seen.mass_flux = std::max(seen.mass_flux, stream_.mass_flux());
    return true;
  }

  // A segment that is gone leaves the whole tube open.
  bool past(const Piece& piece) {
    if (stream_.flow == 0) return true;
    return take(after_entering(flow_.gas_, stream_, piece.full_area(), std::exchange(waiting_, 0)));
  }

  void burn_end(const Piece& piece, Face face, std::size_t web, std::size_t slice) {
    if (!piece.segment.bare(face)) return;
    rates_[web] = flow_.still_rate(stream_.pressure, webs_[web]);
    waiting_ += flow_.density_ * rates_[web] * stack_.section(slice, webs_);
  }

  bool through(const Piece& piece) {
    burn_end(piece, Face::head, piece.head, piece.first);
    if (piece.has_port()) {
      const double port = stack_.port(piece, piece.first, webs_);
      if (!take(after_entering(flow_.gas_, stream_, port, std::exchange(waiting_, 0)))) {
        return false;
      }
      rate_ = flow_.rate(stream_.pressure, stream_.mass_flux(), webs_[piece.first]);
      for (std::size_t j = piece.first; j <= piece.last; ++j) {
        if (!along(piece, j)) return false;
      }
    }
    burn_end(piece, Face::nozzle, piece.nozzle, piece.last);
    return true;
  }

  // Explicit midpoint rule over one slice; the rate of the slice before is its predictor.
  bool along(const Piece& piece, std::size_t j) {
    const double port = stack_.port(piece, j, webs_);
    if (port != stream_.area && !take(into(port))) return false;
    const double making = flow_.density_ * stack_.girth(j, webs_) * stack_.length(piece, j, webs_);
    const auto middle = after_adding(flow_.gas_, stream_, making * rate_ / 2);
    if (!middle) return false;
    rate_ = flow_.rate(middle->pressure, middle->mass_flux(), webs_[j]);
    if (making != 0) rates_[j] = rate_;
    if (profile_ != nullptr) note(piece, j, *middle);
    return take(after_adding(flow_.gas_, stream_, making * rate_));
  }

  [[nodiscard]] std::optional<Stream> into(double port) const {
    const bool slope = std::abs(port - stream_.area) <= slope_share * stream_.area;
    return slope ? after_easing(flow_.gas_, stream_, port)
                 : after_entering(flow_.gas_, stream_, port, 0);
  }

  void note(const Piece& piece, std::size_t j, const Stream& middle) {
    const double base = flow_.still_rate(middle.pressure, webs_[j]);
    seen.rate_gain = std::max(seen.rate_gain, rate_ / base);
    const double top = j == piece.first ? webs_[piece.head] : stack_.slices()[j].top;
    profile_->position.push_back(piece.top + top + stack_.length(piece, j, webs_) / 2);
    profile_->pressure.push_back(middle.pressure);
    profile_->mach.push_back(middle.mach);
    profile_->mass_flux.push_back(middle.mass_flux());
    profile_->rate.push_back(rates_[j]);
    profile_->web.push_back(webs_[j]);
  }

  const AxialFlow& flow_;
  const AxialStack& stack_;
  const Webs& webs_;
  Webs& rates_;
  PortProfile* profile_;
  Stream stream_;
  double waiting_ = 0;  // kg/s made by ends, not yet in a port
  double rate_ = 0;     // m/s, of the slice before
};

AxialFlow::AxialFlow(const Motor& motor, double burnout)
    : gas_{motor.propellant.gamma, motor.propellant.gas_heat()},
      law_(motor.propellant.law_at(motor.day.temperature)),
      web_factor_(motor.propellant.web_factor),
      burnout_(burnout),
      throat_(motor),
      erosion_(motor.propellant.erosion),
      density_(motor.propellant.density()),
      stack_length_(motor.grain.stack_length()) {}

AxialMoment AxialFlow::solve(const AxialStack& stack, const Webs& webs, double time, double guess,
                             Webs& rates, PortProfile* profile) const {
  std::fill_n(rates.begin(), stack.web_count(), 0.0);
  double least = far_too_much;  // surplus, and where it was found
  double head = guess;
  const auto surplus = [&](double head_pressure) {
    March march(*this, stack, webs, rates, nullptr);
    double value = far_too_much;
    if (march.run(head_pressure)) {
      const double passed = throat_.outflow(stagnation_pressure(gas_, march.stream()), time);
      if (passed > 0) value = std::log(march.stream().flow / passed);
    }
    if (std::abs(value) < std::abs(least)) {
      least = value;
      head = head_pressure;
    }
    return value;
  };
  const auto close = [&](double a, double b) {
    return std::abs(least) <= balance_tolerance || std::abs(b - a) <= pressure_tolerance * a;
  };
  if (!bracket_and_balance(surplus, guess, stiffness(guess), close)) {
    check_ports(stack, webs, time, head);
    throw PortChokes{{0, time, 0}};
  }
  // Near ambient pressure rounding may leave a remainder; a choked port just below is another
  // thing.
  if (std::abs(least) > unbalanced) check_ports(stack, webs, time, head);
  March march(*this, stack, webs, rates, profile);
  if (!march.run(head)) check_ports(stack, webs, time, head);
  AxialMoment moment = march.seen;
  moment.head_pressure = head;
  moment.nozzle_pressure = stagnation_pressure(gas_, march.stream());
  moment.outflow = march.stream().flow;
  return moment;
}

void AxialFlow::check_ports(const AxialStack& stack, const Webs& webs, double time,
                            double head) const {
  constexpr double just_below = 1 - 1e-6;
  Webs rates = webs;
  March march(*this, stack, webs, rates, nullptr);
  if (march.run(head * just_below)) return;
  const Piece& choked = *march.choked;
  const double port = stack.port(choked, choked.first, webs) / throat_.area(time);
  throw PortChokes{{choked.layer, time, port}};
}

}  // namespace grainwright
