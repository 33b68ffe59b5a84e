// SPDX-License-Identifier: GPL-3.0-or-later
#include "target.hpp"

#include <filesystem>

#include "grainwright/error.hpp"

namespace grainwright::cli {

std::optional<std::string> target_of(const Arguments& arguments, std::string_view option) {
  std::optional<std::string> file = arguments.text(option);
  if (file && !arguments.has("force") && std::filesystem::is_regular_file(*file)) {
    throw FileError(*file, "exists already; --force replaces it");
  }
  return file;
}

}  // namespace grainwright::cli
