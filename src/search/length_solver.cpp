// SPDX-License-Identifier: GPL-3.0-or-later
#include "length_solver.hpp"

#include <algorithm>
#include <cmath>
#include <nlopt.hpp>

namespace grainwright {
namespace {

// Lengths are solved for as shares of the room. Difference quotients take this step.
constexpr double share_step = 1e-7;
constexpr double share_tolerance = 1e-6;
constexpr int most_evaluations = 60;
constexpr int most_polishing_evaluations = 600;
// A limit broken by less than this is rounding.
constexpr double limit_slack = 1e-8;

// Sides of the limit rows as functions that must not be above zero.
struct Side {
  const SetLimit* row;
  bool upper;
  [[nodiscard]] double operator()(const LimitedFigures& figures) const {
    const double limit = upper ? row->bound.most : row->bound.least;
    const double scale = limit == 0 ? 1 : std::abs(limit);
    const double over = row->value(figures) - limit;
    return (upper ? over : -over) / scale;
  }
};

std::vector<Side> sides_of(std::span<const SetLimit> rows) {
  std::vector<Side> sides;
  for (const SetLimit& row : rows) {
    if (std::isfinite(row.bound.most)) sides.push_back({&row, true});
    if (std::isfinite(row.bound.least)) sides.push_back({&row, false});
  }
  return sides;
}

// Misfit and limits of one structure, as NLopt asks for them: objective and constraints in turn at
// one point, so that the last point is kept with its slopes.
class Problem {
 public:
  Problem(const StockedTask& task, const Structure& structure, const ShopThroat& throat,
          Evaluator& evaluator)
      : task_(task),
        structure_(structure),
        throat_(throat),
        evaluator_(evaluator),
        sides_(sides_of(evaluator.rows())) {}

  [[nodiscard]] unsigned constraints() const { return static_cast<unsigned>(sides_.size()); }
  [[nodiscard]] const SolvedLengths& best() const { return best_; }

  static double objective(unsigned n, const double* shares, double* slopes, void* self) {
    auto& problem = *static_cast<Problem*>(self);
    problem.go_to({shares, shares + n}, slopes != nullptr);
    if (slopes != nullptr) std::ranges::copy(problem.misfit_slopes_, slopes);
    return problem.misfit_;
  }
  static void limits(unsigned m, double* values, unsigned n, const double* shares, double* slopes,
                     void* self) {
    auto& problem = *static_cast<Problem*>(self);
    problem.go_to({shares, shares + n}, slopes != nullptr);
    std::copy_n(problem.values_.begin(), m, values);
    if (slopes != nullptr) std::ranges::copy(problem.value_slopes_, slopes);
  }

 private:
  struct Point {
    double misfit;
    std::vector<double> values;
  };

  Point evaluate(const std::vector<double>& shares) {
    // A singular step of the optimizer's; there is nothing to learn from going on.
    if (!std::ranges::all_of(shares, [](double share) { return share > 0 && share < 2; })) {
      throw nlopt::forced_stop();
    }
    std::vector<double> lengths = shares;
    for (double& length : lengths) length *= task_.grain_room;
    const std::vector<Group> groups = groups_of(task_, structure_, lengths);
    evaluator_.take(groups);
    Evaluation evaluation = evaluator_.evaluate(throat_, evaluator_.early_figures(throat_));
    evaluator_.fly(throat_, evaluation.figures);
    Point point{evaluation.misfit, {}};
    double excess = 0;
    for (const Side& side : sides_) {
      point.values.push_back(side(evaluation.figures));
      excess = std::max(excess, point.values.back());
    }
    if (excess < limit_slack) excess = 0;
    const bool first = best_.lengths.empty();
    if (first || excess < best_.excess || (excess == best_.excess && point.misfit < best_.misfit)) {
      best_ = {std::move(lengths), point.misfit, excess};
    }
    return point;
  }

  void go_to(const std::vector<double>& shares, bool with_slopes) {
    if (shares != shares_) {
      Point point = evaluate(shares);
      shares_ = shares;
      misfit_ = point.misfit;
      values_ = std::move(point.values);
      slopes_known_ = false;
    }
    if (!with_slopes || slopes_known_) return;
    const std::size_t n = shares.size();
    misfit_slopes_.assign(n, 0);
    value_slopes_.assign(n * values_.size(), 0);
    for (std::size_t i = 0; i < n; ++i) {
      std::vector<double> beside = shares;
      beside[i] += share_step;
      const Point point = evaluate(beside);
      misfit_slopes_[i] = (point.misfit - misfit_) / share_step;
      for (std::size_t k = 0; k < values_.size(); ++k) {
        value_slopes_[k * n + i] = (point.values[k] - values_[k]) / share_step;
      }
    }
    slopes_known_ = true;
  }

  const StockedTask& task_;
  const Structure& structure_;
  const ShopThroat& throat_;
  Evaluator& evaluator_;
  std::vector<Side> sides_;
  std::vector<double> shares_;
  double misfit_ = 0;
  std::vector<double> values_;
  bool slopes_known_ = false;
  std::vector<double> misfit_slopes_;
  std::vector<double> value_slopes_;
  SolvedLengths best_;
};

}  // namespace

double excess_of(const SetLimit& row, const LimitedFigures& figures) {
  double excess = 0;
  for (const Side& side : sides_of({&row, 1})) excess = std::max(excess, side(figures));
  return excess;
}

std::vector<Group> groups_of(const StockedTask& task, const Structure& structure,
                             const std::vector<double>& lengths) {
  std::vector<Group> groups;
  for (const PourKind& kind : structure.kinds) {
    const double length = lengths[static_cast<std::size_t>(kind.length)];
    groups.push_back(make_group(task, kind.mandrel, kind.bare_ends, length, kind.count));
  }
  return groups;
}

SolvedLengths solve_lengths(const StockedTask& task, const Structure& structure,
                            const ShopThroat& throat, std::vector<double> start, Solver solver,
                            Evaluator& evaluator) {
  const auto n = static_cast<unsigned>(structure.lengths);
  Problem problem(task, structure, throat, evaluator);
  const bool smooth = solver == Solver::slsqp;
  nlopt::opt optimizer(smooth ? nlopt::LD_SLSQP : nlopt::LN_COBYLA, n);
  optimizer.set_min_objective(&Problem::objective, &problem);
  const double room = task.grain_room;
  const double shortest = std::max(task.shop.shortest_segment / room, 1e-3);
  const double longest = std::min(task.shop.longest_segment / room, 1.0);
  optimizer.set_lower_bounds(std::min(shortest, longest));
  optimizer.set_upper_bounds(longest);
  optimizer.set_xtol_abs(share_tolerance);
  optimizer.set_maxeval(smooth ? most_evaluations : most_polishing_evaluations);
  if (problem.constraints() > 0) {
    optimizer.add_inequality_mconstraint(&Problem::limits, &problem,
                                         std::vector<double>(problem.constraints(), limit_slack));
  }
  for (double& length : start)
    length = std::clamp(length / room, std::min(shortest, longest), longest);
  if (!smooth) optimizer.set_initial_step(1.0 / 64);
  double misfit = 0;
  try {
    optimizer.optimize(start, misfit);
  } catch (const std::exception&) {
    // Rounding stopped it; the best point seen stands.
  }
  return problem.best();
}

}  // namespace grainwright
