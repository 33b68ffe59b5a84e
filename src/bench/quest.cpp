// SPDX-License-Identifier: GPL-3.0-or-later
#include "quest.hpp"

#include <fmt/format.h>

#include <chrono>

#include "cli/limit_words.hpp"
#include "cli/numbers.hpp"
#include "grainwright/error.hpp"

namespace grainwright::bench {
namespace {

using Clock = std::chrono::steady_clock;
constexpr std::chrono::milliseconds between_lines(100);

Json json_of(const Design& design, const State& from, const Job& job) {
  using enum Dimension;
  State state = from;
  state.layers = design.grain.layers;
  state.throat = design.throat_diameter;
  const Summary& s = design.summary;
  std::string parts;
  for (const auto& [segment, count] : design.grain.layers) {
    parts += fmt::format("{}{} of {} with a {} core", parts.empty() ? "" : ", ", count,
                         show_length(segment.length, job.units),
                         show_length(segment.core_diameter, job.units));
  }
  return {{"state", bench::json_of(state, job)},
          {"why", design.strength},
          {"gives_up", design.gives_up},
          {"misfit", design.misfit},
          {"text", fmt::format("{}; throat {}", parts, show_length(state.throat, job.units))},
          {"figures", fmt::format("misfit {:.3f}, impulse {}, peak pressure {}", design.misfit,
                                  show(s.total_impulse, impulse, job.units),
                                  show(s.peak_pressure, pressure, job.units))}};
}

std::string words_for(const SearchResult& result) {
  const std::string judged = cli::counted(result.builds, "build") + " judged";
  if (result.designs.empty()) {
    return result.stopped ? fmt::format("Stopped; {}, and none fits so far.", judged)
                          : fmt::format("Nothing fits: {}, and none meets every limit.", judged);
  }
  const std::string_view rank = result.stopped  ? "stopped; the best found so far"
                                : result.proven ? "proven best of this shop's builds"
                                                : "the best found";
  return fmt::format("{}: {}.", judged, rank);
}

Json reliefs_of(const SearchResult& result, UnitSystem units) {
  Json list = Json::array();
  for (const Relief& relief : result.reliefs) {
    if (!relief.enough) continue;
    const Dimension dimension = cli::dimension_of_limit(relief.key);
    list.push_back(fmt::format("{}: {} asked, {} would let one through", relief.key,
                               show(relief.asked, dimension, units),
                               cli::shown_outward(relief.needed, relief.asked, dimension, units)));
  }
  return list;
}

/// Lines of progress, not more often than an eye can follow.
class Progress {
 public:
  Progress(const Listener& listener, std::stop_source stop)
      : listener_(listener), stop_(std::move(stop)) {}

  void operator()(double share) {
    const Clock::time_point now = Clock::now();
    if (now - last_ < between_lines) return;
    last_ = now;
    if (!listener_({{"share", share}})) stop_.request_stop();
  }

 private:
  const Listener& listener_;
  std::stop_source stop_;
  Clock::time_point last_ = {};
};

}  // namespace

void search_aloud(const Job& job, const State& state, std::stop_source stop,
                  const Listener& listener) {
  try {
    const Job asked = with_state(job, state);
    Progress progress(listener, stop);
    const SearchResult result =
        search(search_task_of(asked),
               {.stop = stop.get_token(), .progress = [&](double share) { progress(share); }});
    Json designs = Json::array();
    for (const Design& design : result.designs) designs.push_back(json_of(design, state, job));
    listener({{"words", words_for(result)},
              {"proven", result.proven},
              {"stopped", result.stopped},
              {"designs", std::move(designs)},
              {"reliefs", reliefs_of(result, job.units)}});
  } catch (const InputError& error) {
    listener({{"refused", error.what()}});
  }
}

std::optional<std::stop_source> Searches::begin(const std::string& ticket) {
  const std::lock_guard lock(mutex_);
  if (running_.size() >= most || running_.contains(ticket)) return std::nullopt;
  return running_[ticket];
}

void Searches::end(const std::string& ticket) {
  const std::lock_guard lock(mutex_);
  running_.erase(ticket);
}

bool Searches::stop(const std::string& ticket) {
  const std::lock_guard lock(mutex_);
  const auto found = running_.find(ticket);
  return found != running_.end() && found->second.request_stop();
}

void Searches::stop_all() {
  const std::lock_guard lock(mutex_);
  for (auto& [ticket, source] : running_) source.request_stop();
}

}  // namespace grainwright::bench
