// SPDX-License-Identifier: GPL-3.0-or-later
#include "neighbours.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "length_solver.hpp"

namespace grainwright {
namespace {

constexpr int most_rounds = 200;
// Steps that a length may move at once.
constexpr std::array<int, 6> strides = {-8, -2, -1, 1, 2, 8};

}  // namespace

Climber::Climber(const StockedTask& task, std::span<const ShopThroat> throats, double step,
                 Evaluator& evaluator)
    : task_(task),
      throats_(throats),
      step_(step),
      evaluator_(evaluator),
      shortest_(std::max(1, static_cast<int>(std::ceil(task.shop.shortest_segment / step - 1e-9)))),
      longest_(static_cast<int>(
          std::floor(std::min(task.shop.longest_segment, task.grain_room) / step + 1e-9))) {}

bool Climber::buildable(const Pieces& pieces) const {
  if (pieces.empty() || static_cast<int>(pieces.size()) > task_.shop.most_segments) return false;
  double length = (static_cast<double>(pieces.size()) - 1) * task_.shop.spacer;
  for (const SawnPiece& piece : pieces) {
    if (piece.steps < shortest_ || piece.steps > longest_) return false;
    length += piece.steps * step_;
  }
  const std::set<SawnPiece> kinds(pieces.begin(), pieces.end());
  return static_cast<int>(kinds.size()) <= task_.shop.most_kinds &&
         length <= task_.grain_room * (1 + 1e-12);
}

std::vector<Group> Climber::groups_of(Pieces pieces) const {
  std::ranges::sort(pieces);
  std::vector<Group> groups;
  for (auto piece = pieces.begin(); piece != pieces.end();) {
    const auto end = std::upper_bound(piece, pieces.end(), *piece);
    groups.push_back(make_group(task_, piece->mandrel, piece->bare_ends, piece->steps * step_,
                                static_cast<int>(end - piece)));
    piece = end;
  }
  return groups;
}

Climber::Scored Climber::score(const Pieces& pieces) {
  const std::vector<Group> groups = groups_of(pieces);
  evaluator_.take(groups);
  Scored best{std::numeric_limits<double>::infinity(), 0};
  for (std::size_t i = 0; i < throats_.size(); ++i) {
    ++builds_;
    double excess = 0;
    const LimitedFigures early = evaluator_.early_figures(throats_[i]);
    for (const SetLimit& row : evaluator_.rows()) {
      if (row.cost() == LimitCost::looked_at) excess += excess_of(row, early);
    }
    if (broken_limit_weight * excess >= best.score) continue;
    Evaluation evaluation = evaluator_.evaluate(throats_[i], early);
    if (evaluation.misfit + broken_limit_weight * excess >= best.score) continue;
    evaluator_.fly(throats_[i], evaluation.figures);
    for (const SetLimit& row : evaluator_.rows()) {
      if (row.cost() != LimitCost::looked_at) excess += excess_of(row, evaluation.figures);
    }
    const double score = evaluation.misfit + broken_limit_weight * excess;
    if (score < best.score) best = {score, i};
  }
  return best;
}

std::vector<Pieces> Climber::neighbours(const Pieces& pieces) const {
  std::vector<Pieces> all;
  const auto offer = [&](Pieces changed) {
    if (buildable(changed)) all.push_back(std::move(changed));
  };
  const auto change = [&](std::size_t i, auto&& how) {
    Pieces changed = pieces;
    how(changed[i]);
    offer(std::move(changed));
  };
  const int mandrels = rods_of(task_.shop);
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    for (int stride : strides) change(i, [&](SawnPiece& piece) { piece.steps += stride; });
    for (int mandrel = 0; mandrel < mandrels; ++mandrel) {
      change(i, [&](SawnPiece& piece) { piece.mandrel = mandrel; });
    }
    for (int ends : task_.shop.bare_ends)
      change(i, [&](SawnPiece& piece) { piece.bare_ends = ends; });
    // Length handed from one segment to another, all segments like it moved at once, and whole
    // segments taken away or put in.
    for (std::size_t j = 0; j < pieces.size(); ++j) {
      for (int stride : {1, 2, 8}) {
        if (j == i) continue;
        Pieces changed = pieces;
        changed[i].steps += stride;
        changed[j].steps -= stride;
        offer(std::move(changed));
      }
    }
    for (int stride : strides) {
      Pieces changed = pieces;
      for (SawnPiece& piece : changed) {
        if (piece == pieces[i]) piece.steps += stride;
      }
      offer(std::move(changed));
    }
    Pieces fewer = pieces;
    fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
    offer(std::move(fewer));
    Pieces more = pieces;
    more.push_back({pieces[i].mandrel, pieces[i].bare_ends, shortest_});
    offer(std::move(more));
  }
  return all;
}

std::optional<Found> Climber::climb(Pieces start, std::size_t order) {
  Pieces here = std::move(start);
  while (!here.empty() && !buildable(here)) {
    // Snapping may have lengthened the stack past its room: shorten the longest segment.
    auto longest = std::ranges::max_element(here, {}, &SawnPiece::steps);
    if (--longest->steps < shortest_) return std::nullopt;
  }
  if (here.empty()) return std::nullopt;
  Scored top = score(here);
  for (int round = 0; round < most_rounds; ++round) {
    Pieces best;
    for (Pieces& neighbour : neighbours(here)) {
      const Scored scored = score(neighbour);
      if (scored.score >= top.score * (1 - 1e-9)) continue;
      top = scored;
      best = std::move(neighbour);
    }
    if (best.empty()) break;
    here = std::move(best);
  }
  const std::vector<Group> groups = groups_of(here);
  evaluator_.take(groups);
  auto evaluation = evaluator_.evaluate_if_allowed(throats_[top.throat]);
  if (!evaluation) return std::nullopt;
  if (!evaluator_.flies_as_asked(throats_[top.throat], evaluation->figures)) return std::nullopt;
  return found_of(groups, {order, 0, top.throat}, top.throat, *evaluation);
}

}  // namespace grainwright
