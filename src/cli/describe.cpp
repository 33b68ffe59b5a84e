// SPDX-License-Identifier: GPL-3.0-or-later
//
// Run by the build: writes the manual and the completions into the folder that it is given.
#include <cstdio>
#include <exception>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "completion.hpp"
#include "manual.hpp"

namespace {

void write(const std::filesystem::path& path, const std::string& text) {
  std::ofstream file(path, std::ios::binary);
  file.exceptions(std::ios::failbit | std::ios::badbit);
  file << text << std::flush;
}

}  // namespace

int main(int argc, char** argv) try {
  if (argc != 2) {
    std::fputs("give the folder to write to\n", stderr);
    return 2;
  }
  using namespace grainwright::cli;
  const std::filesystem::path folder = argv[1];
  const std::vector<Command> commands = all_commands();
  write(folder / "grainwright.1", manual_page(commands));
  write(folder / "grainwright.bash", bash_completion(commands));
  write(folder / "_grainwright", zsh_completion(commands));
  write(folder / "grainwright.fish", fish_completion(commands));
  return 0;
} catch (const std::exception& error) {
  std::fprintf(stderr, "%s\n", error.what());
  return 3;
}
