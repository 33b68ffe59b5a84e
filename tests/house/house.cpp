// SPDX-License-Identifier: GPL-3.0-or-later
#include "house/house.hpp"

#include <algorithm>
#include <fstream>

namespace house {
namespace fs = std::filesystem;

fs::path root() {
  return GRAINWRIGHT_SOURCE_DIR;
}

File read(const fs::path& path) {
  File file{fs::relative(path, root()).generic_string(), {}};
  std::ifstream stream(path);
  for (std::string line; std::getline(stream, line);) file.lines.push_back(line);
  return file;
}

std::vector<File> files_below(const std::vector<std::string>& folders,
                              const std::vector<std::string>& endings) {
  std::vector<fs::path> paths;
  for (const std::string& folder : folders) {
    for (const fs::directory_entry& entry : fs::recursive_directory_iterator(root() / folder)) {
      const std::string name = entry.path().filename().string();
      const auto ends = [&name](const std::string& ending) { return name.ends_with(ending); };
      if (entry.is_regular_file() && std::ranges::any_of(endings, ends)) {
        paths.push_back(entry.path());
      }
    }
  }
  std::ranges::sort(paths);
  std::vector<File> files;
  for (const fs::path& path : paths) files.push_back(read(path));
  return files;
}

std::string listed(const std::vector<std::string>& complaints) {
  std::string text;
  for (const std::string& complaint : complaints) text += "\n  " + complaint;
  return text;
}

}  // namespace house
