// SPDX-License-Identifier: GPL-3.0-or-later
//
// The job's file and its folder: all that the bench touches of the disk.
#pragma once

#include <deque>
#include <filesystem>
#include <memory>
#include <mutex>
#include <string>
#include <string_view>

#include "grainwright/job/job.hpp"
#include "state.hpp"

namespace grainwright::bench {

/// The job's file as it was read once.
struct Sheet {
  std::string stamp;  ///< of its text: another text has another stamp
  std::string text;
  std::string file;  ///< as it was asked for; beside it lie the outlines that it names
  Job job;
};

/// May be called from any thread.
class Desk {
 public:
  /// Reads the job. Throws FileError or InputError.
  explicit Desk(std::filesystem::path file);

  [[nodiscard]] std::string file_name() const { return file_.filename().string(); }
  [[nodiscard]] const std::filesystem::path& file() const { return file_; }
  /// The file as it is now; what windows hold of earlier ones stays known.
  [[nodiscard]] std::shared_ptr<const Sheet> newest();
  /// One that a window still works with, or nothing.
  [[nodiscard]] std::shared_ptr<const Sheet> sheet(std::string_view stamp) const;
  /// Of the text on the disk; empty where it cannot be read.
  [[nodiscard]] std::string stamp_on_disk() const;
  /// A name in the folder that is free, from the job's own.
  [[nodiscard]] std::string free_name() const;

  /// Writes the sheet's job with this build, under a plain name in the job's folder. Throws
  /// InputError where the name is no plain one or the job cannot be built, FileError where the
  /// file exists and is not to be replaced, or cannot be written.
  void save(const Sheet& sheet, const State& state, const std::string& name, bool replace) const;

 private:
  std::filesystem::path file_;
  mutable std::mutex mutex_;
  std::deque<std::shared_ptr<const Sheet>> sheets_;
};

/// Letters, digits, spaces and . - _ with ".toml" at the end; no path, nothing hidden.
[[nodiscard]] bool is_plain_name(std::string_view name);

/// The sheet's text with the build, the temperature and the asked profile put in.
[[nodiscard]] std::string text_with(const Sheet& sheet, const State& state);

}  // namespace grainwright::bench
