// SPDX-License-Identifier: GPL-3.0-or-later
//
// The way of a browser to the bench. Every user of a machine may read what its programs are called
// with; so a browser is not called with the address, which holds the token, but with the name of a
// file that only its owner can read and that leads on.
#pragma once

#include <filesystem>
#include <string_view>

namespace grainwright::bench {

/// Such a file, gone when this goes: as soon as a browser has come in through it, at best.
class Doorway {
 public:
  /// In the user's own folder for what lives as long as a session, else where temporary files go.
  /// Throws FileError where it cannot be written.
  explicit Doorway(std::string_view address);
  ~Doorway();
  Doorway(const Doorway&) = delete;
  Doorway& operator=(const Doorway&) = delete;

  [[nodiscard]] const std::filesystem::path& file() const { return file_; }
  /// Leaves the choice of the browser to the desktop. False where there is none.
  [[nodiscard]] bool open() const;

 private:
  std::filesystem::path file_;
};

}  // namespace grainwright::bench
