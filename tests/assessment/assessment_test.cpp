// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/assessment/assessment.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "firing/motors.hpp"
#include "grainwright/grain/core.hpp"
#include "strength/motors.hpp"
#include "support/checks.hpp"

using namespace grainwright;

namespace {

/// Four segments well under a ceiling, everything known: nothing to be said against it.
Question sound(Motor motor = motors::four_segments()) {
  motor.propellant.sensitivity_known = true;
  Question question{.motor = PreparedMotor(std::move(motor))};
  question.limits.pressure = 20e6;
  return question;
}

Question with(const Question& question, Motor motor) {
  Question changed = question;
  changed.motor = PreparedMotor(std::move(motor));
  return changed;
}

std::vector<std::string> keys_of(const std::vector<Reason>& reasons) {
  std::vector<std::string> keys;
  for (const Reason& reason : reasons) keys.push_back(reason.key);
  return keys;
}

bool holds_key(const std::vector<Reason>& reasons, std::string_view key) {
  return std::ranges::find(reasons, key, &Reason::key) != reasons.end();
}

bool says(const std::vector<Reason>& reasons, std::string_view words) {
  return std::ranges::any_of(
      reasons, [&](const Reason& reason) { return reason.words.find(words) != std::string::npos; });
}

Verdict verdict_of(const Question& question) {
  return assess(question).verdict;
}

/// The invented motor of strength's tests, whose shell holds twice its load.
Question shelled() {
  Motor motor = motors::motor();
  motor.propellant.sensitivity_known = true;
  Question question{.motor = PreparedMotor(motor)};
  question.shell = motors::shell();
  question.shell->factor = 1;
  return question;
}

}  // namespace

TEST_CASE("a motor of which all is known and nothing is broken gets a yes") {
  const Assessment found = assess(sound());
  CAPTURE(keys_of(found.verdict.broken), keys_of(found.verdict.not_judged));
  CHECK(found.verdict.answer() == Answer::yes);
  CHECK_FALSE(found.verdict.dangerous());
  CHECK(found.ports.flow == PortFlow::followed);
}

TEST_CASE("the headline pressure is the highest peak of all models, at the head end") {
  const Assessment found = assess(sound());
  const double highest = std::max({found.steady.peak_pressure, found.firing.summary.peak_pressure,
                                   found.axial->summary.peak_pressure});
  CHECK(found.peak_pressure.value == highest);
  CHECK(found.peak_pressure.model == Model::axial);
  CHECK(judged_peak(sound().motor, {}) == highest);
}

TEST_CASE("a port narrower than the throat is a no, round or not") {
  CHECK(holds_key(verdict_of(sound(motors::mono_core(0.95))).broken, "nozzle.throat"));
  CHECK(verdict_of(sound(motors::mono_core(0.95))).dangerous());
  CHECK_FALSE(judged_peak(motors::mono_core(0.95), {}));
  // The same core 3 mm beside the middle, and a cross of half the throat's area (closed form).
  Motor beside = motors::mono_core(0.95);
  Segment& segment = beside.grain.layers.front().segment;
  segment = with_core(segment, {OffCentreCore{segment.core_diameter, 3e-3}});
  CHECK(holds_key(verdict_of(sound(beside)).broken, "nozzle.throat"));
  Motor crossed = motors::mono_core(2);
  const double throat = crossed.nozzle.throat_diameter;
  Segment& whole = crossed.grain.layers.front().segment;
  whole = with_core(whole, {NamedCore{Cross{Slot{.length = 1.2 * throat, .width = 0.2 * throat}}}});
  const Assessment found = assess(sound(crossed));
  CHECK(found.ports.flow == PortFlow::chokes);
  CHECK(holds_key(found.verdict.broken, "nozzle.throat"));
}

TEST_CASE("a core that planes do not show is judged with a head end to the safe side") {
  // All gas through one port: p_head / p_nozzle = 1 + gamma M^2 with A_port / A* = 2 (closed form);
  // from NACA Report 1135, table I of gamma 1.4, M = 0.3059 at A/A* = 1.9935 for the order of size.
  Motor beside = motors::mono_core(2);
  Segment& segment = beside.grain.layers.front().segment;
  segment = with_core(segment, {OffCentreCore{segment.core_diameter, 1e-6}});
  const Assessment off = assess(sound(beside));
  const Assessment round = assess(sound(motors::mono_core(2)));
  REQUIRE(off.ports.flow == PortFlow::estimated);
  CHECK(off.ports.mach == Approx(round.ports.mach).epsilon(0.03));
  CHECK(off.peak_pressure.value >= round.peak_pressure.value);
  CHECK(off.peak_pressure.value < 1.15 * round.peak_pressure.value);
}

TEST_CASE("a throat as wide as the pipe is a no") {
  Question question = sound();
  question.casing = Casing{.bore = 0.013, .grain_room = 1};
  CHECK(says(verdict_of(question).broken, "as wide as the pipe's bore"));
}

TEST_CASE(
    "a part under its factor is a no, cold or hot, and a closure that is not described unknown") {
  const Assessment found = assess(shelled());
  REQUIRE(found.margins);
  CAPTURE(found.margins->ratio());
  Question weak = shelled();
  weak.shell->factor = found.margins->ratio() * 1.01;
  CHECK(holds_key(verdict_of(weak).broken, "limits.factor"));
  CHECK(verdict_of(weak).dangerous());
  Question open = shelled();
  open.shell->head.reset();
  open.shell->nozzle.reset();
  CHECK(holds_key(verdict_of(open).not_judged, "closure.head"));
  CHECK(holds_key(verdict_of(open).not_judged, "closure.nozzle"));
}

TEST_CASE("strength is judged whether or not a ceiling is typed") {
  Question question = shelled();
  question.shell->factor = 50;
  CHECK(verdict_of(question).answer() == Answer::no);
  question.limits.pressure = 1e9;
  CHECK(verdict_of(question).answer() == Answer::no);
}

TEST_CASE("what a shell lacks to be judged is not judged, and its cold strength still is") {
  Question question = shelled();
  Motor motor = question.motor.motor();
  motor.propellant.flame_temperature = 0;
  question = with(question, motor);
  question.shell->gas_temperature.reset();
  CHECK(holds_key(verdict_of(question).not_judged, "heat.gas_temperature"));
  question.shell->factor = 100;
  CHECK(says(verdict_of(question).broken, "cold"));
}

TEST_CASE("a part that gets hot without a known hot strength is not judged") {
  Question question = shelled();
  question.shell->material.strength_at.clear();
  question.shell->liner.clear();
  const Verdict verdict = verdict_of(question);
  CHECK(holds_key(verdict.not_judged, "material.strength_at"));
}

TEST_CASE("no ceiling and no material is unknown, and so is a factor without a material") {
  Question question = sound();
  question.limits.pressure = std::numeric_limits<double>::infinity();
  CHECK(verdict_of(question).answer() == Answer::unknown);
  CHECK(holds_key(verdict_of(question).not_judged, "casing.material"));
  Question asked = sound();
  asked.factor_asked = true;
  CHECK(holds_key(verdict_of(asked).not_judged, "casing.material"));
  CHECK(holds_key(verdict_of(sound()).assumed, "casing.material"));
}

TEST_CASE("every limit and bound is held, the ceiling against the headline") {
  const double peak = assess(sound()).peak_pressure.value;
  Question over = sound();
  over.limits.pressure = peak * 0.999;
  CHECK(holds_key(verdict_of(over).broken, "limits.pressure"));
  Question narrow = sound();
  narrow.limits.port_to_throat = 3;
  CHECK(holds_key(verdict_of(narrow).broken, "limits.port_to_throat"));
  CHECK(verdict_of(narrow).dangerous());
  Question slow = sound();
  slow.bounds.burn_time = Bound::at_most(0.1);
  CHECK(holds_key(verdict_of(slow).broken, "wish.burn_time"));
  CHECK_FALSE(verdict_of(slow).dangerous());
  Question full = sound();
  full.casing = Casing{.bore = 0.05, .grain_room = 0.3};
  CHECK(holds_key(verdict_of(full).broken, "casing.grain_room"));
}

TEST_CASE("a confidence is held against the motors that scatter") {
  Question question = sound();
  question.limits.pressure = 1.02 * assess(sound()).peak_pressure.value;
  CHECK(holds_key(verdict_of(question).assumed, "limits.confidence"));
  question.limits.confidence = 0.99;
  const Verdict verdict = verdict_of(question);
  CHECK(holds_key(verdict.broken, "limits.confidence"));
  CHECK(verdict.dangerous());
}

TEST_CASE("a throat that does not choke is a no") {
  Motor motor = motors::four_segments();
  motor.nozzle = motors::nozzle(0.040);
  CHECK(says(verdict_of(sound(motor)).broken, "chuff"));
}

TEST_CASE("a narrow port without erosion constants is not judged, with them it is") {
  Motor motor = motors::mono_core(1.3);
  CHECK(holds_key(verdict_of(sound(motor)).not_judged, "propellant.erosion"));
  motor.propellant.erosion = Erosion{.alpha = 1e-5};
  CHECK_FALSE(holds_key(verdict_of(sound(motor)).not_judged, "propellant.erosion"));
}

TEST_CASE("a law carried far past its published range is not judged, a little is said") {
  const double peak = assess(sound()).peak_pressure.value;
  const auto up_to = [&](double share) {
    Motor motor = motors::four_segments();
    motor.propellant.law =
        BurnLaw({{.rate = 3e-3, .at = 1e6, .exponent = 0.35, .to = share * peak}});
    return verdict_of(sound(motor));
  };
  CHECK(holds_key(up_to(0.8).not_judged, "propellant.law"));
  CHECK(holds_key(up_to(0.95).assumed, "propellant.law"));
  CHECK_FALSE(holds_key(up_to(1.1).assumed, "propellant.law"));
}

TEST_CASE("a steep law is not judged unless its scatter is") {
  Motor motor = motors::four_segments();
  motor.propellant.law = BurnLaw({{.rate = 1.2e-3, .at = 1e6, .exponent = 0.9}});
  motor.nozzle = motors::nozzle(0.018);
  Question question = sound(motor);
  question.limits.pressure = 1e12;
  CHECK(holds_key(verdict_of(question).not_judged, "limits.confidence"));
  question.limits.confidence = 0.5;
  CHECK_FALSE(holds_key(verdict_of(question).not_judged, "limits.confidence"));
}

TEST_CASE("a hot or cold grain wants a sensitivity") {
  const auto at = [](double temperature, bool known) {
    Motor motor = motors::four_segments();
    motor.day.temperature = temperature;
    Question question = sound(motor);
    motor.propellant.sensitivity_known = known;
    return verdict_of(with(question, motor));
  };
  CHECK(holds_key(at(313, false).not_judged, "propellant.temperature_sensitivity"));
  CHECK(holds_key(at(273, false).not_judged, "propellant.temperature_sensitivity"));
  CHECK_FALSE(holds_key(at(313, true).not_judged, "propellant.temperature_sensitivity"));
  CHECK_FALSE(holds_key(at(295, false).not_judged, "propellant.temperature_sensitivity"));
}

TEST_CASE("a law that the stand doubts is not judged") {
  Motor motor = motors::four_segments();
  motor.propellant.measured = Measured{};
  CHECK(verdict_of(sound(motor)).not_judged.empty());
  motor.propellant.measured->doubtful = "the log begins in the burn";
  CHECK(says(verdict_of(sound(motor)).not_judged, "the log begins in the burn"));
}

TEST_CASE("porous propellant is not judged") {
  Motor motor = motors::four_segments();
  motor.propellant.density_ratio = 0.85;
  CHECK(holds_key(verdict_of(sound(motor)).not_judged, "propellant.density_ratio"));
}

TEST_CASE("the flight is part of the verdict") {
  const Airframe light{.mass = 2, .diameter = 0.1, .drag = {{0, 0.5}}, .rail_length = 2};
  Question question = sound();
  question.airframe = light;
  CHECK(verdict_of(question).answer() == Answer::yes);
  question.airframe->rail_length = 0.01;
  CHECK(holds_key(verdict_of(question).not_judged, "wish.rail_speed"));
  question.bounds.rail_speed = Bound::at_least(100);
  CHECK(holds_key(verdict_of(question).broken, "wish.rail_speed"));
  question.airframe->mass = 10000;
  CHECK(holds_key(verdict_of(question).broken, "airframe.mass"));
  Question grounded = sound();
  grounded.bounds.rail_speed = Bound::at_least(10);
  CHECK(holds_key(verdict_of(grounded).not_judged, "airframe"));
}

TEST_CASE("what is taken for granted is said, with its key") {
  Question question = sound();
  question.assumed = {{"day.temperature", "the grain is at 20 degC"}};
  question.casing = Casing{.bore = 0.06, .grain_room = question.motor.motor().grain.stack_length()};
  question.length_tolerance = 1e-3;
  const Verdict verdict = verdict_of(question);
  CHECK(holds_key(verdict.assumed, "day.temperature"));
  CHECK(holds_key(verdict.assumed, "shop.length_tolerance"));
  Motor touching = motors::four_segments();
  touching.grain.spacer = 0;
  CHECK(holds_key(verdict_of(sound(touching)).assumed, "shop.spacer"));
}

TEST_CASE("a glance is never a yes") {
  CHECK(assess(sound(), {.glance = true}).verdict.answer() == Answer::unknown);
  CHECK(assess(sound(motors::mono_core(0.95)), {.glance = true}).verdict.answer() == Answer::no);
}

TEST_CASE("the harder of the firings is what strength is judged over") {
  const auto curves = hard_firings(sound().motor, {});
  REQUIRE(curves);
  CHECK(curves->size() == 2);
  CHECK_FALSE(hard_firings(motors::mono_core(0.95), {}));
}
