// SPDX-License-Identifier: GPL-3.0-or-later
//
// Files as a job needs them: which it was read from, and how new ones come about. A file is written
// beside its name, forced to the disk and moved into place, so that nobody ever finds half of one;
// then its folder is forced to the disk too, so that the name outlives a power cut.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace grainwright {

struct Job;

/// A file to be written.
struct WholeFile {
  std::filesystem::path path;
  std::string content;
};

/// Writes all of them, or none: every one is complete on the disk before the first is moved into
/// place, and what was moved as a new file is taken away again where a later one cannot be moved.
/// (One that replaced another stays.) Throws FileError; never replaces an existing file unless
/// told.
void write_whole_files(const std::vector<WholeFile>& files, bool replace);

/// The files that a job was read from: its own first, then those of drawn outlines. None where it
/// was parsed from text under a name that is no file, beside the name itself.
[[nodiscard]] std::vector<std::filesystem::path> files_read(const Job& job);

/// Whether two paths lead to one file, through links of either kind too. Two that do not exist yet
/// are compared by where they would be. Devices and pipes are never one file.
[[nodiscard]] bool same_file(const std::filesystem::path& one, const std::filesystem::path& other);

}  // namespace grainwright
