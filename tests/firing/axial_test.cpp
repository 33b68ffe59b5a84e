// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/firing/axial.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "firing/motors.hpp"
#include "grainwright/error.hpp"
#include "grainwright/firing/prepared_motor.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using checks::absolute;
using checks::expect;
using checks::from_memory;
using checks::relative;

namespace {

const std::string source =
    "closed form; " + from_memory("Shapiro, Compressible Fluid Flow, vol. 1, simple mass addition");

// Head pressure over nozzle stagnation pressure at lighting, less 1.
double head_excess(const Motor& motor, AxialOptions options = {}) {
  const Firing firing = fire_axial(motor, options);
  return firing.curve.pressure.front() / firing.axial->nozzle_pressure.front() - 1;
}

Motor eroding(double port_to_throat) {
  Motor motor = motors::mono_core(port_to_throat);
  motor.grain.layers.front().segment.inhibited = {Face::outer};
  motor.propellant.erosion = Erosion{.alpha = 6e-5, .beta = 53};
  return motor;
}

}  // namespace

TEST_CASE("a uniform port has the head pressure of its closed form") {
  // Rate independent of pressure: gas joins evenly along the port.
  struct Row {
    double ratio, mach, share, excess;
  };
  for (const Row& row : {Row{1.25, .561942, .873914, 14.428},
                         {1.5, .438210, .910973, 9.773},
                         {2, .312237, .948924, 5.383},
                         {3, .201803, .976942, 2.360},
                         {4, .149843, .986956, 1.322},
                         {6, .099206, .994178, .586}}) {
    const Firing firing = fire_axial(motors::mono_core(row.ratio, 0));
    const std::string at = ", port / throat " + std::to_string(row.ratio).substr(0, 4);
    const double excess = head_excess(motors::mono_core(row.ratio, 0));
    expect("Mach number at the end of a uniform port" + at, source, row.mach,
           firing.axial->port_mach.front(), absolute(1e-6));
    expect("nozzle stagnation over head pressure" + at, source, row.share, 1 / (1 + excess),
           absolute(1e-6));
    expect("head over nozzle stagnation pressure, %" + at, source, row.excess, excess * 100,
           absolute(6e-4));
  }
  // Close to a port that is the throat, where the gas gets to Mach 1.
  expect("head over nozzle stagnation pressure, %, port / throat 1", source, 24.184,
         head_excess(motors::mono_core(1 + 1e-9, 0)) * 100, absolute(3e-2));
}

TEST_CASE("a uniform port has its closed form for another gas too") {
  for (const auto& [ratio, excess] :
       {std::pair{1.5, 9.364}, {2., 5.155}, {3., 2.260}, {4., 1.266}}) {
    Motor motor = motors::mono_core(ratio, 0);
    motor.propellant.gamma = 1.13;
    expect("head over nozzle stagnation pressure, %, gamma 1.13, port / throat " +
               std::to_string(ratio).substr(0, 4),
           source, excess, head_excess(motor) * 100, absolute(6e-4));
  }
}

TEST_CASE("along a uniform port pressure and Mach number follow the closed form") {
  struct Row {
    int slices;  // whose number i has its middle at `where` of the length
    std::size_t i;
    double where, mach, pressure, speed;
  };
  for (const auto& [slices, i, where, mach, pressure, speed] :
       {Row{2, 0, 0.25, .070626, .994050, .227237}, Row{1, 0, 0.5, .143782, .975792, .462253},
        Row{2, 1, 0.75, .222651, .943852, .714782}}) {
    const Firing firing = fire_axial(motors::mono_core(2, 0), {.slices = slices});
    const PortProfile& port = firing.axial->profiles.front();
    const std::string at = " at " + std::to_string(where).substr(0, 4) + " of the length";
    REQUIRE(port.position.size() == static_cast<std::size_t>(slices));
    CHECK(port.position[i] == Approx(where * 0.4));
    // Of one stagnation temperature.
    const double k = 1.2;
    const auto speed_of = [&](double m) { return m / std::sqrt(1 + (k - 1) / 2 * m * m); };
    expect("gas speed / its speed at the end" + at, source, speed,
           speed_of(port.mach[i]) / speed_of(firing.axial->port_mach.front()), absolute(6e-6));
    expect("port Mach number" + at, source, mach, port.mach[i], absolute(6e-7));
    expect("p / p head" + at, source, pressure, port.pressure[i] / firing.curve.pressure.front(),
           absolute(6e-7));
  }
}

TEST_CASE("with a wide port the axial firing tends to the steady one, as (throat / port)^2") {
  const auto difference = [](double ratio) {
    const Motor motor = motors::mono_core(ratio);
    return fire_axial(motor, {.slices = 80}).summary.initial_pressure /
               fire_steady(motor).summary.initial_pressure -
           1;
  };
  const double at_4 = difference(4);
  const double at_8 = difference(8);
  const double at_16 = difference(16);
  CHECK(at_4 > 0);
  expect("order at which axial tends to steady, port / throat 4 to 8", checks::closed_form, 2,
         std::log2(at_4 / at_8), absolute(0.06));
  expect("order at which axial tends to steady, port / throat 8 to 16", checks::closed_form, 2,
         std::log2(at_8 / at_16), absolute(0.02));
  const Motor motor = motors::mono_core(16);
  CHECK(fire_axial(motor).summary.total_impulse ==
        Approx(fire_steady(motor).summary.total_impulse).epsilon(1e-3));
}

TEST_CASE("slices converge to the second order") {
  for (const Motor& motor : {motors::mono_core(1.5), eroding(1.5)}) {
    const auto at = [&](int slices) {
      return fire_axial(motor, {.slices = slices}).summary.initial_pressure;
    };
    const double order = std::log2((at(20) - at(40)) / (at(40) - at(80)));
    expect("order of convergence in the slices, head pressure at lighting",
           "midpoint rule: second order", 2, order, absolute(0.15));
    CHECK(at(20) == Approx(at(160)).epsilon(3e-3));
  }
}

TEST_CASE("time steps converge with their tolerance") {
  const Motor motor = motors::four_segments();
  const auto at = [&](double tolerance) {
    return fire_axial(motor, {.tolerance = tolerance}).summary.total_impulse;
  };
  const double exact = at(1e-12);
  CHECK(std::abs(at(1e-4) / exact - 1) < 1e-4);
  CHECK(std::abs(at(1e-7) / exact - 1) < 1e-6);
  CHECK(std::abs(at(1e-10) / exact - 1) < 1e-9);
}

TEST_CASE("mass burned is mass out") {
  Motor worn = motors::four_segments();
  worn.nozzle.throat_growth = 2e-4;
  Motor jumping = motors::four_segments();
  jumping.propellant = motors::five_pieces();
  for (const Motor& motor : {motors::four_segments(), motors::unlike(), motors::mono_core(1.8),
                             eroding(1.8), motors::end_burner(3e-3), worn, jumping}) {
    const Firing fine = fire_axial(motor, {.tolerance = 1e-11});
    expect("mass out / propellant, axial", "conservation of mass", 1,
           fine.axial->gas_out / fine.summary.propellant_mass, absolute(1e-8));
    const Firing usual = fire_axial(motor);
    CHECK(usual.axial->gas_out == Approx(usual.summary.propellant_mass).epsilon(3e-6));
  }
}

TEST_CASE("ends that burn past many slices lose nothing") {
  const Firing firing = fire_axial(motors::four_segments(), {.slices = 80, .tolerance = 1e-11});
  expect("mass out / propellant, axial, ends past three slices each", "conservation of mass", 1,
         firing.axial->gas_out / firing.summary.propellant_mass, absolute(1e-8));
  CHECK(firing.summary.total_impulse ==
        Approx(fire_axial(motors::four_segments()).summary.total_impulse).epsilon(1e-4));
}

TEST_CASE("impulse of the axial curve is that of the summary") {
  const Firing firing = fire_axial(motors::four_segments(), {.points = 4001, .tolerance = 1e-9});
  CHECK(motors::under(firing.curve.time, firing.curve.thrust) ==
        Approx(firing.summary.total_impulse).epsilon(1e-6));
  CHECK(firing.curve.burning_area.front() ==
        Approx(fire_steady(motors::four_segments()).summary.initial_burning_area).epsilon(1e-13));
}

TEST_CASE("a grain without a port burns as the steady firing says") {
  const Motor motor = motors::end_burner(3e-3);
  const Summary axial = fire_axial(motor).summary;
  const Summary steady = fire_steady(motor).summary;
  CHECK(axial.burn_time == Approx(steady.burn_time).epsilon(1e-9));
  CHECK(axial.peak_pressure == Approx(steady.peak_pressure).epsilon(1e-9));
  CHECK(axial.port_to_throat == 0);
}

TEST_CASE("erosion raises the head pressure and makes a peak of the first instant") {
  const Motor motor = eroding(1.8);
  const Firing firing = fire_axial(motor);
  const double steady = fire_steady(motor).summary.initial_pressure;
  Motor calm = motor;
  calm.propellant.erosion.reset();
  const Firing still = fire_axial(calm);
  CHECK(still.curve.pressure.front() > 1.05 * steady);
  CHECK(firing.curve.pressure.front() > 1.1 * still.curve.pressure.front());
  CHECK(firing.axial->peak_rate_gain > 1.1);
  CHECK(still.axial->peak_rate_gain == 1);
  // Area grows from the first instant on, so without erosion so does the pressure; with it the
  // pressure falls at first, while the port opens.
  CHECK(still.curve.pressure[5] > still.curve.pressure[0]);
  CHECK(firing.curve.pressure[1] < firing.curve.pressure[0]);
  CHECK(firing.curve.pressure[5] < firing.curve.pressure[0]);
  // The nozzle end has burned further.
  const PortProfile& middle = firing.axial->profiles[5];
  CHECK(middle.web.back() > 1.02 * middle.web.front());
}

TEST_CASE("gas quickens and loses pressure toward the nozzle") {
  const Firing firing = fire_axial(motors::four_segments());
  for (const PortProfile& port : {firing.axial->profiles[0], firing.axial->profiles[4]}) {
    CHECK(std::ranges::is_sorted(port.position));
    CHECK(std::ranges::is_sorted(port.mass_flux));
    CHECK(std::ranges::is_sorted(port.mach));
    CHECK(std::ranges::is_sorted(port.pressure, std::greater<>()));
  }
  CHECK(firing.axial->profiles.back().time == firing.curve.time.back());
  CHECK(firing.axial->nozzle_pressure.size() == firing.curve.time.size());
}

TEST_CASE("a port that would choke before the throat ends the firing, and says which") {
  const auto choked = [](const Motor& motor) { return fire_axial(motor).axial->choked; };
  REQUIRE(choked(motors::mono_core(0.95)));
  CHECK(choked(motors::mono_core(0.95))->layer == 0);
  CHECK(choked(motors::mono_core(0.95))->port_to_throat == Approx(0.95));
  CHECK_FALSE(choked(motors::mono_core(1.02)));
  CHECK_THROWS_WITH(port_at_lighting(motors::mono_core(0.95)),
                    Catch::Contains("segment 1: core") && Catch::Contains("choke"));
  // Headward of a wide segment a narrow port may be smaller than the throat, until its flow chokes.
  Motor motor = motors::mono_core(2);
  const Segment wide = motor.grain.layers.front().segment;
  Segment narrow = wide;
  narrow.length = 0.1;
  narrow.core_diameter = 0.7 * wide.core_diameter;
  motor.grain.layers = {{narrow, 1}, {wide, 1}};
  CHECK(fire_axial(motor).summary.port_to_throat < 1);
  CHECK_FALSE(choked(motor));
  motor.grain.layers = {{wide, 1}, {narrow, 1}};
  REQUIRE(choked(motor));
  CHECK(choked(motor)->layer == 1);
}

TEST_CASE("the order of the segments matters to the port, and equal ones burn unequally") {
  const Firing firing = fire_axial(motors::four_segments());
  const Summary steady = fire_steady(motors::four_segments()).summary;
  CHECK(firing.summary.burn_time > steady.burn_time);
  CHECK(firing.summary.total_impulse == Approx(steady.total_impulse).epsilon(2e-3));
  Motor reversed = motors::unlike();
  std::ranges::reverse(reversed.grain.layers);
  for (Layer& layer : reversed.grain.layers) {
    if (layer.segment.inhibited.contains(Face::head)) {
      layer.segment.inhibited = {Face::outer, Face::nozzle};
    }
  }
  CHECK(fire_steady(reversed).summary.total_impulse ==
        Approx(fire_steady(motors::unlike()).summary.total_impulse));
  CHECK(std::abs(head_excess(reversed) - head_excess(motors::unlike())) > 1e-3);
}

TEST_CASE("the ports at lighting are those the firing begins with") {
  const PortProfile alone = port_at_lighting(motors::four_segments());
  const PortProfile begun = fire_axial(motors::four_segments()).axial->profiles.front();
  CHECK(alone.pressure.size() == 20);
  for (std::size_t i = 0; i < alone.pressure.size(); ++i) {
    CHECK(alone.pressure[i] == Approx(begun.pressure[i]).epsilon(1e-9));
  }
}
