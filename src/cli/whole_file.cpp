// SPDX-License-Identifier: GPL-3.0-or-later
#include "whole_file.hpp"

#include <fstream>
#include <iterator>

#include "grainwright/error.hpp"

namespace grainwright::cli {

std::string whole_file(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::string text{std::istreambuf_iterator<char>(file), {}};
  if (!file || text.empty()) throw FileError(path, "cannot be read a second time");
  return text;
}

}  // namespace grainwright::cli
