// SPDX-License-Identifier: GPL-3.0-or-later
//
// What can go wrong outside the program: a value that is not allowed, a file that cannot be read or
// written. A complaint always says what was given and what is allowed, so that a person knows what
// to change. Numerical outcomes that are not the user's mistake are values in results, not errors.
#pragma once

#include <stdexcept>
#include <string>
#include <vector>

namespace grainwright {

/// Where in a file a value stands. Lines and columns count from 1; 0 means unknown.
struct Place {
  std::string file;
  int line = 0;
  int column = 0;
};

/// One value that cannot be accepted, in words a person can act on.
struct Complaint {
  std::string key;      ///< what the value is called, e.g. "core" or "nozzle.throat"
  std::string given;    ///< what was given
  std::string allowed;  ///< what is allowed instead
  Place place = {};     ///< filled in by whoever knows the file

  /// "file:line:column: key: given: allowed", leaving out what is unknown.
  [[nodiscard]] std::string text() const;
};

/// Base of every error thrown by the library; never thrown by itself.
class Error : public std::runtime_error {
 protected:
  using std::runtime_error::runtime_error;
};

/// Input that cannot be accepted. Carries every complaint found, not only the first; its text tells
/// the first hundred and counts the rest.
class InputError : public Error {
 public:
  /// All that is wrong, at least one complaint.
  explicit InputError(std::vector<Complaint> complaints);
  InputError(std::string key, std::string given, std::string allowed);

  [[nodiscard]] const std::vector<Complaint>& complaints() const { return complaints_; }

 private:
  std::vector<Complaint> complaints_;
};

/// A file that cannot be read or written.
class FileError : public Error {
 public:
  /// The message is "path: reason".
  FileError(const std::string& path, const std::string& reason);
};

/// The candidate that `name` most likely meant: fewest edits, at most a third of its length; or "".
[[nodiscard]] std::string nearest(std::string_view name,
                                  const std::vector<std::string>& candidates);

}  // namespace grainwright
