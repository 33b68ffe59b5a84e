// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a command is: words in, one answer out. A command prints nothing itself, so that standard
// output is written in one place (main.cpp), whole or with an error.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace grainwright::cli {

/// What the process tells its caller.
enum class Exit {
  fine = 0,
  no = 1,         ///< the answer is no: a limit is broken, nothing fits
  bad_input = 2,  ///< the job or the command line cannot be accepted
  no_access = 3,  ///< a file or standard output cannot be read or written
};

struct Output {
  std::string text;  ///< for standard output
  Exit exit = Exit::fine;
};

struct Option {
  std::string_view name;   ///< "save", given as --save
  std::string_view value;  ///< what follows it, "FILE"; empty for a switch
  std::string_view meaning;
  std::string_view letter = {};  ///< "o" where -o does too
};

class Arguments;

struct Command {
  std::string_view name;
  std::string_view purpose;     ///< one line: the question it answers
  std::string_view operand;     ///< "JOB", "[LOG]" where it may be left out, or empty
  std::vector<Option> options;  ///< beside `shared_options`
  std::string_view why_no_csv;  ///< empty where the answer holds a curve
  Output (*run)(const Arguments&) = nullptr;
  std::string_view several_with = {};  ///< the switch with which it takes several operands
};

/// Every command, in the order in which a builder needs them.
[[nodiscard]] std::vector<Command> all_commands();
/// Options that every command takes.
[[nodiscard]] const std::vector<Option>& shared_options();
/// What a command's help offers: its own options and the shared ones that it has an answer to.
[[nodiscard]] std::vector<Option> offered_options(const Command& command);
/// Options of the program by itself.
[[nodiscard]] const std::vector<Option>& lone_options();

struct ExitCode {
  std::string_view code;
  std::string_view meaning;
};
[[nodiscard]] const std::vector<ExitCode>& exit_codes();

[[nodiscard]] Command even_command();
[[nodiscard]] Command burnback_command();
[[nodiscard]] Command fire_command();
[[nodiscard]] Command design_command();
[[nodiscard]] Command margins_command();
[[nodiscard]] Command scatter_command();
[[nodiscard]] Command cutlist_command();
[[nodiscard]] Command stand_command();
[[nodiscard]] Command fly_command();
[[nodiscard]] Command report_command();
/// In the room of that name, which stands on this one.
[[nodiscard]] Command bench_command();

}  // namespace grainwright::cli
