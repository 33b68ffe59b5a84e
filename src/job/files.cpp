// SPDX-License-Identifier: GPL-3.0-or-later
//
// Files are written beside their name and moved there when they are complete, so that nobody ever
// finds half of one.
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <optional>
#include <string>
#include <utility>

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
  explicit Draft(const fs::path& target) : target_(target) {
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

}  // namespace

void write_whole_file(const fs::path& given, std::string_view content, bool replace) {
  std::error_code ignored;
  // Through a symbolic link the file it leads to is replaced, not the link.
  const fs::path path =
      fs::is_symlink(given, ignored) ? fs::weakly_canonical(given, ignored) : given;
  struct stat status = {};
  const bool exists = ::stat(path.c_str(), &status) == 0;
  if (exists && S_ISDIR(status.st_mode)) throw FileError(given.string(), "is a folder, not a file");
  if (exists && !S_ISREG(status.st_mode)) return write_to_device(path, content);
  if (exists && !replace) throw FileError(given.string(), "exists already and is not replaced");
  if (path.filename().empty()) throw FileError(given.string(), "a file name is missing");
  Draft draft(path);
  draft.write(content, exists ? std::optional(status.st_mode) : std::nullopt);
  draft.move(replace);
}

}  // namespace grainwright
