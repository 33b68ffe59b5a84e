// SPDX-License-Identifier: GPL-3.0-or-later
//
// While a long answer is worked out: Ctrl-C asks for an early end, and a line on the terminal says
// how far it is.
#pragma once

#include <csignal>
#include <stop_token>
#include <string_view>
#include <thread>

namespace grainwright::cli {

/// From construction to destruction SIGINT stops `token()` instead of the process. Construct it
/// before any other thread starts, so that none of them receives the signal.
class Interrupt {
 public:
  Interrupt();
  ~Interrupt();
  Interrupt(const Interrupt&) = delete;
  Interrupt& operator=(const Interrupt&) = delete;

  [[nodiscard]] std::stop_token token() const { return source_.get_token(); }

 private:
  sigset_t before_ = {};
  std::stop_source source_;
  std::thread watcher_;
};

/// One line on standard error, rewritten in place and wiped at the end; nothing where standard
/// error is no terminal.
class ProgressLine {
 public:
  /// What goes on, in a word.
  explicit ProgressLine(std::string_view doing = "searching");
  ~ProgressLine();
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;

  void show(double share);

 private:
  std::string_view doing_;
  bool terminal_;
  int shown_ = -1;  // percent
};

}  // namespace grainwright::cli
