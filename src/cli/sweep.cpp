// SPDX-License-Identifier: GPL-3.0-or-later
#include "sweep.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>

#include "check.hpp"
#include "columns.hpp"
#include "grainwright/error.hpp"
#include "json.hpp"
#include "numbers.hpp"
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

constexpr std::string_view broken = "BROKEN";

std::string limits_of(const Job& job, const Prediction& prediction) {
  const auto checks = checked(set_limits(job.limits), prediction.judged());
  if (prediction.chokes) return "port chokes";
  if (checks.empty()) return "none set";
  if (any_broken(checks)) return std::string(broken);
  return std::ranges::any_of(checks, &Check::near) ? "near" : "kept";
}

// The heading of the table says the key; a long one would widen its column past the page.
std::string column_head(const std::string& key) {
  constexpr std::size_t widest = 12;
  return key.size() <= widest ? key : "value";
}

// "fire" of a sweep: a row a value.
std::string text_of(const Sweep& sweep, UnitSystem units) {
  using enum Dimension;
  Page page;
  page.heading(fmt::format("Firing for several values of {}, {} model", sweep.key,
                           name_of(sweep.predictions.front().model)));
  Table table{
      .align = "lrrrrrll",
      .head = {column_head(sweep.key), head("pressure", pressure, units),
               head("thrust", force, units), head("mean", force, units), head("burn", time, units),
               head("impulse", impulse, units), "class", "limits"}};
  for (std::size_t i = 0; i < sweep.values.size(); ++i) {
    const Prediction& prediction = sweep.predictions[i];
    const Summary& s = prediction.firing.summary;
    table.rows.push_back({sweep.values[i],
                          number(prediction.judged().peak_pressure, pressure, units),
                          number(s.peak_thrust, force, units), number(s.mean_thrust, force, units),
                          number(s.burn_time, time, units), number(s.total_impulse, impulse, units),
                          s.letter_class, sweep.limits[i]});
  }
  page.paragraph(
      "Peak pressure, peak and mean thrust, burn time, and whether the job's limits hold.");
  page.gap();
  page.table(table);
  if (std::ranges::find(sweep.limits, broken) != sweep.limits.end()) {
    page.paragraph(
        "BROKEN: fire the job with that value alone to read which limit, and by how much.");
  }
  std::vector<std::string> remarks;
  for (std::size_t i = 0; i < sweep.values.size(); ++i) {
    for (const std::string& remark : sweep.predictions[i].firing.remarks) {
      remarks.push_back(fmt::format("at {}: {}", sweep.values[i], remark));
    }
  }
  tell_remarks(page, remarks);
  page.heading(short_caution);
  return page.text();
}

std::string json_of(const Sweep& sweep) {
  Json runs = Json::array();
  for (std::size_t i = 0; i < sweep.values.size(); ++i) {
    const Firing& firing = sweep.predictions[i].firing;
    Json run = {{"value", sweep.values[i]}, {"summary", cli::json_of(firing.summary)}};
    if (firing.transient) run["transient"] = cli::json_of(*firing.transient);
    run["limits"] = sweep.limits[i];
    run["remarks"] = firing.remarks;
    runs.push_back(std::move(run));
  }
  return written({{"sweep",
                   {{"key", sweep.key},
                    {"model", name_of(sweep.predictions.front().model)},
                    {"runs", runs}}}});
}

// The curves one below the other, each line led by its value.
std::string csv_of(const Sweep& sweep) {
  std::string text;
  for (std::size_t i = 0; i < sweep.values.size(); ++i) {
    const std::string table = cli::csv_of(columns_of(sweep.predictions[i].firing));
    const std::size_t body = table.find('\n') + 1;
    if (i == 0) text = fmt::format("{},{}", sweep.key, table.substr(0, body));
    for (std::size_t from = body; from < table.size();) {
      const std::size_t to = table.find('\n', from) + 1;
      text += fmt::format("{},{}", sweep.values[i], table.substr(from, to - from));
      from = to;
    }
  }
  return text;
}

}  // namespace

Sweep swept(const std::string& job_file, const std::string& wanted,
            const std::function<void(Job&)>& prepare,
            const std::function<Prediction(const Job&)>& predicted) {
  const std::size_t equals = wanted.find('=');
  if (equals == 0 || equals >= wanted.size() - 1) {
    throw InputError("--sweep", wanted, std::string(form));
  }
  Sweep sweep{.key = wanted.substr(0, equals),
              .values = split(std::string_view(wanted).substr(equals + 1)),
              .predictions = {},
              .limits = {}};
  const std::string text = whole_file(job_file);
  for (const std::string& value : sweep.values) {
    if (value.empty()) throw InputError("--sweep", wanted, std::string(form));
    Job job = parse_job(with_value(text, sweep.key, value), job_file);
    prepare(job);
    sweep.predictions.push_back(predicted(job));
    sweep.limits.push_back(limits_of(job, sweep.predictions.back()));
  }
  return sweep;
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
