// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/search/even.hpp"

#include <fmt/format.h>

#include "arguments.hpp"
#include "grainwright/error.hpp"
#include "json.hpp"
#include "numbers.hpp"
#include "page.hpp"

namespace grainwright::cli {
namespace {

/// As the tube was given: metric units of length end in m, and no other does.
UnitSystem units_of(const Arguments& arguments) {
  bool metric = arguments.text("tube").value_or("").ends_with('m');
  return arguments.units().value_or(metric ? UnitSystem::si : UnitSystem::us);
}

/// Lengths to the micrometre: this is an exact answer.
std::string length(double metres, UnitSystem units) {
  return units == UnitSystem::us ? show_length(metres, units)
                                 : show(metres, Dimension::length, units, 7);
}

std::string text_of(const EvenStack& stack, double tube, double core, int bare_ends,
                    UnitSystem units) {
  Page page;
  page.heading(fmt::format("Even length in a {} tube with a {} core, {} bare", length(tube, units),
                           length(core, units), bare_ends == 2 ? "both ends" : "one end"));
  page.gap();
  page.table({.align = "ll",
              .rows = {{"length of one segment", length(stack.length, units)},
                       {counted(stack.segments, "segment") + " with spacers",
                        length(stack.total_length, units)}}});
  page.heading("Not flat");
  page.paragraph(
      fmt::format("At this length the burning area at burnout equals that at ignition. The burn is "
                  "not flat: its "
                  "area humps by {} of the starting area at half web.",
                  percent(stack.hump - 1)));
  page.paragraph(
      "A larger core humps less and holds less propellant; a stack of unlike segments can be "
      "flatter "
      "still.");
  page.next("put it into a job file; grainwright design JOB looks for a flatter stack");
  return page.text();
}

/// What the library calls by the job file's names was given by options here.
InputError by_option(const InputError& error) {
  std::vector<Complaint> complaints = error.complaints();
  for (Complaint& complaint : complaints) {
    complaint.key = complaint.key == "outer_diameter" ? "--tube" : "--" + complaint.key;
  }
  return InputError(std::move(complaints));
}

Output run(const Arguments& arguments) {
  double tube = arguments.quantity("tube", Dimension::length);
  double core = arguments.quantity("core", Dimension::length);
  double spacer = arguments.quantity("spacer", Dimension::length, 0);
  int segments = arguments.whole_number("segments", 1, 1000, 1);
  int bare_ends = arguments.whole_number("bare-ends", 1, 2, 2);
  try {
    EvenStack stack = even_stack(tube, core, segments, bare_ends, spacer);
    if (arguments.format() == Format::json) return {written({{"even", json_of(stack)}})};
    return {text_of(stack, tube, core, bare_ends, units_of(arguments))};
  } catch (const InputError& error) {
    throw by_option(error);
  }
}

}  // namespace

Command even_command() {
  return {.name = "even",
          .purpose = "which length burns evenly for this tube and core?",
          .operand = "",
          .options = {{"tube", "LENGTH", "inside diameter of the casting tube, e.g. \"1 1/2 in\""},
                      {"core", "LENGTH", "diameter of the core rod"},
                      {"segments", "N", "segments in the stack, 1 if left out"},
                      {"bare-ends", "N", "ends of each segment that burn, 1 or 2; 2 if left out"},
                      {"spacer", "LENGTH", "gap between neighbours, none if left out"}},
          .why_no_csv = "one length is no curve; use --json",
          .run = run};
}

}  // namespace grainwright::cli
