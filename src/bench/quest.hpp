// SPDX-License-Identifier: GPL-3.0-or-later
//
// The search, asked from the bench: the job's own search for the profile and the day of a state,
// told line by line while it runs.
#pragma once

#include <functional>
#include <map>
#include <mutex>
#include <optional>
#include <stop_token>
#include <string>

#include "grainwright/job/job.hpp"
#include "state.hpp"

namespace grainwright::bench {

/// Takes one line; false when nobody listens any more.
using Listener = std::function<bool(const Json&)>;

/// Tells {"share": 0.4} now and then, and at last {"designs": ...} with a state for each, or
/// {"refused": ...}. A stop, or a listener that has gone, ends it early with what was found.
void search_aloud(const Job& job, const State& state, std::stop_source stop,
                  const Listener& listener);

/// Searches that run, by the ticket that their window chose.
class Searches {
 public:
  static constexpr std::size_t most = 2;
  /// Nothing where as many run already, or the ticket is taken.
  [[nodiscard]] std::optional<std::stop_source> begin(const std::string& ticket);
  void end(const std::string& ticket);
  /// False where no search has this ticket.
  bool stop(const std::string& ticket);
  void stop_all();

 private:
  std::mutex mutex_;
  std::map<std::string, std::stop_source> running_;
};

}  // namespace grainwright::bench
