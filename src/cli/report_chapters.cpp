// SPDX-License-Identifier: GPL-3.0-or-later
#include "report_chapters.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>

#include "chances.hpp"
#include "flight_page.hpp"
#include "grainwright/search/search.hpp"
#include "limit_words.hpp"
#include "models.hpp"
#include "numbers.hpp"
#include "scatter_page.hpp"
#include "strength.hpp"
#include "verdict_page.hpp"
#include "whole_file.hpp"
#include "words.hpp"

namespace grainwright::cli {
namespace {

/// Enough for the percentiles of a page; `scatter` makes more.
constexpr std::size_t doubt_samples = 16384;

DataTable as_data(const Table& table, std::string caption = "") {
  return {
      .caption = std::move(caption), .align = table.align, .head = table.head, .rows = table.rows};
}

/// What a command says, as parts of a page.
std::vector<Block> as_blocks(const Page& page) {
  std::vector<Block> blocks;
  for (const Said& said : page.said()) {
    switch (said.kind) {
      case Said::Kind::heading:
        blocks.push_back(Heading{said.text});
        break;
      case Said::Kind::paragraph:
        blocks.push_back(Paragraph{said.text});
        break;
      case Said::Kind::table:
        blocks.push_back(as_data(said.table));
        break;
      case Said::Kind::item:
        if (blocks.empty() || !std::holds_alternative<Bullets>(blocks.back())) {
          blocks.push_back(Bullets{});
        }
        std::get<Bullets>(blocks.back()).items.push_back(said.text);
        break;
    }
  }
  return blocks;
}

// ----------------------------------------------------------------------------------- first screen

std::vector<Figure> figures_of(const Findings& findings, UnitSystem units) {
  const Assessment& found = findings.found;
  const Summary& summary = found.firing.summary;
  std::vector<Figure> figures;
  const auto add = [&](const char* key, double value, const std::string& more = "") {
    const FigureRow& row = figure_row(key);
    figures.push_back({std::string(row.label), show(value, row.dimension, units) + more});
  };
  const auto fired = [&](const char* key) { add(key, summary.*figure_row(key).fired); };
  add("total_impulse_Ns", summary.total_impulse, ", " + summary.letter_class);
  fired("mean_thrust_N");
  fired("peak_thrust_N");
  figures.push_back({"peak pressure, head end", headline_pressure(found, units)});
  fired("burn_time_s");
  fired("propellant_mass_kg");
  if (found.flight) {
    for (const char* key : {"rail_exit_speed_m_s", "apogee_m"}) {
      add(key, *found.flight.*figure_row(key).flown);
    }
  }
  if (findings.misfit) figures.push_back({"misfit", fmt::format("{:.3f}", *findings.misfit)});
  return figures;
}

/// Before the first and after the last known moment a motor does not push.
std::vector<double> without_gaps(std::vector<double> thrust) {
  for (double& value : thrust) {
    if (std::isnan(value)) value = 0;
  }
  return thrust;
}

Chart thrust_chart(const Job& job, const Findings& found) {
  const Firing& firing = found.firing();
  Chart chart{.id = "thrust",
              .title = "Thrust",
              .dimension = Dimension::force,
              .time = firing.curve.time,
              .traces = {{"predicted, transient model", firing.curve.thrust}}};
  if (const Profile* asked = asked_profile(job)) {
    chart.traces.push_back({"asked profile, at the same mean",
                            asked_thrust(*asked, firing.summary, chart.time), Pen::dashed});
  }
  if (found.doubt()) {
    const ThrustBand& band = found.doubt()->thrust;
    chart.band = Band{"between these lie nine of ten motors",
                      without_gaps(resampled(band.time, band.p5, chart.time)),
                      without_gaps(resampled(band.time, band.p95, chart.time))};
  }
  if (std::isfinite(job.limits.pressure)) {
    chart.levels.push_back({"at the pressure ceiling",
                            found.question.motor.chamber().thrust_law()(job.limits.pressure)});
  }
  return chart;
}

// --------------------------------------------------------------------------------------- sections

Chapter burning_chapter(const Job& job, const Findings& found) {
  const Curve& curve = found.firing().curve;
  Chart pressure{.id = "pressure",
                 .title = "Chamber pressure",
                 .dimension = Dimension::pressure,
                 .time = curve.time,
                 .traces = {{"transient model", curve.pressure}}};
  if (const auto& axial = found.found.axial) {
    pressure.traces.push_back({"axial model, head end",
                               resampled(axial->curve.time, axial->curve.pressure, curve.time),
                               Pen::dotted});
  }
  if (std::isfinite(job.limits.pressure))
    pressure.levels.push_back({"ceiling", job.limits.pressure});
  if (job.limits.pressure_floor > 0)
    pressure.levels.push_back({"floor", job.limits.pressure_floor});
  Chart area{.id = "area",
             .title = "Burning area",
             .dimension = Dimension::area,
             .time = curve.time,
             .traces = {{"bare faces together", curve.burning_area}}};
  return {"burning", "Pressure and burning area", {pressure, area}};
}

Chapter figures_chapter(const Findings& found, UnitSystem units) {
  Chapter chapter{"figures", "Figures of the transient model", {}};
  for (const Table& table : summary_tables(found.firing().summary, units)) {
    chapter.blocks.push_back(as_data(table));
  }
  const auto others = differences(found.found, Model::transient, found.firing().summary, units);
  if (!others.empty()) chapter.blocks.push_back(Bullets{others});
  return chapter;
}

Chapter asked_chapter(const Job& job, const Findings& found, UnitSystem units) {
  Chapter chapter{"asked", "What is asked of it", {}};
  std::vector<std::string> lines;
  if (job.wish) {
    lines.push_back(found.misfit
                        ? fmt::format("{}: misfit {} (RMS over the burn, of thrust over its mean)",
                                      described(*job.wish),
                                      show(*found.misfit, Dimension::ratio, units, 3))
                        : described(*job.wish));
  }
  for (const Check& check : worth_saying(found.found.checks))
    lines.push_back(sentence(check, units));
  if (lines.empty()) lines.push_back("Nothing.");
  chapter.blocks.push_back(Bullets{lines});
  return chapter;
}

Chapter segments_chapter(const Job& job, UnitSystem units) {
  Chapter chapter{"segments", "Segments, head end first", {as_data(table_of(job.grain, units))}};
  std::string words = fmt::format("Stack of {}", show_length(job.grain.stack_length(), units));
  if (job.casing)
    words += fmt::format(" in {} of room", show_length(job.casing->grain_room, units));
  if (job.grain.spacer > 0) {
    words += fmt::format(", with gaps of {}", show_length(job.grain.spacer, units));
  }
  chapter.blocks.push_back(Paragraph{
      words + fmt::format("; throat {}.", show_length(job.nozzle->throat_diameter, units))});
  return chapter;
}

Chapter margins_chapter(const Margins& margins, UnitSystem units) {
  return {
      "margins",
      "What fails first",
      {Paragraph{strength_sentence(margins, units)}, as_data(cli::table_of(margins, units)),
       Paragraph{fmt::format(
           "Ratio: what a part holds at its temperature of that moment over its load then; cold, "
           "the same without heat. A factor of {} is asked. In a firing as long and as hot as this "
           "one, pressures up to {} keep it.",
           show(margins.factor, Dimension::ratio, units),
           show(margins.allowed_pressure, Dimension::pressure, units))}}};
}

Chapter flight_chapter(const Job& job, const Findings& found, UnitSystem units) {
  Page page;
  page.paragraph(flight_model);
  const Flight& flight = *found.found.flight;
  tell(page, flight, *job.airframe, units);
  tell_bounds(page, of_flight(found.found.checks), flight, units);
  for (const std::string& remark : flight.remarks) page.item("- ", remark);
  return {"flight", "Rail and flight", as_blocks(page)};
}

Chapter doubt_chapter(const ScatterResult& doubt, UnitSystem units) {
  Page page;
  if (doubt.over_ceiling) {
    page.paragraph(fmt::format(
        "Over the ceiling of {}: {} of motors built and fired like this one.",
        show(*doubt.ceiling, Dimension::pressure, units), chance_words(*doubt.over_ceiling)));
  }
  tell(page, doubt, units);
  return {"doubt", "How far it may stray", as_blocks(page)};
}

/// A burn law that the builder has measured on a stand.
Chapter stand_chapter(const Measured& measured, UnitSystem units) {
  std::vector<std::string> lines = {fmt::format(
      "The burn law was measured{}, in {}{}.",
      measured.date.empty() ? "" : " (" + measured.date + ")",
      counted(std::ssize(measured.logs), "log"),
      measured.logs.empty() ? "" : fmt::format(": {}", fmt::join(measured.logs, ", ")))};
  const auto add = [&](std::string_view what, double error) {
    if (error > 0) lines.push_back(fmt::format("{}: one sigma {}", what, percent(error)));
  };
  add(measured.at > 0
          ? fmt::format("burn rate at {}", show(measured.at, Dimension::pressure, units))
          : std::string("burn rate"),
      measured.rate_error);
  add("thrust efficiency", measured.efficiency_error);
  add("characteristic velocity", measured.characteristic_velocity_error);
  if (measured.n_error > 0) {
    lines.push_back(
        fmt::format("exponent: one sigma {}", show(measured.n_error, Dimension::ratio, units, 2)));
  }
  return {"stand", "What the stand measured", {Bullets{lines}}};
}

std::string build_words(const Grain& grain, UnitSystem units) {
  std::vector<std::string> parts;
  for (const auto& [segment, count] : grain.layers) {
    parts.push_back(fmt::format("{} of {} on {}", count,
                                show(segment.length, Dimension::length, units, 5),
                                show(segment.core_diameter, Dimension::length, units, 5)));
  }
  return fmt::format("{}", fmt::join(parts, ", "));
}

Chapter shortlist_chapter(const Job& job, const SearchResult& result, UnitSystem units) {
  DataTable table{.caption = "",
                  .align = "llrrrll",
                  .head = {"", "segments, length on core rod", "throat", "misfit", "impulse",
                           "peak pressure", "chosen for, and gives up"},
                  .rows = {}};
  for (const Design& design : result.designs) {
    const bool this_one =
        design.grain == job.grain && design.throat_diameter == job.nozzle->throat_diameter;
    table.rows.push_back(
        {this_one ? "this one" : std::to_string(table.rows.size() + 1),
         build_words(design.grain, units),
         show(design.throat_diameter, Dimension::length, units, 6),
         fmt::format("{:.4f}", design.misfit),
         show(design.summary.total_impulse, Dimension::impulse, units),
         show(design.summary.peak_pressure, Dimension::pressure, units),
         design.gives_up.empty() ? design.strength : design.strength + ": " + design.gives_up});
  }
  return {
      "shortlist",
      "What else this shop could build",
      {Paragraph{fmt::format("Of {} judged by the steady model, those that meet every limit and "
                             "stand out; the first is {}.",
                             counted(result.builds, "build"),
                             result.proven ? "proven the best fit" : "the best fit found")},
       table}};
}

Chapter models_chapter(const Job& job, const Findings& found) {
  std::vector<std::string> lines = {std::string(transient_model),
                                    "The whole grain is taken to light at once, bare faces to burn "
                                    "evenly and along their normals, inhibited faces not at all. "
                                    "Cracks, voids and loose inhibitor are not in it."};
  const Ports& ports = found.found.ports;
  if (ports.flow == PortFlow::followed || ports.flow == PortFlow::estimated) {
    lines.push_back(fmt::format(
        "Flow along the ports, {}: Mach {:.2f} and a head-to-nozzle pressure drop of {}, maximum.",
        ports.flow == PortFlow::followed ? "by the axial model" : "an estimate to the safe side",
        ports.mach, percent(1 - 1 / ports.head_ratio)));
  }
  if (found.search) lines.push_back("Misfit and shortlist are those of the steady model.");
  std::ranges::copy(remarks_of(job, found.found), std::back_inserter(lines));
  lines.push_back(
      fmt::format("Propellant {}: shipped numbers are those of published tests, and a "
                  "batch of your own differs. The burn law is the largest doubt.",
                  job.propellant->name));
  return {"limits-of-the-model", "Assumptions and limits of the model", {Bullets{lines}}};
}

Chapter sources_chapter(const Findings& found) {
  std::vector<std::string> lines = {
      "Firing: NASA SP-8039; Sutton & Biblarz, Rocket Propulsion Elements.",
      "Burning area: closed form; NASA SP-8076 (1972).",
      "Pipe sizes: ASTM D1785. Letter classes: NFPA 1125."};
  if (found.found.margins) {
    lines.push_back(
        "Strength: ASTM D1785 and D2564; Carslaw & Jaeger, Conduction of Heat in Solids; "
        "Bartz, Jet Propulsion 27 (1957).");
  }
  lines.push_back(
      "Numbers of the propellants and materials: the data that ship with Grainwright name "
      "a source or an honest tag beside each.");
  return {"sources", "Sources", {Bullets{lines}}};
}

Chapter cautions_chapter() {
  return {"cautions", "Before anything else", {Paragraph{std::string(cautions)}}};
}

std::vector<double> shares_left(const Burnback& burnback, const std::vector<double>& web) {
  const double whole = burnback.propellant_volume(0);
  std::vector<double> left;
  for (double x : web) left.push_back(burnback.propellant_volume(x) / whole);
  return left;
}

/// The reasons of the verdict, as the text prints them.
Chapter reasons_chapter(const Verdict& verdict) {
  Page page;
  tell_reasons(page, verdict);
  return {"reasons", "What the verdict rests on", as_blocks(page)};
}

}  // namespace

Findings findings_of(const Job& job, UnitSystem units, Depth depth) {
  Findings findings{.question = question_of(job), .found = {}, .misfit = {}, .search = {}};
  AssessmentOptions options{.units = units, .scatter = depth == Depth::all};
  // The verdict on a confidence wants them all; a page's percentiles do not.
  if (job.limits.confidence == 0) options.scattering.samples = doubt_samples;
  findings.found = assess(findings.question, options);
  if (const Profile* asked = asked_profile(job)) {
    findings.misfit = misfit(findings.question.motor, *asked);
  }
  if (depth == Depth::all && job.shop && job.wish) {
    SearchResult result = search(search_task_of(job));
    if (!result.designs.empty()) findings.search = std::move(result);
  }
  return findings;
}

const Profile* asked_profile(const Job& job) {
  return job.wish && !job.wish->for_the_rail ? &job.wish->profile : nullptr;
}

std::vector<double> asked_thrust(const Profile& profile, const Summary& summary,
                                 const std::vector<double>& time) {
  std::vector<double> thrust;
  for (double t : time) {
    const double fraction = t / summary.burn_time;
    thrust.push_back(fraction <= 1 ? profile(fraction) * summary.mean_thrust
                                   : std::numeric_limits<double>::quiet_NaN());
  }
  return thrust;
}

Report report_of(const Job& job, const Findings& found, const std::string& file, UnitSystem units) {
  const PreparedMotor& motor = found.question.motor;
  const Curve& curve = found.firing().curve;
  Report report{.kind = "Motor report, a prediction",
                .title = job.title.empty() ? file : job.title,
                .file = file,
                .verdict = first_sentence(found.found, units) + ".",
                .answer = found.found.verdict.answer(),
                .figures = figures_of(found, units),
                .motor = MotorParts{motor.motor(), job.casing, job.shell, units},
                .burn = Burn{curve.time, curve.web, shares_left(motor.burnback(), curve.web)},
                .first = thrust_chart(job, found),
                .chapters = {},
                .job_text = whole_file(file),
                .units = units};
  auto& chapters = report.chapters;
  chapters.push_back(reasons_chapter(found.found.verdict));
  chapters.push_back(segments_chapter(job, units));
  chapters.push_back(asked_chapter(job, found, units));
  chapters.push_back(burning_chapter(job, found));
  chapters.push_back(figures_chapter(found, units));
  if (found.found.margins) chapters.push_back(margins_chapter(*found.found.margins, units));
  if (found.doubt()) chapters.push_back(doubt_chapter(*found.doubt(), units));
  if (found.found.flight) chapters.push_back(flight_chapter(job, found, units));
  if (job.propellant->measured) {
    chapters.push_back(stand_chapter(*job.propellant->measured, units));
  }
  if (found.search) chapters.push_back(shortlist_chapter(job, *found.search, units));
  chapters.push_back(models_chapter(job, found));
  chapters.push_back(sources_chapter(found));
  chapters.push_back(cautions_chapter());
  return report;
}

}  // namespace grainwright::cli
