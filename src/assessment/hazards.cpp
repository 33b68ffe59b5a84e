// SPDX-License-Identifier: GPL-3.0-or-later
#include "hazards.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "grainwright/motor/gas.hpp"

namespace grainwright {
namespace {

// ---------------------------------------------------------------------------------------- broken

void port_chokes(const Case& c, Verdict& verdict) {
  if (!c.port_chokes()) return;
  const ChokedPort& port = *c.found.ports.choked;
  verdict.broken.push_back(
      {"nozzle.throat",
       fmt::format("the port of segment {} would choke before the throat: its area is {:.3g} times "
                   "the throat's, and no pressure predicted for such a motor can be believed",
                   port.layer + 1, port.port_to_throat),
       port.port_to_throat, 1, Dimension::ratio, true});
}

void throat_wider_than_pipe(const Case& c, Verdict& verdict) {
  const Motor& motor = c.motor();
  const double bore = c.question.casing ? c.question.casing->bore
                                        : motor.grain.layers.back().segment.outer_diameter;
  const double throat = motor.nozzle.throat_diameter;
  if (throat < bore) return;
  verdict.broken.push_back(
      {"nozzle.throat",
       fmt::format("the throat, {}, is as wide as the {}, {}", c.show(throat, Dimension::length),
                   c.question.casing ? "pipe's bore" : "grain", c.show(bore, Dimension::length)),
       throat, bore, Dimension::length, true});
}

void parts_fail(const Case& c, Verdict& verdict) {
  if (!c.found.margins) return;
  const Margins& margins = *c.found.margins;
  for (const PartMargin& part : margins.parts) {
    const ModeMargin& mode = part.weakest();
    const double ratio = std::min(mode.ratio, mode.cold_ratio);
    if (ratio >= margins.factor) continue;
    verdict.broken.push_back(
        {"limits.factor",
         fmt::format(
             "the {} {} by {}: {} it holds {:.2f} times its load, and a factor of {:.3g} is "
             "asked",
             part.part, ratio < 1 ? "fails" : "is too weak", mode.mode,
             mode.ratio <= mode.cold_ratio ? "hot" : "even cold", ratio, margins.factor),
         ratio, margins.factor, Dimension::ratio, true});
  }
}

// Where the heat cannot be judged, the cold strength still can.
void cold_parts_fail(const Case& c, Verdict& verdict) {
  if (c.found.margins || !c.question.shell || !complaints(*c.question.shell).empty()) return;
  const ColdCeiling cold = cold_ceiling(*c.question.shell, c.motor().day.ambient_pressure);
  const double peak = c.found.peak_pressure.value;
  if (peak <= cold.pressure) return;
  verdict.broken.push_back(
      {"limits.factor",
       fmt::format("the {} is too weak by {}: cold, over the asked factor, it holds {}, and the "
                   "pressure peaks at {}",
                   cold.part, cold.mode, c.absolute(cold.pressure), c.absolute(peak)),
       peak, cold.pressure, Dimension::pressure, true});
}

std::string sentence(const Case& c, const Check& check) {
  const LimitRow& row = *check.limit.row;
  const FigureRow& figure = row.row();
  const auto shown = [&](double value) {
    return figure.dimension == Dimension::pressure ? c.absolute(value)
                                                   : c.show(value, figure.dimension);
  };
  const std::string where =
      row.value == &LimitedFigures::peak_pressure
          ? fmt::format(" ({}{})", source_of_peak(c.found),
                        c.found.peak_pressure.model == Model::axial ? ", head end" : "")
          : "";
  return fmt::format("{} {}{} is {} the {} of {} by {}", figure.label, shown(check.value), where,
                     check.limit.ceiling ? "over" : "under",
                     check.limit.ceiling ? "maximum" : "minimum", shown(check.limit.value),
                     percent_words(std::abs(check.value / check.limit.value - 1)));
}

void limits_break(const Case& c, Verdict& verdict) {
  for (const Check& check : c.found.checks) {
    if (!check.broken()) continue;
    const LimitRow& row = *check.limit.row;
    verdict.broken.push_back({std::string(row.key), sentence(c, check), check.value,
                              check.limit.value, row.row().dimension, row.guards});
  }
}

void too_many_over(const Case& c, Verdict& verdict) {
  const double confidence = c.question.limits.confidence;
  if (confidence == 0 || !c.found.scatter || !c.found.scatter->over_ceiling) return;
  const double over = c.found.scatter->over_ceiling->value;
  if (over <= 1 - confidence) return;
  verdict.broken.push_back(
      {"limits.confidence",
       fmt::format("{} of motors built like it would pass the ceiling of {}, and at most {} may",
                   percent_words(over), c.absolute(c.question.limits.pressure),
                   percent_words(1 - confidence)),
       over, 1 - confidence, Dimension::ratio, true});
}

void goes_out(const Case& c, Verdict& verdict) {
  const double choking = c.question.motor.chamber().thrust_law().choking_pressure();
  const double lowest = c.found.firing.summary.lowest_pressure;
  if (lowest >= choking) return;
  verdict.broken.push_back(
      {"limits.pressure_floor",
       fmt::format("the pressure falls to {}, under the {} at which the throat chokes: the motor "
                   "would chuff or go out",
                   c.absolute(lowest), c.absolute(choking)),
       lowest, choking, Dimension::pressure, false});
}

void does_not_fly(const Case& c, Verdict& verdict) {
  if (!c.found.flight || c.found.flight->end == FlightEnd::apogee) return;
  const bool lifts = c.found.flight->end == FlightEnd::stays_on_rail;
  verdict.broken.push_back({"airframe.mass",
                            lifts ? "the rocket never leaves its rail" : "the rocket never lifts",
                            {},
                            {},
                            Dimension::ratio,
                            true});
}

// ------------------------------------------------------------------------------------ not judged

void nothing_says_it_holds(const Case& c, Verdict& verdict) {
  if (c.question.shell || std::isfinite(c.question.limits.pressure)) return;
  verdict.not_judged.push_back(
      {"casing.material",
       "whether the casing holds: give casing.material and its closures, or a ceiling in "
       "limits.pressure"});
}

void confidence_without_ceiling(const Case& c, Verdict& verdict) {
  if (c.question.limits.confidence == 0 || std::isfinite(c.question.limits.pressure)) return;
  verdict.not_judged.push_back(
      {"limits.pressure",
       "how many motors keep under a ceiling, which limits.confidence asks: give "
       "limits.pressure"});
}

void factor_without_material(const Case& c, Verdict& verdict) {
  if (c.question.shell || !c.question.factor_asked) return;
  verdict.not_judged.push_back(
      {"casing.material", "the strength factor that limits.factor asks: give casing.material"});
}

void shell_lacks(const Case& c, Verdict& verdict) {
  if (c.found.margins || !c.question.shell) return;
  for (const Complaint& complaint : complaints(*c.question.shell, c.motor())) {
    verdict.not_judged.push_back(
        {complaint.key, fmt::format("strength: {} is {}; expected {}", complaint.key,
                                    complaint.given, complaint.allowed)});
  }
}

void parts_not_described(const Case& c, Verdict& verdict) {
  if (!c.question.shell) return;
  const Shell& shell = *c.question.shell;
  if (!shell.head) {
    verdict.not_judged.push_back(
        {"closure.head", "the head closure: give [closure.head], how it is held"});
  }
  if (!shell.nozzle) {
    verdict.not_judged.push_back(
        {"closure.nozzle", "the nozzle seat: give [closure.nozzle], how it is held"});
  }
}

void heat_weakens_unknown(const Case& c, Verdict& verdict) {
  if (!c.found.margins) return;
  constexpr double warm = 333.15;  // 60 degC; common practice, no source
  for (const PartMargin& part : c.found.margins->parts) {
    const ModeMargin& mode = part.weakest();
    if (mode.heat_known || mode.temperature <= warm) continue;
    verdict.not_judged.push_back(
        {"material.strength_at",
         fmt::format("the hot strength of the {}, which reaches {}: give strength_at of its "
                     "material",
                     part.part, c.show(mode.temperature, Dimension::temperature, 3)),
         mode.temperature, warm, Dimension::temperature});
  }
}

/// Why this port is known for erosive burning; "" where it is not.
std::string eroding(const Case& c) {
  const Ports& ports = c.found.ports;
  const double ratio = c.found.firing.summary.port_to_throat;
  if (ratio > 0 && ratio < eroding_port) {
    return fmt::format("the narrowest port is {:.2f} times the throat, under {:.3g}", ratio,
                       eroding_port);
  }
  if (ports.mach > eroding_mach) {
    return fmt::format("the gas reaches Mach {:.3f} in a port, over {:.2g}", ports.mach,
                       eroding_mach);
  }
  if (ports.mass_flux > eroding_mass_flux) {
    return fmt::format("the peak mass flux is {}, over {}",
                       c.show(ports.mass_flux, Dimension::mass_flux, 3),
                       c.show(eroding_mass_flux, Dimension::mass_flux, 3));
  }
  return "";
}

void erosion_not_modelled(const Case& c, Verdict& verdict) {
  const bool modelled = c.motor().propellant.erosion && c.found.ports.flow == PortFlow::followed;
  const std::string why = eroding(c);
  if (modelled || c.port_chokes() || why.empty()) return;
  verdict.not_judged.push_back(
      {"propellant.erosion",
       fmt::format("erosive burning, which raises the pressure early in the burn ({}; rule of "
                   "thumb): {}",
                   why,
                   c.motor().propellant.erosion
                       ? "no model here has it for a core that is not round and in the middle"
                       : "give the propellant's erosion constants, or a wider port")});
}

void law_carried_on(const Case& c, Verdict& verdict) {
  const BurnLaw& law = c.question.motor.chamber().law();
  const double peak = c.found.peak_pressure.value;
  const double over = peak / law.highest() - 1;
  if (over > 0) {
    Reason reason{"propellant.law",
                  fmt::format("the burn law is known up to {}, and the pressure peaks at {}, {} "
                              "past it: its last piece is carried on",
                              c.absolute(law.highest()), c.absolute(peak), percent_words(over)),
                  peak, law.highest(), Dimension::pressure};
    (over > carried_law ? verdict.not_judged : verdict.assumed).push_back(std::move(reason));
  }
  const double lowest = c.found.firing.summary.lowest_pressure;
  if (lowest >= law.lowest()) return;
  Reason reason{"propellant.law",
                fmt::format("the burn law is known from {}, and the pressure is down to {}: its "
                            "first piece is carried on",
                            c.absolute(law.lowest()), c.absolute(lowest)),
                lowest, law.lowest(), Dimension::pressure};
  (peak < law.lowest() ? verdict.not_judged : verdict.assumed).push_back(std::move(reason));
}

void steep_law(const Case& c, Verdict& verdict) {
  if (c.question.limits.confidence > 0) return;  // then the scatter has judged it
  double steepest = 0;
  for (const LawPiece& piece : c.question.motor.chamber().law().pieces()) {
    const bool used = piece.from <= c.found.peak_pressure.value &&
                      piece.to >= c.found.firing.summary.lowest_pressure;
    if (used) steepest = std::max(steepest, piece.exponent);
  }
  if (steepest < steep_exponent) return;
  verdict.not_judged.push_back(
      {"limits.confidence",
       fmt::format("a burn law so steep (exponent {:.3g}) that 1 % more burning area makes {} more "
                   "pressure: give limits.confidence, the part of all motors that must keep the "
                   "ceiling",
                   steepest, percent_words(std::pow(1.01, 1 / (1 - steepest)) - 1)),
       steepest, steep_exponent});
}

void temperature_without_sensitivity(const Case& c, Verdict& verdict) {
  const Propellant& propellant = c.motor().propellant;
  const double step = c.motor().day.temperature - propellant.reference_temperature;
  const bool known = propellant.sensitivity_known || propellant.temperature_sensitivity != 0;
  if (known || std::abs(step) <= telling_temperature_step) return;
  verdict.not_judged.push_back(
      {"propellant.temperature_sensitivity",
       fmt::format("a grain at {}, whose law was measured at {}: give the propellant's "
                   "temperature_sensitivity, for the rate is taken as unchanged",
                   c.show(c.motor().day.temperature, Dimension::temperature, 3),
                   c.show(propellant.reference_temperature, Dimension::temperature, 3)),
       c.motor().day.temperature, propellant.reference_temperature, Dimension::temperature});
}

void porous(const Case& c, Verdict& verdict) {
  const double ratio = c.motor().propellant.density_ratio;
  if (ratio >= porous_density_ratio) return;
  verdict.not_judged.push_back(
      {"propellant.density_ratio",
       fmt::format("propellant cast at {} of its ideal density: so many voids burn inside as well, "
                   "and no model here has that",
                   percent_words(ratio)),
       ratio, porous_density_ratio});
}

void law_jumps(const Case& c, Verdict& verdict) {
  constexpr double jump = 1.05;      // as BurnLaw::warnings
  constexpr double in_reach = 1.25;  // of the peak; common practice, no source
  const auto pieces = c.question.motor.chamber().law().pieces();
  for (std::size_t i = 0; i + 1 < pieces.size(); ++i) {
    const double joint = pieces[i].to;
    const bool reached = joint >= c.found.firing.summary.lowest_pressure &&
                         joint <= in_reach * c.found.peak_pressure.value;
    if (!reached || pieces[i + 1](joint) < jump * pieces[i](joint)) continue;
    verdict.not_judged.push_back(
        {"propellant.law",
         fmt::format("which of two pressures the motor takes: its burn law jumps up at {}, and "
                     "near there a higher pressure is as steady as the one predicted",
                     c.absolute(joint)),
         joint, c.found.peak_pressure.value, Dimension::pressure});
  }
}

void part_holds_by_a_hair(const Case& c, Verdict& verdict) {
  if (!c.found.margins) return;
  const Tolerances& strays = c.question.tolerances;
  const double pressure = pressure_sigma(c);
  for (const PartMargin& part : c.found.margins->parts) {
    const double ratio = part.weakest().ratio;
    if (ratio < c.found.margins->factor) continue;  // it is broken
    const Spread& strength = part.part == "head closure"  ? strays.head_strength
                             : part.part == "nozzle seat" ? strays.nozzle_strength
                                                          : strays.pipe_strength;
    const double sigma = std::hypot(pressure, strength.sigma);
    const double chance = sigma > 0 ? std::erfc(std::log(ratio) / (sigma * std::sqrt(2.0))) / 2 : 0;
    if (chance < telling_chance) continue;
    verdict.not_judged.push_back(
        {"limits.factor",
         fmt::format("how many may fail: the {} holds {:.2f} times its load, so that about {} of "
                     "motors built like it would fail there; ask a larger factor in limits.factor",
                     part.part, ratio, percent_words(chance)),
         chance, telling_chance});
  }
}

void law_is_doubtful(const Case& c, Verdict& verdict) {
  const auto& measured = c.motor().propellant.measured;
  if (!measured || measured->doubtful.empty()) return;
  verdict.not_judged.push_back(
      {"propellant.measured.doubtful",
       fmt::format("a burn law that its stand log does not bear out ({}): fire the motor on the "
                   "stand again",
                   measured->doubtful)});
}

void flight_not_judged(const Case& c, Verdict& verdict) {
  if (!c.question.airframe) {
    if (c.question.bounds.asks_flight()) {
      verdict.not_judged.push_back(
          {"airframe", "the flight that the wish asks for: give [airframe]"});
    }
    return;
  }
  const double speed = c.found.flight->rail_exit_speed;
  const bool flies = c.found.flight->end == FlightEnd::apogee;
  if (std::isfinite(c.question.bounds.rail_speed.least) || !flies || speed >= slow_rail_exit) {
    return;
  }
  verdict.not_judged.push_back(
      {"wish.rail_speed",
       fmt::format("whether {} is fast enough off the rail: under {} few rockets fly straight "
                   "(rule of thumb); give the speed that yours needs in wish.rail_speed",
                   c.show(speed, Dimension::speed, 3), c.show(slow_rail_exit, Dimension::speed, 3)),
       speed, slow_rail_exit, Dimension::speed});
}

constexpr auto table = std::to_array<Hazard>({
    {"a port chokes before the throat", port_chokes},
    {"the throat is wider than the pipe", throat_wider_than_pipe},
    {"a part is under 1 or under the asked factor", parts_fail},
    {"a part is too weak, cold", cold_parts_fail},
    {"a limit or a bound is broken", limits_break},
    {"too many motors pass the ceiling", too_many_over},
    {"the pressure falls under choking", goes_out},
    {"the rocket does not fly", does_not_fly},
    {"nothing says that the casing holds", nothing_says_it_holds},
    {"a factor is asked of no material", factor_without_material},
    {"a confidence is asked of no ceiling", confidence_without_ceiling},
    {"the shell cannot be judged", shell_lacks},
    {"a closure is not described", parts_not_described},
    {"how a part weakens with heat is not known", heat_weakens_unknown},
    {"erosive burning is not modelled", erosion_not_modelled},
    {"the law is carried past its range", law_carried_on},
    {"the law is steep", steep_law},
    {"the law jumps up near the pressure", law_jumps},
    {"a part holds by a hair", part_holds_by_a_hair},
    {"the law was saved as doubtful", law_is_doubtful},
    {"a hot or cold grain without sensitivity", temperature_without_sensitivity},
    {"the propellant is porous", porous},
    {"the flight is not judged", flight_not_judged},
});

}  // namespace

std::string percent_words(double share) {
  const double value = 100 * share;
  return value < 0.1 ? "under 0.1 %" : fmt::format("{:.{}f} %", value, value < 9.95 ? 1 : 0);
}

std::string Case::show(double value, Dimension dimension, int digits) const {
  return grainwright::show(value, dimension, units, digits);
}

std::string Case::absolute(double pressure) const {
  return show(pressure, Dimension::pressure) + (units == UnitSystem::us ? "a" : " abs");
}

std::span<const Hazard> hazard_table() {
  return table;
}

Verdict verdict_on(const Question& question, const Assessment& found, UnitSystem units) {
  const Case looked_at{question, found, units};
  Verdict verdict;
  for (const Hazard& hazard : hazard_table()) hazard.look(looked_at, verdict);
  for (const Hazard& hazard : assumption_table()) hazard.look(looked_at, verdict);
  std::stable_partition(verdict.broken.begin(), verdict.broken.end(),
                        [](const Reason& reason) { return reason.danger; });
  return verdict;
}

std::string_view name_of(Answer answer) {
  switch (answer) {
    case Answer::yes:
      return "yes";
    case Answer::no:
      return "no";
    case Answer::unknown:
      return "unknown";
  }
  return "";
}

Answer Verdict::answer() const {
  if (!broken.empty()) return Answer::no;
  return not_judged.empty() ? Answer::yes : Answer::unknown;
}

bool Verdict::dangerous() const {
  return std::ranges::any_of(broken, &Reason::danger);
}

}  // namespace grainwright
