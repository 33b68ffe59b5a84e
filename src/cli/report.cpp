// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include "arguments.hpp"
#include "grainwright/error.hpp"
#include "grainwright/job/job.hpp"
#include "grainwright/report/page.hpp"
#include "json.hpp"
#include "numbers.hpp"
#include "report_chapters.hpp"
#include "spreadsheet.hpp"
#include "target.hpp"
#include "verdict_page.hpp"
#include "words.hpp"

namespace grainwright::cli {
namespace {

std::string text_of(const Job& job, const Report& report, const Verdict& verdict,
                    const std::optional<std::string>& page, const std::optional<std::string>& data,
                    const std::string& file) {
  Page text;
  text.heading(report.verdict);
  tell_reasons(text, verdict);
  text.heading("Report: " + report.title);
  Table figures{.align = "ll"};
  for (const auto& [name, value] : report.figures) figures.rows.push_back({name, value});
  text.table(figures);
  text.heading("Parts of the page");
  text.item("- ", report.first.title);
  for (const Chapter& chapter : report.chapters) text.item("- ", chapter.heading);
  if (page) text.heading("Page written: " + *page);
  if (data) text.heading("Curves written, for a spreadsheet: " + *data);
  text.heading(short_caution);
  text.next(next_step(job, verdict, file,
                      "open the page in a browser, print it; then grainwright cutlist " + file +
                          " --sheet SHEET.html"));
  return text.text();
}

Output run(const Arguments& arguments) {
  Targets targets(arguments, {"out", "data"});
  const auto page = targets.file("out");
  const auto data = targets.file("data");
  if (!page && !data) {
    throw InputError("--out", "not given", "--out FILE.html, --data FILE.csv, or both");
  }
  const Job job = read_job(arguments.operand());
  targets.keep_clear_of(job);
  const UnitSystem units = arguments.units().value_or(job.units);
  const Findings found = findings_of(job, units, Depth::all);
  const Report report = report_of(job, found, arguments.operand(), units);
  if (page) targets.put("out", html_of(report));
  if (data) targets.put("data", spreadsheet_of(job, found, units));
  targets.write();
  const Verdict& verdict = found.found.verdict;
  const Exit exit = exit_of(verdict);
  if (arguments.format() == Format::json) {
    Json json = {{"title", report.title}, {"sentence", report.verdict}};
    json["parts"] = Json::array({report.first.title});
    for (const Chapter& chapter : report.chapters) json["parts"].push_back(chapter.heading);
    json["page"] = page ? Json(*page) : Json();
    json["data"] = data ? Json(*data) : Json();
    json["remarks"] = remarks_of(job, found.found);
    return {written({{"verdict", json_of(verdict)}, {"report", json}}), exit};
  }
  return {text_of(job, report, verdict, page, data, arguments.operand()), exit};
}

}  // namespace

Command report_command() {
  return {
      .name = "report",
      .purpose = "one page to look at, print and keep",
      .operand = "JOB",
      .options = {{"out", "FILE", "write the page (HTML) to FILE", "o"},
                  {"data", "FILE", "write the curves (CSV, in printed units, even steps) to FILE"},
                  {"force", "", "replace existing files"}},
      .why_no_csv = "use --data FILE",
      .run = run};
}

}  // namespace grainwright::cli
