// SPDX-License-Identifier: GPL-3.0-or-later
//
// The thin part: sockets, threads and headers. It listens on this machine alone.
#pragma once

#include <functional>
#include <stop_token>
#include <string>

#include "desk.hpp"

namespace grainwright::bench {

struct ServerOptions {
  int port = 0;  ///< 0: any that is free
  std::stop_token stop;
  std::function<void(const std::string& address)> ready;  ///< called once it answers
  std::function<void()> entered;  ///< called when the page is first asked for, from any thread
};

/// Serves until it is stopped. Throws FileError where it cannot listen.
void serve(Desk& desk, const ServerOptions& options);

}  // namespace grainwright::bench
