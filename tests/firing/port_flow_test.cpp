// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/firing/port_flow.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "grainwright/motor/gas.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using checks::absolute;
using checks::closed_form;
using checks::expect;
using checks::from_memory;
using checks::relative;

namespace {

constexpr double area = 1e-3;
constexpr double head = 3e6;
constexpr double heat = 900e3;

double flow_at(double mach, double pressure, double gamma) {
  return pressure * area * mach * std::sqrt(gamma * (1 + (gamma - 1) / 2 * mach * mach) / heat);
}

// The most that a port closed at the head can gather.
double sonic_flow(double gamma) {
  return flow_at(1, head / (1 + gamma), gamma);
}

// Gas added at rest all along a port that is closed at the head.
Stream port_with(double gamma, double flow, int steps = 1) {
  Stream stream{area, 0, head, 0};
  for (int i = 0; i < steps; ++i) stream = *after_adding({gamma, heat}, stream, flow / steps);
  return stream;
}

}  // namespace

TEST_CASE("a port that gathers gas follows simple mass addition") {
  const std::string source =
      from_memory("Shapiro, Compressible Fluid Flow, vol. 1, simple mass addition") +
      ", equal to Rayleigh flow's functions";
  struct Row {
    double gamma, mach, pressure, stagnation, to_sonic, stagnation_to_sonic, flow;
  };
  for (const Row& row : {Row{1.4, .1, .986193, .993114, 2.36686, 1.25915, .21628},
                         {1.4, .2, .946970, .973751, 2.27273, 1.23460, .41660},
                         {1.4, .3, .888099, .945320, 2.13144, 1.19855, .58895},
                         {1.4, .5, .740741, .878676, 1.77778, 1.11405, .83148},
                         {1.4, .8, .527426, .803977, 1.26582, 1.01934, .98181},
                         {1.2, .1, .988142, .994086, 2.17391, 1.23450, .20738},
                         {1.2, .2, .954198, .977329, 2.09924, 1.21369, .40111},
                         {1.2, .3, .902527, .952373, 1.98556, 1.18270, .57050},
                         {1.2, .5, .769231, .892072, 1.69231, 1.10781, .81680},
                         {1.2, .8, .565611, .820668, 1.24434, 1.01914, .97905}}) {
    const double flow = flow_at(row.mach, head / (1 + row.gamma * row.mach * row.mach), row.gamma);
    const Stream stream = port_with(row.gamma, flow);
    const std::string at = " at Mach " + std::to_string(row.mach).substr(0, 3) + ", gamma " +
                           std::to_string(row.gamma).substr(0, 3);
    expect("Mach number of the gathered flow" + at, source, row.mach, stream.mach, relative(4e-6));
    expect("p / p head" + at, source, row.pressure, stream.pressure / head, absolute(6e-7));
    expect("p0 / p head" + at, source, row.stagnation,
           stagnation_pressure({row.gamma, heat}, stream) / head, absolute(6e-7));
    const double most = sonic_flow(row.gamma);
    const Stream sonic = port_with(row.gamma, most * (1 - 1e-13));
    expect("p / p where it chokes" + at, source, row.to_sonic, stream.pressure / sonic.pressure,
           absolute(8e-6));
    expect("p0 / p0 where it chokes" + at, source, row.stagnation_to_sonic,
           stagnation_pressure({row.gamma, heat}, stream) /
               stagnation_pressure({row.gamma, heat}, sonic),
           absolute(6e-6));
    expect("flow / flow where it chokes" + at, source, row.flow, flow / most, absolute(6e-6));
    // In one step or in many: the formula is exact.
    CHECK(port_with(row.gamma, flow, 7).pressure == Approx(stream.pressure).epsilon(1e-13));
  }
}

TEST_CASE("a port chokes at the flow that the closed form says") {
  struct Row {
    double gamma, critical, stagnation;
  };
  const std::string source =
      from_memory("Shapiro, Compressible Fluid Flow, vol. 1, simple mass addition");
  for (const auto& [gamma, critical, stagnation] :
       {Row{1.4, .416667, .788720}, Row{1.2, .454545, .805255}}) {
    const double most = sonic_flow(gamma);
    const Stream stream{area, 0, head, 0};
    CHECK_FALSE(after_adding({gamma, heat}, stream, 1.00001 * most).has_value());
    const auto sonic = after_adding({gamma, heat}, stream, most * (1 - 1e-13));
    REQUIRE(sonic);
    const std::string at = " where a port chokes, gamma " + std::to_string(gamma).substr(0, 3);
    expect("p / p head" + at, source, critical, sonic->pressure / head, absolute(2e-6));
    expect("p0 / p head" + at, source, stagnation,
           stagnation_pressure({gamma, heat}, *sonic) / head, absolute(6e-7));
    CHECK_FALSE(after_entering({gamma, heat}, {.flow = 1.0, .pressure = head}, 1e-9, 0));
  }
}

TEST_CASE("a narrowing keeps the stagnation pressure and follows the area ratio") {
  const std::string source = "NACA Report 1135 (1953), equation 80; derived";
  const std::array ratios = {1.25, 1.5, 2., 2.5, 3., 4., 6.};
  struct Row {
    double gamma;
    std::array<double, 7> mach;
  };
  for (const Row& row : {Row{1.2, {.5619, .4382, .3122, .2447, .2018, .1498, .0992}},
                         Row{1.14, {.5646, .4407, .3142, .2464, .2032, .1509, .0999}},
                         Row{1.4, {.5533, .4303, .3059, .2395, .1974, .1465, .0970}}}) {
    const PortGas gas{row.gamma, heat};
    for (std::size_t i = 0; i < ratios.size(); ++i) {
      // A port of `ratio` times the throat: the flow that chokes the throat.
      const double flow =
          head * area / ratios[i] * choked_flow_function(row.gamma) / std::sqrt(heat);
      const auto stream = after_entering(gas, {.flow = flow, .pressure = head}, area, 0);
      REQUIRE(stream);
      expect("port Mach number, port / throat " + std::to_string(ratios[i]).substr(0, 4) +
                 ", gamma " + std::to_string(row.gamma).substr(0, 4),
             source, row.mach[i], stream->mach, absolute(6e-5));
      CHECK(stagnation_pressure(gas, *stream) == Approx(head).epsilon(1e-13));
    }
  }
}

TEST_CASE("a sudden widening loses as Borda and Carnot say when the flow is slow") {
  const PortGas gas{1.2, heat};
  const double mach = 0.02;
  const Stream narrow{area, flow_at(mach, head, 1.2), head, mach};
  const auto wide = after_entering(gas, narrow, 4 * area, 0);
  REQUIRE(wide);
  const double dynamic = 1.2 * mach * mach * head;  // rho v^2
  const std::string source =
      "closed form, Borda-Carnot: rho v^2 b (1 - b) and rho v^2 (1 - b)^2 / 2";
  // As of 1000 kg/m3 at 4 m/s.
  const double to_water = 16000 / dynamic;
  expect("pressure rise, areas 1 to 4, rho v^2 of 16 kPa, Pa", source, 3000,
         (wide->pressure - head) * to_water, relative(1e-3));
  expect("stagnation loss, areas 1 to 4, rho v^2 of 16 kPa, Pa", source, 4500,
         (stagnation_pressure(gas, narrow) - stagnation_pressure(gas, *wide)) * to_water,
         relative(1e-3));
}

TEST_CASE("a slight change of area is isentropic to the third order") {
  const PortGas gas{1.2, heat};
  const Stream stream{area, flow_at(0.3, head, 1.2), head, 0.3};
  const auto loss = [&](double share) {
    const auto eased = after_easing(gas, stream, area * (1 + share));
    return std::abs(stagnation_pressure(gas, *eased) / stagnation_pressure(gas, stream) - 1);
  };
  CHECK(loss(0.04) / loss(0.02) == Approx(8).epsilon(0.1));
  CHECK(loss(0.02) < 1e-6);
}

TEST_CASE("gas at rest stays at rest until it enters a port") {
  const PortGas gas{1.2, heat};
  const auto more = after_adding(gas, {.pressure = head}, 0.1);
  REQUIRE(more);
  CHECK(more->mach == 0);
  CHECK(more->flow == 0.1);
  CHECK(stagnation_pressure(gas, *more) == head);
}
