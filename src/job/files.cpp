// SPDX-License-Identifier: GPL-3.0-or-later
//
// Draft, forced to the disk, moved into place, folder forced to the disk.
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "core_reader.hpp"
#include "grainwright/job/files.hpp"
#include "grainwright/job/job.hpp"

namespace grainwright {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void fail(const fs::path& path, const std::string& what, int error) {
  throw FileError(path.string(), what + ": " + std::strerror(error));
}

/// 0, or the error.
int write_all(int descriptor, std::string_view content) {
  while (!content.empty()) {
    const ssize_t count = ::write(descriptor, content.data(), content.size());
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) return errno;
    content.remove_prefix(static_cast<std::size_t>(count));
  }
  return 0;
}

/// A new file in the same folder, gone again unless it is moved into place.
class Draft {
 public:
  Draft(const fs::path& target, bool fresh) : target_(target), fresh_(fresh) {
    constexpr int attempts = 100;  // names that an earlier, killed run may have left
    for (int i = 0; i < attempts && descriptor_ < 0; ++i) {
      path_ = target.parent_path() /
              fmt::format(".{}.{}.part{}", target.filename().string(), ::getpid(), i);
      descriptor_ = ::open(path_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
      if (descriptor_ < 0 && errno != EEXIST) break;
    }
    if (descriptor_ < 0) fail(target, "cannot write here", errno);
  }
  ~Draft() {
    if (descriptor_ >= 0) ::close(descriptor_);
    if (!moved_) ::unlink(path_.c_str());
  }
  Draft(const Draft&) = delete;
  Draft& operator=(const Draft&) = delete;

  void write(std::string_view content, std::optional<mode_t> mode) {
    if (mode && ::fchmod(descriptor_, *mode & 07777) != 0) fail(target_, "cannot write", errno);
    if (const int error = write_all(descriptor_, content)) fail(target_, "cannot write", error);
    if (::fsync(descriptor_) != 0) fail(target_, "cannot write", errno);
    if (::close(std::exchange(descriptor_, -1)) != 0) fail(target_, "cannot write", errno);
  }

  void move(bool replace) {
    moved_ = replace ? ::rename(path_.c_str(), target_.c_str()) == 0 : move_to_free_name();
    if (!moved_) fail(target_, replace ? "cannot replace" : "cannot create", errno);
  }

  /// Away again, where it stands in for nothing that was there before.
  void take_back() {
    if (moved_ && fresh_) ::unlink(target_.c_str());
  }

  /// A rename is kept by a power cut only once the folder is on the disk.
  void settle() const {
    const fs::path folder = target_.has_parent_path() ? target_.parent_path() : ".";
    const int descriptor = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (descriptor < 0) return;  // one may write to a folder without reading it
    const int error = ::fsync(descriptor) == 0 ? 0 : errno;
    ::close(descriptor);
    // Some file systems know no such thing.
    if (error != 0 && error != EINVAL && error != ENOTSUP && error != EROFS) {
      fail(target_, "written, but its folder cannot be forced to the disk", error);
    }
  }

 private:
  bool move_to_free_name() {
    if (::renameat2(AT_FDCWD, path_.c_str(), AT_FDCWD, target_.c_str(), RENAME_NOREPLACE) == 0) {
      return true;
    }
    // Some file systems cannot do that; a hard link does not replace either.
    if (errno != EINVAL || ::link(path_.c_str(), target_.c_str()) != 0) return false;
    ::unlink(path_.c_str());
    return true;
  }

  fs::path target_;
  fs::path path_;
  int descriptor_ = -1;
  bool fresh_;
  bool moved_ = false;
};

/// A terminal, a pipe or a device takes the text as it comes.
void write_to_device(const fs::path& path, std::string_view content) {
  const int descriptor = ::open(path.c_str(), O_WRONLY | O_CLOEXEC);
  if (descriptor < 0) fail(path, "cannot write", errno);
  int error = write_all(descriptor, content);
  if (::close(descriptor) != 0 && error == 0) error = errno;
  if (error != 0) fail(path, "cannot write", error);
}

/// Through a symbolic link the file it leads to is replaced, not the link.
/// It need not exist yet.
fs::path behind_links(fs::path path) {
  std::error_code failed;
  constexpr int most_links = 40;  // as many as Linux follows
  for (int i = 0; i < most_links && fs::is_symlink(path, failed); ++i) {
    const fs::path target = fs::read_symlink(path, failed);
    if (failed) break;
    path = path.parent_path() / target;
  }
  return path;
}

bool is_device(const fs::path& path) {
  std::error_code ignored;
  return fs::is_other(path, ignored);
}

/// Ready to be moved into place.
std::unique_ptr<Draft> drafted(const WholeFile& file, bool replace) {
  const std::string given = file.path.string();
  const fs::path path = behind_links(file.path);
  struct stat status = {};
  const bool exists = ::stat(path.c_str(), &status) == 0;
  std::error_code ignored;
  if (fs::is_symlink(path, ignored)) throw FileError(given, "is a link that leads nowhere");
  if (exists && S_ISDIR(status.st_mode)) throw FileError(given, "is a folder, not a file");
  if (exists && !replace) throw FileError(given, "exists already and is not replaced");
  if (path.filename().empty()) throw FileError(given, "a file name is missing");
  auto draft = std::make_unique<Draft>(path, !exists);
  draft->write(file.content, exists ? std::optional(status.st_mode) : std::nullopt);
  return draft;
}

void move_all(const std::vector<std::unique_ptr<Draft>>& drafts, bool replace) {
  try {
    for (const auto& draft : drafts) draft->move(replace);
  } catch (const FileError&) {
    for (const auto& draft : drafts) draft->take_back();
    throw;
  }
}

void add_outlines(std::vector<fs::path>& files, const fs::path& folder, const Core& core) {
  const auto* drawn = std::get_if<DrawnCore>(&core.shape);
  if (drawn != nullptr && !is_wkt(drawn->source)) files.push_back(folder / drawn->source);
}

}  // namespace

void write_whole_files(const std::vector<WholeFile>& files, bool replace) {
  std::vector<std::unique_ptr<Draft>> drafts;
  for (const WholeFile& file : files) {
    if (!is_device(file.path)) drafts.push_back(drafted(file, replace));
  }
  // What a device was given cannot be taken back, so it comes after every draft.
  for (const WholeFile& file : files) {
    if (is_device(file.path)) write_to_device(file.path, file.content);
  }
  move_all(drafts, replace);
  for (const auto& draft : drafts) draft->settle();
}

void write_whole_file(const fs::path& path, std::string_view content, bool replace) {
  write_whole_files({{path, std::string(content)}}, replace);
}

std::vector<fs::path> files_read(const Job& job) {
  const fs::path own = job.file;
  std::vector<fs::path> files = {own};
  for (const Layer& layer : job.grain.layers) {
    if (layer.segment.core) add_outlines(files, own.parent_path(), *layer.segment.core);
  }
  if (job.shop) {
    for (const Core& core : job.shop->cores) add_outlines(files, own.parent_path(), core);
  }
  return files;
}

bool same_file(const fs::path& one, const fs::path& other) {
  std::error_code failed;
  const fs::file_status there = fs::status(one, failed);
  if (fs::exists(there) && !fs::is_regular_file(there)) return false;
  if (fs::equivalent(one, other, failed) && !failed) return true;
  const auto place = [&failed](const fs::path& path) {
    return fs::weakly_canonical(fs::absolute(behind_links(path)), failed);
  };
  return place(one) == place(other);
}

}  // namespace grainwright
