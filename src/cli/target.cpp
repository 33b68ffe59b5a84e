// SPDX-License-Identifier: GPL-3.0-or-later
#include "target.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <utility>

#include "grainwright/error.hpp"
#include "grainwright/job/files.hpp"

namespace grainwright::cli {

Targets::Targets(const Arguments& arguments, std::initializer_list<std::string_view> options,
                 const std::vector<std::string>& inputs)
    : replace_(arguments.has("force")) {
  for (std::string_view option : options) {
    if (auto file = arguments.text(option)) {
      targets_.push_back({fmt::format("--{}", option), std::move(*file)});
    }
  }
  keep_apart();
  for (const std::string& operand : arguments.operands()) keep_clear_of(operand);
  for (const std::string& input : inputs) keep_clear_of(input);
  for (const Target& target : targets_) {
    if (!replace_ && std::filesystem::is_regular_file(target.file)) {
      throw FileError(target.file, "exists already; --force replaces it");
    }
  }
}

void Targets::keep_apart() const {
  for (auto one = targets_.begin(); one != targets_.end(); ++one) {
    const auto other = std::find_if(targets_.begin(), one, [&](const Target& before) {
      return same_file(before.file, one->file);
    });
    if (other == one) continue;
    throw InputError(one->option, fmt::format("{} is the file of {} too", one->file, other->option),
                     "a file of its own");
  }
}

std::optional<std::string> Targets::file(std::string_view option) const {
  const std::string name = fmt::format("--{}", option);
  const auto found = std::ranges::find(targets_, name, &Target::option);
  return found == targets_.end() ? std::nullopt : std::optional(found->file);
}

void Targets::keep_clear_of(const std::string& input) const {
  for (const Target& target : targets_) {
    if (!same_file(target.file, input)) continue;
    const std::string given =
        target.file == input ? fmt::format("{} is a file that this command reads", input)
                             : fmt::format("{} is the same file as {}, which this command reads",
                                           target.file, input);
    throw InputError(target.option, given, "another file, with --force too");
  }
}

void Targets::keep_clear_of(const Job& job) const {
  for (const std::filesystem::path& input : files_read(job)) keep_clear_of(input.string());
}

void Targets::put(std::string_view option, std::string content) {
  const std::string name = fmt::format("--{}", option);
  const auto found = std::ranges::find(targets_, name, &Target::option);
  if (found != targets_.end()) found->content = std::move(content);
}

void Targets::write() const {
  std::vector<WholeFile> files;
  for (const Target& target : targets_) {
    if (target.content) files.push_back({target.file, *target.content});
  }
  write_whole_files(files, replace_);
}

}  // namespace grainwright::cli
