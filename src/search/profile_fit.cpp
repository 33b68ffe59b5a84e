// SPDX-License-Identifier: GPL-3.0-or-later
#include "profile_fit.hpp"

#include <algorithm>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <cstdint>
#include <tuple>

namespace grainwright {
namespace {

std::size_t size_of(const BurnPiece& piece) {
  return static_cast<std::size_t>(piece.rule->size);
}

// Integral over time of a value known at the nodes, with given weights over the piece.
double summed(const BurnPiece& piece, const std::array<double, GaussRule::most>& weights,
              const std::array<double, GaussRule::most>& value) {
  double sum = 0;
  for (std::size_t i = 0; i < size_of(piece); ++i) {
    sum += weights[i] * piece.slowness[i] * value[i];
  }
  return sum * piece.width();
}

constexpr std::array<double, GaussRule::most> ones = [] {
  std::array<double, GaussRule::most> made{};
  made.fill(1);
  return made;
}();

// Running integral over time of a value, at each node, from the start of the piece.
std::array<double, GaussRule::most> running(const BurnPiece& piece,
                                            const std::array<double, GaussRule::most>& value) {
  std::array<double, GaussRule::most> sums{};
  for (std::size_t i = 0; i < size_of(piece); ++i) {
    sums[i] = summed(piece, piece.rule->running[i], value);
  }
  return sums;
}

// The fraction of a piece's web that has burned when `time` has passed since its start.
double fraction_at(const BurnPiece& piece, double time) {
  const double whole = summed(piece, piece.rule->weight, ones);
  const auto residual = [&](double fraction) {
    const auto weights = piece.rule->weights_to(fraction);
    double slowness = 0;
    const auto shape = piece.rule->interpolation_at(fraction);
    for (std::size_t i = 0; i < size_of(piece); ++i) slowness += shape[i] * piece.slowness[i];
    return std::make_tuple(summed(piece, weights, ones) - time, slowness * piece.width());
  };
  std::uintmax_t steps = 50;
  return boost::math::tools::newton_raphson_iterate(residual, std::clamp(time / whole, 0.0, 1.0),
                                                    0.0, 1.0, 48, steps);
}

}  // namespace

ProfileFit::ProfileFit(const Profile& profile)
    : profile_(profile),
      mean_square_(profile.mean_square()),
      slope_(profile.points().back().thrust - profile.points().front().thrust) {}

template <class Value>
FitSums ProfileFit::integrate(std::span<const Stretch> stretches, const SteadyChamber& chamber,
                              Value&& value) {
  const bool sloped = slope_ != 0 && profile_.straight();
  parts_.clear();
  FitSums sums;
  double moment = 0;  // integral of t F dt
  for (const Stretch& stretch : stretches) {
    visit_pieces(stretch, chamber, [&](const BurnPiece& piece) {
      std::array<double, GaussRule::most> values;
      double time = 0;
      double impulse = 0;
      double square = 0;
      for (std::size_t i = 0; i < size_of(piece); ++i) {
        const double seconds = piece.rule->weight[i] * piece.slowness[i];
        values[i] = value(piece, piece.pressure[i]);
        time += seconds;
        impulse += seconds * values[i];
        square += seconds * values[i] * values[i];
      }
      if (sloped) {
        auto timed = running(piece, ones);
        for (std::size_t i = 0; i < size_of(piece); ++i) {
          timed[i] = (sums.time + timed[i]) * values[i];
        }
        moment += summed(piece, piece.rule->weight, timed);
      }
      if (!profile_.straight()) parts_.push_back({piece, values});
      sums.time += time * piece.width();
      sums.impulse += impulse * piece.width();
      sums.square += square * piece.width();
    });
  }
  if (profile_.straight()) {
    sums.asked = profile_.points().front().thrust * sums.impulse + slope_ * moment / sums.time;
  } else {
    sums.asked = asked_across_kinks(sums);
  }
  return sums;
}

// Integral of s F dt by parts, line by line of the profile: with I the impulse so far,
// integral of (a + b t) dI = [(a + b t) I] - b integral of I dt. Only I and its integral are wanted
// at the kinks, and both are smooth in the web, whatever the profile does.
double ProfileFit::asked_across_kinks(const FitSums& sums) const {
  const auto points = profile_.points();
  double asked = 0;
  double time = 0;
  double impulse = 0;
  double doubled = 0;  // integral of I dt
  double impulse_at_point = 0;
  double doubled_at_point = 0;
  std::size_t next = 1;
  const auto end_line = [&](double impulse_here, double doubled_here) {
    const Profile::Point& a = points[next - 1];
    const Profile::Point& b = points[next];
    // Two points at one fraction are a step, which takes no time and adds nothing.
    if (b.fraction > a.fraction) {
      asked += b.thrust * impulse_here - a.thrust * impulse_at_point;
      const double slope = (b.thrust - a.thrust) / ((b.fraction - a.fraction) * sums.time);
      asked -= slope * (doubled_here - doubled_at_point);
    }
    impulse_at_point = impulse_here;
    doubled_at_point = doubled_here;
    ++next;
  };
  for (const auto& [piece, value] : parts_) {
    auto so_far = running(piece, value);
    for (double& each : so_far) each += impulse;
    const double duration = summed(piece, piece.rule->weight, ones);
    while (next + 1 < points.size() && points[next].fraction * sums.time < time + duration) {
      const double fraction = fraction_at(piece, points[next].fraction * sums.time - time);
      const auto weights = piece.rule->weights_to(fraction);
      end_line(impulse + summed(piece, weights, value), doubled + summed(piece, weights, so_far));
    }
    doubled += summed(piece, piece.rule->weight, so_far);
    impulse += summed(piece, piece.rule->weight, value);
    time += duration;
  }
  while (next < points.size()) end_line(impulse, doubled);
  return asked;
}

FitSums ProfileFit::sums(std::span<const Stretch> stretches, const SteadyChamber& chamber) {
  const ThrustLaw& law = chamber.thrust_law();
  return integrate(stretches, chamber, [&](const BurnPiece& piece, double pressure) {
    return piece.band->full_flow ? law.per_pressure() * pressure - law.loss() : law(pressure);
  });
}

FitSums ProfileFit::pressure_sums(std::span<const Stretch> stretches,
                                  const SteadyChamber& chamber) {
  return integrate(stretches, chamber, [](const BurnPiece&, double pressure) { return pressure; });
}

FitSums ProfileFit::thrust_sums(const FitSums& p, const ThrustLaw& law) {
  const double k = law.per_pressure();
  const double loss = law.loss();
  // The mean of s over the burn is 1, so the integral of s dt is the burn time.
  return {p.time, k * p.impulse - loss * p.time,
          k * k * p.square - 2 * k * loss * p.impulse + loss * loss * p.time,
          k * p.asked - loss * p.time};
}

FitSums ProfileFit::scaled(const FitSums& p, double pressure_factor, double time_factor) {
  const double first = pressure_factor * time_factor;
  return {p.time * time_factor, p.impulse * first, p.square * first * pressure_factor,
          p.asked * first};
}

double ProfileFit::misfit(const FitSums& sums) const {
  const double mean = sums.impulse / sums.time;
  const double square =
      sums.square / (sums.time * mean * mean) - 2 * sums.asked / (sums.time * mean) + mean_square_;
  return std::sqrt(std::max(0.0, square));
}

}  // namespace grainwright
