// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "arguments.hpp"
#include "columns.hpp"
#include "drawing.hpp"
#include "flight_page.hpp"
#include "grainwright/error.hpp"
#include "grainwright/firing/axial.hpp"
#include "grainwright/flight/flight.hpp"
#include "grainwright/job/job.hpp"
#include "json.hpp"
#include "limit_words.hpp"
#include "models.hpp"
#include "numbers.hpp"
#include "verdict_page.hpp"
#include "words.hpp"

namespace grainwright::cli {
namespace {

/// Points of the curve that a flight follows.
constexpr int curve_points = 801;

struct Result {
  Model model = Model::transient;
  Assessment found;
  Flight flight;  ///< on the thrust of that model
  Flight steady;  ///< as the search would judge it
};

/// The flight on the thrust of another model than the transient one, by which it is judged.
Flight flown(const Question& question, const Assessment& found, Model model) {
  const Airframe& airframe = *question.airframe;
  if (model == Model::steady) return fly_steady(question.motor, airframe);
  if (model == Model::transient) return *found.flight;
  const Firing axial = fire_axial(question.motor, {.points = curve_points});
  if (axial.axial->choked) {
    throw InputError("--model", "axial", "steady or transient: a port of this motor would choke");
  }
  return fly(axial, question.motor.motor(), airframe);
}

Result fly(const Job& job, Model model, UnitSystem units) {
  static_cast<void>(airframe_of(job));  // complains where there is none
  const Question question = question_of(job);
  Result result{
      .model = model, .found = assess(question, {.units = units}), .flight = {}, .steady = {}};
  result.flight = flown(question, result.found, model);
  result.steady = fly_steady(question.motor, *question.airframe);
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

std::vector<std::string> all_remarks(const Job& job, const Result& result) {
  std::vector<std::string> remarks = result.flight.remarks;
  std::ranges::copy(remarks_of(job, result.found), std::back_inserter(remarks));
  return remarks;
}

std::string text_of(const Job& job, const Result& result, UnitSystem units,
                    const std::string& file) {
  Page page;
  tell_verdict(page, result.found, units);
  page.heading(title_of("Flight", job));
  page.paragraph(flight_model);
  page.paragraph(fmt::format("Thrust is that of the {} firing.", name_of(result.model)));
  tell(page, result.flight, *job.airframe, units);
  tell_steady(page, result, units);
  advise(page, job, result, units);
  tell_bounds(page, of_flight(result.found.checks), *result.found.flight, units);
  page.gap();
  if (result.flight.apogee > 0) {
    page.drawing(drawn({"time", Dimension::time, result.flight.track.time},
                       {"height", Dimension::distance, result.flight.track.height}, units,
                       utf8_locale()));
  }
  tell_remarks(page, all_remarks(job, result));
  page.heading(short_caution);
  page.next(next_step(job, result.found.verdict, file, "grainwright cutlist " + file));
  return page.text();
}

std::string printed(const Job& job, const Result& result, const Arguments& arguments,
                    UnitSystem units) {
  const std::vector<Column> columns = columns_of(result.flight.track);
  switch (arguments.format()) {
    case Format::json:
      return written({{"verdict", json_of(result.found.verdict)},
                      {"model", name_of(result.model)},
                      {"fly", json_of(result.flight)},
                      {"bounds", json_of(of_flight(result.found.checks))},
                      {"remarks", all_remarks(job, result)},
                      {"curve", json_of(columns)}});
    case Format::csv:
      return csv_of(columns);
    case Format::text:
      break;
  }
  return text_of(job, result, units, arguments.operand());
}

Output run(const Arguments& arguments) {
  const Model model = read_model(arguments.text("model").value_or("transient"));
  const Job job = read_job(arguments.operand());
  const UnitSystem units = arguments.units().value_or(job.units);
  const Result result = fly(job, model, units);
  return {printed(job, result, arguments, units), exit_of(result.found.verdict)};
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
