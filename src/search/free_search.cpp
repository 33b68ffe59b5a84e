// SPDX-License-Identifier: GPL-3.0-or-later
#include "free_search.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "grainwright/parallel.hpp"
#include "length_solver.hpp"
#include "neighbours.hpp"

namespace grainwright {
namespace {

// Structures that go on from the smooth solve, and sweep findings that join them.
constexpr std::size_t starts_kept = 48;
constexpr std::size_t starts_from_sweep = 16;
// Free lengths are given to this, m: finer than anyone cuts.
constexpr double free_step = 1e-5;

struct Start {
  Pieces pieces;
  double score =
      std::numeric_limits<double>::infinity();  // misfit, plus far more for broken limits
};

// The throat that structures are first solved in: that of the best build so far, else the middle
// one.
const ShopThroat& reference_throat(std::span<const ShopThroat> throats, const Sweep& swept) {
  const std::vector<Found> best = swept.shortlist.best(1);
  return throats[best.empty() ? throats.size() / 2 : best.front().throat];
}

std::vector<double> equal_lengths(const StockedTask& task, const Structure& structure) {
  const double room = task.grain_room - (structure.segments - 1) * task.shop.spacer;
  return std::vector<double>(static_cast<std::size_t>(structure.lengths),
                             room / structure.segments);
}

Pieces pieces_of(const Structure& structure, const std::vector<double>& lengths, double step) {
  Pieces pieces;
  for (const PourKind& kind : structure.kinds) {
    const double length = lengths[static_cast<std::size_t>(kind.length)];
    const int steps = std::max(1, static_cast<int>(std::lround(length / step)));
    for (int i = 0; i < kind.count; ++i) pieces.push_back({kind.mandrel, kind.bare_ends, steps});
  }
  return pieces;
}

Pieces pieces_of(const Found& found, double step) {
  Pieces pieces;
  for (const Group& group : found.groups) {
    const int steps = static_cast<int>(std::lround(group.segment.length / step));
    for (int i = 0; i < group.count; ++i) {
      pieces.push_back({group.mandrel, group.segment.bare_ends(), steps});
    }
  }
  return pieces;
}

// Every structure solved once; the best of them as starts on the lattice.
std::vector<Start> solve_structures(const StockedTask& task, std::span<const ShopThroat> throats,
                                    double step, const SearchOptions& options, Sweep& swept) {
  const bool lattice_is_whole = task.shop.length_step > 0;
  const std::vector<Structure> structures = all_structures(task.shop, lattice_is_whole ? 3 : 1);
  const ShopThroat& throat = reference_throat(throats, swept);
  std::vector<Start> starts(structures.size());
  constexpr std::size_t block = 32;
  const std::size_t blocks = (structures.size() + block - 1) / block;
  const auto solve_block = [&](std::size_t number) {
    Evaluator evaluator(task, throats);
    const std::size_t end = std::min(structures.size(), (number + 1) * block);
    for (std::size_t i = number * block; i < end; ++i) {
      if (options.stop.stop_requested()) return;
      const SolvedLengths solved =
          solve_lengths(task, structures[i], throat, equal_lengths(task, structures[i]),
                        Solver::slsqp, evaluator);
      starts[i] = {pieces_of(structures[i], solved.lengths, step),
                   solved.misfit + broken_limit_weight * solved.excess};
    }
  };
  in_parallel(blocks, options.threads, solve_block, [&](std::size_t done) {
    if (options.progress) options.progress(static_cast<double>(done) / static_cast<double>(blocks));
  });
  swept.builds += static_cast<long long>(structures.size() * throats.size());
  std::ranges::stable_sort(starts, {}, &Start::score);
  if (starts.size() > starts_kept) starts.resize(starts_kept);
  std::erase_if(starts, [](const Start& start) { return start.pieces.empty(); });
  return starts;
}

// Lengths free: the found build's own lengths, polished without a lattice and then rounded to what
// can be measured.
void polish(const StockedTask& task, std::span<const ShopThroat> throats, const Found& found,
            Evaluator& evaluator, Shortlist& shortlist) {
  Structure structure;
  std::vector<double> lengths;
  for (const Group& group : found.groups) {
    structure.kinds.push_back(
        {group.mandrel, group.segment.bare_ends(), group.count, structure.lengths++});
    structure.segments += group.count;
    lengths.push_back(group.segment.length);
  }
  SolvedLengths solved =
      solve_lengths(task, structure, throats[found.throat], lengths, Solver::cobyla, evaluator);
  // Rounded down, the stack cannot outgrow its room.
  for (double& length : solved.lengths) length = std::floor(length / free_step + 1e-6) * free_step;
  const std::vector<Group> groups = groups_of(task, structure, solved.lengths);
  evaluator.take(groups);
  auto evaluation = evaluator.evaluate_if_allowed(throats[found.throat]);
  if (evaluation && evaluator.flies_as_asked(throats[found.throat], evaluation->figures)) {
    shortlist.offer(found_of(groups, found.order, found.throat, *evaluation));
  }
}

}  // namespace

void refine(const StockedTask& task, std::span<const ShopThroat> throats, double step,
            const SearchOptions& options, Sweep& swept) {
  std::vector<Start> starts = solve_structures(task, throats, step, options, swept);
  for (const Found& found : swept.shortlist.best(starts_from_sweep)) {
    starts.push_back({pieces_of(found, step), found.misfit});
  }
  struct Part {
    Shortlist shortlist;
    long long builds = 0;
  };
  std::vector<Part> parts(starts.size());
  const auto improve = [&](std::size_t i) {
    if (options.stop.stop_requested()) return;
    Evaluator evaluator(task, throats);
    Climber climber(task, throats, step, evaluator);
    const std::optional<Found> best = climber.climb(starts[i].pieces, i);
    parts[i].builds = climber.builds();
    if (!best) return;
    parts[i].shortlist.offer(*best);
    if (task.shop.length_step == 0) polish(task, throats, *best, evaluator, parts[i].shortlist);
  };
  in_parallel(starts.size(), options.threads, improve, [&](std::size_t done) {
    if (options.progress) {
      options.progress(static_cast<double>(done) / static_cast<double>(starts.size()));
    }
  });
  for (const Part& part : parts) {
    swept.shortlist.merge(part.shortlist);
    swept.builds += part.builds;
  }
  swept.stopped = options.stop.stop_requested();
}

}  // namespace grainwright
