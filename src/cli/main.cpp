// SPDX-License-Identifier: GPL-3.0-or-later
//
// The program: finds the command, runs it, writes its answer, and turns errors into exit codes.
// What people wrote (titles, names, a log's heads, the words of the command line) reaches the
// terminal only through here, and without what a terminal would obey.
#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <cstdio>
#include <cstring>
#include <exception>
#include <span>
#include <vector>

#include "arguments.hpp"
#include "command.hpp"
#include "facts.hpp"
#include "grainwright/error.hpp"
#include "grainwright/utf8.hpp"
#include "nearest.hpp"

namespace grainwright::cli {
namespace {

const Command& find_command(std::span<const Command> commands, std::string_view name) {
  auto found = std::ranges::find(commands, name, &Command::name);
  if (found != commands.end()) return *found;
  std::vector<std::string_view> names = {"--help", "--version"};
  for (const Command& command : commands) names.push_back(command.name);
  throw InputError(std::string(name), "no such command" + suggestion(name, names),
                   "`grainwright --help` lists them");
}

Output answer(std::span<const char* const> words) {
  const std::vector<Command> commands = all_commands();
  if (words.empty()) {
    throw InputError("command", "not given", "`grainwright --help` lists them");
  }
  std::string_view first = words.front();
  if (first == "--help") return {help_for(commands)};
  if (first == "--version") return {build_facts()};
  const Command& command = find_command(commands, first);
  Arguments arguments(command, words.subspan(1));
  if (arguments.wants_help()) return {help_for(command)};
  return command.run(arguments);
}

/// Says it on standard error if that can still be written, and goes on if not.
void complain(const std::string& text) {
  std::fputs((plain_text(text) + '\n').c_str(), stderr);
}

/// Nothing is said when the reader has gone away: it wants no more.
Exit written(const Output& answer) {
  const std::string text = plain_text(answer.text);
  bool whole = std::fwrite(text.data(), 1, text.size(), stdout) == text.size();
  if (whole && std::fflush(stdout) == 0) return answer.exit;
  if (errno != EPIPE && errno != EBADF) {
    complain(fmt::format("standard output: {}", std::strerror(errno)));
  }
  return Exit::no_access;
}

Exit run(std::span<const char* const> words) {
  try {
    return written(answer(words));
  } catch (const InputError& error) {
    complain(error.what());
    return Exit::bad_input;
  } catch (const std::exception& error) {
    // A file, or the machine itself: out of memory, out of threads.
    complain(error.what());
    return Exit::no_access;
  }
}

}  // namespace
}  // namespace grainwright::cli

int main(int argc, char** argv) {
  // A closed pipe is to come back as an error from writing, not to kill the process.
  std::signal(SIGPIPE, SIG_IGN);
  std::span<const char* const> words(argv, static_cast<std::size_t>(argc));
  return static_cast<int>(
      grainwright::cli::run(words.subspan(std::min<std::size_t>(1, words.size()))));
}
