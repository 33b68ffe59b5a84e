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
#include "words.hpp"

namespace grainwright::cli {
namespace {

std::string text_of(const Report& report, const std::optional<std::string>& page,
                    const std::optional<std::string>& data, const std::string& job) {
  Page text;
  text.heading("Report: " + report.title);
  text.paragraph(report.verdict);
  text.gap();
  Table figures{.align = "ll"};
  for (const auto& [name, value] : report.figures) figures.rows.push_back({name, value});
  text.table(figures);
  text.heading("Parts of the page");
  text.item("- ", report.first.title);
  for (const Chapter& chapter : report.chapters) text.item("- ", chapter.heading);
  if (page) text.heading("Page written: " + *page);
  if (data) text.heading("Curves written, for a spreadsheet: " + *data);
  text.heading(short_caution);
  text.next("open the page in a browser, print it; then grainwright cutlist " + job +
            " --sheet SHEET.html");
  return text.text();
}

Answer run(const Arguments& arguments) {
  const auto page = target_of(arguments, "out");
  const auto data = target_of(arguments, "data");
  if (!page && !data) {
    throw InputError("--out", "not given", "--out FILE.html, --data FILE.csv, or both");
  }
  const Job job = read_job(arguments.operand());
  const UnitSystem units = arguments.units().value_or(job.units);
  const Findings found = findings_of(job, units, Depth::all);
  const bool replace = arguments.has("force");
  const Report report = report_of(job, found, arguments.operand(), units);
  if (page) write_whole_file(*page, html_of(report), replace);
  if (data) write_whole_file(*data, spreadsheet_of(job, found, units), replace);
  const Exit exit = report.as_asked ? Exit::fine : Exit::no;
  if (arguments.format() == Format::json) {
    Json json = {
        {"title", report.title}, {"verdict", report.verdict}, {"as_asked", report.as_asked}};
    json["parts"] = Json::array({report.first.title});
    for (const Chapter& chapter : report.chapters) json["parts"].push_back(chapter.heading);
    json["page"] = page ? Json(*page) : Json();
    json["data"] = data ? Json(*data) : Json();
    return {written({{"report", json}}), exit};
  }
  return {text_of(report, page, data, arguments.operand()), exit};
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
