// SPDX-License-Identifier: GPL-3.0-or-later
#include "completion.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace grainwright::cli {
namespace {

constexpr std::string_view made_by = "made by the build from the table of commands";

/// The files that this operand or value can be; empty where it is no file.
std::string_view files_for(std::string_view value) {
  if (value == "JOB") return "*.toml";
  return value == "FILE" || value == "[LOG]" ? "*" : "";
}

/// The words that this value is chosen from, "us" and "si" for "us|si".
std::vector<std::string> choices(std::string_view value) {
  std::vector<std::string> words;
  if (value.find('|') == std::string_view::npos) return words;
  for (std::size_t end = 0; end != std::string_view::npos;) {
    end = value.find('|');
    words.emplace_back(value.substr(0, end));
    value.remove_prefix(end == std::string_view::npos ? value.size() : end + 1);
  }
  return words;
}

std::string with_escapes(std::string_view text, std::string_view special, std::string_view escape) {
  std::string result;
  for (char letter : text) {
    if (special.find(letter) != std::string_view::npos) result += escape;
    result += letter;
  }
  return result;
}

/// In single quotes, as bash and zsh read them.
std::string quoted(std::string_view text) {
  return fmt::format("'{}'", with_escapes(text, "'", "'\\'"));
}

/// "--out" and, where it has a letter, "-o".
std::vector<std::string> forms(const Option& option) {
  std::vector<std::string> all = {fmt::format("--{}", option.name)};
  if (!option.letter.empty()) all.push_back(fmt::format("-{}", option.letter));
  return all;
}

std::vector<std::string> forms(const std::vector<Option>& options) {
  std::vector<std::string> all;
  for (const Option& option : options) {
    for (std::string& form : forms(option)) all.push_back(std::move(form));
  }
  return all;
}

/// What `grainwright` itself takes.
std::vector<Option> own_options() {
  std::vector<Option> options = lone_options();
  std::ranges::copy_if(shared_options(), std::back_inserter(options),
                       [](const Option& option) { return option.name == "help"; });
  return options;
}

// bash: a case for what follows each option with a value, then one for the command's other words.

std::string bash_values(const Command& command) {
  std::string cases;
  for (const Option& option : offered_options(command)) {
    if (option.value.empty()) continue;
    std::vector<std::string> patterns;
    for (const std::string& form : forms(option)) {
      patterns.push_back(fmt::format("'{} {}'", command.name, form));
    }
    cases += fmt::format("    {})", fmt::join(patterns, " | "));
    if (const auto words = choices(option.value); !words.empty()) {
      cases += fmt::format(" words='{}'", fmt::join(words, " "));
    }
    if (!files_for(option.value).empty()) {
      cases += fmt::format(" files='{}'", files_for(option.value));
    }
    cases += " ;;\n";
  }
  return cases;
}

std::string bash_case(const Command& command) {
  return fmt::format("{}    '{} '*)\n      words='{}' files='{}' ;;\n", bash_values(command),
                     command.name, fmt::join(forms(offered_options(command)), " "),
                     files_for(command.operand));
}

// zsh: one call of _arguments a command, in its notation for options.

std::string zsh_action(std::string_view value) {
  if (const auto words = choices(value); !words.empty()) {
    return fmt::format("({})", fmt::join(words, " "));
  }
  const std::string_view files = files_for(value);
  if (files.empty()) return "";
  return files == "*" ? "_files" : fmt::format("_files -g \"{}\"", files);
}

std::string zsh_argument(const Option& option) {
  std::string rest = fmt::format("[{}]", with_escapes(option.meaning, "[]", "\\"));
  if (!option.value.empty()) {
    rest += fmt::format(":{}:{}", with_escapes(option.value, ":", "\\"), zsh_action(option.value));
  }
  const std::vector<std::string> all = forms(option);
  if (all.size() == 1) return quoted(all.front() + rest);
  return fmt::format("'({})'{{{}}}{}", fmt::join(all, " "), fmt::join(all, ","), quoted(rest));
}

std::string zsh_case(const Command& command) {
  std::string text = fmt::format("  {})\n    _arguments", command.name);
  for (const Option& option : offered_options(command)) {
    text += fmt::format(" \\\n      {}", zsh_argument(option));
  }
  if (!command.operand.empty()) {
    const std::string_view name = files_for(command.operand) == "*" ? "log" : "job";
    text += fmt::format(" \\\n      '*:{}:{}'", name, zsh_action(command.operand));
  }
  return text + "\n    ;;\n";
}

// fish: one line an option, under the condition that its command has been given.

std::string fish_quoted(std::string_view text) {
  return fmt::format("'{}'", with_escapes(text, "\\'", "\\"));
}

std::string fish_line(std::string_view condition, const Option& option) {
  std::string line = fmt::format("complete -c grainwright -n {} -l {}", condition, option.name);
  if (!option.letter.empty()) line += fmt::format(" -s {}", option.letter);
  if (const auto words = choices(option.value); !words.empty()) {
    line += fmt::format(" -x -a '{}'", fmt::join(words, " "));
  } else if (!files_for(option.value).empty()) {
    line += " -r -F";
  } else if (!option.value.empty()) {
    line += " -x";
  }
  return line + fmt::format(" -d {}\n", fish_quoted(option.meaning));
}

std::string fish_lines(const Command& command) {
  std::string text = fmt::format("complete -c grainwright -n __fish_use_subcommand -a {} -d {}\n",
                                 command.name, fish_quoted(command.purpose));
  const std::string condition = fmt::format("'__fish_seen_subcommand_from {}'", command.name);
  const std::string_view files = files_for(command.operand);
  if (files == "*") {
    text += fmt::format("complete -c grainwright -n {} -F\n", condition);
  } else if (!files.empty()) {
    text += fmt::format("complete -c grainwright -n {} -k -a '(__fish_complete_suffix {})'\n",
                        condition, files.substr(1));
  }
  for (const Option& option : offered_options(command)) text += fish_line(condition, option);
  return text;
}

}  // namespace

std::string bash_completion(std::span<const Command> commands) {
  std::vector<std::string> first = forms(own_options());
  for (const Command& command : commands) first.emplace_back(command.name);
  std::string text = fmt::format(R"(# bash completion for grainwright, {}
_grainwright() {{
  local current=${{COMP_WORDS[COMP_CWORD]}} before=${{COMP_WORDS[COMP_CWORD - 1]}} words='' files=''
  # bash takes --option=value for three words
  [[ $current == '=' ]] && current=''
  [[ $before == '=' ]] && before=${{COMP_WORDS[COMP_CWORD - 2]}}
  ((COMP_CWORD == 1)) && before=''
  case "${{COMP_WORDS[1]}} $before" in
    "${{COMP_WORDS[COMP_CWORD]}} ") words='{}' ;;
)",
                                 made_by, fmt::join(first, " "));
  for (const Command& command : commands) text += bash_case(command);
  return text + R"(  esac
  if [[ -n $files && $current != -* ]]; then
    compopt -o filenames 2>/dev/null
    mapfile -t COMPREPLY < <(compgen -d -- "$current"; compgen -f -X "!$files" -- "$current")
  else
    mapfile -t COMPREPLY < <(compgen -W "$words" -- "$current")
  fi
}
complete -F _grainwright grainwright
)";
}

std::string zsh_completion(std::span<const Command> commands) {
  std::string text = fmt::format(R"(#compdef grainwright
# zsh completion for grainwright, {}
local state line
local -a commands=(
)",
                                 made_by);
  for (const Command& command : commands) {
    text += fmt::format("  {}\n", quoted(fmt::format("{}:{}", command.name, command.purpose)));
  }
  text += ")\n_arguments -C";
  for (const Option& option : own_options()) {
    text += fmt::format(" '(- *)'{}", zsh_argument(option));
  }
  text += R"( '1:command:->command' '*::word:->word'
[[ $state == command ]] && _describe -t commands command commands
[[ $state == word ]] && case $line[1] in
)";
  for (const Command& command : commands) text += zsh_case(command);
  return text + "esac\n";
}

std::string fish_completion(std::span<const Command> commands) {
  std::string text =
      fmt::format("# fish completion for grainwright, {}\ncomplete -c grainwright -f\n", made_by);
  for (const Option& option : own_options()) text += fish_line("__fish_use_subcommand", option);
  for (const Command& command : commands) text += fish_lines(command);
  return text;
}

}  // namespace grainwright::cli
