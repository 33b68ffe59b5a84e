// SPDX-License-Identifier: GPL-3.0-or-later
#include "models.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "grainwright/error.hpp"
#include "numbers.hpp"

namespace grainwright::cli {
namespace {

constexpr std::array compared = {"initial_pressure_Pa", "peak_pressure_Pa", "peak_thrust_N",
                                 "mean_thrust_N",       "burn_time_s",      "total_impulse_Ns"};

// What another model says where it differs; "" where it agrees.
std::string difference(Model model, const Summary& other, const Summary& shown, UnitSystem units) {
  std::string words;
  for (const char* key : compared) {
    const FigureRow& figure = figure_row(key);
    const double value = other.*figure.fired;
    const double share = value / (shown.*figure.fired) - 1;
    if (!(std::abs(share) > worth_a_line)) continue;
    words += fmt::format("{} {} {} ({} {})", words.empty() ? "" : ",", figure.label,
                         show(value, figure.dimension, units), percent(std::abs(share)),
                         share > 0 ? "more" : "less");
  }
  return words.empty() ? "" : fmt::format("The {} model says:{}.", name_of(model), words);
}

}  // namespace

Model read_model(const std::string& name) {
  for (Model model : {Model::steady, Model::transient, Model::axial}) {
    if (name == name_of(model)) return model;
  }
  throw InputError("--model", name, "steady, transient or axial");
}

std::vector<std::string> differences(const Assessment& found, Model shown, const Summary& of_it,
                                     UnitSystem units) {
  std::vector<std::string> all;
  const auto add = [&](Model model, const Summary& summary) {
    if (model == shown) return;
    std::string words = difference(model, summary, of_it, units);
    if (!words.empty()) all.push_back(std::move(words));
  };
  add(Model::steady, found.steady);
  add(Model::transient, found.firing.summary);
  if (found.axial) add(Model::axial, found.axial->summary);
  return all;
}

std::string headline_pressure(const Assessment& found, UnitSystem units) {
  return fmt::format("{}{}, the highest of all models ({})",
                     show(found.peak_pressure.value, Dimension::pressure, units),
                     units == UnitSystem::us ? "a" : " abs", source_of_peak(found));
}

void tell_transient(Page& page, const Firing& firing, UnitSystem units) {
  using enum Dimension;
  if (!firing.transient) return;
  const TransientFigures& transient = *firing.transient;
  const auto milliseconds = [](std::optional<double> seconds) {
    return seconds ? fmt::format("{:.3g} ms", *seconds * 1e3) : std::string("never reached");
  };
  page.heading("Ignition and tail");
  page.table({.align = "ll",
              .rows = {{"igniter pressure", show(transient.igniter_pressure, pressure, units)},
                       {"free volume", show(transient.free_volume, volume, units)},
                       {"pressure rise, 10 to 90 %", milliseconds(transient.rise_time)},
                       {"ignition to 90 %", milliseconds(transient.delay)},
                       {"tail, to 10 % of peak thrust", milliseconds(transient.tail_off_time)},
                       {"action time, over 10 % of peak thrust",
                        show(transient.action_time, time, units)}}});
}

void tell_ports(Page& page, const Assessment& found, UnitSystem units) {
  using enum Dimension;
  const Ports& ports = found.ports;
  if (ports.flow == PortFlow::none || ports.flow == PortFlow::chokes) return;
  const bool followed = ports.flow == PortFlow::followed;
  page.heading(followed ? fmt::format("Flow along the ports, axial model, {} slices",
                                      found.axial->axial->slices)
                        : std::string("Flow along the ports, an estimate to the safe side: all gas "
                                      "through the narrowest port"));
  std::vector<std::vector<std::string>> rows = {
      {"port Mach number, maximum", show(ports.mach, ratio, units, 2)},
      {"mass flux, maximum", show(ports.mass_flux, mass_flux, units)},
      {"head-to-nozzle pressure drop, max", percent(1 - 1 / ports.head_ratio)}};
  const bool modelled = followed && found.axial->axial->peak_rate_gain != 1;
  rows.push_back({"erosive burning",
                  modelled ? fmt::format("burn rate up to {} times that in still gas",
                                         show(found.axial->axial->peak_rate_gain, ratio, units, 3))
                           : std::string("not modelled (no constants)")});
  page.table({.align = "ll", .rows = rows});
}

}  // namespace grainwright::cli
