// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/assessment/assessment.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "grainwright/firing/axial.hpp"
#include "hazards.hpp"
#include "ports.hpp"

namespace grainwright {
namespace {

// A flight follows the thrust closely; without one the curve is for drawing.
constexpr int points_of_a_flown_curve = 801;

Firing lit(const Question& question) {
  TransientOptions options{.lighting = question.lighting};
  if (question.airframe) options.points = points_of_a_flown_curve;
  return fire_transient(question.motor, options);
}

/// What the models say of the peak, at the head end.
struct Peaks {
  double steady = 0;
  double transient = 0;
  double along = 0;  ///< with the flow along the ports; 0 where it is not followed

  [[nodiscard]] Judged highest() const {
    Judged peak{transient, Model::transient};
    if (steady > peak.value) peak = {steady, Model::steady};
    if (along > peak.value) peak = {along, Model::axial};
    return peak;
  }
};

Peaks peaks_of(const PreparedMotor& motor, const Firing& transient, const PortStudy& study) {
  Peaks peaks{.steady = motor.steady().peak_pressure, .transient = transient.summary.peak_pressure};
  if (study.axial) peaks.along = study.axial->summary.peak_pressure;
  if (study.ports.flow == PortFlow::estimated) {
    peaks.along = study.ports.head_ratio * std::max(peaks.steady, peaks.transient);
  }
  return peaks;
}

/// The transient curve with its pressures as high as the head end's.
Curve raised(Curve curve, double factor) {
  for (double& pressure : curve.pressure) pressure *= factor;
  return curve;
}

/// The firings that strength is judged over: what no axial firing shows is put on the transient
/// one.
std::vector<Curve> hard_curves(const Firing& transient, const PortStudy& study) {
  const bool estimated = study.ports.flow == PortFlow::estimated;
  std::vector<Curve> curves = {raised(transient.curve, estimated ? study.ports.head_ratio : 1)};
  const bool followed = study.axial && study.ports.flow != PortFlow::chokes;
  if (followed && study.axial->summary.peak_pressure > transient.summary.peak_pressure) {
    curves.push_back(study.axial->curve);
  }
  return curves;
}

void judge_strength(const Question& question, const PortStudy& study, Assessment& found) {
  const Motor& motor = question.motor.motor();
  if (!question.shell || !complaints(*question.shell, motor).empty()) return;
  HardestMargins hardest = margins_over(*question.shell, motor, hard_curves(found.firing, study));
  found.margins = std::move(hardest.margins);
  found.margins_over = hardest.firing == 0 ? Model::transient : Model::axial;
}

double loading_of(const Question& question) {
  if (!question.casing) return std::numeric_limits<double>::quiet_NaN();
  const double outer = question.casing->grain_outer_diameter();
  const double room = std::numbers::pi / 4 * outer * outer * question.casing->grain_room;
  return question.motor.burnback().propellant_volume(0) / room;
}

LimitedFigures figures_of(const Question& question, const Assessment& found) {
  const Summary& s = found.firing.summary;
  LimitedFigures figures{.stack_length = question.motor.motor().grain.stack_length(),
                         .loading = loading_of(question),
                         .peak_pressure = found.peak_pressure.value,
                         .lowest_pressure = s.lowest_pressure,
                         .port_to_throat = s.port_to_throat,
                         .mass_flux = found.ports.mass_flux,
                         .burn_time = s.burn_time,
                         .total_impulse = s.total_impulse,
                         .initial_thrust = s.initial_thrust,
                         .mean_thrust = s.mean_thrust,
                         .peak_thrust = s.peak_thrust};
  if (found.flight) {
    figures.thrust_to_weight = found.flight->thrust_to_weight;
    figures.rail_speed = found.flight->rail_exit_speed;
    figures.apogee = found.flight->apogee;
  }
  return figures;
}

/// Whether there is a figure to hold against a limit.
bool is_known(const LimitRow& row, const Question& question, const Assessment& found) {
  if (row.row().of == FigureOf::flight) return found.flight.has_value();
  if (row.value == &LimitedFigures::loading) return question.casing.has_value();
  // A solid segment has no port to be narrow.
  return row.value != &LimitedFigures::port_to_throat || found.firing.summary.port_to_throat > 0;
}

std::vector<Check> checks_of(const Question& question, const Assessment& found) {
  const double room =
      question.casing ? question.casing->grain_room : std::numeric_limits<double>::infinity();
  const LimitedFigures figures = figures_of(question, found);
  std::vector<Check> checks;
  for (const Limit& limit : limits_asked({question.limits, question.bounds, room})) {
    // Lengths and volumes are sums of rounded products; a full room is not an overfull one.
    constexpr double rounding = 1e-9;
    double value = figures.*(limit.row->value);
    const bool sum = limit.row->row().of == FigureOf::build;
    if (sum && std::abs(value - limit.value) <= rounding * limit.value) value = limit.value;
    if (is_known(*limit.row, question, found)) checks.push_back({limit, value});
  }
  return checks;
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

std::string source_of_peak(const Assessment& found) {
  const bool along = found.peak_pressure.model == Model::axial;
  if (along && found.ports.flow == PortFlow::estimated) return "estimate";
  return std::string(name_of(found.peak_pressure.model)) + " model";
}

std::optional<double> judged_peak(const PreparedMotor& motor, const Lighting& lighting) {
  const PortStudy study = study_ports(motor, {});
  if (study.ports.flow == PortFlow::chokes) return std::nullopt;
  const Firing transient = fire_transient(motor, {.lighting = lighting});
  return peaks_of(motor, transient, study).highest().value;
}

std::optional<std::vector<Curve>> hard_firings(const PreparedMotor& motor,
                                               const Lighting& lighting) {
  const PortStudy study = study_ports(motor, {});
  if (study.ports.flow == PortFlow::chokes) return std::nullopt;
  return hard_curves(fire_transient(motor, {.lighting = lighting}), study);
}

ScatterTask scatter_task_of(const Question& question) {
  ScatterTask task{.motor = question.motor.motor()};
  task.tolerances = with_measurements(question.tolerances, task.motor);
  task.faults = question.faults;
  if (std::isfinite(question.limits.pressure)) task.ceiling = question.limits.pressure;
  // What cannot be judged of the shell is a reason of the verdict; here it is left out.
  if (question.shell && complaints(*question.shell, task.motor).empty()) {
    task.shell = question.shell;
  }
  task.airframe = question.airframe;
  task.judge = PeakJudge{
      "highest of all models",
      [lighting = question.lighting](const Motor& motor) { return judged_peak(motor, lighting); }};
  return task;
}

Assessment assess(const Question& question, const AssessmentOptions& options) {
  Assessment found;
  found.steady = question.motor.steady();
  found.firing = lit(question);
  PortStudy study = options.glance ? glance_at_ports(question.motor)
                                   : study_ports(question.motor, {.slices = options.slices});
  found.ports = study.ports;
  found.peak_pressure = peaks_of(question.motor, found.firing, study).highest();
  if (study.ports.flow == PortFlow::followed) found.axial = study.axial;
  if (!options.glance) judge_strength(question, study, found);
  if (question.airframe) {
    found.flight = fly(found.firing, question.motor.motor(), *question.airframe);
  }
  if (!options.glance && (options.scatter || question.limits.confidence > 0)) {
    ScatterTask task = scatter_task_of(question);
    task.judge->model = name_of(found.peak_pressure.model);
    found.scatter = scatter(task, options.scattering);
  }
  found.checks = checks_of(question, found);
  found.remarks = found.firing.remarks;
  found.verdict = verdict_on(question, found, options.units);
  if (options.glance) {
    found.verdict.not_judged.insert(
        found.verdict.not_judged.begin(),
        {"", "flow along the ports, strength and chances, until the build rests"});
  }
  return found;
}

}  // namespace grainwright
