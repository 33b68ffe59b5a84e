// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/motor/web_factor.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>

namespace grainwright {
namespace {

/// Where the parabola turns; 0 where it does not within the web.
double turn_of(const WebFactor& f) {
  const double bend = 2 * (f.start + f.end - 2 * f.middle);
  const double slope = 4 * f.middle - 3 * f.start - f.end;
  const double turn = bend == 0 ? 0 : -slope / (2 * bend);
  return turn > 0 && turn < 1 ? turn : 0;
}

}  // namespace

double WebFactor::operator()(double share) const {
  const double u = std::clamp(share, 0.0, 1.0);
  return start + u * (4 * middle - 3 * start - end + u * 2 * (start + end - 2 * middle));
}

double WebFactor::passed(double share) const {
  const auto slowness = [&](double u) { return 1 / (*this)(u); };
  return boost::math::quadrature::gauss<double, 20>::integrate(slowness, 0.0, share);
}

double WebFactor::mean() const {
  return 1 / passed(1);
}

double WebFactor::least() const {
  return std::min({start, end, (*this)(turn_of(*this))});
}

double WebFactor::greatest() const {
  return std::max({start, end, (*this)(turn_of(*this))});
}

WebFactor WebFactor::levelled() const {
  const double level = mean();
  return {start / level, middle / level, end / level};
}

std::vector<Complaint> complaints(const WebFactor& factor) {
  std::vector<Complaint> found;
  const std::string allowed = fmt::format("from {} to {}, and so between the three places",
                                          least_web_factor, most_web_factor);
  const auto sound = [](double f) { return f >= least_web_factor && f <= most_web_factor; };
  const auto check = [&](const char* key, double value) {
    if (!sound(value)) found.push_back({key, fmt::format("{}", value), allowed});
  };
  check("web_factor.start", factor.start);
  check("web_factor.middle", factor.middle);
  check("web_factor.end", factor.end);
  if (!found.empty()) return found;
  const double turn = factor(turn_of(factor));
  if (!sound(turn)) {
    found.push_back({"web_factor", fmt::format("{:.3g} between its places", turn), allowed});
  }
  return found;
}

}  // namespace grainwright
