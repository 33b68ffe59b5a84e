// SPDX-License-Identifier: GPL-3.0-or-later
#include "design_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "flight_page.hpp"
#include "grainwright/assessment/assessment.hpp"
#include "grainwright/search/even.hpp"
#include "limit_words.hpp"
#include "numbers.hpp"
#include "strength.hpp"
#include "verdict_page.hpp"
#include "words.hpp"

namespace grainwright::cli {
namespace {

std::string list_of(const std::vector<double>& lengths, UnitSystem units) {
  std::string text;
  for (double length : lengths) {
    const std::string shown = show_length(length, units);
    text += (text.empty() ? "" : ", ") + shown.substr(0, shown.find(' '));
  }
  return fmt::format("{} {}", text, unit_of(Dimension::length, units));
}

/// The misfit, as every part of this text prints it.
std::string misfit_of(double misfit) {
  return fmt::format("{:.4f}", misfit);
}

/// What the search ranks by.
std::string merit_of(const SearchTask& task, double misfit, const Summary& summary,
                     UnitSystem units) {
  return task.wish.for_the_rail ? show(summary.total_impulse, Dimension::impulse, units)
                                : "misfit " + misfit_of(misfit);
}

/// "mandrels 10, 12 mm; cores slot 5 mm by 20 mm".
std::string rods_of(const SearchTask& task, UnitSystem units) {
  std::vector<std::string> rods;
  if (!task.shop.mandrels.empty()) {
    rods.push_back("mandrels " + list_of(task.shop.mandrels, units));
  }
  for (const Core& core : task.shop.cores) {
    rods.push_back("core " +
                   core_of(with_core({.outer_diameter = task.outer_diameter}, core), units));
  }
  return fmt::format("{}", fmt::join(rods, "; "));
}

void tell_question(Page& page, const SearchTask& task, UnitSystem units) {
  std::string asked =
      fmt::format("Asked: {} in {} of room at {} outer diameter", described(task.wish),
                  show_length(task.grain_room, units), show_length(task.outer_diameter, units));
  for (const Limit& limit : limits_asked({task.limits, task.wish})) {
    asked += "; " + sentence(limit, units);
  }
  if (task.limits.confidence > 0) {
    asked += fmt::format("; the ceiling for {} of all motors", percent(task.limits.confidence));
  }
  page.paragraph(asked + ".");
  const Shop& shop = task.shop;
  std::string saw = shop.length_step > 0
                        ? "lengths in steps of " + show_length(shop.length_step, units)
                        : "lengths free";
  page.paragraph(fmt::format("Shop: {}; throats {}; {}; at most {} of {}.", rods_of(task, units),
                             list_of(shop.throats, units), saw,
                             counted(shop.most_segments, "segment"),
                             counted(shop.most_kinds, "kind")));
}

std::string standing(const SearchResult& result) {
  std::string_view claim = result.stopped  ? "best found until the search was stopped"
                           : result.proven ? "proven best of this shop's builds"
                                           : "best found";
  return fmt::format("{}; {} judged", claim, counted(result.builds, "build"));
}

void tell_best(Page& page, const SearchTask& task, const SearchResult& result,
               const Assessment& judged, UnitSystem units) {
  const Design& best = result.designs.front();
  page.heading(fmt::format("Best build: {}, {}", merit_of(task, best.misfit, best.summary, units),
                           standing(result)));
  page.table(table_of(best.grain, units));
  page.paragraph(fmt::format("throat {}; stack {} of {} of room; loading {}",
                             show_length(best.throat_diameter, units),
                             show_length(best.grain.stack_length(), units),
                             show_length(task.grain_room, units), percent(best.loading)));
  page.heading("Its firing");
  page.paragraph(steady_model);
  tell(page, best.summary, units);
  if (best.flight) {
    page.heading("Its flight, of the steady firing; `fly` says more");
    tell_briefly(page, *best.flight, units);
  }
  page.heading("Limits and bounds, held against the highest of all models");
  const std::vector<Check> checks = worth_saying(judged.checks);
  if (checks.empty()) page.paragraph("None.");
  for (const Check& check : checks) page.item("- ", sentence(check, units));
  if (best.pressure_at_confidence == 0) return;
  page.item("- ",
            fmt::format("{} of all motors built so keep under {}, for the ceiling was lowered "
                        "by a factor of {:.3f} in the search; mistakes are not counted in",
                        percent(task.limits.confidence),
                        show(best.pressure_at_confidence, Dimension::pressure, units),
                        result.pressure_factor));
}

void tell_strength(Page& page, const Job& job, const std::vector<Assessment>& judged,
                   UnitSystem units) {
  const std::optional<Margins>& best = judged.front().margins;
  if (!best) return;
  page.heading("Strength");
  page.paragraph(fmt::format("{}Hot, over the {} firing:",
                             job.from_strength ? "Ceiling " + ceiling_words(job, units) + ". " : "",
                             name_of(judged.front().margins_over)));
  page.table(table_of(*best, units));
  page.gap();
  page.paragraph(strength_sentence(*best, units));
}

/// Why a build of the shortlist should not be fired, or is not known.
void tell_verdicts(Page& page, const std::vector<Assessment>& judged) {
  for (std::size_t i = 1; i < judged.size(); ++i) {
    if (judged[i].verdict.answer() == Answer::yes) continue;
    page.item(fmt::format("{} ", i + 1), first_sentence(judged[i].verdict) + ".");
  }
}

/// Each design's misfit; or where there is none, how fast it leaves the rail.
std::vector<std::string> first_column(const SearchTask& task, const std::vector<Design>& designs,
                                      UnitSystem units) {
  std::vector<std::string> cells;
  for (const Design& design : designs) {
    cells.push_back(task.wish.for_the_rail
                        ? show(design.flight->rail_exit_speed, Dimension::speed, units)
                        : misfit_of(design.misfit));
  }
  return cells;
}

void tell_shortlist(Page& page, const SearchTask& task, const std::vector<Design>& designs,
                    const std::vector<Assessment>& judged, UnitSystem units) {
  using enum Dimension;
  page.heading("Shortlist");
  Table table{
      .align = "r......l",
      .head = {"", task.wish.for_the_rail ? "rail exit" : "misfit", head("impulse", impulse, units),
               head("burn time", time, units), head("peak pressure", pressure, units), "segments",
               head("throat", length, units), "verdict"}};
  auto columned = [&](Dimension dimension, auto&& figure) {
    std::vector<double> values;
    for (const Design& design : designs) values.push_back(figure(design));
    return column(values, dimension, units);
  };
  auto firsts = first_column(task, designs, units);
  auto impulses = columned(impulse, [](auto& design) { return design.summary.total_impulse; });
  auto times = columned(time, [](auto& design) { return design.summary.burn_time; });
  auto pressures = columned(pressure, [](auto& design) { return design.summary.peak_pressure; });
  for (std::size_t i = 0; i < designs.size(); ++i) {
    table.rows.push_back({std::to_string(i + 1), firsts[i], impulses[i], times[i], pressures[i],
                          std::to_string(designs[i].grain.segment_count()),
                          number(designs[i].throat_diameter, length, units, 6),
                          std::string(name_of(judged[i].verdict.answer()))});
  }
  page.table(table);
  page.gap();
  for (std::size_t i = 0; i < designs.size(); ++i) {
    const Design& design = designs[i];
    page.item(fmt::format("{} ", i + 1),
              design.gives_up.empty() ? design.strength
                                      : fmt::format("{}: {}", design.strength, design.gives_up));
  }
  tell_verdicts(page, judged);
  for (std::size_t i = 1; i < designs.size(); ++i) {
    page.heading(fmt::format("Segments of {}, head end first", i + 1));
    page.table(table_of(designs[i].grain, units));
  }
}

/// The even stack that a builder would reach for without a search.
struct Rival {
  Motor motor;
  double misfit = 0;
  Summary summary;
  Verdict verdict;
};

/// As many even segments on this rod as fit the room, in the design's throat; nothing where none
/// does.
std::optional<Motor> even_motor(const SearchTask& task, const Design& design, double core) {
  const double spacer = task.shop.spacer;
  const double length = even_stack(task.outer_diameter, core, 1).length;
  const int fit = static_cast<int>(std::floor((task.grain_room + spacer) / (length + spacer)));
  const int count = std::min(fit, task.shop.most_segments);
  if (count < 1) return std::nullopt;
  return Motor{.grain = {{{{length, task.outer_diameter, core}, count}}, spacer},
               .propellant = task.propellant,
               .nozzle = task.nozzle.drilled_to(design.throat_diameter),
               .day = task.day};
}

/// On the rod that makes the best of them: first those that break nothing, then the best fit; for
/// the rail, the most impulse.
std::optional<Rival> even_rival(const Job& job, const SearchTask& task, const Design& design,
                                UnitSystem units) {
  std::optional<Rival> best;
  const auto rank = [&](const Rival& rival) {
    const bool broken = rival.verdict.answer() == Answer::no;
    return std::pair(broken, task.wish.for_the_rail ? -rival.summary.total_impulse : rival.misfit);
  };
  for (double core : task.shop.mandrels) {
    const auto motor = even_motor(task, design, core);
    if (!motor) continue;
    const Question question = question_of(job, *motor);
    Rival rival{*motor, misfit(question.motor, task.wish.profile), question.motor.steady(),
                assess(question, {.units = units}).verdict};
    if (!best || rank(rival) < rank(*best)) best = std::move(rival);
  }
  return best;
}

/// How the best build stands to a rival, in words.
std::string comparison(const SearchTask& task, const Design& best, const Rival& rival) {
  if (task.wish.for_the_rail) return "The best build is as fast off the rail as asked";
  const bool flat = task.wish.profile == Profile::flat();
  std::string_view verdict =
      best.misfit < rival.misfit   ? (flat ? "flatter" : "nearer to the profile")
      : best.misfit > rival.misfit ? (flat ? "less flat" : "further from the profile")
                                   : "no better";
  return fmt::format("The best build is {} (misfit {})", verdict, misfit_of(best.misfit));
}

void tell_rival(Page& page, const Job& job, const SearchTask& task, const Design& best,
                UnitSystem units) {
  page.heading("Against the even stack");
  std::optional<Rival> rival = even_rival(job, task, best, units);
  if (!rival) {
    page.paragraph("None to compare with: no even segment fits the room on any of the mandrels.");
    return;
  }
  std::string count = counted(rival->motor.grain.segment_count(), "even segment");
  const Segment& segment = rival->motor.grain.layers.front().segment;
  const std::string impulse = show(rival->summary.total_impulse, Dimension::impulse, units);
  const std::string figures =
      task.wish.for_the_rail
          ? "total impulse " + impulse
          : fmt::format("misfit {}, total impulse {}", misfit_of(rival->misfit), impulse);
  double gain = best.summary.total_impulse / rival->summary.total_impulse - 1;
  page.paragraph(fmt::format(
      "{} of {} with a {} core and the same throat: {}. {}, with {} {} "
      "impulse.",
      count, show_length(segment.length, units), show_length(segment.core_diameter, units), figures,
      comparison(task, best, *rival), percent(std::abs(gain)), gain < 0 ? "less" : "more"));
  for (const Reason& reason : rival->verdict.broken) {
    page.paragraph("The even stack is no answer: " + reason.words + ".");
  }
}

void tell_refusal(Page& page, const SearchResult& result, UnitSystem units) {
  page.heading(fmt::format("Nothing fits: {} judged, and none meets every limit{}",
                           counted(result.builds, "build"),
                           result.stopped ? " so far (the search was stopped)" : ""));
  std::string useless;
  for (const Relief& relief : result.reliefs) {
    if (relief.enough) {
      Dimension dimension = dimension_of_limit(relief.key);
      page.item("- ", fmt::format("{}: {} asked, {} would let one through", relief.key,
                                  show(relief.asked, dimension, units),
                                  shown_outward(relief.needed, relief.asked, dimension, units)));
    } else {
      useless += (useless.empty() ? "" : ", ") + relief.key;
    }
  }
  if (!useless.empty()) {
    page.item("- ", fmt::format("no change of one of these alone helps: {}", useless));
  }
}

}  // namespace

Verdict verdict_on(const SearchResult& result, const std::vector<Assessment>& judged,
                   std::size_t picked, UnitSystem units) {
  if (picked < judged.size()) return judged[picked].verdict;
  Verdict verdict;
  for (const Relief& relief : result.reliefs) {
    const Dimension dimension = dimension_of_limit(relief.key);
    verdict.broken.push_back(
        {relief.key,
         fmt::format("nothing fits under {}, {}", relief.key, show(relief.asked, dimension, units)),
         {},
         relief.asked,
         dimension});
  }
  if (verdict.broken.empty()) verdict.broken.push_back({"shop", "no build was found"});
  return verdict;
}

Page design_page(const Job& job, const SearchTask& task, const SearchResult& result,
                 const std::vector<Assessment>& judged, std::size_t picked, UnitSystem units) {
  Page page;
  if (judged.empty()) {
    page.heading(fmt::format("NO: {}.", result.stopped
                                            ? "nothing was found before the search was stopped"
                                            : "no build of this shop keeps all that the job asks"));
  } else {
    tell_verdict(page, judged[picked], units);
  }
  page.heading(title_of("Design", job));
  tell_question(page, task, units);
  if (result.designs.empty()) {
    tell_refusal(page, result, units);
  } else {
    tell_best(page, task, result, judged.front(), units);
    tell_strength(page, job, judged, units);
    tell_shortlist(page, task, result.designs, judged, units);
    tell_rival(page, job, task, result.designs.front(), units);
  }
  tell_remarks(page, judged.empty() ? job.remarks : remarks_of(job, judged[picked]));
  page.heading(short_caution);
  return page;
}

}  // namespace grainwright::cli
