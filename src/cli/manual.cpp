// SPDX-License-Identifier: GPL-3.0-or-later
#include "manual.hpp"

#include <fmt/format.h>

#include "facts.hpp"
#include "words.hpp"

namespace grainwright::cli {
namespace {

/// Text as man(7) takes it: backslashes and dashes escaped, no line that looks like a request.
std::string plain(std::string_view text) {
  std::string result = text.starts_with('.') || text.starts_with('\'') ? "\\&" : "";
  for (char letter : text) {
    if (letter == '\\') {
      result += "\\e";
    } else if (letter == '-') {
      result += "\\-";
    } else {
      result += letter;
    }
  }
  return result;
}

std::string bold(std::string_view text) {
  return fmt::format("\\fB{}\\fR", plain(text));
}

/// "--save FILE", the fixed part bold, the reader's own part slanted.
std::string told(const Option& option) {
  std::string text = bold(fmt::format("--{}", option.name));
  if (!option.letter.empty())
    text = fmt::format("{}, {}", bold(fmt::format("-{}", option.letter)), text);
  if (!option.value.empty()) text += fmt::format(" \\fI{}\\fR", plain(option.value));
  return text;
}

std::string entry(const std::string& term, std::string_view meaning) {
  return fmt::format(".TP\n{}\n{}\n", term, plain(meaning));
}

std::string section(const Command& command) {
  std::string text = fmt::format(".SS {} {}\n{}\n", bold(command.name), plain(command.operand),
                                 plain(command.purpose));
  for (const Option& option : command.options) text += entry(told(option), option.meaning);
  if (!command.why_no_csv.empty()) {
    text += fmt::format(".PP\nNo {}: {}.\n", bold("--csv"), plain(command.why_no_csv));
  }
  return text;
}

}  // namespace

std::string manual_page(std::span<const Command> commands) {
  std::string text = fmt::format(
      ".TH GRAINWRIGHT 1 \"\" \"Grainwright {}\" \"User commands\"\n"
      ".SH NAME\ngrainwright \\- {}\n"
      ".SH SYNOPSIS\n{} \\fICOMMAND\\fR [\\fIJOB\\fR] [\\fIOPTIONS\\fR]\n"
      ".SH DESCRIPTION\n{}\n.PP\n{}\n.SH COMMANDS\nIn the order of the work.\n",
      version(), plain(purpose), bold("grainwright"),
      plain("A job file (TOML, every quantity with its unit) says what you have and what you want. "
            "Each command answers one question about it on standard output. The documentation that "
            "is installed with the program describes the job file and every model."),
      plain(cautions));
  for (const Command& command : commands) text += section(command);
  text += ".SH OPTIONS OF EVERY COMMAND\n";
  for (const Option& option : shared_options()) text += entry(told(option), option.meaning);
  text += ".SH BY ITSELF\n";
  for (const Option& option : lone_options()) text += entry(told(option), option.meaning);
  text += ".SH EXIT STATUS\n";
  for (const auto& [code, meaning] : exit_codes()) text += entry(bold(code), meaning);
  text += ".SH EXAMPLES\n";
  text += entry(bold("grainwright even --tube \"1 1/2 in\" --core \"3/8 in\" --segments 3"),
                "the length of three equal segments that burn evenly");
  text += entry(bold("grainwright design job.toml --save build.toml"),
                "the best build that the shop of a job can make, saved as a job of its own");
  text += entry(bold("grainwright fire build.toml"), "its firing");
  return text;
}

}  // namespace grainwright::cli
