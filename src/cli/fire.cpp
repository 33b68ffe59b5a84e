// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include "arguments.hpp"
#include "check.hpp"
#include "columns.hpp"
#include "drawing.hpp"
#include "grainwright/error.hpp"
#include "grainwright/firing/axial.hpp"
#include "grainwright/job/job.hpp"
#include "grainwright/motor/atmosphere.hpp"
#include "grainwright/search/search.hpp"
#include "json.hpp"
#include "prediction.hpp"
#include "strength.hpp"
#include "sweep.hpp"
#include "words.hpp"

namespace grainwright::cli {
namespace {

/// Everything that this command finds out.
struct Result {
  Prediction prediction;
  std::vector<Check> limits;
  std::vector<Check> bounds;     ///< what the wish asks beside its profile
  std::optional<double> misfit;  ///< of the steady firing, against the wish's profile
  std::optional<Margins> hot;    ///< where the ceiling is from strength

  [[nodiscard]] const Firing& firing() const { return prediction.firing; }
};

Result fire(const Job& job, Model model, int slices) {
  Result result{.prediction = predict(job, model, slices),
                .limits = {},
                .bounds = {},
                .misfit = {},
                .hot = {}};
  const Summary judged = result.prediction.judged();
  result.limits = checked(set_limits(job.limits), judged);
  if (!result.limits.empty() && judged.peak_pressure > result.firing().summary.peak_pressure) {
    result.prediction.firing.remarks.push_back(
        "limits are held against the axial model's head pressure, which is higher");
  }
  if (job.wish) {
    result.bounds = checked(set_bounds(*job.wish), result.firing().summary);
    if (!job.wish->for_the_rail) result.misfit = misfit(motor_of(job), job.wish->profile);
  }
  result.hot = hot_check(job, motor_of(job), result.prediction.hardest().curve);
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
  page.heading("Limits of the job");
  if (result.limits.empty()) {
    page.paragraph("None: nothing here says that the casing holds.");
  }
  for (const Check& check : result.limits) page.item("- ", sentence(check, units));
}

void tell_strength(Page& page, const Job& job, const Result& result, UnitSystem units) {
  if (!result.hot) return;
  page.heading("Strength");
  page.paragraph(fmt::format("Ceiling {}. Hot, over the {} firing:", ceiling_words(job, units),
                             name_of(model_of(result.prediction.hardest()))));
  page.table(table_of(*result.hot, units));
  page.gap();
  page.paragraph(verdict(*result.hot, units));
}

/// Every limit and bound is kept, no port chokes, and every part holds.
bool as_asked(const Result& result) {
  return !any_broken(result.limits) && !any_broken(result.bounds) && !result.prediction.chokes &&
         (!result.hot || result.hot->hold());
}

void tell_wish(Page& page, const Job& job, const Result& result, UnitSystem units) {
  if (!job.wish) return;
  page.heading("Wish of the job");
  page.item("- ", result.misfit
                      ? fmt::format("{}: misfit {} (RMS over the burn, of thrust over its mean)",
                                    described(*job.wish),
                                    show(*result.misfit, Dimension::ratio, units, 3))
                      : described(*job.wish) + ": `grainwright fly` judges the flight");
  for (const Check& check : result.bounds) page.item("- ", sentence(check, units));
}

std::string next_step(const Job& job, const Result& result, const std::string& file) {
  if (result.hot && !result.hot->hold()) return "grainwright margins " + file;
  if (as_asked(result)) return (job.airframe ? "grainwright fly " : "grainwright cutlist ") + file;
  if (job.shop && job.wish) return "grainwright design " + file;
  return "tell the job your [shop] and [wish], then grainwright design " + file;
}

std::string text_of(const Job& job, const Result& result, UnitSystem units,
                    const std::string& file) {
  const auto& [model, firing, steady_peak, axial, chokes, others] = result.prediction;
  const Curve& curve = firing.curve;
  Page page;
  page.heading(title_of("Firing", job));
  page.paragraph(words_for(model));
  page.heading("Figures");
  tell(page, firing.summary, units);
  tell(page, result.prediction, units);
  if (!others.empty()) page.gap();
  for (const std::string& line : others) page.paragraph(line);
  tell_limits(page, result, units);
  tell_strength(page, job, result, units);
  tell_wish(page, job, result, units);
  page.gap();
  page.drawing(drawn({"time", Dimension::time, curve.time},
                     {"thrust", Dimension::force, curve.thrust}, units, utf8_locale()));
  tell_remarks(page, firing.remarks);
  page.heading(short_caution);
  if (chokes) {
    page.heading("A port of this motor would choke before its throat: figures here are too kind.");
  } else if (!as_asked(result)) {
    page.heading("This motor is not what the job asks for.");
  }
  page.next(next_step(job, result, file));
  return page.text();
}

Json json_of(const Result& result) {
  const auto& [model, firing, steady_peak, axial, chokes, others] = result.prediction;
  Json json = {{"model", name_of(model)},
               {"summary", cli::json_of(firing.summary)},
               {"limits", cli::json_of(result.limits)}};
  if (firing.transient) json["transient"] = cli::json_of(*firing.transient);
  if (firing.axial) json["axial"] = cli::json_of(*firing.axial);
  if (axial) json["axial"] = cli::json_of(*axial->axial);
  if (result.misfit) {
    json["wish"] = {{"misfit", *result.misfit}, {"bounds", cli::json_of(result.bounds)}};
  } else if (!result.bounds.empty()) {
    json["wish"] = {{"bounds", cli::json_of(result.bounds)}};
  }
  if (result.hot) json["margins"] = cli::json_of(*result.hot);
  json["others"] = others;
  json["remarks"] = firing.remarks;
  json["curve"] = cli::json_of(columns_of(firing));
  return json;
}

std::string printed(const Job& job, const Result& result, const Arguments& arguments) {
  switch (arguments.format()) {
    case Format::json:
      return written(json_of(result));
    case Format::csv:
      return csv_of(columns_of(result.firing()));
    case Format::text:
      break;
  }
  return text_of(job, result, arguments.units().value_or(job.units), arguments.operand());
}

/// The day that the command line sets in place of the job's.
void set_day(Day& day, const Arguments& arguments) {
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

Answer run(const Arguments& arguments) {
  const Model model = read_model(arguments.text("model").value_or("transient"));
  const int slices = arguments.whole_number("slices", 1, 1000, AxialOptions{}.slices);
  Job job = read_job(arguments.operand());
  set_day(job.day, arguments);
  if (const auto wanted = arguments.text("sweep")) {
    refuse_double(arguments, *wanted);
    const auto prepare = [&](Job& changed) { set_day(changed.day, arguments); };
    const Sweep sweep = swept(arguments.operand(), *wanted, prepare,
                              [&](const Job& changed) { return predict(changed, model, slices); });
    return {printed(sweep, arguments.format(), arguments.units().value_or(job.units)), Exit::fine};
  }
  Result result = fire(job, model, slices);
  const bool holds = !any_broken(result.limits) && !result.prediction.chokes &&
                     (!result.hot || result.hot->hold());
  return {printed(job, result, arguments), holds ? Exit::fine : Exit::no};
}

}  // namespace

Command fire_command() {
  return {.name = "fire",
          .purpose = "what pressure and thrust, from lighting to burnout?",
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
