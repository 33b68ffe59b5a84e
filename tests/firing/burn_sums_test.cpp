// SPDX-License-Identifier: GPL-3.0-or-later
//
// Burn time and impulse of many random motors against plain halving, which knows nothing of bands,
// cuts or closed forms.
#include <rapidcheck.h>
#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <catch2/catch.hpp>

#include <cmath>
#include <string>
#include "grainwright/firing/prepared_motor.hpp"

#include "firing/example_motor.hpp"

using namespace grainwright;
using namespace example;

namespace {

using Quadrature = boost::math::quadrature::gauss<double, 7>;

// Where the burn stands: the pressure, and a number that names the formula in force.
struct Balance {
  double pressure = 0;
  int regime = 0;
};

double between(double least, double most) {
  return least + (most - least) * *rc::gen::inRange(0, 10001) / 10000.0;
}

// The pressure at which P/r(P) = load, walking up the pieces: the lowest root, a joint that the
// load falls into, the outermost pieces going on for ever.
Balance balance(std::span<const LawPiece> pieces, double load) {
  auto load_at = [](const LawPiece& piece, double p) { return p / piece(p); };
  for (int i = 0; const LawPiece& piece : pieces) {
    bool first = &piece == &pieces.front();
    bool last = &piece == &pieces.back();
    ++i;
    if (!last && load > load_at(piece, piece.to)) continue;
    if (!first && load < load_at(piece, piece.from)) return {piece.from, -i};
    double coefficient = piece.rate / std::pow(piece.at, piece.exponent);
    return {std::pow(coefficient * load, 1 / (1 - piece.exponent)), i};
  }
  return {};
}

struct Sums {
  double time = 0;
  double impulse = 0;
  double pressure_time = 0;

  Sums operator+(const Sums& other) const {
    return {time + other.time, impulse + other.impulse, pressure_time + other.pressure_time};
  }
  Sums times(double factor) const {
    return {time * factor, impulse * factor, pressure_time * factor};
  }
  // Each sum within the one allowed for it.
  Sums or_at_least(const Sums& other) const {
    return {std::max(time, std::abs(other.time)), std::max(impulse, std::abs(other.impulse)),
            std::max(pressure_time, std::abs(other.pressure_time))};
  }
  bool near(const Sums& other, const Sums& allowed) const {
    return std::abs(time - other.time) <= allowed.time &&
           std::abs(impulse - other.impulse) <= allowed.impulse &&
           std::abs(pressure_time - other.pressure_time) <= allowed.pressure_time;
  }
};

// One stretch, by halving: first until one formula holds from end to end, then until both halves
// agree with the whole.
class BruteStretch {
 public:
  BruteStretch(const Motor& motor, const Stretch& stretch)
      : day_(motor.day),
        area_(stretch.area),
        law_(motor.propellant.law_at(motor.day.temperature)),
        thrust_(motor.nozzle, motor.propellant.gamma, motor.propellant.expansion_gamma,
                motor.day.ambient_pressure),
        throat_area_(motor.nozzle.throat_area()),
        per_area_(motor.propellant.density() * motor.propellant.characteristic_velocity /
                  throat_area_) {}

  // The area must not turn between the ends.
  Sums sums(double from, double to) const {
    return halved(from, to, gauss(from, to).times(1e-12), 50);
  }

 private:
  Sums halved(double from, double to, const Sums& allowed, int depth) const {
    double middle = (from + to) / 2;
    bool smooth = at(from).regime == at(to).regime;
    Sums halves = gauss(from, middle) + gauss(middle, to);
    // Under the rounding of the sums themselves halving only costs time. Thrust is pressure times
    // throat area less what ambient takes; where nearly all is taken the difference has the
    // rounding of the product.
    Sums rounding = halves.times(1e-14);
    rounding.impulse = std::max(rounding.impulse, 1e-14 * throat_area_ * halves.pressure_time);
    Sums enough = allowed.or_at_least(rounding);
    if (depth == 0 || (smooth && halves.near(gauss(from, to), enough))) return halves;
    return halved(from, middle, allowed.times(0.5), depth - 1) +
           halved(middle, to, allowed.times(0.5), depth - 1);
  }
  Balance at(double web) const {
    Balance here = balance(law_.pieces(), per_area_ * area_(web));
    if (here.pressure <= day_.ambient_pressure) return {day_.ambient_pressure, 0};
    if (here.pressure < thrust_.separation_pressure()) here.regime += 100;
    if (here.pressure < thrust_.choking_pressure()) here.regime += 1000;
    return here;
  }
  double slowness(double web) const {
    Balance here = at(web);
    return here.regime == 0 ? 1 / law_.rate(here.pressure) : per_area_ * area_(web) / here.pressure;
  }
  Sums gauss(double from, double to) const {
    auto integral = [&](auto function) { return Quadrature::integrate(function, from, to); };
    return {integral([&](double x) { return slowness(x); }),
            integral([&](double x) { return thrust_(at(x).pressure) * slowness(x); }),
            integral([&](double x) { return at(x).pressure * slowness(x); })};
  }

  Day day_;
  Quadratic area_;
  BurnLaw law_;
  ThrustLaw thrust_;
  double throat_area_;
  double per_area_;
};

Sums brute_sums(const Motor& motor) {
  Burnback burnback(motor.grain);
  Sums sums;
  for (const Stretch& stretch : burnback.stretches()) {
    BruteStretch brute(motor, stretch);
    double turn =
        std::clamp(-stretch.area.c[1] / (2 * stretch.area.c[2]), stretch.from, stretch.to);
    if (stretch.area.c[2] == 0) turn = stretch.to;
    sums = sums + brute.sums(stretch.from, turn);
    if (turn < stretch.to) sums = sums + brute.sums(turn, stretch.to);
  }
  return sums;
}

Segment random_segment(double outer) {
  Segment segment{.length = outer * between(0.5, 4),
                  .outer_diameter = outer,
                  .core_diameter = outer * between(0.15, 0.7)};
  for (Face end : {Face::head, Face::nozzle}) {
    if (*rc::gen::inRange(0, 3) == 0) segment.inhibited.insert(end);
  }
  return segment;
}

// Up to five unlike layers.
Grain random_grain() {
  double outer = between(0.02, 0.1);
  Grain grain;
  int layers = *rc::gen::inRange(1, 6);
  for (int i = 0; i < layers; ++i) {
    grain.layers.push_back({random_segment(outer), *rc::gen::inRange(1, 4)});
  }
  return grain;
}

// A grain behind a throat that loads it to some megapascal.
Motor random_motor(const Propellant& propellant, const Grain& grain) {
  Motor motor = whole_motor();
  motor.propellant = propellant;
  motor.grain = grain;
  double throat_area = Burnback(grain).burning_area(0) / between(40, 450);
  motor.nozzle.throat_diameter = std::sqrt(4 / std::numbers::pi * throat_area);
  motor.nozzle.exit_diameter = motor.nozzle.throat_diameter * std::sqrt(between(1, 12));
  motor.nozzle.half_angle = between(0, 0.3);
  motor.nozzle.efficiency = between(0.7, 1);
  return motor;
}

bool agree(double got, double expected, double relative = 1e-9) {
  return std::abs(got - expected) <= relative * std::abs(expected);
}

void sums_agree(const Motor& motor) {
  Sums brute = brute_sums(motor);
  SteadyChamber chamber(motor.propellant, motor.nozzle, motor.day);
  Burnback burnback(motor.grain);
  BurnSums fast = burn_sums(burnback.stretches(), chamber);
  RC_LOG() << "time off by " << fast.time / brute.time - 1 << ", impulse by "
           << fast.impulse / brute.impulse - 1 << "\n";
  RC_ASSERT(agree(fast.time, brute.time));
  Summary summary = steady_summary(burnback, chamber);
  // Thrust of separated flow is no power of the burning area, which the node rules are chosen for.
  bool full = summary.lowest_pressure >= chamber.thrust_law().full_flow_pressure();
  double within = full ? 1e-9 : 2e-8;
  RC_ASSERT(agree(fast.impulse, brute.impulse, within));
  RC_ASSERT(agree(summary.burn_time, brute.time));
  RC_ASSERT(agree(summary.total_impulse, brute.impulse, within));
  RC_ASSERT(agree(summary.mean_pressure * brute.time, brute.pressure_time));
}

}  // namespace

TEST_CASE("burn sums: random motors with a one-piece law") {
  CHECK(rc::check("one-piece law", [] {
    Propellant propellant = whole_motor().propellant;
    propellant.law =
        BurnLaw({{.rate = between(2e-3, 12e-3), .at = 1e6, .exponent = between(-0.2, 0.75)}});
    sums_agree(random_motor(propellant, random_grain()));
  }));
}

TEST_CASE("burn sums: random motors with a five-piece law") {
  CHECK(rc::check("five-piece law",
                  [] { sums_agree(random_motor(five_piece_propellant(), random_grain())); }));
}

TEST_CASE("burn sums: gas made is propellant burned") {
  CHECK(rc::check("integral of P At dt = density c* volume", [] {
    bool five = *rc::gen::arbitrary<bool>();
    Motor motor =
        random_motor(five ? five_piece_propellant() : whole_motor().propellant, random_grain());
    Firing firing = fire_steady(motor);
    // Where pressure rests on ambient the throat passes less than the balance says.
    RC_PRE(firing.summary.lowest_pressure > motor.day.ambient_pressure);
    double gas = firing.summary.mean_pressure * firing.summary.burn_time *
                 motor.nozzle.throat_area() / motor.propellant.characteristic_velocity;
    RC_ASSERT(std::abs(gas / firing.summary.propellant_mass - 1) < 1e-11);
  }));
}

TEST_CASE("burn sums: the order of segments does not matter") {
  CHECK(rc::check("order of segments", [] {
    Motor motor = random_motor(five_piece_propellant(), random_grain());
    Summary before = fire_steady(motor).summary;
    std::reverse(motor.grain.layers.begin(), motor.grain.layers.end());
    Summary after = fire_steady(motor).summary;
    RC_ASSERT(std::abs(after.burn_time / before.burn_time - 1) < 1e-12);
    RC_ASSERT(std::abs(after.total_impulse / before.total_impulse - 1) < 1e-12);
    RC_ASSERT(std::abs(after.peak_pressure / before.peak_pressure - 1) < 1e-12);
  }));
}

TEST_CASE("burn sums: twice as large in every length burns twice as long") {
  // Kn, and with it pressure, keeps its value; areas grow fourfold, impulse eightfold.
  CHECK(rc::check("scaling of lengths", [] {
    Motor motor = random_motor(five_piece_propellant(), random_grain());
    Motor large = motor;
    for (Layer& layer : large.grain.layers) {
      layer.segment.length *= 2;
      layer.segment.outer_diameter *= 2;
      layer.segment.core_diameter *= 2;
    }
    large.nozzle.throat_diameter *= 2;
    large.nozzle.exit_diameter *= 2;
    Summary small_one = fire_steady(motor).summary;
    Summary large_one = fire_steady(large).summary;
    RC_ASSERT(std::abs(large_one.burn_time / small_one.burn_time - 2) < 1e-11);
    RC_ASSERT(std::abs(large_one.total_impulse / small_one.total_impulse - 8) < 1e-10);
    RC_ASSERT(std::abs(large_one.peak_pressure / small_one.peak_pressure - 1) < 1e-12);
  }));
}

TEST_CASE("burn sums: one segment with two bare ends is two halves with one") {
  CHECK(rc::check("a bare-ended segment is two mirrored halves", [] {
    Segment segment = random_segment(0.05);
    segment.inhibited = {Face::outer};
    Motor whole = random_motor(whole_motor().propellant, {.layers = {{segment, 1}}});
    Motor halves = whole;
    segment.length /= 2;
    segment.inhibited = {Face::outer, Face::head};
    halves.grain.layers = {{segment, 2}};
    Summary one = fire_steady(whole).summary;
    Summary two = fire_steady(halves).summary;
    RC_ASSERT(std::abs(two.burn_time / one.burn_time - 1) < 1e-12);
    RC_ASSERT(std::abs(two.total_impulse / one.total_impulse - 1) < 1e-12);
  }));
}
