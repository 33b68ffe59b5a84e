// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/scatter/scatter.hpp"

#include <limits>

#include "arguments.hpp"
#include "interrupt.hpp"
#include "scatter_page.hpp"
#include "verdict_page.hpp"

namespace grainwright::cli {
namespace {

Assessment scattered(const Arguments& arguments, const Question& question, UnitSystem units) {
  constexpr int most = std::numeric_limits<int>::max();
  AssessmentOptions all{.units = units, .scatter = true};
  ScatterOptions& options = all.scattering;
  options.samples = static_cast<std::size_t>(
      arguments.whole_number("samples", 100, most, static_cast<int>(options.samples)));
  options.seed = static_cast<std::uint64_t>(
      arguments.whole_number("seed", 0, most, static_cast<int>(options.seed)));
  options.threads = static_cast<unsigned>(arguments.whole_number("threads", 1, 1024, 0));
  Interrupt interrupt;
  ProgressLine line("firing");
  options.stop = interrupt.token();
  options.progress = [&line](double share) { line.show(share); };
  return assess(question, all);
}

Output run(const Arguments& arguments) {
  const Job job = read_job(arguments.operand());
  const UnitSystem units = arguments.units().value_or(job.units);
  const Assessment found = scattered(arguments, question_of(job), units);
  const Exit exit = exit_of(found.verdict);
  if (arguments.format() == Format::json) return {written(json_of(job, found)), exit};
  return {scatter_page(job, found, units, arguments.operand()), exit};
}

}  // namespace

Command scatter_command() {
  return {.name = "scatter",
          .purpose = "how likely is it to exceed the ceiling; which mistake hurts most?",
          .operand = "JOB",
          .options = {{"samples", "N", "firings to make at least, 65536 if left out"},
                      {"seed", "N", "of the scrambled points, 1 if left out"},
                      {"threads", "N", "threads to fire with; all of the machine's if left out"}},
          .why_no_csv = "chances are no curve; use --json",
          .run = run};
}

}  // namespace grainwright::cli
