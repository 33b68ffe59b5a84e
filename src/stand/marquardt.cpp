// SPDX-License-Identifier: GPL-3.0-or-later
#include "marquardt.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

namespace grainwright {
namespace {

using Vector = Eigen::VectorXd;
using Matrix = Eigen::MatrixXd;

constexpr double first_damping = 1e-3;
constexpr double most_damping = 1e9;
constexpr double small_step = 1e-4;    // of the scale
constexpr double small_fall = 1e-7;    // of the sum of squares
constexpr double nothing_told = 1e-9;  // singular values under this part of the largest

Vector vector_of(const std::vector<double>& values) {
  return Eigen::Map<const Vector>(values.data(), static_cast<Eigen::Index>(values.size()));
}

Matrix matrix_of(const std::vector<std::vector<double>>& columns, std::size_t rows) {
  Matrix matrix(static_cast<Eigen::Index>(rows), static_cast<Eigen::Index>(columns.size()));
  for (std::size_t j = 0; j < columns.size(); ++j) {
    matrix.col(static_cast<Eigen::Index>(j)) = vector_of(columns[j]);
  }
  return matrix;
}

std::vector<std::vector<double>> rows_of(const Matrix& matrix) {
  std::vector<std::vector<double>> rows(static_cast<std::size_t>(matrix.rows()));
  for (Eigen::Index i = 0; i < matrix.rows(); ++i) {
    for (Eigen::Index j = 0; j < matrix.cols(); ++j) {
      rows[static_cast<std::size_t>(i)].push_back(matrix(i, j));
    }
  }
  return rows;
}

/// (J'J)^-1 and the part of it that maps residuals on parameters, through singular values: a
/// direction that nothing tells gets a great variance instead of none.
struct Inverse {
  Matrix covariance;
  Matrix gain;
};
Inverse inverse_of(const Matrix& jacobian, const Vector& scale) {
  const Eigen::BDCSVD<Matrix> parts(jacobian * scale.asDiagonal(),
                                    Eigen::ComputeThinU | Eigen::ComputeThinV);
  const Vector& sizes = parts.singularValues();
  const Vector told = sizes.cwiseMax(nothing_told * sizes[0]).cwiseInverse();
  const Matrix root = scale.asDiagonal() * parts.matrixV() * told.asDiagonal();
  return {root * root.transpose(), root * parts.matrixU().transpose()};
}

Vector scale_of(const Matrix& jacobian) {
  Vector scale(jacobian.cols());
  for (Eigen::Index j = 0; j < jacobian.cols(); ++j) {
    const double size = jacobian.col(j).norm();
    scale[j] = size > 0 ? 1 / size : 1;
  }
  return scale;
}

class Descent {
 public:
  explicit Descent(const MarquardtProblem& problem) : problem_(problem), x_(problem.start) {
    for (std::size_t i = 0; i < x_.size(); ++i) {
      x_[i] = std::clamp(x_[i], problem.least[i], problem.most[i]);
    }
  }

  LeastSquares run() {
    take(problem_.slopes(x_));
    for (int step = 0; step < problem_.most_steps && go_down(); ++step) {
    }
    return result();
  }

 private:
  void take(Sloped here) {
    residuals_ = std::move(here.residuals);
    jacobian_ = matrix_of(here.columns, residuals_.size());
    sum_ = vector_of(residuals_).squaredNorm();
  }

  /// A damped step among the parameters that are free to go.
  [[nodiscard]] std::vector<double> stepped() const {
    const Vector pull = jacobian_.transpose() * vector_of(residuals_);
    Matrix normal = jacobian_.transpose() * jacobian_;
    Vector right = -pull;
    for (Eigen::Index j = 0; j < normal.rows(); ++j) {
      const auto i = static_cast<std::size_t>(j);
      const bool stuck = (x_[i] <= problem_.least[i] && pull[j] > 0) ||
                         (x_[i] >= problem_.most[i] && pull[j] < 0) || normal(j, j) <= 0;
      if (stuck) {
        normal.row(j).setZero();
        normal.col(j).setZero();
        normal(j, j) = 1;
        right[j] = 0;
      } else {
        normal(j, j) *= 1 + damping_;
      }
    }
    const Vector step = normal.ldlt().solve(right);
    std::vector<double> next = x_;
    for (std::size_t i = 0; i < next.size(); ++i) {
      next[i] = std::clamp(next[i] + step[static_cast<Eigen::Index>(i)], problem_.least[i],
                           problem_.most[i]);
    }
    return next;
  }

  /// False where there is no way down, or none worth going.
  bool go_down() {
    for (; damping_ < most_damping; damping_ *= 10) {
      const std::vector<double> next = stepped();
      double moved = 0;
      for (std::size_t i = 0; i < next.size(); ++i) {
        moved = std::max(moved, std::abs(next[i] - x_[i]) / problem_.scale[i]);
      }
      if (!(moved > small_step)) return false;
      const double sum = vector_of(problem_.residuals(next)).squaredNorm();
      ++runs_;
      if (!(sum < sum_)) continue;
      const double fall = (sum_ - sum) / sum_;
      x_ = next;
      damping_ = std::max(damping_ / 10, 1e-9);
      take(problem_.slopes(x_));
      ++runs_;
      return fall > small_fall;
    }
    return false;
  }

  LeastSquares result() {
    LeastSquares found;
    found.parameters = x_;
    found.residuals = residuals_;
    found.sum_of_squares = sum_;
    found.variance = 1;
    found.runs = runs_;
    found.covariance = rows_of(inverse_of(jacobian_, scale_of(jacobian_)).covariance);
    for (std::size_t i = 0; i < x_.size(); ++i) {
      found.at_bound = found.at_bound || x_[i] <= problem_.least[i] || x_[i] >= problem_.most[i];
    }
    return found;
  }

  const MarquardtProblem& problem_;
  std::vector<double> x_;
  std::vector<double> residuals_;
  Matrix jacobian_;
  double sum_ = 0;
  double damping_ = first_damping;
  int runs_ = 1;
};

}  // namespace

LeastSquares marquardt(const MarquardtProblem& problem) {
  return Descent(problem).run();
}

std::vector<std::vector<double>> considered_covariance(
    const std::vector<std::vector<double>>& fitted,
    const std::vector<std::vector<double>>& considered, const std::vector<double>& variances) {
  const std::size_t rows = fitted.front().size();
  const Matrix own = matrix_of(fitted, rows);
  const Inverse inverse = inverse_of(own, scale_of(own));
  const Matrix others = matrix_of(considered, rows);
  const Matrix known = vector_of(variances).asDiagonal();
  const Matrix moved = -inverse.gain * others;
  const Eigen::Index n = own.cols();
  const Eigen::Index m = others.cols();
  Matrix all(n + m, n + m);
  all.topLeftCorner(n, n) = inverse.covariance + moved * known * moved.transpose();
  all.topRightCorner(n, m) = moved * known;
  all.bottomLeftCorner(m, n) = (moved * known).transpose();
  all.bottomRightCorner(m, m) = known;
  return rows_of(all);
}

}  // namespace grainwright
