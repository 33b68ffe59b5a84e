// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>

#include "arguments.hpp"
#include "check.hpp"
#include "columns.hpp"
#include "drawing.hpp"
#include "flight_page.hpp"
#include "grainwright/firing/axial.hpp"
#include "grainwright/firing/transient.hpp"
#include "grainwright/flight/flight.hpp"
#include "grainwright/job/job.hpp"
#include "json.hpp"
#include "numbers.hpp"
#include "prediction.hpp"
#include "words.hpp"

namespace grainwright::cli {
namespace {

/// Points of the curve that a flight follows.
constexpr int curve_points = 801;

struct Result {
  Model model = Model::transient;
  Airframe airframe;
  Flight flight;
  Flight steady;  ///< as the search would judge it
  std::vector<Check> bounds;

  /// It flies, and as asked.
  [[nodiscard]] bool as_asked() const {
    return flight.end == FlightEnd::apogee && !any_broken(bounds);
  }
};

Flight flown(const Job& job, const Motor& motor, const Airframe& airframe, Model model) {
  switch (model) {
    case Model::steady:
      return fly_steady(motor, airframe);
    case Model::transient:
      return fly(fire_transient(motor, {.lighting = lighting_of(job), .points = curve_points}),
                 motor, airframe);
    case Model::axial:
      return fly(fire_axial(motor, {.points = curve_points}), motor, airframe);
  }
  return {};
}

Result fly(const Job& job, Model model) {
  const Motor motor = motor_of(job);
  Result result{
      .model = model, .airframe = airframe_of(job), .flight = {}, .steady = {}, .bounds = {}};
  result.flight = flown(job, motor, result.airframe, model);
  result.steady = fly_steady(motor, result.airframe);
  if (job.wish) result.bounds = checked(set_bounds(*job.wish), result.flight);
  return result;
}

/// What to ask of the search, which judges by the steady firing, where the rise costs the speed.
void advise(Page& page, const Job& job, const Result& result, UnitSystem units) {
  if (!job.wish || result.flight.end != FlightEnd::apogee) return;
  const double asked = job.wish->rail_speed.least;
  const double steady = result.steady.rail_exit_speed;
  if (!(result.flight.rail_exit_speed < asked && steady >= asked)) return;
  page.paragraph(fmt::format(
      "By that firing it is fast enough. Ask `design` for {} to keep it so with this one.",
      shown_outward(asked * steady / result.flight.rail_exit_speed, 0, Dimension::speed, units)));
}

void tell_steady(Page& page, const Result& result, UnitSystem units) {
  if (result.model == Model::steady || result.steady.end != FlightEnd::apogee) return;
  page.gap();
  page.paragraph(
      fmt::format("Of the steady firing, by which `design` judges: rail exit at {}, "
                  "thrust / weight {}, apogee {}.",
                  show(result.steady.rail_exit_speed, Dimension::speed, units),
                  show(result.steady.thrust_to_weight, Dimension::ratio, units, 3),
                  show(result.steady.apogee, Dimension::distance, units)));
}

std::string next_step(const Job& job, const Result& result, const std::string& file) {
  if (result.as_asked()) return "grainwright cutlist " + file;
  if (job.shop && job.wish) return "grainwright design " + file;
  return "tell the job your [shop] and a [wish] with rail_speed, then grainwright design " + file;
}

std::string text_of(const Job& job, const Result& result, UnitSystem units,
                    const std::string& file) {
  Page page;
  page.heading(title_of("Flight", job));
  page.paragraph(flight_model);
  page.paragraph(fmt::format("Thrust is that of the {} firing.", name_of(result.model)));
  tell(page, result.flight, result.airframe, units);
  tell_steady(page, result, units);
  advise(page, job, result, units);
  tell_bounds(page, result.bounds, result.flight, units);
  page.gap();
  if (result.flight.apogee > 0) {
    page.drawing(drawn({"time", Dimension::time, result.flight.track.time},
                       {"height", Dimension::distance, result.flight.track.height}, units,
                       utf8_locale()));
  }
  tell_remarks(page, result.flight.remarks);
  page.heading(short_caution);
  if (!result.as_asked()) page.heading("This flight is not what the job asks for.");
  page.next(next_step(job, result, file));
  return page.text();
}

std::string printed(const Job& job, const Result& result, const Arguments& arguments) {
  const std::vector<Column> columns = columns_of(result.flight.track);
  switch (arguments.format()) {
    case Format::json:
      return written({{"model", name_of(result.model)},
                      {"fly", json_of(result.flight)},
                      {"bounds", json_of(result.bounds)},
                      {"remarks", result.flight.remarks},
                      {"curve", json_of(columns)}});
    case Format::csv:
      return csv_of(columns);
    case Format::text:
      break;
  }
  return text_of(job, result, arguments.units().value_or(job.units), arguments.operand());
}

Answer run(const Arguments& arguments) {
  const Model model = read_model(arguments.text("model").value_or("transient"));
  const Job job = read_job(arguments.operand());
  const Result result = fly(job, model);
  return {printed(job, result, arguments), result.as_asked() ? Exit::fine : Exit::no};
}

}  // namespace

Command fly_command() {
  return {.name = "fly",
          .purpose = "does it leave the rail fast enough; how high does it go?",
          .operand = "JOB",
          .options = {{"model", "steady|transient|axial", "model of the firing; else transient"}},
          .why_no_csv = "",
          .run = run};
}

}  // namespace grainwright::cli
