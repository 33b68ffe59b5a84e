// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <filesystem>

#include "grainwright/error.hpp"
#include "json.hpp"
#include "numbers.hpp"
#include "stand_options.hpp"
#include "stand_result.hpp"
#include "target.hpp"
#include "whole_file.hpp"
#include "words.hpp"

namespace grainwright::cli {
namespace {

// Of a weighed mass over that of the job, beyond which one of the two is wrong.
constexpr double mass_reach = 1.2;
// Rows of --csv at most; above, neighbours are averaged.
constexpr std::size_t csv_rows = 5000;

/// The job's motor, its density as the weighed propellant has it.
Motor motor_as_weighed(const Job& job, double propellant_mass, std::vector<std::string>& remarks) {
  Motor motor = motor_of(job);
  if (propellant_mass <= 0) return motor;
  const double mass = motor.grain.propellant_volume() * motor.propellant.density();
  const double share = propellant_mass / mass;
  const double density_ratio = motor.propellant.density_ratio * share;
  if (!(share < mass_reach && share > 1 / mass_reach && density_ratio <= 1)) {
    throw InputError(
        "--propellant", show(propellant_mass, Dimension::mass, job.units),
        fmt::format("about {}, the job's segments at its density ratio of {:.3g}; at "
                    "most a density ratio of 1",
                    show(mass, Dimension::mass, job.units), motor.propellant.density_ratio));
  }
  motor.propellant.density_ratio = density_ratio;
  remarks.push_back(
      fmt::format("density ratio {:.4g} from the weighed propellant, {:.4g} in the job",
                  density_ratio, job.propellant->density_ratio));
  return motor;
}

/// A complaint of a log's, in the words of the command line.
[[noreturn]] void complain(const InputError& error, const std::string& file) {
  auto found = error.complaints();
  for (Complaint& complaint : found) {
    if (complaint.place.file.empty()) complaint.place.file = file;
    complaint.key = option_of(complaint.key);
  }
  throw InputError(std::move(found));
}

/// Reads one log into the result, and cleans it.
Trace read(StandResult& result, const std::string& file, const LogFormat& format,
           const Handling& handling) {
  Log log;
  try {
    log = read_log(file, format);
  } catch (const InputError& error) {
    complain(error, file);
  }
  LogTold told{.file = file, .log = {}, .used = log.time.size()};
  told.log.rows = log.rows;
  told.log.faults = log.faults;
  told.log.layout = log.layout;
  result.logs.push_back(std::move(told));
  try {
    return cleaned(std::move(log), handling);
  } catch (const InputError& error) {
    complain(error, file);
  }
}

/// What is asked for, before anything is read.
struct Asked {
  Targets targets;
  std::optional<std::string> save;
  std::optional<std::string> job_file;
  LogFormat format;
  Handling handling;
  FitOptions fit;
  std::optional<PeakAndTime> seen;
  std::vector<std::pair<std::string, std::string>> others;
  double rate_error = 0;
};

void need_job(const Asked& asked, const Arguments& arguments) {
  for (const std::string option :
       {"save", "with", "hold", "only-peak-and-time", "rate-error", "save-doubtful"}) {
    if (arguments.has(option) && !asked.job_file) {
      throw InputError("--" + option, "given without --job", "--job JOB beside it");
    }
  }
  if (arguments.has("force") && !asked.save) {
    throw InputError("--force", "given alone", "--save FILE beside it");
  }
  if (arguments.has("save-doubtful") && !asked.save) {
    throw InputError("--save-doubtful", "given alone", "--save FILE beside it");
  }
  if (arguments.operands().empty() == !asked.seen) {
    throw InputError("LOG", asked.seen ? "given with --only-peak-and-time" : "not given",
                     "a log, or --only-peak-and-time without one");
  }
}

Asked asked_of(const Arguments& arguments) {
  std::vector<std::string> inputs;
  if (const auto job = arguments.text("job")) inputs.push_back(*job);
  for (const auto& [log, job] : others_of(arguments)) inputs.insert(inputs.end(), {log, job});
  Targets targets(arguments, {"save"}, inputs);
  const std::optional<std::string> save = targets.file("save");
  Asked asked{.targets = std::move(targets),
              .save = save,
              .job_file = arguments.text("job"),
              .format = log_format_of(arguments),
              .handling = handling_of(arguments),
              .fit = fit_options_of(arguments),
              .seen = peak_and_time_of(arguments),
              .others = others_of(arguments),
              .rate_error = error_of(arguments, "rate-error", 0)};
  need_job(asked, arguments);
  return asked;
}

/// The law, and whether it is to be believed.
void take_fit(StandResult& result, const FitOptions& options) {
  result.trusted = options;
  try {
    result.fit = fit(result.shots, options);
  } catch (const InputError&) {
    // What is doubted anyhow may well be no firing of this motor.
    if (result.doubts.empty()) throw;
    return;
  }
  result.trips = round_trips(result.shots, *result.fit, options);
  result.doubts = doubts_on(result.shots, *result.fit, result.trips);
}

void take_log(StandResult& result, const Arguments& arguments, const Job* job, Asked& asked) {
  if (job != nullptr) asked.handling.ambient_pressure = job->day.ambient_pressure;
  FigureOptions options{.scale_error = asked.fit.scale_error,
                        .pressure_error = asked.fit.pressure_error,
                        .propellant_mass = asked.handling.propellant_mass};
  if (job != nullptr && job->nozzle) options.throat_area = job->nozzle->throat_area();
  std::optional<Motor> motor;
  if (job != nullptr) motor = motor_as_weighed(*job, options.propellant_mass, result.remarks);
  if (!arguments.has("scale-error")) {
    result.remarks.push_back(fmt::format(
        "the load cell is trusted to {}, one standard deviation; --scale-error says otherwise",
        percent(options.scale_error)));
  }
  result.trace = read(result, arguments.operand(), asked.format, asked.handling);
  result.figures = figures_of(*result.trace, options);
  result.doubts = result.trace->doubts;
  if (!motor) return;
  result.shots.push_back({std::move(*motor), lighting_of(*job), std::move(*result.trace)});
  result.comparison = compare(result.shots.front(), *result.figures, asked.rate_error);
  for (const auto& [log, file] : asked.others) {
    const Job other = read_job(file);
    asked.targets.keep_clear_of(other);
    Handling handling = asked.handling;
    handling.ambient_pressure = other.day.ambient_pressure;
    handling.propellant_mass = 0;
    Motor shot = motor_of(other);
    result.shots.push_back(
        {std::move(shot), lighting_of(other), read(result, log, asked.format, handling)});
  }
  take_fit(result, asked.fit);
  result.trace = std::move(result.shots.front().trace);
}

StandResult found(const Arguments& arguments, const Job* job, Asked& asked) {
  StandResult result;
  result.trusted = asked.fit;
  if (!asked.seen) {
    take_log(result, arguments, job, asked);
    return result;
  }
  result.seen = asked.seen;
  const Motor motor = motor_as_weighed(*job, asked.handling.propellant_mass, result.remarks);
  result.fit = fit_peak_and_time(motor, lighting_of(*job), *asked.seen);
  result.shots.push_back({motor, lighting_of(*job), {}});
  return result;
}

void save(Asked& asked, const Arguments& arguments, const StandResult& result) {
  const Motor motor = with_fit(result.shots.front().motor, *result.fit);
  std::vector<std::string> logs;
  for (const LogTold& told : result.logs) {
    logs.push_back(std::filesystem::path(told.file).filename().string());
  }
  Propellant propellant = motor.propellant;
  propellant.measured = result.fit->measured(date_of(arguments), logs);
  propellant.measured->doubtful = words_of(result.doubts);
  asked.targets.put(
      "save", with_measured(whole_file(*asked.job_file), propellant, motor.nozzle.efficiency));
  asked.targets.write();
}

std::string next_step(const Asked& asked, const Arguments& arguments, bool saved) {
  if (!asked.job_file) {
    return fmt::format("grainwright stand {} --job JOB", arguments.operand());
  }
  if (saved) return fmt::format("grainwright design {}, or fire it", *asked.save);
  if (asked.save) return "a log, or a job, of which the above is not true";
  return fmt::format("the same with --save FILE, then grainwright design FILE");
}

std::string csv(const StandResult& result) {
  if (!result.trace) {
    throw InputError("--csv", "given with --only-peak-and-time", "a log, which has a curve");
  }
  return csv_of(columns_of(beside(*result.trace, result.comparison ? &*result.comparison : nullptr,
                                  result.fit ? &*result.fit : nullptr, csv_rows)));
}

Output run(const Arguments& arguments) {
  Asked asked = asked_of(arguments);
  std::optional<Job> job;
  if (asked.job_file) job = read_job(*asked.job_file);
  if (job) asked.targets.keep_clear_of(*job);
  const StandResult result = found(arguments, job ? &*job : nullptr, asked);
  // What would be kept is made first: nothing is written where it cannot be.
  const bool doubted = !result.doubts.empty();
  const bool saved = asked.save && result.fit && (!doubted || arguments.has("save-doubtful"));
  if (saved) save(asked, arguments, result);
  const Exit exit = doubted ? Exit::no : Exit::fine;
  switch (arguments.format()) {
    case Format::json:
      return {written(json_of(result, saved)), exit};
    case Format::csv:
      return {csv(result), exit};
    case Format::text:
      break;
  }
  const UnitSystem units = arguments.units().value_or(job ? job->units : UnitSystem::us);
  Page page = stand_page(job ? &*job : nullptr, result, units);
  if (saved) {
    page.heading(fmt::format("The job with this law is saved as {}{}.", *asked.save,
                             doubted ? ", stamped doubtful" : ""));
  } else if (asked.save) {
    page.heading(
        "NOTHING IS SAVED: see the doubts. --save-doubtful would keep the law, and say "
        "so wherever it is used.");
  }
  page.heading(short_caution);
  page.next(next_step(asked, arguments, saved));
  return {page.text(), exit};
}

}  // namespace

Command stand_command() {
  return {.name = "stand",
          .purpose = "what did the thrust stand measure, and which burn law does it imply?",
          .operand = "[LOG]",
          .options = stand_options(),
          .why_no_csv = "",
          .run = run};
}

}  // namespace grainwright::cli
