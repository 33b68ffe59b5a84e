// SPDX-License-Identifier: GPL-3.0-or-later
#include "exhaustive.hpp"

#include <algorithm>
#include <cmath>

#include "grainwright/parallel.hpp"

namespace grainwright {
namespace {

// Many more chunks than threads, each a stride of first groups, so that no thread is left with the
// long ones.
constexpr std::size_t chunks = 64;
// How much longer a room relief looks for.
constexpr double longer_room = 1.5;

template <class Each>
void for_each_chunk(const SearchOptions& options, Each&& each) {
  in_parallel(chunks, options.threads, each, [&](std::size_t done) {
    if (options.progress) options.progress(static_cast<double>(done) / chunks);
  });
}

// The least change of one limit seen so far.
struct Closest {
  double distance = std::numeric_limits<double>::infinity();
  double needed = 0;

  void offer(double other_distance, double value) {
    if (other_distance < distance || (other_distance == distance && value < needed)) {
      distance = other_distance;
      needed = value;
    }
  }
};

double asked_side(const SetLimit& row, double value) {
  const Bound& bound = row.asked.set() ? row.asked : row.bound;
  return value < bound.least ? bound.least : bound.most;
}

// Notes a build that breaks exactly one limit.
class ReliefFinder {
 public:
  explicit ReliefFinder(std::span<const SetLimit> rows) : rows_(rows), closest_(rows.size()) {}

  void judge(Evaluator& evaluator, const ShopThroat& throat) {
    const LimitedFigures early = evaluator.early_figures(throat);
    if (broken(early, LimitCost::looked_at) > 1) return;
    LimitedFigures figures = evaluator.evaluate(throat, early).figures;
    const int on_ground = broken(figures, LimitCost::burned);
    if (on_ground > 1) return;
    // A flight is dear: none where the build is further off than another one.
    if (on_ground == 1 && distance_of(figures) > closest_[last_broken_].distance) return;
    evaluator.fly(throat, figures);
    if (broken(figures, LimitCost::flown) != 1) return;
    closest_[last_broken_].offer(distance_of(figures), rows_[last_broken_].value(figures));
  }
  void merge(const ReliefFinder& other) {
    for (std::size_t i = 0; i < closest_.size(); ++i) {
      closest_[i].offer(other.closest_[i].distance, other.closest_[i].needed);
    }
  }
  [[nodiscard]] std::vector<Relief> reliefs() const {
    std::vector<Relief> found;
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      const bool enough = std::isfinite(closest_[i].distance);
      if (!enough && !rows_[i].asked.set()) continue;
      const Bound& asked = rows_[i].asked;
      const double given = enough                       ? asked_side(rows_[i], closest_[i].needed)
                           : std::isfinite(asked.least) ? asked.least
                                                        : asked.most;
      found.push_back({std::string(rows_[i].row->key), given, closest_[i].needed, enough});
    }
    return found;
  }

 private:
  // How far the figure of the limit that was broken last is from it.
  [[nodiscard]] double distance_of(const LimitedFigures& figures) const {
    const SetLimit& row = rows_[last_broken_];
    const double value = row.value(figures);
    return std::abs(value - asked_side(row, value));
  }
  int broken(const LimitedFigures& figures, LimitCost known) {
    int count = 0;
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      if (rows_[i].cost() > known || rows_[i].holds(figures)) continue;
      ++count;
      last_broken_ = i;
    }
    return count;
  }

  std::span<const SetLimit> rows_;
  std::vector<Closest> closest_;
  std::size_t last_broken_ = 0;
};

}  // namespace

Sweep sweep(const SearchTask& task, std::span<const ShopThroat> throats, const Lattice& lattice,
            int most_kinds, const SearchOptions& options) {
  std::vector<Sweep> parts(chunks);
  for_each_chunk(options, [&](std::size_t chunk) {
    Evaluator evaluator(task, throats);
    Sweep& part = parts[chunk];
    for (std::size_t first = chunk; first < lattice.groups().size(); first += chunks) {
      if (options.stop.stop_requested()) {
        part.stopped = true;
        return;
      }
      std::size_t nth = 0;
      const auto judge = [&](std::span<const Group> groups) {
        evaluator.take(groups);
        ++nth;
        for (std::size_t i = 0; i < throats.size(); ++i) {
          if (!evaluator.may_fit(throats[i])) continue;
          auto evaluation = evaluator.evaluate_if_allowed(throats[i]);
          const std::array order = {first, nth, i};
          if (!evaluation || !part.shortlist.wants(groups, order, *evaluation)) continue;
          if (!evaluator.flies_as_asked(throats[i], evaluation->figures)) continue;
          part.shortlist.offer(found_of(groups, order, i, *evaluation));
        }
      };
      part.builds +=
          lattice.for_each_build(first, most_kinds, judge) * static_cast<long long>(throats.size());
    }
  });
  Sweep whole;
  for (const Sweep& part : parts) {
    whole.shortlist.merge(part.shortlist);
    whole.builds += part.builds;
    whole.stopped = whole.stopped || part.stopped;
  }
  return whole;
}

std::vector<Relief> find_reliefs(const StockedTask& task, std::span<const ShopThroat> throats,
                                 double step, int most_kinds, const SearchOptions& options) {
  const Lattice lattice(task, step, longer_room * task.grain_room);
  const std::vector<SetLimit> rows = set_limits(task);
  std::vector<ReliefFinder> parts(chunks, ReliefFinder(rows));
  for_each_chunk(options, [&](std::size_t chunk) {
    Evaluator evaluator(task, throats);
    for (std::size_t first = chunk; first < lattice.groups().size(); first += chunks) {
      if (options.stop.stop_requested()) return;
      lattice.for_each_build(first, most_kinds, [&](std::span<const Group> groups) {
        evaluator.take(groups);
        for (const ShopThroat& throat : throats) parts[chunk].judge(evaluator, throat);
      });
    }
  });
  for (std::size_t i = 1; i < chunks; ++i) parts.front().merge(parts[i]);
  return parts.front().reliefs();
}

}  // namespace grainwright
