// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/workshop/cut_list.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <string>

#include "grainwright/error.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using checks::closed_form;
using std::numbers::pi;

namespace {

Propellant made_up() {
  return {.name = "invented",
          .ideal_density = 1800,
          .density_ratio = 0.95,
          .characteristic_velocity = 900,
          .gamma = 1.13,
          .expansion_gamma = 1.04,
          .law = BurnLaw({{.rate = 0.008, .exponent = 0.3}}),
          .formula = {{"first", 0.65}, {"second", 0.35}}};
}

// Three cored segments behind a shorter solid one.
Grain stack() {
  return {{{{0.020, 0.050, 0, {Face::outer, Face::head}}, 1}, {{0.085, 0.050, 0.020}, 3}}, 0.002};
}

WorkshopOptions workshop() {
  return {.grain_room = 0.300,
          .kerf = 0.001,
          .tube_stock = 0.200,
          .waste = 0.08,
          .length_tolerance = 0.0005,
          .density_tolerance = 0.02,
          .mandrel_grip = 0.015};
}

bool remarked(const CutList& list, const std::string& words) {
  return std::ranges::any_of(list.remarks, [&](const std::string& remark) {
    return remark.find(words) != std::string::npos;
  });
}

void expect(const std::string& what, double expected, double got) {
  checks::expect(what, closed_form, expected, got, checks::relative(1e-12));
}

}  // namespace

TEST_CASE("A cut list says what to cut") {
  const CutList list = cut_list(stack(), made_up(), workshop());
  REQUIRE(list.pieces.size() == 2);
  const CutPiece& solid = list.pieces[0];
  CHECK(solid.count == 1);
  CHECK(solid.segment == stack().layers[0].segment);
  CHECK(solid.tube_length == 0.020);
  CHECK(solid.propellant_length == 0.020);
  CHECK(solid.mandrel_length == 0);
  const CutPiece& cored = list.pieces[1];
  CHECK(cored.count == 3);
  CHECK(cored.tube_length == 0.085);
  CHECK(cored.mandrel_length == Approx(0.115).epsilon(1e-14));
  CHECK(list.spacers == 3);
  CHECK(list.spacer == 0.002);
  CHECK(list.stack_length == Approx(0.281).epsilon(1e-14));
  CHECK(list.grain_room == 0.300);
  CHECK(list.room_left == Approx(0.019).epsilon(1e-12));
  CHECK(list.remarks.empty());
  CHECK(cut_list({{{{0.085, 0.050, 0.020}, 3}}, 0}, made_up(), workshop()).spacers == 0);
}

TEST_CASE("A cut list says what to weigh") {
  const CutList list = cut_list(stack(), made_up(), workshop());
  const double section = pi / 4 * (0.050 * 0.050 - 0.020 * 0.020);
  const CutPiece& cored = list.pieces[1];
  expect("mass of a segment 50 x 20 x 85 mm at 1710 kg/m3, kg", 1710 * section * 0.085, cored.mass);
  expect("the lightest to accept, 0.5 mm short and 2 % light, kg", 1710 * 0.98 * section * 0.0845,
         cored.lightest);
  expect("the heaviest to accept, 0.5 mm long and 2 % heavy, kg", 1710 * 1.02 * section * 0.0855,
         cored.heaviest);
  const double solid = 1710 * pi / 4 * 0.050 * 0.050 * 0.020;
  expect("mass of a solid segment 50 x 20 mm, kg", solid, list.pieces[0].mass);
  const double mass = solid + 3 * 1710 * section * 0.085;
  expect("mass of the grain, kg", mass, list.propellant_mass);
  expect("batch with 8 % left in the pot, kg", mass / 0.92, list.batch);
  REQUIRE(list.portions.size() == 2);
  CHECK(list.portions[0].name == "first");
  expect("first portion of the batch, kg", 0.65 * mass / 0.92, list.portions[0].mass);
  expect("second portion of the batch, kg", 0.35 * mass / 0.92, list.portions[1].mass);
}

TEST_CASE("The saw plan counts segments head end first") {
  const CutList list = cut_list(stack(), made_up(), workshop());
  REQUIRE(list.saw_plan.has_value());
  // Two of 85 mm and the one of 20 mm need 192 mm with their kerfs.
  CHECK(list.saw_plan->tubes.size() == 2);
  std::vector<std::size_t> all;
  for (const auto& tube : list.saw_plan->tubes) {
    for (std::size_t i : tube) all.push_back(i);
  }
  std::ranges::sort(all);
  CHECK(all == std::vector<std::size_t>{0, 1, 2, 3});
  CHECK(list.saw_plan->left_over == Approx(0.400 - 0.275 - 0.002).epsilon(1e-9));
}

TEST_CASE("What stands in the way is remarked") {
  const auto with = [](auto change) {
    WorkshopOptions options = workshop();
    change(options);
    return cut_list(stack(), made_up(), options);
  };
  const CutList over = with([](WorkshopOptions& o) { o.grain_room = 0.27465; });
  CHECK(remarked(over, "longer than the grain room by 6.35 mm"));
  CHECK(over.room_left == Approx(-0.00635).epsilon(1e-9));
  CHECK(remarked(with([](WorkshopOptions& o) { o.grain_room = 0.2825; }),
                 "not when every segment comes out long"));
  CHECK(with([](WorkshopOptions& o) { o.grain_room = 0.283; }).remarks.empty());
  const CutList exact = with([](WorkshopOptions& o) {
    o.grain_room = 0.281;
    o.length_tolerance = 0;
  });
  CHECK(exact.remarks.empty());
  const CutList unknown_room = with([](WorkshopOptions& o) { o.grain_room = 0; });
  CHECK(remarked(unknown_room, "grain room is not known"));
  CHECK(unknown_room.room_left == 0);
  const CutList no_stock = with([](WorkshopOptions& o) { o.tube_stock = 0; });
  CHECK(remarked(no_stock, "stock tube is not known"));
  CHECK_FALSE(no_stock.saw_plan.has_value());
  const CutList short_stock = with([](WorkshopOptions& o) { o.tube_stock = 0.0849; });
  CHECK(remarked(short_stock, "The longest segment, 85 mm, cannot be cut"));
  CHECK_FALSE(short_stock.saw_plan.has_value());
  Propellant secret = made_up();
  secret.formula.clear();
  const CutList undivided = cut_list(stack(), secret, workshop());
  CHECK(undivided.portions.empty());
  CHECK(remarked(undivided, "formula is not known"));
}

TEST_CASE("A cut list keeps its sums") {
  CHECK(rc::check("random stacks", [] {
    Grain grain;
    grain.spacer = *rc::gen::inRange(0, 5) * 1e-3;
    for (int i = *rc::gen::inRange(1, 5); i > 0; --i) {
      const double core = *rc::gen::inRange(5, 45) * 1e-3;
      grain.layers.push_back(
          {{*rc::gen::inRange(20, 200) * 1e-3, 0.050, core}, *rc::gen::inRange(1, 4)});
    }
    const CutList list = cut_list(grain, made_up(), workshop());
    double mass = 0;
    int count = 0;
    for (const CutPiece& piece : list.pieces) {
      RC_ASSERT(piece.lightest < piece.mass);
      RC_ASSERT(piece.mass < piece.heaviest);
      mass += piece.count * piece.mass;
      count += piece.count;
    }
    const double expected = made_up().density() * grain.propellant_volume();
    RC_ASSERT(std::abs(mass - expected) <= 1e-12 * expected);
    double portions = 0;
    for (const Portion& portion : list.portions) portions += portion.mass;
    RC_ASSERT(std::abs(portions - list.batch) <= 1e-12 * portions);
    RC_ASSERT(std::abs(list.batch * 0.92 - mass) <= 1e-12 * mass);
    if (list.saw_plan) {
      std::size_t cut = 0;
      for (const auto& tube : list.saw_plan->tubes) cut += tube.size();
      RC_ASSERT(cut == static_cast<std::size_t>(count));
    }
  }));
}

TEST_CASE("A cut list refuses what makes no sense") {
  const auto refused = [](const Grain& grain, const WorkshopOptions& options) {
    try {
      static_cast<void>(cut_list(grain, made_up(), options));
    } catch (const InputError& error) {
      return error.complaints().front().key;
    }
    return std::string("nothing");
  };
  const auto with = [&](double WorkshopOptions::*field, double value) {
    WorkshopOptions options = workshop();
    options.*field = value;
    return refused(stack(), options);
  };
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double infinite = std::numeric_limits<double>::infinity();
  for (double bad : {-0.001, nan, infinite}) {
    CHECK(with(&WorkshopOptions::grain_room, bad) == "grain_room");
    CHECK(with(&WorkshopOptions::kerf, bad) == "kerf");
    CHECK(with(&WorkshopOptions::tube_stock, bad) == "tube_stock");
    CHECK(with(&WorkshopOptions::waste, bad) == "waste");
    CHECK(with(&WorkshopOptions::length_tolerance, bad) == "length_tolerance");
    CHECK(with(&WorkshopOptions::density_tolerance, bad) == "density_tolerance");
    CHECK(with(&WorkshopOptions::mandrel_grip, bad) == "mandrel_grip");
  }
  CHECK(with(&WorkshopOptions::waste, 1) == "waste");
  CHECK(with(&WorkshopOptions::length_tolerance, 0.020) == "length_tolerance");
  CHECK(refused({}, workshop()) == "segment");
  CHECK(refused({{{{0.085, 0.050, 0.060}, 1}}, 0}, workshop()) == "segment 1: core");
  CHECK(refused({{{{0.085, 0.050, 0.020}, 2'000'000'000}}, 0}, workshop()) == "segment");
  Propellant weightless = made_up();
  weightless.ideal_density = 0;
  CHECK_THROWS_AS(cut_list(stack(), weightless, workshop()), InputError);
}
