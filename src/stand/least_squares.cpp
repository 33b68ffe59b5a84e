// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/stand/least_squares.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>
#include <nlopt.hpp>

namespace grainwright {
namespace {

constexpr double coarse_tolerance = 1e-3;
constexpr double fine_tolerance = 1e-12;
constexpr int fine_runs = 60;
constexpr int newton_steps = 12;
constexpr double newton_tolerance = 1e-11;  // of the scale
// Singular values under this part of the largest say nothing.
constexpr double nothing_told = 1e-9;

using Vector = Eigen::VectorXd;
using Matrix = Eigen::MatrixXd;

Vector vector_of(const std::vector<double>& values) {
  return Eigen::Map<const Vector>(values.data(), static_cast<Eigen::Index>(values.size()));
}
std::vector<double> list_of(const Vector& values) {
  return {values.data(), values.data() + values.size()};
}

/// The problem in parameters over their scales.
class Solver {
 public:
  explicit Solver(const LeastSquaresProblem& problem)
      : problem_(problem),
        scale_(vector_of(problem.scale)),
        least_(vector_of(problem.least).cwiseQuotient(scale_)),
        most_(vector_of(problem.most).cwiseQuotient(scale_)) {}

  [[nodiscard]] Vector start() const { return vector_of(problem_.start).cwiseQuotient(scale_); }
  [[nodiscard]] Vector residuals(const Vector& x) {
    ++runs_;
    return vector_of(problem_.residuals(list_of(x.cwiseProduct(scale_))));
  }
  [[nodiscard]] Matrix slopes(const Vector& x);
  [[nodiscard]] Vector optimized(const Vector& from, nlopt::algorithm method, int runs,
                                 double tolerance);
  [[nodiscard]] Vector finished(Vector x);
  [[nodiscard]] LeastSquares result(const Vector& x);

 private:
  static double objective(unsigned n, const double* x, double* gradient, void* self);

  const LeastSquaresProblem& problem_;
  Vector scale_, least_, most_;
  double first_sum_ = 1;
  int runs_ = 0;
};

Matrix Solver::slopes(const Vector& x) {
  Matrix jacobian;
  for (Eigen::Index j = 0; j < x.size(); ++j) {
    Vector low = x;
    Vector high = x;
    low[j] = std::max(least_[j], x[j] - problem_.slope_step);
    high[j] = std::min(most_[j], x[j] + problem_.slope_step);
    const Vector slope = (residuals(high) - residuals(low)) / (high[j] - low[j]);
    if (j == 0) jacobian.resize(slope.size(), x.size());
    jacobian.col(j) = slope;
  }
  return jacobian;
}

double Solver::objective(unsigned n, const double* values, double* gradient, void* self) {
  auto& solver = *static_cast<Solver*>(self);
  const Vector x = Eigen::Map<const Vector>(values, static_cast<Eigen::Index>(n));
  const Vector r = solver.residuals(x);
  if (gradient != nullptr) {
    Eigen::Map<Vector>(gradient, x.size()) =
        2 / solver.first_sum_ * solver.slopes(x).transpose() * r;
  }
  return r.squaredNorm() / solver.first_sum_;
}

Vector Solver::optimized(const Vector& from, nlopt::algorithm method, int runs, double tolerance) {
  nlopt::opt optimizer(method, static_cast<unsigned>(from.size()));
  optimizer.set_min_objective(objective, this);
  optimizer.set_lower_bounds(list_of(least_));
  optimizer.set_upper_bounds(list_of(most_));
  optimizer.set_initial_step(std::vector<double>(static_cast<std::size_t>(from.size()), 1.0));
  optimizer.set_ftol_rel(tolerance);
  optimizer.set_xtol_rel(tolerance);
  optimizer.set_maxeval(runs);
  std::vector<double> x = list_of(from);
  // Steps are right in size where the sum is about 1.
  first_sum_ = std::max(residuals(from).squaredNorm(), std::numeric_limits<double>::min());
  double sum = 0;
  try {
    optimizer.optimize(x, sum);
  } catch (const nlopt::roundoff_limited&) {
    // As near as it gets; x holds the best point.
  } catch (const std::runtime_error&) {
    // SLSQP could not go on, which the steps below can.
  }
  return vector_of(x);
}

/// Gauss and Newton's steps, halved until they help.
Vector Solver::finished(Vector x) {
  Vector r = residuals(x);
  for (int i = 0; i < newton_steps; ++i) {
    const Vector step = slopes(x).colPivHouseholderQr().solve(r);
    double length = 1;
    Vector next, next_r;
    do {
      next = (x - length * step).cwiseMax(least_).cwiseMin(most_);
      next_r = residuals(next);
      length /= 2;
    } while (next_r.squaredNorm() > r.squaredNorm() && length > 0.1);
    if (!(next_r.squaredNorm() <= r.squaredNorm())) break;
    const double moved = (next - x).cwiseAbs().maxCoeff();
    x = next;
    r = next_r;
    if (moved < newton_tolerance) break;
  }
  return x;
}

LeastSquares Solver::result(const Vector& x) {
  LeastSquares found;
  const Vector r = residuals(x);
  found.parameters = list_of(x.cwiseProduct(scale_));
  found.residuals = list_of(r);
  found.sum_of_squares = r.squaredNorm();
  const auto freedom = static_cast<double>(r.size() - x.size());
  found.variance = problem_.weighed ? 1 : found.sum_of_squares / std::max(1.0, freedom);
  const Matrix jacobian = slopes(x);
  const Eigen::JacobiSVD<Matrix> parts(jacobian, Eigen::ComputeThinV);
  const Vector& sizes = parts.singularValues();
  const auto n = static_cast<std::size_t>(x.size());
  found.covariance.assign(n, std::vector<double>(n, 0));
  for (Eigen::Index a = 0; a < x.size(); ++a) {
    for (Eigen::Index b = 0; b < x.size(); ++b) {
      double sum = 0;
      for (Eigen::Index k = 0; k < sizes.size(); ++k) {
        const double told = std::max(sizes[k], nothing_told * sizes[0]);
        sum += parts.matrixV()(a, k) * parts.matrixV()(b, k) / (told * told);
      }
      found.covariance[static_cast<std::size_t>(a)][static_cast<std::size_t>(b)] =
          sum * scale_[a] * scale_[b] * found.variance;
    }
    found.at_bound = found.at_bound || x[a] <= least_[a] || x[a] >= most_[a];
  }
  found.runs = runs_;
  return found;
}

}  // namespace

LeastSquares least_squares(const LeastSquaresProblem& problem) {
  Solver solver(problem);
  Vector x = solver.start();
  if (problem.coarse_runs > 0) {
    x = solver.optimized(x, nlopt::LN_SBPLX, problem.coarse_runs, coarse_tolerance);
  }
  x = solver.optimized(x, nlopt::LD_SLSQP, fine_runs, fine_tolerance);
  return solver.result(solver.finished(std::move(x)));
}

}  // namespace grainwright
