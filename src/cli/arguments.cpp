// SPDX-License-Identifier: GPL-3.0-or-later
#include "arguments.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cxxopts.hpp>

#include "facts.hpp"
#include "grainwright/error.hpp"
#include "nearest.hpp"
#include "page.hpp"

namespace grainwright::cli {
namespace {

std::string dashed(std::string_view option) {
  return "--" + std::string(option);
}

std::vector<Option> options_of(const Command& command) {
  std::vector<Option> options = command.options;
  options.insert(options.end(), shared_options().begin(), shared_options().end());
  return options;
}

cxxopts::ParseResult parsed(const Command& command, std::span<const char* const> words) {
  cxxopts::Options parser("grainwright " + std::string(command.name));
  for (const Option& option : options_of(command)) {
    const std::string letter = option.letter.empty() ? "" : std::string(option.letter) + ",";
    parser.add_options()(letter + std::string(option.name), std::string(option.meaning),
                         option.value.empty()
                             ? std::shared_ptr<cxxopts::Value>(cxxopts::value<bool>())
                             : cxxopts::value<std::string>());
  }
  // What the parser does not know comes back to us, to be refused with the nearest known name.
  parser.allow_unrecognised_options();
  std::vector<const char*> all = {"grainwright"};
  all.insert(all.end(), words.begin(), words.end());
  return parser.parse(static_cast<int>(all.size()), all.data());
}

Complaint unknown_option(const Command& command, const std::string& word) {
  std::vector<std::string> names;
  for (const Option& option : options_of(command)) names.push_back(dashed(option.name));
  std::string hint = suggestion(word, {std::vector<std::string_view>(names.begin(), names.end())});
  return {word, "no such option" + hint,
          fmt::format("`grainwright {} --help` lists them", command.name)};
}

/// Refuses a command line that cannot be meant as it stands.
std::vector<Complaint> complaints(const Command& command, const Arguments& arguments,
                                  const std::vector<std::string>& unmatched) {
  std::vector<Complaint> found;
  std::vector<std::string> operands;
  for (const std::string& word : unmatched) {
    if (word.size() > 1 && word.front() == '-') {
      found.push_back(unknown_option(command, word));
    } else {
      operands.push_back(word);
    }
  }
  // The value of an unknown option looks like an operand: one complaint is enough then.
  if (!found.empty() || arguments.wants_help()) return found;
  std::size_t wanted = command.operand.empty() ? 0 : 1;
  const bool may_lack = command.operand.starts_with('[');
  if (operands.size() < wanted && !may_lack) {
    found.push_back({std::string(command.operand), "not given", "the path of a job file"});
  }
  const bool several = !command.several_with.empty() && arguments.has(command.several_with);
  for (std::size_t i = several ? operands.size() : wanted; i < operands.size(); ++i) {
    found.push_back({operands[i], "one word too many",
                     fmt::format("grainwright {} {}", command.name, command.operand)});
  }
  if (arguments.has("csv") && arguments.has("json")) {
    found.push_back({"--csv", "given with --json", "one of the two"});
  }
  if (arguments.has("csv") && !command.why_no_csv.empty()) {
    found.push_back(
        {"--csv", fmt::format("given to {}", command.name), std::string(command.why_no_csv)});
  }
  return found;
}

Table table_of(const std::vector<Option>& options) {
  Table table{.align = "ll"};
  for (const Option& option : options) {
    table.rows.push_back(
        {fmt::format("{}--{} {}", option.letter.empty() ? "" : fmt::format("-{}, ", option.letter),
                     option.name, option.value),
         std::string(option.meaning)});
  }
  return table;
}

}  // namespace

Arguments::Arguments(const Command& command, std::span<const char* const> words) try {
  cxxopts::ParseResult result = parsed(command, words);
  for (const cxxopts::KeyValue& word : result.arguments()) {
    if (!given_.emplace(word.key(), word.value()).second) {
      throw InputError(dashed(word.key()), "given twice", "once");
    }
    if (word.value().starts_with("--")) {
      throw InputError(dashed(word.key()), "no value",
                       "a value after it, here came " + word.value());
    }
  }
  std::vector<Complaint> found = complaints(command, *this, result.unmatched());
  if (!found.empty()) throw InputError(std::move(found));

  operands_ = result.unmatched();
} catch (const cxxopts::exceptions::exception& error) {
  throw InputError("command line", error.what(),
                   fmt::format("see `grainwright {} --help`", command.name));
}

std::optional<std::string> Arguments::text(std::string_view option) const {
  auto found = given_.find(option);
  return found == given_.end() ? std::nullopt : std::optional(found->second);
}

double Arguments::quantity(std::string_view option, Dimension dimension) const {
  std::optional<std::string> given = text(option);
  if (!given) {
    throw InputError(dashed(option), "not given", std::string(example_of(dimension)));
  }
  try {
    return read_quantity(*given, dimension);
  } catch (const InputError& error) {
    std::vector<Complaint> found = error.complaints();
    for (Complaint& complaint : found) complaint.key = dashed(option);
    throw InputError(std::move(found));
  }
}

double Arguments::quantity(std::string_view option, Dimension dimension, double otherwise) const {
  return has(option) ? quantity(option, dimension) : otherwise;
}

int Arguments::whole_number(std::string_view option, int least, int most, int otherwise) const {
  std::optional<std::string> given = text(option);
  if (!given) return otherwise;
  int value = 0;
  const char* end = given->data() + given->size();
  auto [stopped, problem] = std::from_chars(given->data(), end, value);
  if (problem != std::errc{} || stopped != end || value < least || value > most) {
    throw InputError(dashed(option), *given,
                     fmt::format("a whole number from {} to {}", least, most));
  }
  return value;
}

std::optional<UnitSystem> Arguments::units() const {
  std::optional<std::string> given = text("units");
  if (!given) return std::nullopt;
  if (*given == "us") return UnitSystem::us;
  if (*given == "si") return UnitSystem::si;
  throw InputError("--units", *given, "us or si");
}

Format Arguments::format() const {
  if (has("json")) return Format::json;
  return has("csv") ? Format::csv : Format::text;
}

std::string help_for(const Command& command) {
  Page page;
  page.heading(fmt::format("grainwright {}: {}", command.name, command.purpose));
  page.heading("usage");
  page.paragraph(fmt::format("grainwright {} {}{}[OPTIONS]", command.name, command.operand,
                             command.operand.empty() ? "" : " "));
  page.heading("options");
  page.table(table_of(offered_options(command)));
  return page.text();
}

std::string help_for(std::span<const Command> commands) {
  Page page;
  page.heading(fmt::format("grainwright {}: {}", version(), purpose));
  page.heading("usage");
  page.paragraph("grainwright COMMAND [JOB] [OPTIONS]");
  page.heading("commands, in the order of the work");
  Table table{.align = "ll"};
  for (const Command& command : commands) {
    table.rows.push_back(
        {fmt::format("{} {}", command.name, command.operand), std::string(command.purpose)});
  }
  page.table(table);
  page.heading("options of every command");
  page.table(table_of(shared_options()));
  page.heading("by itself");
  page.table(table_of(lone_options()));
  page.heading("exit codes");
  Table codes{.align = "ll"};
  for (const auto& [code, meaning] : exit_codes()) {
    codes.rows.push_back({std::string(code), std::string(meaning)});
  }
  page.table(codes);
  return page.text();
}

}  // namespace grainwright::cli
