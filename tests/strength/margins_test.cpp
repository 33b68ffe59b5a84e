// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/strength/margins.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "grainwright/firing/prepared_motor.hpp"
#include "grainwright/motor/casing.hpp"
#include "heat.hpp"
#include "motors.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using namespace motors;

namespace {

const PartMargin& part(const Margins& margins, std::string_view name) {
  const auto found = std::ranges::find(margins.parts, name, &PartMargin::part);
  REQUIRE(found != margins.parts.end());
  return *found;
}

const ModeMargin& mode(const PartMargin& part, std::string_view name) {
  const auto found = std::ranges::find(part.modes, name, &ModeMargin::mode);
  REQUIRE(found != part.modes.end());
  return *found;
}

/// A shell that does not feel heat.
Shell cold_shell() {
  Shell cold = shell();
  cold.coefficient = 1e-9;
  return cold;
}

std::vector<std::string> keys_of(const std::vector<Complaint>& complaints) {
  std::vector<std::string> keys;
  for (const Complaint& complaint : complaints) keys.push_back(complaint.key);
  return keys;
}

}  // namespace

TEST_CASE("Cold, each ratio is capacity over the load of the peak") {
  const Curve curve = steady(motor());
  const Margins found = margins(cold_shell(), motor(), curve);
  const double peak = std::ranges::max(curve.pressure);
  const double gauge = peak - standard_atmosphere;
  const double area = std::numbers::pi / 4 * std::pow(41 * mm, 2);
  const std::string balance = "closed form, balance of forces";
  checks::expect("pipe: burst over pressure", "closed form, 2 S t/(D - t)/p",
                 2 * 44e6 * 3.65 / (48.3 - 3.65) / gauge,
                 mode(part(found, "pipe under the grain"), "short-time burst").ratio,
                 checks::relative(1e-9));
  checks::expect("head: bond over end load", balance,
                 std::numbers::pi * 41 * mm * 25 * mm * 6.2e6 / (gauge * area),
                 part(found, "head closure").weakest().ratio, checks::relative(1e-9));
  double seat_load = 0;
  for (std::size_t i = 0; i < curve.time.size(); ++i) {
    seat_load =
        std::max(seat_load, (curve.pressure[i] - standard_atmosphere) * area - curve.thrust[i]);
  }
  checks::expect("nozzle seat: pins' shear over end load less thrust", balance,
                 6 * std::numbers::pi / 4 * 16e-6 * 300e6 / seat_load,
                 mode(part(found, "nozzle seat"), "shear of the pins").ratio,
                 checks::relative(1e-9));
  const ModeMargin& seat = part(found, "nozzle seat").weakest();
  checks::expect("nozzle seat: load and thrust over the pressure's end load", balance, 1,
                 (seat.load + seat.thrust) / (gauge * area), checks::relative(1e-9));
  CHECK(part(found, "head closure").weakest().thrust == 0);
  for (const PartMargin& each : found.parts) {
    CHECK(each.heat.greatest == Approx(293.15).margin(1e-3));
    for (const ModeMargin& way : each.modes) CHECK(way.ratio == Approx(way.cold_ratio));
  }
}

TEST_CASE("Parts and modes come weakest first") {
  const Margins found = margins(shell(), motor(), steady(motor()));
  CHECK(std::ranges::is_sorted(found.parts, {},
                               [](const PartMargin& p) { return p.weakest().ratio; }));
  for (const PartMargin& each : found.parts) {
    CHECK(std::ranges::is_sorted(each.modes, {}, &ModeMargin::ratio));
  }
  CHECK(found.ratio() == found.weakest().weakest().ratio);
  CHECK(found.parts.size() == 4);
}

TEST_CASE("A bond behind bare gas is as hot as the closed form says") {
  Shell bare = shell();
  bare.head->protection.clear();
  bare.head->coefficient = 500;
  const Curve curve = steady(motor());
  const Margins found = margins(bare, motor(), curve);
  const double burnout = curve.time.back();
  checks::expect("face of a bare PVC closure at burnout, K",
                 "closed form, Carslaw & Jaeger, Conduction of Heat in Solids, 2.7",
                 heat::heated(heat::pvc, 1600, 500, 0, burnout),
                 part(found, "head closure").heat.at_burnout, checks::absolute(1));
}

TEST_CASE("Heat only weakens, more of it more, and protection only helps") {
  const Curve curve = steady(motor());
  double last = 0;
  for (double thickness : {0.5, 1.0, 2.0, 4.0, 8.0}) {
    Shell changed = shell();
    changed.head->protection = {{mortar(), thickness * mm}};
    const double ratio = part(margins(changed, motor(), curve), "head closure").weakest().ratio;
    CHECK(ratio >= last);
    last = ratio;
  }
  const Margins cold = margins(cold_shell(), motor(), curve);
  CHECK(last <= part(cold, "head closure").weakest().ratio * (1 + 1e-12));
  Shell hot = shell();
  hot.coefficient = 5000;
  const Margins hotter = margins(hot, motor(), curve);
  for (const PartMargin& each : cold.parts) {
    CHECK(part(hotter, each.part).weakest().ratio <= each.weakest().ratio);
  }
}

TEST_CASE("A joint goes on warming after the gas has gone") {
  const Margins found = margins(shell(), motor(), steady(motor()));
  const PartHeat& heat = part(found, "head closure").heat;
  CHECK(heat.at_burnout < 300);
  CHECK(heat.greatest > heat.at_burnout + 20);
  CHECK(heat.greatest_at > 5);
}

TEST_CASE("The pipe's liner is bare from lighting at burning ends, else from burn-through") {
  const Margins found = margins(shell(), motor(), steady(motor()));
  CHECK(part(found, "pipe at the bare ends").weakest().ratio <=
        part(found, "pipe under the grain").weakest().ratio);
  CHECK(part(found, "pipe at the bare ends").heat.at_burnout >
        part(found, "pipe under the grain").heat.at_burnout);
  Motor closed = motor();
  closed.grain.layers[0].segment.inhibited = {Face::outer, Face::head, Face::nozzle};
  const Margins without = margins(shell(), closed, steady(closed));
  CHECK(without.parts.size() == 3);
}

TEST_CASE("The allowed pressure is the peak that brings the weakest ratio to the factor") {
  const Curve curve = steady(motor());
  const Margins found = margins(cold_shell(), motor(), curve);
  const double gauge = std::ranges::max(curve.pressure) - standard_atmosphere;
  CHECK(found.allowed_pressure - standard_atmosphere == Approx(gauge * found.ratio() / 2));
  Curve scaled = curve;
  const double by = found.ratio() / found.factor;
  for (std::size_t i = 0; i < curve.time.size(); ++i) {
    scaled.pressure[i] = standard_atmosphere + by * (curve.pressure[i] - standard_atmosphere);
    scaled.thrust[i] *= by;
  }
  CHECK(margins(cold_shell(), motor(), scaled).ratio() == Approx(found.factor));
}

TEST_CASE("The cold ceiling is the weakest part over the factor") {
  const Shell held = shell();
  const ColdCeiling ceiling = cold_ceiling(held, standard_atmosphere);
  const double area = std::numbers::pi / 4 * std::pow(41 * mm, 2);
  const double bond = std::numbers::pi * 41 * mm * 25 * mm * 6.2e6 / area;
  const double burst = 2 * 44e6 * 3.65 / (48.3 - 3.65);
  CHECK(ceiling.pressure <= standard_atmosphere + std::min(bond, burst) / 2 + 1);
  Shell only_pipe = held;
  only_pipe.head.reset();
  only_pipe.nozzle.reset();
  const ColdCeiling pipe = cold_ceiling(only_pipe, 0);
  CHECK(pipe.part == "pipe");
  CHECK(pipe.mode == "short-time burst");
  CHECK(pipe.pressure == Approx(burst / 2));
  only_pipe.factor = 4;
  CHECK(cold_ceiling(only_pipe, 0).pressure == Approx(burst / 4));
}

TEST_CASE("A metal pipe yields at its bore before it yields through and bursts") {
  Shell metal = cold_shell();
  metal.material = {.name = "metal",
                    .conductivity = 167,
                    .density = 2700,
                    .specific_heat = 896,
                    .yield = 241e6,
                    .ultimate = 290e6,
                    .shear = 200e6,
                    .bearing = 600e6};
  metal.head.reset();
  metal.nozzle.reset();
  const Margins found = margins(metal, motor(), steady(motor()));
  std::vector<std::string> ways;
  for (const ModeMargin& way : found.weakest().modes) ways.push_back(way.mode);
  CHECK(ways == std::vector<std::string>{"yield at the bore", "yield through the wall", "burst"});
}

TEST_CASE("Materials speak up: their cautions, and strengths that heat is not known to take") {
  const Margins found = margins(shell(), motor(), steady(motor()));
  CHECK(std::ranges::count(found.remarks, "Plastic shatters.") == 1);
  CHECK(std::ranges::any_of(found.remarks, [](const std::string& remark) {
    return remark.find("steel") != std::string::npos;
  }));
}

TEST_CASE("Steps of the trade: one pour bursts, loses an end, or is marginal by its throat") {
  // A builder's account: 7.5 in long, 1/2 in core, both ends bare, in 1-1/2 in schedule 40; burst
  // with a 20/64 in throat, lost an end with 22/64, was marginal late in the burn with 24/64.
  constexpr double inch = 0.0254;
  const PipeSize pipe = *find_pipe("1-1/2 sch 40");
  const double burst = hoop_pressure({pipe.outer_diameter, pipe.least_wall}, 6400 * 6894.757);
  const BurnLaw sucrose({{.rate = 8.26e-3, .at = 1e6, .exponent = 0.319}});
  std::vector<double> ratios;
  for (int throat : {20, 22, 24}) {
    Motor pour = motor();
    pour.grain = {{{{7.5 * inch, 1.45 * inch, 0.5 * inch}, 1}}, 0};
    pour.propellant.law = sucrose;
    pour.propellant.characteristic_velocity = 919;
    pour.propellant.ideal_density = 1889;
    pour.nozzle = {.throat_diameter = throat * inch / 64, .exit_diameter = throat * inch / 64};
    const Summary summary = fire_steady(pour).summary;
    ratios.push_back((summary.peak_pressure - standard_atmosphere) / burst);
    const double low = throat == 20 ? 1.0 : 0.6;
    const double high = throat == 20 ? 1.9 : 1.4;
    checks::expect(fmt::format("peak over short-time burst, {}/64 in throat, a band", throat),
                   checks::common_practice, (low + high) / 2, ratios.back(),
                   checks::absolute((high - low) / 2));
    CHECK(summary.peak_pressure > 1.5 * summary.initial_pressure);  // late in the burn
  }
  CHECK(ratios[0] > ratios[1]);
  CHECK(ratios[1] > ratios[2]);
}

TEST_CASE("Shells that cannot be are refused by key") {
  const auto refused = [](auto change) {
    Shell changed = shell();
    change(changed);
    return keys_of(complaints(changed, motor()));
  };
  using Keys = std::vector<std::string>;
  CHECK(refused([](Shell&) {}).empty());
  CHECK(refused([](Shell& s) { s.factor = 0; }) == Keys{"limits.factor"});
  CHECK(refused([](Shell& s) { s.liner[0].thickness = -1 * mm; }) == Keys{"casing.tube_material"});
  CHECK(refused([](Shell& s) { s.head->protection[0].thickness = -1 * mm; }) ==
        Keys{"closure.head.protection"});
  CHECK(refused([](Shell& s) { s.head->thickness = 20 * mm; }) == Keys{"closure.head.bond_length"});
  CHECK(refused([](Shell& s) { s.nozzle->seal_diameter = 0; }) ==
        Keys{"closure.nozzle.seal_diameter"});
  CHECK(refused([](Shell& s) { std::get<PinnedJoint>(s.nozzle->joint).count = 60; }) ==
        Keys{"closure.nozzle.pins"});
  CHECK(refused([](Shell& s) { s.material.burst_stress = 0; }) == Keys{"casing.material"});
  CHECK(refused([](Shell& s) { s.material.conductivity = 0; }) == Keys{"casing.material"});
  CHECK(refused([](Shell& s) {
          s.grain_room = 100 * mm;
          s.length = 150 * mm;
        }) == Keys{"casing.length"});
  CHECK(refused([](Shell& s) { s.tube.wall = 30 * mm; }) == Keys{"casing.wall"});
  Motor unknown = motor();
  unknown.propellant.flame_temperature = 0;
  CHECK(keys_of(complaints(shell(), unknown)) == Keys{"heat.gas_temperature"});
  CHECK_THROWS_AS(margins(shell(), motor(), Curve{}), InputError);
}
