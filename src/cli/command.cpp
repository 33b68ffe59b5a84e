// SPDX-License-Identifier: GPL-3.0-or-later
//
// The one description of the command line: help, the manual and the completions are made from it.
#include "command.hpp"

namespace grainwright::cli {

std::vector<Command> all_commands() {
  return {even_command(),    burnback_command(), fire_command(),    design_command(),
          margins_command(), scatter_command(),  cutlist_command(), stand_command(),
          fly_command(),     report_command(),   bench_command()};
}

const std::vector<Option>& shared_options() {
  static const std::vector<Option> options = {
      {"json", "", "print the answer as JSON in SI, the unit at the end of each key"},
      {"csv", "", "print the curve as comma-separated values in SI units"},
      {"units", "us|si", "units of the printed text; otherwise those of the job"},
      {"help", "", "print this help"},
  };
  return options;
}

std::vector<Option> offered_options(const Command& command) {
  std::vector<Option> options = command.options;
  for (const Option& option : shared_options()) {
    if (option.name != "csv" || command.why_no_csv.empty()) options.push_back(option);
  }
  return options;
}

const std::vector<Option>& lone_options() {
  static const std::vector<Option> options = {
      {"version", "", "print the version, and what it was built with"},
  };
  return options;
}

const std::vector<ExitCode>& exit_codes() {
  static const std::vector<ExitCode> codes = {
      {"0", "fine"},
      {"1", "the answer is no: a limit is broken, or nothing fits"},
      {"2", "the job or the command line cannot be accepted"},
      {"3", "a file or standard output cannot be read or written"},
  };
  return codes;
}

}  // namespace grainwright::cli
