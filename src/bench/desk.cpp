// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <utility>
#include <vector>

#include "cli/whole_file.hpp"
#include "grainwright/error.hpp"
#include "grainwright/job/files.hpp"

namespace grainwright::bench {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t remembered = 8;
constexpr std::string_view ending = ".toml";
constexpr std::size_t longest_name = 96;

/// FNV-1a, 64 bit (from memory): tells texts apart, and keeps no secret.
std::string stamp_of(std::string_view text) {
  std::uint64_t hash = 0xcbf29ce484222325U;
  for (char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3U;
  return fmt::format("{:016x}", hash);
}

/// A link may lead out of the folder, and a device is no place for a job.
void check_free(const fs::path& path, bool replace) {
  std::error_code failed;
  const fs::file_status status = fs::symlink_status(path, failed);
  if (status.type() == fs::file_type::not_found) return;
  const std::string name = path.filename().string();
  if (status.type() != fs::file_type::regular) {
    throw FileError(name, "is no plain file; the bench does not write there");
  }
  if (!replace) throw FileError(name, "exists already and is not replaced unless you ask for it");
}

/// The job itself is replaced where a person ticks that; what it is drawn from never.
void check_no_outline(const fs::path& path, const Job& job) {
  std::vector<fs::path> read = files_read(job);
  read.erase(read.begin());  // its own
  if (std::ranges::any_of(read, [&](const fs::path& input) { return same_file(path, input); })) {
    throw FileError(path.filename().string(),
                    "is an outline that the job reads; take another name");
  }
}

}  // namespace

Desk::Desk(fs::path file) : file_(std::move(file)) {
  static_cast<void>(starting_state(newest()->job));  // throws where the bench has no use for it
}

std::shared_ptr<const Sheet> Desk::newest() {
  std::string text = cli::whole_file(file_.string());
  const std::string stamp = stamp_of(text);
  if (auto known = sheet(stamp)) return known;
  Job job = parse_job(text, file_.string());
  auto read =
      std::make_shared<const Sheet>(Sheet{stamp, std::move(text), file_.string(), std::move(job)});
  const std::lock_guard lock(mutex_);
  sheets_.push_back(read);
  if (sheets_.size() > remembered) sheets_.pop_front();
  return read;
}

std::shared_ptr<const Sheet> Desk::sheet(std::string_view stamp) const {
  const std::lock_guard lock(mutex_);
  const auto found = std::ranges::find(sheets_, stamp, [](const auto& s) { return s->stamp; });
  return found == sheets_.end() ? nullptr : *found;
}

std::string Desk::stamp_on_disk() const {
  try {
    return stamp_of(cli::whole_file(file_.string()));
  } catch (const FileError&) {
    return "";
  }
}

std::string Desk::free_name() const {
  std::string stem = file_.stem().string();
  if (!is_plain_name(stem + "-99.toml")) stem = "build";
  for (int i = 1;; ++i) {
    std::string name = fmt::format("{}-{}.toml", stem, i);
    std::error_code failed;
    const fs::file_status there = fs::symlink_status(file_.parent_path() / name, failed);
    if (i == 99 || there.type() == fs::file_type::not_found) return name;
  }
}

void Desk::save(const Sheet& sheet, const State& state, const std::string& name,
                bool replace) const {
  if (!is_plain_name(name)) {
    throw InputError("name", '"' + name + '"',
                     "a plain file name such as build-1.toml, in the job's folder");
  }
  const fs::path path = file_.parent_path() / name;
  check_free(path, replace);
  check_no_outline(path, sheet.job);
  write_whole_file(path, text_with(sheet, state), replace);
}

bool is_plain_name(std::string_view name) {
  const auto plain = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
           c == '_' || c == '.' || c == ' ';
  };
  return name.size() > ending.size() && name.size() <= longest_name && name.ends_with(ending) &&
         std::ranges::all_of(name, plain) && name.front() != '.' && name.front() != ' ' &&
         name.front() != '-' && name.find("..") == std::string_view::npos;
}

std::string text_with(const Sheet& sheet, const State& state) {
  const Job& job = sheet.job;
  std::string text =
      with_design(sheet.text, Grain{state.layers, job.grain.spacer}, state.throat, sheet.file);
  if (state.temperature != job.day.temperature) {
    text = with_value(text, "day.temperature",
                      write_quantity(state.temperature, Dimension::temperature));
  }
  if (job.wish && state.asked != starting_state(job).asked) {
    const bool front = state.asked.shape == Asked::Shape::front_loaded;
    text = with_profile(text, front ? std::optional(state.asked.lead) : std::nullopt);
  }
  static_cast<void>(parse_job(text, sheet.file));  // throws where it would not be read again
  return text;
}

}  // namespace grainwright::bench
