// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "arguments.hpp"
#include "grainwright/error.hpp"
#include "grainwright/grain/core.hpp"
#include "grainwright/job/job.hpp"
#include "grainwright/report/casting_sheet.hpp"
#include "grainwright/workshop/cut_list.hpp"
#include "json.hpp"
#include "numbers.hpp"
#include "target.hpp"
#include "verdict_page.hpp"
#include "words.hpp"

namespace grainwright::cli {
namespace {

CutList list_of(const Job& job, UnitSystem units) {
  if (!job.propellant) throw InputError("propellant", "no such table", "a [propellant] table");
  WorkshopOptions options = workshop_options_of(job);
  options.units = units;
  return cut_list(segments_of(job), *job.propellant, options);
}

std::string inhibited_of(const Segment& segment) {
  std::string text;
  for (Face face : all_faces) {
    if (!segment.inhibited.contains(face)) continue;
    text += (text.empty() ? "" : ", ") + std::string(name_of(face));
  }
  return text.empty() ? "none" : text;
}

std::string mass(double kilograms, UnitSystem units) {
  return show(kilograms, Dimension::mass, units);
}

void tell_pieces(Page& page, const CutList& list, double tolerance, UnitSystem units) {
  Table sizes{.align = "rlll", .head = {"count", "tube", "propellant", "inhibited"}};
  Table rods{.align = "rll", .head = {"count", "core rod", "its length"}};
  Table weights{.align = "rlll", .head = {"count", "propellant in one", "accept from", "to"}};
  for (const CutPiece& piece : list.pieces) {
    std::string count = std::to_string(piece.count);
    sizes.rows.push_back({count, show_length(piece.tube_length, units),
                          show_length(piece.propellant_length, units),
                          inhibited_of(piece.segment)});
    bool solid = piece.mandrel_length == 0;
    rods.rows.push_back({count, solid ? "none" : core_of(piece.segment, units),
                         solid ? "" : show_length(piece.mandrel_length, units)});
    weights.rows.push_back(
        {count, mass(piece.mass, units), mass(piece.lightest, units), mass(piece.heaviest, units)});
  }
  page.heading("Segments, head end first");
  page.table(sizes);
  if (tolerance > 0) {
    page.paragraph("Lengths to plus or minus " + show_length(tolerance, units) + ".");
  }
  page.heading("Core rods");
  page.table(rods);
  page.heading("Weigh each, without tube");
  page.table(weights);
}

/// Where slots are cut and ends are coned, from the segment's head end.
void tell_cuts(Page& page, const CutList& list, UnitSystem units) {
  Table table{.align = "rllll", .head = {"count", "cut", "middle at", "width", "depth"}};
  for (const CutPiece& piece : list.pieces) {
    const auto* core =
        piece.segment.core ? std::get_if<TurnedCore>(&piece.segment.core->shape) : nullptr;
    if (core == nullptr) continue;
    const std::string count = std::to_string(piece.count);
    const auto length = [&](double metres) { return show_length(metres, units); };
    for (const CoreSlot& slot : core->slots) {
      table.rows.push_back(
          {count, "radial slot", length(slot.at), length(slot.width), length(slot.depth)});
    }
    if (core->head_dish > 0) {
      table.rows.push_back({count, "coned head end", "", "", length(core->head_dish)});
    }
    if (core->nozzle_dish > 0) {
      table.rows.push_back({count, "coned nozzle end", "", "", length(core->nozzle_dish)});
    }
  }
  if (table.rows.empty()) return;
  page.heading("Cuts in the propellant, from each one's head end");
  page.table(table);
}

void tell_room(Page& page, const CutList& list, UnitSystem units) {
  page.heading("Length");
  std::string spacers = list.spacers == 0 ? "No spacers."
                                          : fmt::format("{} of {} between the segments.",
                                                        counted(list.spacers, "spacer"),
                                                        show_length(list.spacer, units));
  page.paragraph(fmt::format("{} Stack {}.", spacers, show_length(list.stack_length, units)));
  if (list.grain_room == 0) return;
  // The job's reader has refused a stack that is longer; what is left of that is rounding.
  page.paragraph(fmt::format("Room {}: {} left over.", show_length(list.grain_room, units),
                             show_length(std::max(0.0, list.room_left), units)));
}

void tell_batch(Page& page, const CutList& list, double waste, UnitSystem units) {
  page.heading("Batch");
  page.paragraph(
      waste > 0
          ? fmt::format("{} in the grain; {} to weigh out, {} of it left in the pot.",
                        mass(list.propellant_mass, units), mass(list.batch, units), percent(waste))
          : fmt::format("{} in the grain, and as much to weigh out: the job counts nothing "
                        "left in the pot (shop.waste).",
                        mass(list.propellant_mass, units)));
  Table table{.align = "ll"};
  for (const Portion& portion : list.portions) {
    table.rows.push_back({portion.name, mass(portion.mass, units)});
  }
  page.table(table);
}

/// "2 x 3.5 in (3 1/2) + 4 in", in the order given.
std::string sum_of(const std::vector<double>& pieces, UnitSystem units) {
  std::string sum;
  for (std::size_t i = 0; i < pieces.size();) {
    std::size_t end = i;
    while (end < pieces.size() && pieces[end] == pieces[i]) ++end;
    if (!sum.empty()) sum += " + ";
    if (end - i > 1) sum += fmt::format("{} x ", end - i);
    sum += show_length(pieces[i], units);
    i = end;
  }
  return sum;
}

/// A stock tube drawn to scale: a bar for each cut, dots for what is left.
std::string drawn_tube(const std::vector<double>& pieces, double stock, double kerf) {
  constexpr std::size_t width = 90;
  std::string bar(width, '.');
  bar.front() = bar.back() = '|';
  double end = 0;
  std::size_t from = 1;
  for (double piece : pieces) {
    end += piece + kerf;
    auto to = static_cast<std::size_t>(std::min(end / stock, 1.0) * (width - 1));
    to = std::clamp(to, from, width - 1);
    std::fill(bar.begin() + std::ptrdiff_t(from), bar.begin() + std::ptrdiff_t(to), '-');
    bar[to] = '|';
    from = std::min(to + 1, width - 1);
  }
  return "     " + bar + '\n';
}

void tell_saw_plan(Page& page, const CutList& list, const WorkshopOptions& options,
                   UnitSystem units) {
  if (!list.saw_plan) return;
  const SawPlan& plan = *list.saw_plan;
  std::vector<double> lengths;
  for (const CutPiece& piece : list.pieces) {
    lengths.insert(lengths.end(), static_cast<std::size_t>(piece.count), piece.tube_length);
  }
  page.heading(fmt::format("Saw plan: {} of {}, kerf {}{}",
                           counted(std::ssize(plan.tubes), "stock tube"),
                           show_length(options.tube_stock, units), show_length(options.kerf, units),
                           plan.proven ? "; no plan needs fewer" : ""));
  for (std::size_t i = 0; i < plan.tubes.size(); ++i) {
    std::vector<double> pieces;
    for (std::size_t index : plan.tubes[i]) pieces.push_back(lengths[index]);
    page.item(fmt::format("{}  ", i + 1), sum_of(pieces, units));
    page.drawing(drawn_tube(pieces, options.tube_stock, options.kerf));
  }
  page.paragraph(fmt::format("Drawn to scale; {} left over.", show_length(plan.left_over, units)));
}

/// The verdict on the motor whose pieces these are, and its words.
struct Judgement {
  std::string sentence;
  Verdict verdict;
  std::vector<std::string> remarks;
};

/// A job may list its pieces before it says enough of the motor; then that is what is not judged.
/// What is wrong with a whole motor is refused here as everywhere.
Judgement judge(const Job& job, UnitSystem units) {
  const bool whole = job.propellant && job.nozzle && job.nozzle->throat_diameter > 0;
  if (whole) {
    const Assessment found = assess(question_of(job), {.units = units});
    return {first_sentence(found, units) + ".", found.verdict, remarks_of(job, found)};
  }
  try {
    static_cast<void>(motor_of(job));
    return {};
  } catch (const InputError& error) {
    Verdict verdict;
    for (const Complaint& complaint : error.complaints()) {
      verdict.not_judged.push_back(
          {complaint.key, fmt::format("the motor: {} is {}; expected {}", complaint.key,
                                      complaint.given, complaint.allowed)});
    }
    return {first_sentence(verdict) + ".", verdict, job.remarks};
  }
}

std::string text_of(const Job& job, const CutList& list, const Judgement& judged, UnitSystem units,
                    const std::string& file, const std::optional<std::string>& sheet) {
  WorkshopOptions options = workshop_options_of(job);
  Page page;
  page.heading(judged.sentence);
  tell_reasons(page, judged.verdict);
  page.heading(title_of("Cut list", job));
  tell_pieces(page, list, options.length_tolerance, units);
  tell_cuts(page, list, units);
  tell_room(page, list, units);
  tell_batch(page, list, options.waste, units);
  tell_saw_plan(page, list, options, units);
  std::vector<std::string> remarks = list.remarks;
  std::ranges::copy(judged.remarks, std::back_inserter(remarks));
  tell_remarks(page, remarks);
  page.heading(short_caution);
  if (sheet) page.heading("Casting sheet written: " + *sheet);
  page.next(next_step(job, judged.verdict, file,
                      "cut, cast and weigh; after any change, grainwright fire " + file));
  return page.text();
}

CastingSheet sheet_of(const Job& job, const CutList& list, const Judgement& judged,
                      UnitSystem units, const std::string& file) {
  CastingSheet sheet{.title = job.title.empty() ? file : job.title,
                     .file = file,
                     .list = list,
                     .options = workshop_options_of(job),
                     .units = units,
                     .cores = {},
                     .cautions = std::string(cautions),
                     .answer = judged.verdict.answer(),
                     .verdict = judged.sentence,
                     .reasons = {}};
  // The first of them stands in the sentence.
  const auto& [broken, not_judged, assumed] = judged.verdict;
  for (std::size_t i = 1; i < broken.size(); ++i) sheet.reasons.push_back(broken[i].words);
  for (std::size_t i = broken.empty() ? 1 : 0; i < not_judged.size(); ++i) {
    sheet.reasons.push_back("not judged: " + not_judged[i].words);
  }
  for (const CutPiece& piece : list.pieces) sheet.cores.push_back(core_of(piece.segment, units));
  return sheet;
}

Output run(const Arguments& arguments) {
  Targets targets(arguments, {"sheet"});
  const auto sheet = targets.file("sheet");
  const Job job = read_job(arguments.operand());
  targets.keep_clear_of(job);
  const UnitSystem units = arguments.units().value_or(job.units);
  const CutList list = list_of(job, units);
  const Judgement judged = judge(job, units);
  const Exit exit = exit_of(judged.verdict);
  if (sheet) targets.put("sheet", html_of(sheet_of(job, list, judged, units, arguments.operand())));
  targets.write();
  if (arguments.format() == Format::json) {
    std::vector<std::string> remarks = list.remarks;
    std::ranges::copy(judged.remarks, std::back_inserter(remarks));
    return {written({{"verdict", json_of(judged.verdict)},
                     {"cut_list", json_of(list)},
                     {"remarks", remarks}}),
            exit};
  }
  return {text_of(job, list, judged, units, arguments.operand(), sheet), exit};
}

}  // namespace

Command cutlist_command() {
  return {.name = "cutlist",
          .purpose = "what do I cut, pour and weigh?",
          .operand = "JOB",
          .options = {{"sheet", "FILE", "write a sheet for the bench (HTML), to print, to FILE"},
                      {"force", "", "replace an existing file"}},
          .why_no_csv = "a cut list is no curve; use --json",
          .run = run};
}

}  // namespace grainwright::cli
