// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include "arguments.hpp"
#include "comparison.hpp"
#include "design_page.hpp"
#include "grainwright/error.hpp"
#include "grainwright/job/job.hpp"
#include "grainwright/search/search.hpp"
#include "interrupt.hpp"
#include "json.hpp"
#include "strength.hpp"
#include "target.hpp"
#include "verdict_page.hpp"
#include "whole_file.hpp"
#include "words.hpp"

namespace grainwright::cli {
namespace {

SearchResult searched(const SearchTask& task, unsigned threads) {
  Interrupt interrupt;
  ProgressLine line;
  return search(task, {.threads = threads,
                       .stop = interrupt.token(),
                       .progress = [&line](double share) { line.show(share); }});
}

/// Where a design goes, settled before the search so that no long search is lost to it.
struct Save {
  Targets targets;
  std::string file;
  std::size_t pick = 1;
};

std::optional<Save> save_of(const Arguments& arguments) {
  Targets targets(arguments, {"save"});
  std::optional<std::string> file = targets.file("save");
  for (std::string option : {"pick", "force"}) {
    if (!file && arguments.has(option)) {
      throw InputError("--" + option, "given alone", "--save FILE beside it");
    }
  }
  if (!file) return std::nullopt;
  return Save{std::move(targets), *file,
              static_cast<std::size_t>(arguments.whole_number("pick", 1, 99, 1))};
}

void write(Save& save, const std::string& job_file, const std::vector<Design>& designs) {
  if (save.pick > designs.size()) {
    throw InputError("--pick", std::to_string(save.pick),
                     fmt::format("a design of the shortlist, 1 to {}", designs.size()));
  }
  const Design& design = designs[save.pick - 1];
  save.targets.put(
      "save", with_design(whole_file(job_file), design.grain, design.throat_diameter, job_file));
  save.targets.write();
}

std::string next_after(const std::string& job_file, const std::optional<Save>& save,
                       const SearchResult& result, const Verdict& verdict) {
  if (result.stopped && result.designs.empty()) {
    return fmt::format("grainwright design {}, and let it search to its end", job_file);
  }
  if (result.designs.empty()) {
    return fmt::format("change one of these in {} and search again", job_file);
  }
  if (verdict.answer() == Answer::no) {
    return fmt::format(
        "pick another build with --pick N, or change shop and wish in {} and search "
        "again",
        job_file);
  }
  if (save) return "grainwright fire " + save->file;
  return fmt::format("grainwright design {} --save FILE --pick N, then grainwright fire FILE",
                     job_file);
}

Json json_of(const Job& job, const SearchResult& result, const std::vector<Assessment>& judged,
             const Verdict& verdict) {
  Json json = {{"verdict", cli::json_of(verdict)},
               {"designs", cli::json_of(result.designs)},
               {"search",
                {{"builds", result.builds},
                 {"proven", result.proven},
                 {"seconds", result.seconds},
                 {"stopped", result.stopped}}}};
  for (std::size_t i = 0; i < judged.size(); ++i) {
    json["designs"][i]["verdict"] = cli::json_of(judged[i].verdict);
    json["designs"][i]["judged"] = judged_json(judged[i]);
    if (judged[i].margins) json["designs"][i]["margins"] = cli::json_of(*judged[i].margins);
  }
  if (result.designs.empty()) json["reliefs"] = cli::json_of(result.reliefs);
  json["remarks"] = judged.empty() ? job.remarks : remarks_of(job, judged.front());
  return json;
}

/// Each design as every other command judges it.
std::vector<Assessment> judged(const Job& job, const SearchTask& task, const SearchResult& result,
                               UnitSystem units) {
  std::vector<Assessment> all;
  for (const Design& design : result.designs) {
    all.push_back(assess(question_of(job, motor_of(task, design)), {.units = units}));
  }
  return all;
}

Output run(const Arguments& arguments) {
  if (arguments.has("compare")) return compare(arguments);
  if (arguments.has("out")) throw InputError("--out", "given alone", "--compare beside it");
  std::optional<Save> save = save_of(arguments);
  const int threads = arguments.whole_number("threads", 1, 1024, 0);
  const Job job = read_job(arguments.operand());
  if (save) save->targets.keep_clear_of(job);
  const UnitSystem units = arguments.units().value_or(job.units);
  const SearchTask task = search_task_of(job);
  const SearchResult result = searched(task, static_cast<unsigned>(threads));
  const bool found = !result.designs.empty();
  if (save && found) write(*save, arguments.operand(), result.designs);
  const std::vector<Assessment> all = judged(job, task, result, units);
  const std::size_t picked = save ? save->pick - 1 : 0;
  const Verdict verdict = verdict_on(result, all, picked, units);
  const Exit exit = exit_of(verdict);
  if (arguments.format() == Format::json) {
    return {written(json_of(job, result, all, verdict)), exit};
  }
  Page page = design_page(job, task, result, all, picked, units);
  if (save && found) page.heading(fmt::format("Design {} is saved.", save->pick));
  page.next(next_after(arguments.operand(), save, result, verdict));
  return {page.text(), exit};
}

}  // namespace

Command design_command() {
  return {
      .name = "design",
      .purpose = "what should I build to get this thrust profile, from the tools I own?",
      .operand = "JOB",
      .options = {{"save", "FILE", "write the job with a design's segments and throat to FILE"},
                  {"pick", "N", "which design of the shortlist to save, 1 if left out"},
                  {"force", "", "let --save and --out replace an existing file"},
                  {"compare", "", "lay two to four finished jobs side by side: --compare A B C"},
                  {"out", "FILE", "write the comparison as a page (HTML) to FILE", "o"},
                  {"threads", "N", "threads to search with; all of the machine's if left out"}},
      .why_no_csv = "a shortlist is no curve; use --json, or fire the saved design",
      .run = run,
      .several_with = "compare"};
}

}  // namespace grainwright::cli
