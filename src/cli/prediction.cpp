// SPDX-License-Identifier: GPL-3.0-or-later
#include "prediction.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "grainwright/error.hpp"
#include "grainwright/firing/axial.hpp"
#include "grainwright/firing/gaps.hpp"
#include "grainwright/firing/steady.hpp"
#include "grainwright/firing/transient.hpp"
#include "grainwright/grain/core.hpp"
#include "numbers.hpp"

namespace grainwright::cli {
namespace {

struct Figure {
  std::string_view name;
  Dimension dimension;
  double Summary::*value;
};
constexpr Figure figures[] = {
    {"pressure at lighting", Dimension::pressure, &Summary::initial_pressure},
    {"peak pressure", Dimension::pressure, &Summary::peak_pressure},
    {"peak thrust", Dimension::force, &Summary::peak_thrust},
    {"mean thrust", Dimension::force, &Summary::mean_thrust},
    {"burn time", Dimension::time, &Summary::burn_time},
    {"total impulse", Dimension::impulse, &Summary::total_impulse}};

// What another model says where it differs; "" where it agrees.
std::string difference(Model model, const Summary& other, const Summary& told, UnitSystem units) {
  std::string words;
  for (const Figure& figure : figures) {
    const double value = other.*figure.value;
    const double share = value / (told.*figure.value) - 1;
    if (!(std::abs(share) > worth_a_line)) continue;
    words += fmt::format("{} {} {} ({} {})", words.empty() ? "" : ",", figure.name,
                         show(value, figure.dimension, units), percent(std::abs(share)),
                         share > 0 ? "more" : "less");
  }
  return words.empty() ? "" : fmt::format("The {} model says:{}.", name_of(model), words);
}

void add_difference(Prediction& prediction, Model model, const Summary& other, UnitSystem units) {
  std::string words = difference(model, other, prediction.firing.summary, units);
  if (!words.empty()) prediction.others.push_back(std::move(words));
}

// The axial firing beside a transient one, or why there is none.
void add_axial(Prediction& prediction, const Motor& motor, int slices, UnitSystem units) {
  const auto shown = [](const Layer& layer) { return shown_by_planes(layer.segment); };
  if (!std::ranges::all_of(motor.grain.layers, shown)) {
    prediction.firing.remarks.push_back(
        "the flow along the ports is not told: it goes by slices, which show only round cores in "
        "the "
        "middle, without slots and coned ends");
    return;
  }
  try {
    prediction.axial = fire_axial(motor, {.slices = slices});
    add_difference(prediction, Model::axial, prediction.axial->summary, units);
  } catch (const InputError& error) {
    prediction.chokes = true;
    for (const Complaint& complaint : error.complaints()) {
      prediction.firing.remarks.push_back("no flow along the ports can be told: " +
                                          complaint.text());
    }
  }
}

/// Where the flow along the port counts. Held against the steady firing, which like the axial one
/// leaves out the gas that stays in the chamber.
bool peaks_higher(const Firing& axial, double steady_peak) {
  return axial.summary.peak_pressure > (1 + worth_a_line) * steady_peak;
}

/// Ports as narrow as this, over the throat, are known for erosive burning.
constexpr double eroding_port = 1.5;

void warn_of_narrow_port(Prediction& prediction, const Motor& motor) {
  const double port = prediction.firing.summary.port_to_throat;
  if (!(port > 0 && port < eroding_port)) return;
  const auto shown = [](double value) { return show(value, Dimension::ratio, UnitSystem::si, 3); };
  prediction.firing.remarks.push_back(fmt::format(
      "the narrowest port is {} times the throat: under {} expect erosive burning (common "
      "practice, "
      "no source){}",
      shown(port), shown(eroding_port),
      motor.propellant.erosion
          ? ", which the axial model has by your constants"
          : ". Without constants of the propellant no model here has it: the true pressure early "
            "in the burn will be higher than any of them says"));
}

}  // namespace

std::string_view name_of(Model model) {
  switch (model) {
    case Model::steady:
      return "steady";
    case Model::transient:
      return "transient";
    case Model::axial:
      return "axial";
  }
  return "";
}

Model read_model(const std::string& name) {
  for (Model model : {Model::steady, Model::transient, Model::axial}) {
    if (name == name_of(model)) return model;
  }
  throw InputError("--model", name, "steady, transient or axial");
}

Summary Prediction::judged() const {
  Summary summary = firing.summary;
  if (axial) {
    summary.peak_pressure = std::max(summary.peak_pressure, axial->summary.peak_pressure);
    summary.peak_mass_flux = std::max(summary.peak_mass_flux, axial->summary.peak_mass_flux);
  }
  return summary;
}

const Firing& Prediction::hardest() const {
  return axial && peaks_higher(*axial, steady_peak) ? *axial : firing;
}

Firing hardest_firing(const Job& job, const Motor& motor) {
  Firing firing = fire_transient(motor, {.lighting = lighting_of(job, motor)});
  try {
    Firing axial = fire_axial(motor);
    const SteadyChamber chamber(motor.propellant, motor.nozzle, motor.day);
    const Summary steady = steady_summary(Burnback(motor.grain), chamber);
    return peaks_higher(axial, steady.peak_pressure) ? axial : firing;
  } catch (const InputError&) {  // a port that chokes has no axial firing
    return firing;
  }
}

Model model_of(const Firing& firing) {
  return firing.axial ? Model::axial : firing.transient ? Model::transient : Model::steady;
}

Prediction predict(const Job& job, Model model, int slices) {
  const Motor motor = motor_of(job);
  Prediction prediction{.model = model, .firing = fire_steady(motor), .axial = {}, .others = {}};
  const Summary steady = prediction.firing.summary;
  prediction.steady_peak = steady.peak_pressure;
  if (model == Model::transient) {
    prediction.firing = fire_transient(motor, {.lighting = lighting_of(job)});
  } else if (model == Model::axial) {
    prediction.firing = fire_axial(motor, {.slices = slices});
  } else if (motor.nozzle.throat_growth != 0) {
    prediction.firing.remarks.push_back("the steady model leaves the throat as it is at lighting");
  }
  auto& remarks = prediction.firing.remarks;
  if (model != Model::steady) add_difference(prediction, Model::steady, steady, job.units);
  if (model == Model::transient) add_axial(prediction, motor, slices, job.units);
  warn_of_narrow_port(prediction, motor);
  const auto gaps = gap_warnings(motor);
  remarks.insert(remarks.end(), gaps.begin(), gaps.end());
  remarks.insert(remarks.end(), job.remarks.begin(), job.remarks.end());
  return prediction;
}

void tell(Page& page, const Prediction& prediction, UnitSystem units) {
  using enum Dimension;
  if (const auto& transient = prediction.firing.transient) {
    const auto milliseconds = [](std::optional<double> seconds) {
      return seconds ? fmt::format("{:.3g} ms", *seconds * 1e3) : std::string("never reached");
    };
    page.heading("Lighting and tail");
    page.table({.align = "ll",
                .rows = {{"igniter pressure", show(transient->igniter_pressure, pressure, units)},
                         {"free volume", show(transient->free_volume, volume, units)},
                         {"pressure rise, 10 to 90 %", milliseconds(transient->rise_time)},
                         {"lighting to 90 %", milliseconds(transient->delay)},
                         {"tail, to 10 % of peak thrust", milliseconds(transient->tail_off_time)},
                         {"action time, over 10 % of peak thrust",
                          show(transient->action_time, time, units)}}});
  }
  const Firing* axial = prediction.axial ? &*prediction.axial : &prediction.firing;
  if (!axial->axial || axial->summary.port_to_throat == 0) return;
  const AxialFigures& ports = *axial->axial;
  page.heading(fmt::format("Flow along the ports, {} slices", ports.slices));
  page.table(
      {.align = "ll",
       .rows = {{"greatest port Mach number", show(ports.peak_port_mach, ratio, units, 2)},
                {"greatest mass flux", show(axial->summary.peak_mass_flux, mass_flux, units)},
                {"head over nozzle pressure, at most", percent(ports.peak_head_excess)},
                {"erosive rate / rate in still gas, at most",
                 show(ports.peak_rate_gain, ratio, units, 3)}}});
}

}  // namespace grainwright::cli
