// SPDX-License-Identifier: GPL-3.0-or-later
#include "sweep.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cstddef>

#include "columns.hpp"
#include "grainwright/error.hpp"
#include "json.hpp"
#include "numbers.hpp"
#include "verdict_page.hpp"
#include "whole_file.hpp"
#include "words.hpp"

namespace grainwright::cli {
namespace {

constexpr std::string_view form = "KEY=VALUE,VALUE,..., e.g. temperature=-5degC,20degC,40degC";

std::vector<std::string> split(std::string_view list) {
  std::vector<std::string> parts;
  for (std::size_t from = 0; from <= list.size();) {
    const std::size_t to = std::min(list.find(',', from), list.size());
    parts.emplace_back(list.substr(from, to - from));
    from = to + 1;
  }
  return parts;
}

// The heading of the table says the key; a long one would widen its column past the page.
std::string column_head(const std::string& key) {
  constexpr std::size_t widest = 12;
  return key.size() <= widest ? key : "value";
}

/// Which values may be fired, in one sentence.
std::string first_sentence(const Sweep& sweep) {
  std::string words;
  for (const Answer answer : {Answer::no, Answer::unknown, Answer::yes}) {
    std::vector<std::string> values;
    for (const SweepRun& run : sweep.runs) {
      if (run.found.verdict.answer() == answer) values.push_back(run.value);
    }
    if (values.empty()) continue;
    const std::string_view name = answer == Answer::no        ? "NO"
                                  : answer == Answer::unknown ? "UNKNOWN"
                                                              : "YES, by this prediction";
    words += fmt::format("{}{} at {}", words.empty() ? "" : "; ", name, fmt::join(values, ", "));
  }
  return words + ".";
}

/// Why, value by value, where it is not a yes.
void tell_why(Page& page, const Sweep& sweep) {
  for (const SweepRun& run : sweep.runs) {
    if (run.found.verdict.answer() == Answer::yes) continue;
    page.item("- ", fmt::format("at {}: {}.", run.value, cli::first_sentence(run.found.verdict)));
  }
}

// "fire" of a sweep: a row a value.
std::string text_of(const Sweep& sweep, UnitSystem units) {
  using enum Dimension;
  Page page;
  page.heading(first_sentence(sweep));
  tell_why(page, sweep);
  page.heading(
      fmt::format("Firing for several values of {}, {} model", sweep.key, name_of(sweep.model)));
  Table table{
      .align = "lrrrrrll",
      .head = {column_head(sweep.key), head("pressure", pressure, units),
               head("thrust", force, units), head("mean", force, units), head("burn", time, units),
               head("impulse", impulse, units), "class", "verdict"}};
  for (const SweepRun& run : sweep.runs) {
    const Summary& s = run.firing.summary;
    table.rows.push_back({run.value, number(run.found.peak_pressure.value, pressure, units),
                          number(s.peak_thrust, force, units), number(s.mean_thrust, force, units),
                          number(s.burn_time, time, units), number(s.total_impulse, impulse, units),
                          s.letter_class, std::string(name_of(run.found.verdict.answer()))});
  }
  page.paragraph(
      "Peak pressure at the head end (absolute, the highest of all models), peak and mean thrust, "
      "burn time.");
  page.gap();
  page.table(table);
  std::vector<std::string> remarks;
  for (const SweepRun& run : sweep.runs) {
    for (const std::string& remark : run.remarks) {
      remarks.push_back(fmt::format("at {}: {}", run.value, remark));
    }
  }
  tell_remarks(page, remarks);
  page.heading(short_caution);
  return page.text();
}

std::string json_of(const Sweep& sweep) {
  Json runs = Json::array();
  for (const SweepRun& run : sweep.runs) {
    Json json = {{"value", run.value},
                 {"verdict", cli::json_of(run.found.verdict)},
                 {"summary", cli::json_of(run.firing.summary)},
                 {"judged", judged_json(run.found)}};
    if (run.firing.transient) json["transient"] = cli::json_of(*run.firing.transient);
    json["remarks"] = run.remarks;
    runs.push_back(std::move(json));
  }
  return written(
      {{"verdict", cli::json_of(verdict_of(sweep))},
       {"sweep", {{"key", sweep.key}, {"model", name_of(sweep.model)}, {"runs", runs}}}});
}

// The curves one below the other, each line led by its value.
std::string csv_of(const Sweep& sweep) {
  std::string text;
  for (const SweepRun& run : sweep.runs) {
    const std::string table = cli::csv_of(columns_of(run.firing));
    const std::size_t body = table.find('\n') + 1;
    if (text.empty()) text = fmt::format("{},{}", sweep.key, table.substr(0, body));
    for (std::size_t from = body; from < table.size();) {
      const std::size_t to = table.find('\n', from) + 1;
      text += fmt::format("{},{}", run.value, table.substr(from, to - from));
      from = to;
    }
  }
  return text;
}

}  // namespace

Sweep swept(const std::string& job_file, const std::string& wanted, Model model,
            const std::function<void(Job&)>& prepare,
            const std::function<SweepRun(const Job&)>& fire) {
  const std::size_t equals = wanted.find('=');
  if (equals == 0 || equals >= wanted.size() - 1) {
    throw InputError("--sweep", wanted, std::string(form));
  }
  Sweep sweep{.key = wanted.substr(0, equals), .model = model, .runs = {}};
  const std::string text = whole_file(job_file);
  for (const std::string& value : split(std::string_view(wanted).substr(equals + 1))) {
    if (value.empty()) throw InputError("--sweep", wanted, std::string(form));
    Job job = parse_job(with_value(text, sweep.key, value), job_file);
    prepare(job);
    sweep.runs.push_back(fire(job));
    sweep.runs.back().value = value;
  }
  return sweep;
}

Verdict verdict_of(const Sweep& sweep) {
  Verdict all;
  for (const SweepRun& run : sweep.runs) {
    const auto add = [&](const std::vector<Reason>& reasons, std::vector<Reason>& to) {
      for (Reason reason : reasons) {
        reason.words = fmt::format("at {}: {}", run.value, reason.words);
        to.push_back(std::move(reason));
      }
    };
    add(run.found.verdict.broken, all.broken);
    add(run.found.verdict.not_judged, all.not_judged);
    add(run.found.verdict.assumed, all.assumed);
  }
  return all;
}

std::string printed(const Sweep& sweep, Format format, UnitSystem units) {
  switch (format) {
    case Format::json:
      return json_of(sweep);
    case Format::csv:
      return csv_of(sweep);
    case Format::text:
      break;
  }
  return text_of(sweep, units);
}

}  // namespace grainwright::cli
