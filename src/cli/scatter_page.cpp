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

/// "2.6 % of motors", "1 in 640 motors".
string of_motors(const Estimate& chance) {
  const string words = chance_words(chance);
  return words + (words.find("1 in ") == string::npos ? " of motors" : " motors");
}

string line_on_ceiling(const ScatterResult& result, UnitSystem units) {
  const string base = fmt::format("{} firings{}, seed {}", result.samples,
                                  result.stopped ? " until it was stopped" : "", result.seed);
  if (!result.over_ceiling) {
    return fmt::format("Over the ceiling: the job sets none (limits.pressure). {}.", base);
  }
  return fmt::format("Over the ceiling of {}: {}. {}.",
                     show(*result.ceiling, Dimension::pressure, units),
                     of_motors(*result.over_ceiling), base);
}

/// Ports that may choke, before anything else; empty where none can.
string line_on_ports(const ScatterResult& result) {
  const Estimate& chokes = result.port_chokes;
  if (chokes.value == 0) return "";
  return fmt::format(
      "A port may choke before the throat in {}{}: what their pressure would be no model "
      "here says, and they count as over the ceiling and as failing.",
      of_motors(chokes), result.as_drawn.port_chokes ? ", and in the motor as drawn" : "");
}

string line_on_parts(const ScatterResult& result) {
  if (result.parts.empty()) {
    return "Most likely to fail: not judged (the job has no casing.material).";
  }
  const PartChance& first = result.parts.front();
  return fmt::format("Most likely to fail: the {}, by {}: {}.", first.part, first.mode,
                     of_motors(first.chance));
}

string line_on_fixing(const ScatterResult& result) {
  if (result.shares.empty()) return "Fix first: nothing, for nothing strays.";
  const InputShare& first = result.shares.front();
  const double over = result.over_ceiling ? result.over_ceiling->value : 0;
  const double gives = result.anything_gives ? result.anything_gives->value : 0;
  const bool mistake = !first.spread;
  const string held = mistake ? "never made" : "held exact";
  string line = fmt::format("Fix first: {}: ", first.name);
  if (gives > over && first.gives_if_exact) {
    return line + fmt::format("{}, something would fail in {} instead of {}.", held,
                              of_motors(*first.gives_if_exact), chance_words({gives}));
  }
  if (over > 1e-6 && first.over_if_exact) {
    return line + fmt::format("{}, {} would pass the ceiling instead of {}.", held,
                              of_motors(*first.over_if_exact), chance_words({over}));
  }
  return line +
         fmt::format("it carries {} of the variance of peak pressure.", percent(first.total.value));
}

void tell_percentiles(Page& page, const ScatterResult& result, UnitSystem units) {
  page.heading(
      result.judged.model == "steady"
          ? "Motors drawn alike: percentiles"
          : fmt::format("Motors drawn alike: percentiles, the peak pressure by the {} model",
                        result.judged.model));
  Table table{.align = "lrrrr",
              .head = {"", "as drawn", "5th percentile", "50th percentile", "95th percentile"}};
  const auto row = [&](std::string_view name, Dimension dimension, double drawn,
                       const Percentiles& of) {
    table.rows.push_back({head(name, dimension, units), number(drawn, dimension, units, 3),
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
    table.rows.back().front() = rail_head("rail exit speed", units);
  }
  page.table(table);
}

void tell_parts(Page& page, const ScatterResult& result, UnitSystem units) {
  if (result.parts.empty()) return;
  page.heading("What fails: hot, its load past its strength, both uncertain");
  Table table{.align = "llrrr", .head = {"part", "by", "margin as drawn", "holds", "chance"}};
  for (const PartChance& part : result.parts) {
    table.rows.push_back({part.part, part.mode, fmt::format("{:.2f}", part.ratio),
                          show(part.holds, Dimension::pressure, units), chance_words(part.chance)});
  }
  table.rows.push_back({"any of them", "", "", "", chance_words(*result.anything_gives)});
  page.table(table);
}

void tell_shares(Page& page, const ScatterResult& result, UnitSystem units) {
  if (result.shares.empty()) return;
  page.heading("What to fix first, with shares of the variance of peak pressure");
  const bool over = result.over_ceiling.has_value();
  const bool gives = result.anything_gives.has_value();
  Table table{.align = "llrr", .head = {"input", "strays", "share", "total"}};
  if (over) {
    table.align += 'r';
    table.head.push_back("over left");
  }
  if (gives) {
    table.align += 'r';
    table.head.push_back("fails left");
  }
  const auto chance = [](const std::optional<Estimate>& estimate) {
    if (!estimate) return string();
    return estimate->value < 1e-6 ? string("none") : chance_words({estimate->value});
  };
  const auto share = [](const InputShare& input, const Estimate& index) {
    return input.key.ends_with("strength") ? string()
                                           : fmt::format("{:.0f} %", std::abs(100 * index.value));
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
      "Share: of the variance, with this input by itself; total: with its interactions as well. "
      "Left: the chance that would be left to pass the ceiling, and that something fails, were the "
      "input exact or the mistake never made. "
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
    table.head.insert(table.head.end(), {"fails first", "margin"});
  }
  if (flies) {
    table.align += 'r';
    table.head.push_back(rail_head("rail", units));
  }
  const auto row = [&](const string& name, const string& probability, const SingleFiring& firing) {
    std::vector<string> cells = {
        name, probability, number(firing.peak_pressure, Dimension::pressure, units, 3),
        fmt::format("{:.2f}", firing.peak_pressure / result.as_drawn.peak_pressure)};
    if (firing.port_chokes) cells[2] = cells[3] = "port chokes";
    if (judged) {
      cells.push_back(firing.gives_first);
      cells.push_back(fmt::format("{:.2f}{}", firing.ratio, firing.ratio < 1 ? " FAILS" : ""));
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

/// A difference between two reckonings.
string difference_words(double share) {
  constexpr double least = 1e-3;
  return share < least ? "0.1 % or less" : fmt::format("up to {:.1f} %", 100 * share);
}

/// How the steady peaks were carried to those by which `fire` and `margins` judge.
string judged_words(const ScatterResult& result) {
  const JudgedPeaks& judged = result.judged;
  if (judged.model == "steady") return "All these firings, and their peak pressures, are steady.";
  string words = fmt::format(
      "Each motor is fired by the steady model, and its peak pressure carried to the {} model at "
      "the head end, by which `fire` judges: {:.2f} times the steady peak for the motor as drawn. "
      "Thrust, "
      "impulse and burn time stay steady.",
      judged.model, judged.ratio);
  if (judged.checked == 0) return words;
  words += fmt::format(
      " Checked by firing {} of the drawn motors in full, those nearest {}: the carried peaks were "
      "off by {}",
      judged.checked, result.ceiling ? "the ceiling" : "the 95th percentile",
      difference_words(judged.greatest_difference));
  if (result.ceiling) {
    words += fmt::format(", and {} of them were over the ceiling, {} as carried",
                         judged.over_in_full, judged.over_carried);
  }
  if (judged.raised < worth_a_word) return words + '.';
  return words +
         fmt::format(
             ". To err to the safe side, the chances count every peak higher by the maximum "
             "found upward among motors with the same mistakes, {}.",
             difference_words(judged.raised));
}

void tell_method(Page& page, const ScatterResult& result) {
  page.heading("How far to trust this");
  page.paragraph(
      "The tails are only as true as the inputs: a chance of one in a thousand comes from how far "
      "the inputs stray in the thousandth motor, which nobody here has measured. Trust the order "
      "of "
      "the causes more than the last digit of a chance.");
  page.paragraph(fmt::format(
      "{} replicates of scrambled Sobol points; after ± the 95 % error bar of the sampling alone. "
      "Shares of variance by Saltelli (2010) and Jansen (1999).",
      result.replicates));
  if (result.heat.firings > 0) {
    page.paragraph(fmt::format(
        "Heat is conducted in full for some motors and read between them for the others; checked "
        "in full at {} firings, the least margin was off by {}.",
        result.heat.firings, difference_words(result.heat.greatest_error)));
  }
  page.paragraph(judged_words(result));
  if (result.port_chokes.value > 0) {
    page.paragraph(
        "Where a port chokes, the pressures in here are too low: percentiles, mean and histogram "
        "have such motors with the least pressure that they can have.");
  }
  page.paragraph(steady_model);
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

}  // namespace

std::vector<string> scatter_remarks(const Job& job, const Assessment& found) {
  std::vector<string> remarks = remarks_of(job, found);
  if (string held = words_on_held(job); !held.empty()) remarks.push_back(std::move(held));
  return remarks;
}

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
       {line_on_ceiling(result, units), line_on_parts(result), line_on_fixing(result)}) {
    page.paragraph(line);
  }
  if (const string ports = line_on_ports(result); !ports.empty()) page.paragraph(ports);
  page.heading(title_of("Scatter", job));
  if (result.stopped) {
    page.paragraph("STOPPED early: this is what was fired until then, without a band of thrust.");
  }
  tell(page, result, units);
  tell_remarks(page, scatter_remarks(job, found));
  page.heading(short_caution);
  page.next(
      next_step(job, found.verdict, job_file,
                job.shell ? "grainwright margins " + job_file : "grainwright cutlist " + job_file));
  return page.text();
}

}  // namespace grainwright::cli
