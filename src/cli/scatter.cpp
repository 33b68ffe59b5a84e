// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/scatter/scatter.hpp"

#include <limits>

#include "arguments.hpp"
#include "interrupt.hpp"
#include "scatter_page.hpp"

namespace grainwright::cli {
namespace {

ScatterResult scattered(const Arguments& arguments, const ScatterTask& task) {
  constexpr int most = std::numeric_limits<int>::max();
  const ScatterOptions defaults;
  ScatterOptions options;
  options.samples = static_cast<std::size_t>(
      arguments.whole_number("samples", 100, most, static_cast<int>(defaults.samples)));
  options.seed = static_cast<std::uint64_t>(
      arguments.whole_number("seed", 0, most, static_cast<int>(defaults.seed)));
  options.threads = static_cast<unsigned>(arguments.whole_number("threads", 1, 1024, 0));
  Interrupt interrupt;
  ProgressLine line("firing");
  options.stop = interrupt.token();
  options.progress = [&line](double share) { line.show(share); };
  return scatter(task, options);
}

/// The asked part of all motors keeps under the ceiling, if one is asked.
bool keeps_confidence(const Job& job, const ScatterResult& result) {
  if (job.limits.confidence == 0 || !result.over_ceiling) return true;
  return result.over_ceiling->value <= 1 - job.limits.confidence;
}

Answer run(const Arguments& arguments) {
  Job job = read_job(arguments.operand());
  const ScatterResult result = scattered(arguments, scatter_task_of(job));
  const Exit exit = keeps_confidence(job, result) ? Exit::fine : Exit::no;
  if (arguments.format() == Format::json) return {written(json_of(job, result)), exit};
  return {scatter_page(job, result, arguments.units().value_or(job.units), arguments.operand()),
          exit};
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
