// SPDX-License-Identifier: GPL-3.0-or-later
#include "interrupt.hpp"

#include <pthread.h>
#include <unistd.h>

#include <cstdio>

namespace grainwright::cli {
namespace {

sigset_t interrupt_alone() {
  sigset_t set;
  sigemptyset(&set);
  sigaddset(&set, SIGINT);
  return set;
}

}  // namespace

// A thread that waits for the signal may do what a signal handler must not: stop a token.
Interrupt::Interrupt() {
  sigset_t set = interrupt_alone();
  pthread_sigmask(SIG_BLOCK, &set, &before_);
  watcher_ = std::thread([set, source = source_]() mutable {
    int signal = 0;
    sigwait(&set, &signal);
    source.request_stop();
  });
}

Interrupt::~Interrupt() {
  // Wakes the watcher if it still waits; if not, the signal is swallowed before it can do harm.
  pthread_kill(watcher_.native_handle(), SIGINT);
  watcher_.join();
  pthread_sigmask(SIG_SETMASK, &before_, nullptr);
}

ProgressLine::ProgressLine(std::string_view doing)
    : doing_(doing), terminal_(isatty(STDERR_FILENO) != 0) {}

ProgressLine::~ProgressLine() {
  if (terminal_) std::fputs("\r                                        \r", stderr);
}

void ProgressLine::show(double share) {
  int percent = static_cast<int>(100 * share);
  if (!terminal_ || percent == shown_) return;
  shown_ = percent;
  std::fprintf(stderr, "\r%s: %3d %% (Ctrl-C ends it)", doing_.data(), percent);
}

}  // namespace grainwright::cli
