// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/firing/port_flow.hpp"

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
    double gamma, mach, pressure, stagnation;
  };
  for (const Row& row : {Row{1.4, .1, .986193, .993114},
                         {1.4, .2, .946970, .973751},
                         {1.4, .3, .888099, .945320},
                         {1.4, .5, .740741, .878676},
                         {1.4, .8, .527426, .803977},
                         {1.2, .1, .988142, .994086},
                         {1.2, .2, .954198, .977329},
                         {1.2, .3, .902527, .952373},
                         {1.2, .5, .769231, .892072},
                         {1.2, .8, .565611, .820668}}) {
    const double flow = flow_at(row.mach, head / (1 + row.gamma * row.mach * row.mach), row.gamma);
    const Stream stream = port_with(row.gamma, flow);
    const std::string at = " at Mach " + std::to_string(row.mach).substr(0, 3) + ", gamma " +
                           std::to_string(row.gamma).substr(0, 3);
    expect("Mach number of the gathered flow" + at, source, row.mach, stream.mach, relative(4e-6));
    expect("p / p head" + at, source, row.pressure, stream.pressure / head, absolute(6e-7));
    expect("p0 / p head" + at, source, row.stagnation,
           stagnation_pressure({row.gamma, heat}, stream) / head, absolute(6e-7));
    // In one step or in many: the formula is exact.
    CHECK(port_with(row.gamma, flow, 7).pressure == Approx(stream.pressure).epsilon(1e-13));
  }
}

TEST_CASE("a port chokes at the flow that the closed form says") {
  for (const auto& [gamma, critical] : {std::pair{1.4, .416667}, {1.2, .454545}}) {
    const double most = flow_at(1, critical * head, gamma);
    const Stream stream{area, 0, head, 0};
    CHECK(after_adding({gamma, heat}, stream, 0.99999 * most).has_value());
    CHECK_FALSE(after_adding({gamma, heat}, stream, 1.00001 * most).has_value());
    CHECK_FALSE(after_entering({gamma, heat}, {.flow = 1.0, .pressure = head}, 1e-9, 0));
  }
}

TEST_CASE("a narrowing keeps the stagnation pressure and follows the area ratio") {
  const PortGas gas{1.2, heat};
  const std::string source = "NACA Report 1135 (1953), equation 80; derived";
  for (const auto& [ratio, mach] : {std::pair{1.25, .5619},
                                    {1.5, .4382},
                                    {2., .3122},
                                    {2.5, .2447},
                                    {3., .2018},
                                    {4., .1498},
                                    {6., .0992}}) {
    // A port of `ratio` times the throat: the flow that chokes the throat.
    const double flow = head * area / ratio * choked_flow_function(1.2) / std::sqrt(heat);
    const auto stream = after_entering(gas, {.flow = flow, .pressure = head}, area, 0);
    REQUIRE(stream);
    expect("port Mach number, port / throat " + std::to_string(ratio).substr(0, 4) + ", gamma 1.2",
           source, mach, stream->mach, absolute(6e-5));
    CHECK(stagnation_pressure(gas, *stream) == Approx(head).epsilon(1e-13));
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
  expect("pressure rise / rho v^2, areas 1 to 4", source, 0.25 * 0.75,
         (wide->pressure - head) / dynamic, relative(1e-3));
  expect("stagnation loss / rho v^2, areas 1 to 4", source, 0.75 * 0.75 / 2,
         (stagnation_pressure(gas, narrow) - stagnation_pressure(gas, *wide)) / dynamic,
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
