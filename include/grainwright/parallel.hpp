// SPDX-License-Identifier: GPL-3.0-or-later
//
// Independent pieces of work on all cores. Which thread takes which piece is left to chance, so a
// caller that wants the same answer every time lets each piece write its own result.
#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace grainwright {

/// Calls body(piece) for piece = 0 .. pieces-1, each once, on `threads` threads (0: as many as the
/// machine has), the calling thread among them. between(done) is called on the calling thread after
/// each of its own pieces. The first exception of any body is thrown on when all have stopped.
template <class Body, class Between>
void in_parallel(std::size_t pieces, unsigned threads, Body&& body, Between&& between) {
  if (threads == 0) threads = std::max(1U, std::thread::hardware_concurrency());
  std::atomic<std::size_t> next = 0;
  std::atomic<std::size_t> done = 0;
  std::exception_ptr failure;
  std::mutex failing;
  const auto work = [&](auto&& after_each) {
    try {
      for (std::size_t piece = next++; piece < pieces; piece = next++) {
        body(piece);
        after_each(++done);
      }
    } catch (...) {
      const std::lock_guard lock(failing);
      if (!failure) failure = std::current_exception();
      next = pieces;
    }
  };
  {
    std::vector<std::jthread> helpers;
    for (unsigned i = 1; i < threads && i < pieces; ++i) {
      helpers.emplace_back([&] { work([](std::size_t) {}); });
    }
    work(between);
  }
  if (failure) std::rethrow_exception(failure);
}

}  // namespace grainwright
