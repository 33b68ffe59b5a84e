// SPDX-License-Identifier: GPL-3.0-or-later
//
// Reading the project's own files, for the tests that hold the rules of the house.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace house {

/// One file of the project: its path below the project's root, with forward slashes, and its lines.
struct File {
  std::string path;
  std::vector<std::string> lines;
};

[[nodiscard]] std::filesystem::path root();

/// Every file below the given folders of the project whose name ends in one of `endings`, by path.
[[nodiscard]] std::vector<File> files_below(const std::vector<std::string>& folders,
                                            const std::vector<std::string>& endings);

[[nodiscard]] File read(const std::filesystem::path& path);

/// One complaint a line, for a failing test's message.
[[nodiscard]] std::string listed(const std::vector<std::string>& complaints);

}  // namespace house
