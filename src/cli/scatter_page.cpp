// SPDX-License-Identifier: GPL-3.0-or-later
#include "scatter_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "chances.hpp"
#include "numbers.hpp"
#include "page.hpp"
#include "verdict_page.hpp"
#include "words.hpp"

namespace grainwright::cli {
namespace {

using std::string;

// Under this a share of a pressure is not worth a sentence.
constexpr double worth_a_word = 5e-4;

Dimension own_dimension(const InputShare& share) {
  return share.key == "tolerance.temperature" ? Dimension::temperature_step : Dimension::length;
}

/// Speeds print in m/s or ft/s, where `unit_of` has mm/s and in/s.
double rail_scale(UnitSystem units) {
  return units == UnitSystem::si ? 1e-3 : 1.0 / 12;
}

string rail_head(std::string_view name, UnitSystem units) {
  return fmt::format("{}, {}", name, units == UnitSystem::si ? "m/s" : "ft/s");
}

Estimate rail_estimate(const Estimate& speed, UnitSystem units) {
  const double scale = rail_scale(units) * in_units(1, Dimension::speed, units);
  return {speed.value * scale, speed.error * scale};
}

string line_on_ceiling(const ScatterResult& result, UnitSystem units) {
  const string base = fmt::format("{} firings{}, seed {}", result.samples,
                                  result.stopped ? " until it was stopped" : "", result.seed);
  if (!result.over_ceiling) {
    return fmt::format("Over the ceiling: the job sets none (limits.pressure). {}.", base);
  }
  return fmt::format("Over the ceiling of {}: {} of motors. {}.",
                     show(*result.ceiling, Dimension::pressure, units),
                     chance_words(*result.over_ceiling), base);
}

string line_on_parts(const ScatterResult& result) {
  if (result.parts.empty()) {
    return "Most likely to give: not judged (the job has no casing.material).";
  }
  const PartChance& first = result.parts.front();
  return fmt::format("Most likely to give: the {}, by {}: {} of motors.", first.part, first.mode,
                     chance_words(first.chance));
}

string line_on_taming(const ScatterResult& result) {
  if (result.shares.empty()) return "Tame first: nothing, for nothing strays.";
  const InputShare& first = result.shares.front();
  const double over = result.over_ceiling ? result.over_ceiling->value : 0;
  const double gives = result.anything_gives ? result.anything_gives->value : 0;
  const bool mistake = !first.spread;
  const string held = mistake ? "never made" : "held exact";
  string line = fmt::format("Tame first: {}: ", first.name);
  if (gives > over && first.gives_if_exact) {
    return line + fmt::format("{}, something would give in {} of motors instead of {}.", held,
                              chance_words(*first.gives_if_exact), percent(gives));
  }
  if (over > 1e-6 && first.over_if_exact) {
    return line + fmt::format("{}, {} would pass the ceiling instead of {}.", held,
                              chance_words(*first.over_if_exact), percent(over));
  }
  return line +
         fmt::format("it carries {} of the spread of peak pressure.", percent(first.total.value));
}

void tell_percentiles(Page& page, const ScatterResult& result, UnitSystem units) {
  page.heading(
      "Of a hundred motors drawn alike, five stay under the first figure, five pass the last");
  Table table{.align = "lrrrr", .head = {"", "as drawn", "5 %", "50 %", "95 %"}};
  const auto row = [&](std::string_view name, Dimension dimension, double drawn,
                       const Percentiles& of) {
    table.rows.push_back({head(name, dimension, units), number(drawn, dimension, units),
                          with_error(of.p5, dimension, units), with_error(of.p50, dimension, units),
                          with_error(of.p95, dimension, units)});
  };
  const SingleFiring& drawn = result.as_drawn;
  row("peak pressure", Dimension::pressure, drawn.peak_pressure, result.peak_pressure);
  row("peak thrust", Dimension::force, drawn.peak_thrust, result.peak_thrust);
  row("total impulse", Dimension::impulse, drawn.total_impulse, result.total_impulse);
  row("burn time", Dimension::time, drawn.burn_time, result.burn_time);
  if (result.rail_speed) {
    const auto plain = [&](const Estimate& speed) { return rail_estimate(speed, units); };
    row("", Dimension::ratio, plain({*drawn.rail_speed}).value,
        {plain(result.rail_speed->p5), plain(result.rail_speed->p50),
         plain(result.rail_speed->p95)});
    table.rows.back().front() = rail_head("speed off the rail", units);
  }
  page.table(table);
}

void tell_parts(Page& page, const ScatterResult& result, UnitSystem units) {
  if (result.parts.empty()) return;
  page.heading("What gives: hot, its load past its strength, both uncertain");
  Table table{.align = "llrrr", .head = {"part", "by", "ratio as drawn", "holds", "chance"}};
  for (const PartChance& part : result.parts) {
    table.rows.push_back({part.part, part.mode, fmt::format("{:.2f}", part.ratio),
                          show(part.holds, Dimension::pressure, units), chance_words(part.chance)});
  }
  table.rows.push_back({"any of them", "", "", "", chance_words(*result.anything_gives)});
  page.table(table);
}

void tell_shares(Page& page, const ScatterResult& result, UnitSystem units) {
  if (result.shares.empty()) return;
  page.heading("What to tame, most worth first");
  const bool over = result.over_ceiling.has_value();
  const bool gives = result.anything_gives.has_value();
  Table table{.align = "llrr", .head = {"input", "strays", "alone", "in all"}};
  if (over) {
    table.align += 'r';
    table.head.push_back("over left");
  }
  if (gives) {
    table.align += 'r';
    table.head.push_back("gives left");
  }
  const auto chance = [](const std::optional<Estimate>& estimate) {
    return estimate ? estimate->value < 1e-6 ? string("none") : percent(estimate->value) : string();
  };
  const auto share = [](const InputShare& input, const Estimate& index) {
    return input.key.ends_with("strength") ? string() : fmt::format("{:.1f} %", 100 * index.value);
  };
  for (const InputShare& input : result.shares) {
    std::vector<string> row = {input.name,
                               input.spread
                                   ? spread_words(*input.spread, own_dimension(input), units)
                                   : "in " + percent(input.probability) + " of motors",
                               share(input, input.alone), share(input, input.total)};
    if (over) row.push_back(chance(input.over_if_exact));
    if (gives) row.push_back(chance(input.gives_if_exact));
    table.rows.push_back(row);
  }
  page.table(table);
  page.paragraph(
      "Alone and in all: part of the variance of peak pressure that goes with this input by "
      "itself, "
      "and with all that it does together with others. Left: the chance that would be left to pass "
      "the ceiling, and that something gives, were the input exact or the mistake never made. "
      "* trade practice, no source: put your own figure into [tolerance].");
}

void tell_mistakes(Page& page, const ScatterResult& result, UnitSystem units) {
  if (result.mistakes.empty()) return;
  page.heading("One mistake at a time, all else as drawn");
  const bool judged = !result.parts.empty();
  const bool flies = result.rail_speed.has_value();
  Table table{.align = "lrrr",
              .head = {"mistake", "in", head("peak", Dimension::pressure, units), "times"}};
  if (judged) {
    table.align += "lr";
    table.head.insert(table.head.end(), {"gives first", "ratio"});
  }
  if (flies) {
    table.align += 'r';
    table.head.push_back(rail_head("rail", units));
  }
  const auto row = [&](const string& name, const string& probability, const SingleFiring& firing) {
    std::vector<string> cells = {
        name, probability, number(firing.peak_pressure, Dimension::pressure, units),
        fmt::format("{:.2f}", firing.peak_pressure / result.as_drawn.peak_pressure)};
    if (judged) {
      cells.push_back(firing.gives_first);
      cells.push_back(fmt::format("{:.2f}{}", firing.ratio, firing.ratio < 1 ? " GIVES" : ""));
    }
    if (flies) {
      const double speed = rail_estimate({firing.rail_speed.value_or(0)}, units).value;
      cells.push_back(number(speed, Dimension::ratio, units, 3));
    }
    table.rows.push_back(cells);
  };
  row("none: as drawn", "", result.as_drawn);
  bool counted_in = false;
  for (const Mistake& mistake : result.mistakes) {
    const double probability = mistake.fault.probability;
    counted_in = counted_in || probability > 0;
    row(mistake.name, probability > 0 ? percent(probability) : "", mistake.firing);
  }
  page.table(table);
  if (!counted_in) {
    page.paragraph(
        "None of these is counted in the chances above: give them as [[fault]] with a "
        "probability.");
  }
}

/// How the steady peaks were carried to those by which `fire` and `margins` judge.
string judged_words(const ScatterResult& result) {
  const JudgedPeaks& judged = result.judged;
  if (judged.model == "steady") return "All these firings, and their peak pressures, are steady.";
  string words = fmt::format(
      "Each motor is fired by the steady model, and its peak pressure carried to the {} model at "
      "the head end, by which `fire` judges: {:.3g} times the steady peak for the motor as drawn.",
      judged.model, judged.ratio);
  if (judged.checked == 0) return words;
  words += fmt::format(
      " Checked by firing {} of the drawn motors in full, those nearest {}: the carried peaks were "
      "off by up to {}",
      judged.checked, result.ceiling ? "the ceiling" : "the 95th percentile",
      percent(judged.greatest_difference));
  if (result.ceiling) {
    words += fmt::format(", and {} of them were over the ceiling, {} as carried",
                         judged.over_in_full, judged.over_carried);
  }
  if (judged.raised < worth_a_word) return words + '.';
  return words + fmt::format(
                     ". To err to the safe side, the peaks of all drawn motors are raised by {}, "
                     "the maximum found upward.",
                     percent(judged.raised));
}

void tell_method(Page& page, const ScatterResult& result) {
  page.heading("How far to trust this");
  page.paragraph(
      "The tails are only as true as the inputs: a chance of one in a thousand comes from how far "
      "the inputs stray in the thousandth motor, which nobody here has measured. Trust the order "
      "of "
      "the causes more than the last digit of a chance.");
  page.paragraph(fmt::format(
      "{} replicates of scrambled Sobol points; after ± the 95 % error bar of the reckoning alone. "
      "Shares of variance by Saltelli (2010) and Jansen (1999).",
      result.replicates));
  if (result.heat.firings > 0) {
    page.paragraph(fmt::format(
        "Heat is conducted in full for some motors and read between them for the others; checked "
        "in full at {} firings, the least ratio was off by {} at most.",
        result.heat.firings, percent(result.heat.greatest_error)));
  }
  page.paragraph(judged_words(result));
  page.paragraph(steady_model);
}

Json percentiles_json(const Percentiles& of) {
  return {{"p5", of.p5.value},
          {"p50", of.p50.value},
          {"p95", of.p95.value},
          {"errors", {{"p5", of.p5.error}, {"p50", of.p50.error}, {"p95", of.p95.error}}}};
}

Json firing_json(const SingleFiring& firing) {
  Json json = {{"peak_pressure_Pa", firing.peak_pressure},
               {"peak_thrust_N", firing.peak_thrust},
               {"total_impulse_Ns", firing.total_impulse},
               {"burn_time_s", firing.burn_time},
               {"port_chokes", firing.port_chokes}};
  if (firing.rail_speed) json["rail_exit_speed_m_s"] = *firing.rail_speed;
  if (!firing.gives_first.empty()) {
    json["gives_first"] = firing.gives_first;
    json["mode"] = firing.mode;
    json["ratio"] = firing.ratio;
  }
  return json;
}

Json spread_json(const Spread& spread) {
  constexpr std::string_view origins[] = {"given", "measured", "trade practice"};
  return {{"distribution", name_of(spread.distribution)},
          {"sigma", spread.sigma},
          {"share", spread.share},
          {"origin", origins[static_cast<std::size_t>(spread.origin)]}};
}

Json optional_json(const std::optional<Estimate>& estimate) {
  return estimate ? json_of(*estimate) : Json();
}

Json shares_json(const ScatterResult& result) {
  Json shares = Json::array();
  for (const InputShare& share : result.shares) {
    Json json = {{"input", share.name}, {"key", share.key}};
    if (share.spread) json["spread"] = spread_json(*share.spread);
    if (!share.spread) json["probability"] = share.probability;
    json["alone"] = json_of(share.alone);
    json["total"] = json_of(share.total);
    json["over_ceiling_if_exact"] = optional_json(share.over_if_exact);
    json["gives_if_exact"] = optional_json(share.gives_if_exact);
    shares.push_back(json);
  }
  return shares;
}

Json parts_json(const ScatterResult& result) {
  Json parts = Json::array();
  for (const PartChance& part : result.parts) {
    parts.push_back({{"part", part.part},
                     {"mode", part.mode},
                     {"chance", json_of(part.chance)},
                     {"ratio", part.ratio},
                     {"holds_Pa", part.holds}});
  }
  return parts;
}

Json mistakes_json(const ScatterResult& result) {
  Json mistakes = Json::array();
  for (const Mistake& mistake : result.mistakes) {
    Json json = {{"mistake", mistake.name},
                 {"kind", name_of(mistake.fault.kind)},
                 {"probability", mistake.fault.probability}};
    json.update(firing_json(mistake.firing));
    mistakes.push_back(json);
  }
  return mistakes;
}

/// What does not stray around cores that are not plain and round; empty where nothing is held.
string words_on_held(const Job& job) {
  const auto odd = [](const Layer& layer) { return layer.segment.core != nullptr; };
  if (std::ranges::none_of(job.grain.layers, odd)) return "";
  string held;
  for (const NamedTolerance& named : named_tolerances()) {
    const bool holds = named.spread == &Tolerances::core || named.spread == &Tolerances::length ||
                       named.spread == &Tolerances::core_offset;
    if (!holds || (job.tolerances.*named.spread).none()) continue;
    held += fmt::format("{}tolerance.{}", held.empty() ? "" : ", ", named.key);
  }
  if (held.empty()) return "";
  return "segments whose core is not plain and round are fired as drawn, whatever these say: " +
         held;
}

std::vector<string> all_remarks(const Job& job, const Assessment& found) {
  std::vector<string> remarks = remarks_of(job, found);
  if (string held = words_on_held(job); !held.empty()) remarks.push_back(std::move(held));
  return remarks;
}

}  // namespace

void tell(Page& page, const ScatterResult& result, UnitSystem units) {
  tell_percentiles(page, result, units);
  tell_parts(page, result, units);
  tell_shares(page, result, units);
  tell_mistakes(page, result, units);
  tell_method(page, result);
}

std::string scatter_page(const Job& job, const Assessment& found, UnitSystem units,
                         const std::string& job_file) {
  const ScatterResult& result = *found.scatter;
  Page page;
  tell_verdict(page, found, units);
  page.gap();
  for (const string& line :
       {line_on_ceiling(result, units), line_on_parts(result), line_on_taming(result)}) {
    page.drawing(line + '\n');
  }
  page.heading(title_of("Scatter", job));
  if (result.stopped) {
    page.paragraph("STOPPED early: this is what was fired until then, without a band of thrust.");
  }
  tell(page, result, units);
  tell_remarks(page, all_remarks(job, found));
  page.heading(short_caution);
  page.next(
      next_step(job, found.verdict, job_file,
                job.shell ? "grainwright margins " + job_file : "grainwright cutlist " + job_file));
  return page.text();
}

Json json_of(const Job& job, const Assessment& found) {
  const ScatterResult& result = *found.scatter;
  Json json = {{"samples", result.samples},
               {"seed", result.seed},
               {"replicates", result.replicates},
               {"stopped", result.stopped},
               {"as_drawn", firing_json(result.as_drawn)},
               {"peak_pressure_Pa", percentiles_json(result.peak_pressure)},
               {"peak_thrust_N", percentiles_json(result.peak_thrust)},
               {"total_impulse_Ns", percentiles_json(result.total_impulse)},
               {"burn_time_s", percentiles_json(result.burn_time)}};
  if (result.rail_speed) json["rail_exit_speed_m_s"] = percentiles_json(*result.rail_speed);
  json["mean_peak_pressure_Pa"] = json_of(result.mean_pressure);
  json["sigma_peak_pressure_Pa"] = json_of(result.sigma_pressure);
  json["ceiling_Pa"] = result.ceiling ? Json(*result.ceiling) : Json();
  json["chance_over_ceiling"] = optional_json(result.over_ceiling);
  json["judged"] = {{"model", result.judged.model},
                    {"ratio", result.judged.ratio},
                    {"checked", result.judged.checked},
                    {"greatest_difference", result.judged.greatest_difference},
                    {"raised", result.judged.raised},
                    {"over_in_full", result.judged.over_in_full},
                    {"over_carried", result.judged.over_carried}};
  json["port_chokes"] = json_of(result.port_chokes);
  if (job.limits.confidence > 0) json["confidence"] = job.limits.confidence;
  json["parts"] = parts_json(result);
  json["chance_anything_gives"] = optional_json(result.anything_gives);
  json["shares"] = shares_json(result);
  json["mistakes"] = mistakes_json(result);
  json["histogram"] = {{"from_Pa", result.histogram.from},
                       {"step_Pa", result.histogram.step},
                       {"share", result.histogram.share}};
  json["thrust_band"] = {{"time_s", result.thrust.time},
                         {"p5_N", result.thrust.p5},
                         {"p50_N", result.thrust.p50},
                         {"p95_N", result.thrust.p95}};
  json["heat_check"] = {{"firings", result.heat.firings},
                        {"greatest_error", result.heat.greatest_error}};
  json["remarks"] = all_remarks(job, found);
  return {
      {"verdict", cli::json_of(found.verdict)}, {"judged", judged_json(found)}, {"scatter", json}};
}

}  // namespace grainwright::cli
