// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "arguments.hpp"
#include "grainwright/error.hpp"
#include "grainwright/job/job.hpp"
#include "grainwright/strength/change.hpp"
#include "numbers.hpp"
#include "strength.hpp"
#include "verdict_page.hpp"
#include "words.hpp"

namespace grainwright::cli {
namespace {

/// Everything that this command finds out.
struct Result {
  Assessment found;
  ColdCeiling cold;
  std::vector<Change> changes;
  bool has_throats = false;
  std::optional<double> smallest_throat;

  [[nodiscard]] const Margins& margins() const { return *found.margins; }
};

Result judge(const Job& job, UnitSystem units) {
  const Shell shell = shell_of(job);
  const Question question = question_of(job);
  const Motor& motor = question.motor.motor();
  if (auto found = complaints(shell, motor); !found.empty()) throw InputError(std::move(found));
  const ChangeOptions options = change_options_of(job);
  const Fire fire = [&](const Motor& fired) {
    return hard_firings(fired, lighting_of(job, fired));
  };
  Result result{.found = assess(question, {.units = units}),
                .cold = cold_ceiling(shell, motor.day.ambient_pressure),
                .changes = {},
                .has_throats = !options.throats.empty(),
                .smallest_throat = {}};
  result.changes = tried_changes(shell, motor, result.margins(), fire, options);
  result.smallest_throat = smallest_throat(shell, motor, options.throats, fire);
  return result;
}

std::string judged_over(const Assessment& found) {
  if (found.ports.flow == PortFlow::chokes) {
    return "Over the transient firing, which such a motor would not keep to: the true loads are "
           "higher. Pressures are absolute.";
  }
  const std::string over =
      found.margins_over == Model::axial
          ? std::string("axial firing, in which flow along the ports raises the head pressure")
          : std::string("transient firing: filling, burn and blow-down, then the soak");
  return fmt::format("Judged over the {}. Pressures are absolute.", over);
}

std::string_view name_of(ChangeKind kind) {
  switch (kind) {
    case ChangeKind::thicker_protection:
      return "thicker protection";
    case ChangeKind::longer_bond:
      return "longer bond";
    case ChangeKind::more_pins:
      return "more pins";
    case ChangeKind::larger_throat:
      return "larger throat";
  }
  return "";
}

/// The same in one word, for a column.
std::string_view word_for(ChangeKind kind) {
  const std::string_view name = name_of(kind);
  return name.substr(name.find(' ') + 1);
}

std::string sizes_of(const Change& change, UnitSystem units) {
  const bool count = change.kind == ChangeKind::more_pins;
  const Dimension dimension = count ? Dimension::ratio : Dimension::length;
  return fmt::format("{} to {}", number(change.from, dimension, units),
                     show(change.to, dimension, units));
}

/// Load and capacity are those of the worst moment.
void tell_loads(Page& page, const Margins& margins, UnitSystem units) {
  page.heading("Load at that moment, and heat at the joint or at the bore of the pipe");
  Table table{.align = "lrrrrrr",
              .head = {"part", "load", "holds", "at peak", "at burnout", "hottest", "after"}};
  for (const PartMargin& part : margins.parts) {
    const ModeMargin& mode = part.weakest();
    const Dimension loaded = part.force ? Dimension::force : Dimension::pressure;
    const auto kelvin = [&](double value) { return show(value, Dimension::temperature, units, 3); };
    table.rows.push_back({part.part, show(mode.load, loaded, units),
                          show(mode.capacity, loaded, units), kelvin(part.heat.at_peak_pressure),
                          kelvin(part.heat.at_burnout), kelvin(part.heat.greatest),
                          show(part.heat.greatest_at, Dimension::time, units, 3)});
  }
  page.table(table);
  for (const PartMargin& part : margins.parts) {
    const double thrust = part.weakest().thrust;
    if (thrust == 0) continue;
    page.paragraph(
        fmt::format("The {} carries the pressure on its sealed area, {}, less the thrust, {}.",
                    part.part, show(part.weakest().load + thrust, Dimension::force, units),
                    show(thrust, Dimension::force, units)));
  }
  page.paragraph(
      "Heat goes on soaking in when the pressure has gone: what is hottest then carries nothing, "
      "but do not touch it, and do not fire it again as if it were new.");
}

void tell_other_ways(Page& page, const Margins& margins, UnitSystem units) {
  Table table{.align = "llrr", .head = {"part", "also fails by", "ratio", "cold"}};
  for (const PartMargin& part : margins.parts) {
    for (std::size_t i = 1; i < part.modes.size(); ++i) {
      const ModeMargin& mode = part.modes[i];
      table.rows.push_back({part.part, mode.mode, show(mode.ratio, Dimension::ratio, units, 3),
                            show(mode.cold_ratio, Dimension::ratio, units, 3)});
    }
  }
  if (table.rows.empty()) return;
  page.heading("Other ways");
  page.table(table);
}

void tell_reverse(Page& page, const Result& result, UnitSystem units) {
  const auto pressure = [&](double value) { return show(value, Dimension::pressure, units); };
  page.heading(fmt::format("What keeps a factor of {}",
                           show(result.margins().factor, Dimension::ratio, units)));
  page.item("- ", fmt::format("peak pressure up to {} in a firing as long and as hot as this one, "
                              "which peaks at {}",
                              pressure(result.margins().allowed_pressure),
                              pressure(result.found.peak_pressure.value)));
  page.item("- ", fmt::format("cold, up to {}: the {}, by {}", pressure(result.cold.pressure),
                              result.cold.part, result.cold.mode));
  if (!result.has_throats) {
    page.item("- ", "throat: the job has no [shop] with throats to choose from");
  } else if (result.smallest_throat) {
    page.item("- ", fmt::format("throat of {}, the smallest of the shop that does with this grain",
                                show_length(*result.smallest_throat, units)));
  } else {
    page.item("- ", "no throat of the shop, with this grain");
  }
}

void tell_changes(Page& page, const Result& result, UnitSystem units) {
  if (result.changes.empty()) return;
  page.heading("What would help, least trouble first; each has been tried");
  Table table{.align = "lllrrl",
              .head = {"change", "for the", "size", "ratio", "motor", "fails first then"}};
  for (const Change& change : result.changes) {
    table.rows.push_back({std::string(word_for(change.kind)), change.part, sizes_of(change, units),
                          fmt::format("{:.2f}", change.part_ratio),
                          change.helps ? fmt::format("{:.2f}", change.motor_ratio) : "",
                          change.helps ? change.gives_first : "no help"});
  }
  page.table(table);
  page.paragraph(
      "More protection, longer bond, more pins, a larger throat: each as small as gives its part "
      "the factor, or as large as was tried. The ratio is that part's; the motor's is the least of "
      "all parts then.");
}

void tell_method(Page& page, const Job& job, const Result& result, UnitSystem units) {
  const Shell& shell = *job.shell;
  page.heading("How this was worked out");
  page.paragraph(fmt::format(
      "Ratio: what a part holds at its temperature of that moment, over its load then. A head "
      "closure carries the pressure on its sealed area, a nozzle's seat the same less the thrust. "
      "Heat: one-dimensional conduction from the gas, {} at peak pressure{}, through the "
      "protection into the part, its back insulated; properties do not change with heat.",
      show(result.margins().coefficient, Dimension::heat_transfer, units, 3),
      shell.coefficient                      ? ", as given"
      : shell.estimate == GasEstimate::bartz ? ", an ESTIMATE by Bartz's formula"
                                             : ", an ESTIMATE for flow in a pipe"));
  if (shell.material.rating_stress > 0) {
    page.item("- ", fmt::format("The pipe's rating for water is {}, gauge, at 73 degF.",
                                show(hoop_pressure(shell.tube, shell.material.rating_stress),
                                     Dimension::pressure, units)));
  }
}

/// Where a part is too weak, this page has said what helps.
std::string next_after(const Job& job, const Result& result, const std::string& file) {
  if (!result.margins().hold()) {
    return fmt::format("change {} and judge again: grainwright margins {}", file, file);
  }
  return next_step(job, result.found.verdict, file, "grainwright cutlist " + file);
}

std::string text_of(const Job& job, const Result& result, UnitSystem units,
                    const std::string& file) {
  Page page;
  tell_verdict(page, result.found, units);
  page.heading(title_of("Margins", job));
  page.paragraph(judged_over(result.found));
  page.heading("What fails first");
  page.table(table_of(result.margins(), units));
  page.gap();
  page.paragraph(strength_sentence(result.margins(), units));
  tell_loads(page, result.margins(), units);
  tell_other_ways(page, result.margins(), units);
  tell_reverse(page, result, units);
  tell_changes(page, result, units);
  tell_method(page, job, result, units);
  tell_remarks(page, remarks_of(job, result.found));
  page.heading(short_caution);
  page.next(next_after(job, result, file));
  return page.text();
}

Json json_of(const Job& job, const Result& result) {
  Json margins = cli::json_of(result.margins());
  margins["model"] = name_of(result.found.margins_over);
  margins["peak_pressure_Pa"] = result.found.peak_pressure.value;
  margins["cold_pressure_Pa"] = result.cold.pressure;
  margins["smallest_throat_m"] = result.smallest_throat ? Json(*result.smallest_throat) : Json();
  margins["changes"] = Json::array();
  for (const Change& change : result.changes) {
    const std::string unit = change.kind == ChangeKind::more_pins ? "" : "_m";
    margins["changes"].push_back({{"change", name_of(change.kind)},
                                  {"part", change.part},
                                  {"from" + unit, change.from},
                                  {"to" + unit, change.to},
                                  {"part_ratio", change.part_ratio},
                                  {"motor_ratio", change.motor_ratio},
                                  {"gives_first", change.gives_first},
                                  {"helps", change.helps}});
  }
  margins["remarks"] = remarks_of(job, result.found);
  return {{"verdict", cli::json_of(result.found.verdict)},
          {"judged", judged_json(result.found)},
          {"margins", margins}};
}

Output run(const Arguments& arguments) {
  const Job job = read_job(arguments.operand());
  const UnitSystem units = arguments.units().value_or(job.units);
  const Result result = judge(job, units);
  const Exit exit = exit_of(result.found.verdict);
  if (arguments.format() == Format::json) return {written(json_of(job, result)), exit};
  return {text_of(job, result, units, arguments.operand()), exit};
}

}  // namespace

Command margins_command() {
  return {.name = "margins",
          .purpose = "what fails first: pipe, closure or nozzle seat; by what margin, hot?",
          .operand = "JOB",
          .options = {},
          .why_no_csv = "margins are no curve; use --json",
          .run = run};
}

}  // namespace grainwright::cli
