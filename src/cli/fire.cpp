// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "arguments.hpp"
#include "columns.hpp"
#include "drawing.hpp"
#include "grainwright/error.hpp"
#include "grainwright/firing/axial.hpp"
#include "grainwright/job/job.hpp"
#include "grainwright/motor/atmosphere.hpp"
#include "grainwright/search/search.hpp"
#include "json.hpp"
#include "limit_words.hpp"
#include "models.hpp"
#include "strength.hpp"
#include "sweep.hpp"
#include "verdict_page.hpp"
#include "words.hpp"

namespace grainwright::cli {
namespace {

/// Everything that this command finds out.
struct Result {
  Assessment found;
  Model model = Model::transient;   ///< whose figures are shown
  Firing firing;                    ///< by that model
  std::optional<double> misfit;     ///< of the steady firing, against the wish's profile
  std::vector<std::string> others;  ///< what the other models say
};

Firing fired(const Question& question, const Assessment& found, Model model, int slices) {
  switch (model) {
    case Model::steady:
      return fire_steady(question.motor);
    case Model::axial:
      return found.axial ? *found.axial : fire_axial(question.motor, {.slices = slices});
    case Model::transient:
      break;
  }
  return found.firing;
}

Result fire(const Job& job, Model model, int slices, UnitSystem units) {
  const Question question = question_of(job);
  Result result{.found = assess(question, {.units = units, .slices = slices}),
                .model = model,
                .firing = {},
                .misfit = {},
                .others = {}};
  result.firing = fired(question, result.found, model, slices);
  // Where a port chokes the axial firing has no curve to show.
  if (result.firing.curve.time.empty()) {
    result.model = Model::transient;
    result.firing = result.found.firing;
  }
  result.others = differences(result.found, result.model, result.firing.summary, units);
  if (job.wish && !job.wish->for_the_rail) {
    result.misfit = misfit(question.motor, job.wish->profile);
  }
  return result;
}

std::string_view words_for(Model model) {
  switch (model) {
    case Model::steady:
      return steady_model;
    case Model::transient:
      return transient_model;
    case Model::axial:
      return axial_model;
  }
  return "";
}

void tell_limits(Page& page, const Result& result, UnitSystem units) {
  const std::vector<Check> limits = of_limits(result.found.checks);
  page.heading("Limits of the job");
  if (limits.empty()) page.paragraph("None.");
  for (const Check& check : limits) page.item("- ", sentence(check, units));
}

void tell_strength(Page& page, const Job& job, const Result& result, UnitSystem units) {
  if (!result.found.margins) return;
  page.heading("Strength");
  page.paragraph(fmt::format("{}Hot, over the {} firing:",
                             job.from_strength ? "Ceiling " + ceiling_words(job, units) + ". " : "",
                             name_of(result.found.margins_over)));
  page.table(table_of(*result.found.margins, units));
  page.gap();
  page.paragraph(strength_sentence(*result.found.margins, units));
}

void tell_wish(Page& page, const Job& job, const Result& result, UnitSystem units) {
  if (!job.wish) return;
  page.heading("Wish of the job");
  page.item("- ", result.misfit
                      ? fmt::format("{}: misfit {} (RMS over the burn, of thrust over its mean)",
                                    described(*job.wish),
                                    show(*result.misfit, Dimension::ratio, units, 3))
                      : described(*job.wish) + ": `grainwright fly` judges the flight");
  for (const Check& check : of_firing(result.found.checks)) page.item("- ", sentence(check, units));
  for (const Check& check : of_flight(result.found.checks)) page.item("- ", sentence(check, units));
}

std::string text_of(const Job& job, const Result& result, UnitSystem units,
                    const std::string& file) {
  const Firing& firing = result.firing;
  Page page;
  tell_verdict(page, result.found, units);
  page.heading(title_of("Firing", job));
  page.paragraph(words_for(result.model));
  page.heading(fmt::format("Figures of the {} model", name_of(result.model)));
  tell(page, firing.summary, units);
  page.gap();
  page.paragraph("Peak pressure at the head end: " + headline_pressure(result.found, units) + ".");
  tell_transient(page, firing, units);
  tell_ports(page, result.found, units);
  if (!result.others.empty()) page.gap();
  for (const std::string& line : result.others) page.paragraph(line);
  tell_limits(page, result, units);
  tell_strength(page, job, result, units);
  tell_wish(page, job, result, units);
  page.gap();
  page.drawing(drawn({"time", Dimension::time, firing.curve.time},
                     {"thrust", Dimension::force, firing.curve.thrust}, units, utf8_locale()));
  tell_remarks(page, remarks_of(job, result.found));
  page.heading(short_caution);
  page.next(next_step(job, result.found.verdict, file,
                      (job.airframe ? "grainwright fly " : "grainwright cutlist ") + file));
  return page.text();
}

Json json_of(const Job& job, const Result& result) {
  Json json = {{"verdict", cli::json_of(result.found.verdict)},
               {"model", name_of(result.model)},
               {"summary", cli::json_of(result.firing.summary)},
               {"judged", judged_json(result.found)},
               {"limits", cli::json_of(of_limits(result.found.checks))}};
  if (result.firing.transient) json["transient"] = cli::json_of(*result.firing.transient);
  if (result.found.axial) json["axial"] = cli::json_of(*result.found.axial->axial);
  std::vector<Check> bounds = of_firing(result.found.checks);
  std::ranges::copy(of_flight(result.found.checks), std::back_inserter(bounds));
  if (result.misfit) {
    json["wish"] = {{"misfit", *result.misfit}, {"bounds", cli::json_of(bounds)}};
  } else if (!bounds.empty()) {
    json["wish"] = {{"bounds", cli::json_of(bounds)}};
  }
  if (result.found.margins) json["margins"] = cli::json_of(*result.found.margins);
  json["others"] = result.others;
  json["remarks"] = remarks_of(job, result.found);
  json["curve"] = cli::json_of(columns_of(result.firing));
  return json;
}

std::string printed(const Job& job, const Result& result, const Arguments& arguments,
                    UnitSystem units) {
  switch (arguments.format()) {
    case Format::json:
      return written(json_of(job, result));
    case Format::csv:
      return csv_of(columns_of(result.firing));
    case Format::text:
      break;
  }
  return text_of(job, result, units, arguments.operand());
}

/// The day that the command line sets in place of the job's.
void set_day(Job& job, const Arguments& arguments) {
  Day& day = job.day;
  if (arguments.has("temperature")) {
    std::erase_if(job.assumed, [](const Assumption& a) { return a.key == "day.temperature"; });
  }
  day.temperature = arguments.quantity("temperature", Dimension::temperature, day.temperature);
  if (!(day.temperature >= coldest_grain && day.temperature <= hottest_grain)) {
    throw InputError("--temperature", *arguments.text("temperature"), "from -60 degC to 80 degC");
  }
  if (arguments.has("altitude")) {
    day.ambient_pressure = air_at(arguments.quantity("altitude", Dimension::length)).pressure;
  }
}

/// What the command line sets for every firing cannot be swept beside it.
void refuse_double(const Arguments& arguments, const std::string& wanted) {
  for (const std::string option : {"temperature", "altitude"}) {
    const std::string key = wanted.substr(0, wanted.find('='));
    if (arguments.has(option) && (key == option || key == "day." + option)) {
      throw InputError("--" + option, "beside a sweep of the same", "one of the two");
    }
  }
}

Output run(const Arguments& arguments) {
  const Model model = read_model(arguments.text("model").value_or("transient"));
  const int slices = arguments.whole_number("slices", 1, 1000, AxialOptions{}.slices);
  Job job = read_job(arguments.operand());
  set_day(job, arguments);
  const UnitSystem units = arguments.units().value_or(job.units);
  if (const auto wanted = arguments.text("sweep")) {
    refuse_double(arguments, *wanted);
    const auto prepare = [&](Job& changed) { set_day(changed, arguments); };
    const auto fire_one = [&](const Job& changed) {
      Result result = fire(changed, model, slices, units);
      std::vector<std::string> remarks = remarks_of(changed, result.found);
      return SweepRun{"", std::move(result.found), std::move(result.firing), std::move(remarks)};
    };
    const Sweep sweep = swept(arguments.operand(), *wanted, model, prepare, fire_one);
    return {printed(sweep, arguments.format(), units), exit_of(verdict_of(sweep))};
  }
  const Result result = fire(job, model, slices, units);
  return {printed(job, result, arguments, units), exit_of(result.found.verdict)};
}

}  // namespace

Command fire_command() {
  return {.name = "fire",
          .purpose = "what pressure and thrust, from ignition to burnout?",
          .operand = "JOB",
          .options = {{"model", "steady|transient|axial", "model of the firing; else transient"},
                      {"slices", "N", "of the stack in the axial model; else 20"},
                      {"temperature", "T", "of the grain, in place of the job's"},
                      {"altitude", "H", "above sea level, in place of the job's ambient pressure"},
                      {"sweep", "KEY=V,V,...", "fire for each value of a number of the job"}},
          .why_no_csv = "",
          .run = run};
}

}  // namespace grainwright::cli
