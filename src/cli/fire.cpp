// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include "arguments.hpp"
#include "check.hpp"
#include "columns.hpp"
#include "drawing.hpp"
#include "grainwright/error.hpp"
#include "grainwright/firing/steady.hpp"
#include "grainwright/job/job.hpp"
#include "grainwright/search/search.hpp"
#include "json.hpp"
#include "strength.hpp"
#include "words.hpp"

namespace grainwright::cli {
namespace {

/// Everything that this command finds out.
struct Result {
  Firing firing;
  std::vector<Check> limits;
  std::vector<Check> bounds;     ///< what the wish asks beside its profile
  std::optional<double> misfit;  ///< against the wish's profile
  std::optional<Margins> hot;    ///< where the ceiling is from strength
};

Result fire(const Job& job) {
  Motor motor = motor_of(job);
  Result result;
  result.firing = fire_steady(motor);
  const Summary& summary = result.firing.summary;
  result.limits = checked(set_limits(job.limits), summary);
  if (job.wish) {
    result.bounds = checked(set_bounds(*job.wish), summary);
    result.misfit = misfit(motor, job.wish->profile);
  }
  result.hot = hot_check(job, motor, result.firing.curve);
  auto& remarks = result.firing.remarks;
  remarks.insert(remarks.end(), job.remarks.begin(), job.remarks.end());
  return result;
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
  page.paragraph("Ceiling " + ceiling_words(job, units) + ". Hot, over this firing:");
  page.table(table_of(*result.hot, units));
  page.gap();
  page.paragraph(verdict(*result.hot, units));
}

/// Every limit and bound is kept, and every part holds.
bool as_asked(const Result& result) {
  return !any_broken(result.limits) && !any_broken(result.bounds) &&
         (!result.hot || result.hot->hold());
}

void tell_wish(Page& page, const Job& job, const Result& result, UnitSystem units) {
  if (!job.wish) return;
  page.heading("Wish of the job");
  page.item("- ", fmt::format("{}: misfit {} (RMS over the burn, of thrust over its mean)",
                              described(job.wish->profile),
                              show(*result.misfit, Dimension::ratio, units, 3)));
  for (const Check& check : result.bounds) page.item("- ", sentence(check, units));
}

std::string next_step(const Job& job, const Result& result, const std::string& file) {
  if (result.hot && !result.hot->hold()) return "grainwright margins " + file;
  if (as_asked(result)) return "grainwright cutlist " + file;
  if (job.shop && job.wish) return "grainwright design " + file;
  return "tell the job your [shop] and [wish], then grainwright design " + file;
}

std::string text_of(const Job& job, const Result& result, UnitSystem units,
                    const std::string& file) {
  const Summary& summary = result.firing.summary;
  const Curve& curve = result.firing.curve;
  Page page;
  page.heading(title_of("Firing", job));
  page.paragraph(steady_model);
  page.heading("Figures");
  tell(page, summary, units);
  tell_limits(page, result, units);
  tell_strength(page, job, result, units);
  tell_wish(page, job, result, units);
  page.gap();
  page.drawing(drawn({"time", Dimension::time, curve.time},
                     {"thrust", Dimension::force, curve.thrust}, units, utf8_locale()));
  tell_remarks(page, result.firing.remarks);
  page.heading(short_caution);
  if (!as_asked(result)) page.heading("This motor is not what the job asks for.");
  page.next(next_step(job, result, file));
  return page.text();
}

Json json_of(const Result& result) {
  Json json = {{"summary", cli::json_of(result.firing.summary)},
               {"limits", cli::json_of(result.limits)}};
  if (result.misfit) {
    json["wish"] = {{"misfit", *result.misfit}, {"bounds", cli::json_of(result.bounds)}};
  }
  if (result.hot) json["margins"] = cli::json_of(*result.hot);
  json["remarks"] = result.firing.remarks;
  json["curve"] = cli::json_of(columns_of(result.firing.curve));
  return json;
}

std::string printed(const Job& job, const Result& result, const Arguments& arguments) {
  switch (arguments.format()) {
    case Format::json:
      return written(json_of(result));
    case Format::csv:
      return csv_of(columns_of(result.firing.curve));
    case Format::text:
      break;
  }
  return text_of(job, result, arguments.units().value_or(job.units), arguments.operand());
}

Answer run(const Arguments& arguments) {
  std::string model = arguments.text("model").value_or("steady");
  if (model != "steady") throw InputError("--model", model, "steady");
  Job job = read_job(arguments.operand());
  Result result = fire(job);
  const bool holds = !any_broken(result.limits) && (!result.hot || result.hot->hold());
  return {printed(job, result, arguments), holds ? Exit::fine : Exit::no};
}

}  // namespace

Command fire_command() {
  return {.name = "fire",
          .purpose = "what pressure and thrust, from lighting to burnout?",
          .operand = "JOB",
          .options = {{"model", "steady", "model of the firing; steady is the one there is"}},
          .why_no_csv = "",
          .run = run};
}

}  // namespace grainwright::cli
