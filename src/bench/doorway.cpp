// SPDX-License-Identifier: GPL-3.0-or-later
#include "doorway.hpp"

#include <fmt/format.h>
#include <spawn.h>
#include <unistd.h>

#include <array>
#include <csignal>
#include <cstdlib>
#include <string>

#include "grainwright/error.hpp"

extern char** environ;

namespace grainwright::bench {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view ending = ".html";

fs::path own_folder() {
  const char* folder = std::getenv("XDG_RUNTIME_DIR");
  std::error_code failed;
  return folder != nullptr && fs::is_directory(folder, failed) ? fs::path(folder)
                                                               : fs::temp_directory_path();
}

std::string page_to(std::string_view address) {
  return fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\"><meta charset=\"utf-8\"><title>Bench</title>\n"
      "<meta name=\"referrer\" content=\"no-referrer\">\n"
      "<meta http-equiv=\"refresh\" content=\"0;url={0}\">\n<p><a href=\"{0}\">To the bench</a></p>"
      "</html>\n",
      address);
}

bool wrote(int file, std::string_view text) {
  while (!text.empty()) {
    const ssize_t written = ::write(file, text.data(), text.size());
    if (written <= 0) return false;
    text.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
}

/// A group and signals of its own, so that the Ctrl-C that ends the bench does not end a browser.
class ApartFromUs {
 public:
  ApartFromUs() {
    sigset_t none;
    sigemptyset(&none);
    posix_spawnattr_init(&how_);
    posix_spawnattr_setflags(&how_, POSIX_SPAWN_SETPGROUP | POSIX_SPAWN_SETSIGMASK);
    posix_spawnattr_setsigmask(&how_, &none);
  }
  ~ApartFromUs() { posix_spawnattr_destroy(&how_); }
  ApartFromUs(const ApartFromUs&) = delete;
  ApartFromUs& operator=(const ApartFromUs&) = delete;

  [[nodiscard]] const posix_spawnattr_t* how() const { return &how_; }

 private:
  posix_spawnattr_t how_ = {};
};

}  // namespace

Doorway::Doorway(std::string_view address) {
  std::string name = (own_folder() / "grainwright-XXXXXX").string().append(ending);
  const int file = ::mkstemps(name.data(), static_cast<int>(ending.size()));  // mode 600
  if (file < 0) throw FileError(name, "cannot be written");
  file_ = name;
  const bool whole = wrote(file, page_to(address));
  if (::close(file) == 0 && whole) return;
  fs::remove(file_);
  throw FileError(name, "cannot be written");
}

Doorway::~Doorway() {
  std::error_code failed;
  fs::remove(file_, failed);
}

bool Doorway::open() const {
  std::string program = "xdg-open";
  std::string file = file_.string();
  std::array<char*, 3> words = {program.data(), file.data(), nullptr};
  const ApartFromUs apart;
  pid_t child = 0;
  return posix_spawnp(&child, program.c_str(), nullptr, apart.how(), words.data(), environ) == 0;
}

}  // namespace grainwright::bench
