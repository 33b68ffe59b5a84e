// SPDX-License-Identifier: GPL-3.0-or-later
#include "stand_options.hpp"

#include <fmt/chrono.h>
#include <fmt/format.h>

#include <algorithm>
#include <ctime>

#include "grainwright/error.hpp"

namespace grainwright::cli {
namespace {

/// The time of a video is that of frames: one thirtieth of a second at each end.
constexpr double frame_error = 0.03;
/// A peak read off a display that holds it, common practice, no source.
constexpr double display_error = 0.05;

std::vector<std::string> split(const std::string& list, char at) {
  std::vector<std::string> parts;
  for (std::size_t from = 0; from <= list.size();) {
    const std::size_t to = std::min(list.find(at, from), list.size());
    std::string part = list.substr(from, to - from);
    part.erase(0, part.find_first_not_of(' '));
    part.erase(part.find_last_not_of(' ') + 1);
    parts.push_back(std::move(part));
    from = to + 1;
  }
  return parts;
}

std::optional<double> maybe(const Arguments& arguments, std::string_view option,
                            Dimension dimension) {
  if (!arguments.has(option)) return std::nullopt;
  return arguments.quantity(option, dimension);
}

std::optional<char> delimiter_of(const Arguments& arguments) {
  const auto given = arguments.text("delimiter");
  if (!given) return std::nullopt;
  const std::pair<std::string_view, char> names[] = {
      {"comma", ','}, {"semicolon", ';'}, {"tab", '\t'}, {"bar", '|'}, {"blank", ' '}};
  for (const auto& [name, character] : names) {
    if (*given == name || *given == std::string(1, character)) return character;
  }
  throw InputError("--delimiter", *given, "comma, semicolon, tab, bar or blank");
}

double positive(const Arguments& arguments, const std::string& option, Dimension dimension) {
  const double value = arguments.quantity(option, dimension);
  if (!(value > 0)) throw InputError("--" + option, *arguments.text(option), "above 0");
  return value;
}

StandPosition position_of(const Arguments& arguments) {
  const std::string given = arguments.text("stand").value_or("horizontal");
  if (given == "horizontal") return StandPosition::horizontal;
  if (given == "nozzle-up") return StandPosition::nozzle_up;
  if (given == "nozzle-down") return StandPosition::nozzle_down;
  throw InputError("--stand", given, "horizontal, nozzle-up or nozzle-down");
}

std::optional<bool> reversed_of(const Arguments& arguments) {
  const auto given = arguments.text("thrust-reads");
  if (!given) return std::nullopt;
  if (*given != "positive" && *given != "negative") {
    throw InputError("--thrust-reads", *given, "positive or negative");
  }
  return *given == "negative";
}

double read_part(const std::string& text, Dimension dimension) {
  try {
    return read_quantity(text, dimension);
  } catch (const InputError& error) {
    auto found = error.complaints();
    for (Complaint& complaint : found) complaint.key = "--only-peak-and-time";
    throw InputError(std::move(found));
  }
}

}  // namespace

const std::vector<Option>& stand_options() {
  static const std::vector<Option> options = {
      {"job", "JOB", "the motor that was fired: predicts, compares, fits a burn law"},
      {"with", "LOG=JOB,...", "more firings of the same propellant, fitted together"},
      {"only-peak-and-time", "F,T",
       "no log: a peak reading and a burn time, e.g. \"118 lbf, 0.7 s\""},
      {"time-error", "T", "of that time, one standard deviation; else 0.03 s"},
      {"propellant", "M", "mass of propellant as weighed"},
      {"scale-error", "E", "of the load cell, one standard deviation, e.g. \"10 %\"; else 2 %"},
      {"throat-error", "D", "of the throat's diameter, likewise; else 0.1 mm"},
      {"clock-error", "E", "of the logger's clock, likewise; else 1 %"},
      {"pressure-error", "E", "of the pressure sensor, likewise"},
      {"rate-error", "E", "of the predicted burn rate; else the job's, or 10 %"},
      {"noise-alone", "", "errors of the rows' noise alone: all else exact"},
      {"hold", "n,efficiency,web", "keep the job's in the fit"},
      {"save", "FILE", "write the job with the measured law to FILE"},
      {"save-doubtful", "", "with --save: keep a law that is doubted; the job then says so"},
      {"date", "DATE", "of the firing, for --save; else today"},
      {"force", "", "let --save replace an existing file"},
      {"delimiter", "D", "comma, semicolon, tab, bar or blank; else found out"},
      {"decimal", "point|comma", "sign of numbers in the log; else found out"},
      {"time-column", "C", "name or number, from 1; none with --sample-rate; else found out"},
      {"force-column", "C", "name or number; else found out"},
      {"pressure-column", "C", "name or number, or none; else found out"},
      {"time-unit", "U", "s, ms or samples; else the header's"},
      {"sample-rate", "R", "e.g. \"80 Hz\", where time counts samples or is not there"},
      {"force-unit", "U", "N, lbf, kg or counts; else the header's"},
      {"force-per-count", "F", "what a raw count stands for, e.g. \"0.012 N\""},
      {"pressure-unit", "U", "MPa, psi, bar or counts; else the header's"},
      {"pressure-per-count", "P", "what a raw count stands for"},
      {"from", "T", "of the log: leave out what is before"},
      {"to", "T", "of the log: leave out what is after"},
      {"tare", "F", "the reading at rest; else from before ignition"},
      {"thrust-reads", "positive|negative", "sign of thrust in the log; else found out"},
      {"capacity", "F", "reading at which the scale is at its end"},
      {"stand", "POSITION", "horizontal, nozzle-up or nozzle-down; else horizontal"},
      {"keep-spikes", "", "leave rows in that stand alone"},
  };
  return options;
}

namespace {
std::optional<bool> decimal_of(const Arguments& arguments) {
  const auto given = arguments.text("decimal");
  if (!given) return std::nullopt;
  if (*given != "point" && *given != "comma") {
    throw InputError("--decimal", *given, "point or comma");
  }
  return *given == "comma";
}
}  // namespace

LogFormat log_format_of(const Arguments& arguments) {
  LogFormat format{
      .delimiter = delimiter_of(arguments),
      .decimal_comma = decimal_of(arguments),
      .time_column = arguments.text("time-column"),
      .force_column = arguments.text("force-column"),
      .pressure_column = arguments.text("pressure-column"),
      .time_unit = arguments.text("time-unit"),
      .sample_rate = {},
      .force_unit = arguments.text("force-unit"),
      .force_per_count = maybe(arguments, "force-per-count", Dimension::force),
      .pressure_unit = arguments.text("pressure-unit"),
      .pressure_per_count = maybe(arguments, "pressure-per-count", Dimension::pressure)};
  if (arguments.has("sample-rate")) {
    format.sample_rate = positive(arguments, "sample-rate", Dimension::frequency);
  }
  return format;
}

Handling handling_of(const Arguments& arguments) {
  Handling handling;
  handling.from = arguments.quantity("from", Dimension::time, handling.from);
  handling.to = arguments.quantity("to", Dimension::time, handling.to);
  handling.tare = maybe(arguments, "tare", Dimension::force);
  handling.reversed = reversed_of(arguments);
  handling.capacity = maybe(arguments, "capacity", Dimension::force);
  handling.position = position_of(arguments);
  if (arguments.has("propellant")) {
    handling.propellant_mass = positive(arguments, "propellant", Dimension::mass);
  }
  handling.keep_spikes = arguments.has("keep-spikes");
  return handling;
}

double error_of(const Arguments& arguments, const std::string& option, double otherwise) {
  const double error = arguments.quantity(option, Dimension::ratio, otherwise);
  if (!(error >= 0 && error < 1)) {
    throw InputError("--" + option, *arguments.text(option), "from 0 to under 100 %");
  }
  return error;
}

FitOptions fit_options_of(const Arguments& arguments) {
  FitOptions options;
  if (arguments.has("noise-alone")) options = FitOptions::noise_alone();
  options.scale_error = error_of(arguments, "scale-error", options.scale_error);
  options.clock_error = error_of(arguments, "clock-error", options.clock_error);
  options.throat_error =
      arguments.quantity("throat-error", Dimension::length, options.throat_error);
  if (!(options.throat_error >= 0)) {
    throw InputError("--throat-error", *arguments.text("throat-error"), "0 or more");
  }
  options.pressure_error = error_of(arguments, "pressure-error", 0);
  const auto held = arguments.text("hold");
  if (!held) return options;
  for (const std::string& one : split(*held, ',')) {
    if (one == "n") {
      options.hold_n = true;
    } else if (one == "efficiency") {
      options.hold_efficiency = true;
    } else if (one == "web") {
      options.hold_web = true;
    } else {
      throw InputError("--hold", one, "n, efficiency, web, or some with commas between them");
    }
  }
  return options;
}

std::optional<PeakAndTime> peak_and_time_of(const Arguments& arguments) {
  const auto given = arguments.text("only-peak-and-time");
  if (!given) return std::nullopt;
  const auto parts = split(*given, ',');
  if (parts.size() != 2) {
    throw InputError("--only-peak-and-time", *given, "a force and a time, e.g. \"118 lbf, 0.7 s\"");
  }
  PeakAndTime seen;
  seen.peak_thrust = read_part(parts[0], Dimension::force);
  seen.time = read_part(parts[1], Dimension::time);
  if (!(seen.peak_thrust > 0 && seen.time > 0)) {
    throw InputError("--only-peak-and-time", *given, "both above 0");
  }
  const double scale = error_of(arguments, "scale-error", 0);
  seen.peak_error = scale > 0 ? scale : display_error;
  seen.time_error = arguments.quantity("time-error", Dimension::time, frame_error) / seen.time;
  if (!(seen.time_error > 0 && seen.time_error < 1)) {
    throw InputError("--time-error", arguments.text("time-error").value_or("0.03 s"),
                     "above 0, less than the time");
  }
  return seen;
}

std::vector<std::pair<std::string, std::string>> others_of(const Arguments& arguments) {
  std::vector<std::pair<std::string, std::string>> others;
  const auto given = arguments.text("with");
  if (!given) return others;
  for (const std::string& one : split(*given, ',')) {
    const std::size_t equals = one.find('=');
    if (equals == 0 || equals == std::string::npos || equals + 1 == one.size()) {
      throw InputError("--with", one, "LOG=JOB, e.g. second.csv=wider-throat.toml");
    }
    others.emplace_back(one.substr(0, equals), one.substr(equals + 1));
  }
  return others;
}

std::string option_of(const std::string& key) {
  static const std::pair<const char*, const char*> known[] = {
      {"tare", "--tare"},
      {"thrust_reads", "--thrust-reads"},
      {"from and to", "--from and --to"},
      {"time_column", "--time-column"},
      {"force_column", "--force-column"},
      {"pressure_column", "--pressure-column"},
      {"time_unit", "--time-unit"},
      {"force_unit", "--force-unit"},
      {"pressure_unit", "--pressure-unit"},
      {"sample_rate", "--sample-rate"},
      {"force_per_count", "--force-per-count"},
      {"pressure_per_count", "--pressure-per-count"},
      {"decimal_comma", "--decimal"},
  };
  const auto same = [&](const auto& one) { return key == one.first; };
  const auto found = std::ranges::find_if(known, same);
  return found == std::end(known) ? key : found->second;
}

std::string date_of(const Arguments& arguments) {
  if (const auto given = arguments.text("date")) return *given;
  return fmt::format("{:%Y-%m-%d}", fmt::localtime(std::time(nullptr)));
}

}  // namespace grainwright::cli
