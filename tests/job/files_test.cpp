// SPDX-License-Identifier: GPL-3.0-or-later
// Before the system's headers, whose macros take names away.
#include "grainwright/job/files.hpp"

#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "grainwright/job/job.hpp"

namespace fs = std::filesystem;
using grainwright::FileError;
using grainwright::write_whole_file;

namespace {

std::string forced;  // to the disk, in order: f for a file, d for a folder

}  // namespace

/// In place of the system's, which tells nobody whom it was asked for.
extern "C" int fsync(int descriptor) {
  struct stat status = {};
  if (::fstat(descriptor, &status) == 0) forced += S_ISDIR(status.st_mode) ? 'd' : 'f';
  return static_cast<int>(::syscall(SYS_fsync, descriptor));
}

namespace {

class Folder {
 public:
  Folder() : path_(fs::temp_directory_path() / ("files-" + std::to_string(::getpid()))) {
    fs::remove_all(path_);
    fs::create_directories(path_);
  }
  ~Folder() { fs::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  [[nodiscard]] fs::path operator/(const std::string& name) const { return path_ / name; }
  [[nodiscard]] const fs::path& path() const { return path_; }
  [[nodiscard]] std::ptrdiff_t count() const {
    return std::distance(fs::directory_iterator(path_), fs::directory_iterator());
  }

 private:
  fs::path path_;
};

std::string content(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

std::string failure(const fs::path& path, const std::string& text, bool replace) {
  try {
    write_whole_file(path, text, replace);
  } catch (const FileError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("A file is written whole") {
  const Folder folder;
  const std::string text(3'000'000, 'x');
  write_whole_file(folder / "a.toml", text, false);
  CHECK(content(folder / "a.toml") == text);
  CHECK(folder.count() == 1);
  write_whole_file(folder / "empty", "", false);
  CHECK(fs::file_size(folder / "empty") == 0);
}

TEST_CASE("A file name without a folder is written here") {
  const Folder folder;
  const fs::path before = fs::current_path();
  fs::current_path(folder.path());
  write_whole_file("here.toml", "x", false);
  fs::current_path(before);
  CHECK(content(folder / "here.toml") == "x");
}

TEST_CASE("An existing file is replaced only on request, and keeps its permissions") {
  const Folder folder;
  const fs::path path = folder / "a.toml";
  write_whole_file(path, "old", false);
  ::chmod(path.c_str(), 0640);
  CHECK_THAT(failure(path, "new", false), Catch::EndsWith("exists already and is not replaced"));
  CHECK(content(path) == "old");
  write_whole_file(path, "new", true);
  CHECK(content(path) == "new");
  CHECK(fs::status(path).permissions() == fs::perms(0640));
  CHECK(folder.count() == 1);
}

TEST_CASE("Through a link the file it leads to is replaced") {
  const Folder folder;
  write_whole_file(folder / "a.toml", "old", false);
  fs::create_symlink("a.toml", folder / "link");
  write_whole_file(folder / "link", "new", true);
  CHECK(fs::is_symlink(folder / "link"));
  CHECK(content(folder / "a.toml") == "new");
}

TEST_CASE("Where nothing can be written the message says why") {
  const Folder folder;
  CHECK_THAT(failure(folder.path(), "x", true), Catch::EndsWith("is a folder, not a file"));
  CHECK_THAT(failure(folder / "none/a.toml", "x", false),
             Catch::EndsWith("a.toml: cannot write here: No such file or directory"));
  CHECK_THAT(failure(folder / "none/", "x", false), Catch::EndsWith("a file name is missing"));
  write_whole_file(folder / "file", "x", false);
  CHECK_THAT(failure(folder / "file/a.toml", "x", false), Catch::EndsWith("Not a directory"));
  CHECK_THAT(failure("/dev/full", "x", true), Catch::EndsWith("No space left on device"));
  CHECK_NOTHROW(write_whole_file("/dev/null", "x", false));
}

TEST_CASE("A folder without permission is left alone") {
  const Folder folder;
  ::chmod(folder.path().c_str(), 0555);
  const bool root = ::geteuid() == 0;  // whom nothing is forbidden
  if (root) REQUIRE(::seteuid(65534) == 0);
  const std::string message = failure(folder / "a.toml", "x", false);
  if (root) REQUIRE(::seteuid(0) == 0);
  ::chmod(folder.path().c_str(), 0755);
  CHECK_THAT(message, Catch::EndsWith("Permission denied"));
  CHECK(folder.count() == 0);
}

TEST_CASE("A disk that fills up leaves the old file and no half of the new one") {
  const Folder folder;
  write_whole_file(folder / "a.toml", "old", false);
  const pid_t child = ::fork();
  if (child == 0) {
    const rlimit room = {1000, 1000};
    ::setrlimit(RLIMIT_FSIZE, &room);
    std::signal(SIGXFSZ, SIG_IGN);
    ::_exit(failure(folder / "a.toml", std::string(5000, 'x'), true).empty() ? 1 : 0);
  }
  int status = -1;
  REQUIRE(::waitpid(child, &status, 0) == child);
  CHECK(status == 0);
  CHECK(content(folder / "a.toml") == "old");
  CHECK(folder.count() == 1);
}

TEST_CASE("The folder is forced to the disk after the file is moved into it") {
  const Folder folder;
  forced.clear();
  write_whole_file(folder / "a.toml", "x", false);
  CHECK(forced == "fd");
  forced.clear();
  grainwright::write_whole_files({{folder / "b", "x"}, {folder / "c", "y"}}, false);
  CHECK(forced == "ffdd");
}

TEST_CASE("Of two files both are written or neither") {
  const Folder folder;
  using grainwright::write_whole_files;
  write_whole_files({{folder / "a", "1"}, {folder / "b", "2"}}, false);
  CHECK(content(folder / "a") == "1");
  CHECK(content(folder / "b") == "2");
  // The second cannot be drafted: the first is not moved.
  CHECK_THROWS_AS(write_whole_files({{folder / "a", "new"}, {folder / "no/b", "new"}}, true),
                  FileError);
  CHECK_THROWS_AS(write_whole_files({{folder / "c", "new"}, {folder / "a", "new"}}, false),
                  FileError);
  CHECK_THROWS_AS(write_whole_files({{folder / "c", "new"}, {"/dev/full", "new"}}, false),
                  FileError);
  // Two of one name, which only the second move can notice: the first is taken back.
  CHECK_THROWS_AS(write_whole_files({{folder / "c", "new"}, {folder / "c", "new"}}, false),
                  FileError);
  CHECK(content(folder / "a") == "1");
  CHECK(folder.count() == 2);
}

TEST_CASE("One file is known by any of its paths, and a device is none") {
  const Folder folder;
  using grainwright::same_file;
  write_whole_file(folder / "a", "x", false);
  write_whole_file(folder / "b", "x", false);
  fs::create_symlink("a", folder / "link");
  fs::create_symlink(folder.path(), folder / "round");
  fs::create_hard_link(folder / "a", folder / "hard");
  for (const char* name : {"a", "link", "hard", "round/a", "./a"}) {
    INFO(name);
    CHECK(same_file(folder / "a", folder / name));
    CHECK(same_file(folder / name, folder / "a"));
    CHECK_FALSE(same_file(folder / name, folder / "b"));
  }
  CHECK(same_file(folder / "none", folder / "round/none"));
  fs::create_symlink("none", folder / "dangling");
  CHECK(same_file(folder / "none", folder / "dangling"));
  write_whole_file(folder / "dangling", "x", false);
  CHECK(content(folder / "none") == "x");
  CHECK_FALSE(same_file(folder / "none", folder / "other"));
  fs::create_symlink("loop", folder / "loop");
  CHECK_THROWS_AS(write_whole_file(folder / "loop", "x", true), FileError);
  CHECK_FALSE(same_file("/dev/null", "/dev/null"));
}
