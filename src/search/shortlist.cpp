// SPDX-License-Identifier: GPL-3.0-or-later
#include "shortlist.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

namespace grainwright {
namespace {

// Misfits this close are one: what is left is rounding.
constexpr double same_misfit = 1e-9;
// Bins grow by this ratio of misfit.
constexpr double bin_ratio = 1.02;
constexpr double least_misfit = 1e-4;

int bin_of(double misfit) {
  return static_cast<int>(
      std::floor(std::log(std::max(misfit, least_misfit) / least_misfit) / std::log(bin_ratio)));
}

// Smaller is better, in the first place by the virtue's own figure.
auto rank(Virtue virtue, const Found& found) {
  double figure = 0;
  switch (virtue) {
    case Virtue::best_fit:
      break;
    case Virtue::most_impulse:
      figure = -found.impulse;
      break;
    case Virtue::fewest_pours:
      figure = found.pours;
      break;
    case Virtue::all_alike:
      figure = static_cast<double>(found.groups.size());
      break;
    case Virtue::lowest_pressure:
      figure = found.peak_pressure;
      break;
  }
  return std::make_tuple(figure, std::llround(found.misfit / same_misfit), found.pours,
                         found.groups.size(), found.order);
}

bool better(Virtue virtue, const Found& a, const Found& b) {
  return rank(virtue, a) < rank(virtue, b);
}

bool same_build(const Found& a, const Found& b) {
  return a.throat == b.throat && std::ranges::equal(a.groups, b.groups, [](auto& x, auto& y) {
           return x.segment == y.segment && x.count == y.count;
         });
}

}  // namespace

void Shortlist::offer(const Found& found) {
  Bin& bin = bins_[bin_of(found.misfit)];
  for (Virtue virtue : all_virtues) {
    auto& held = bin[static_cast<std::size_t>(virtue)];
    if (held.empty()) {
      held.push_back(found);
    } else if (better(virtue, found, held.front())) {
      held.front() = found;
    }
  }
}

void Shortlist::merge(const Shortlist& other) {
  for (const auto& [number, bin] : other.bins_) {
    for (const auto& held : bin) {
      for (const Found& found : held) offer(found);
    }
  }
}

std::vector<std::pair<Virtue, Found>> Shortlist::draw_up() const {
  std::vector<std::pair<Virtue, Found>> drawn;
  if (bins_.empty()) return drawn;
  const double best = bins_.begin()->second[0].front().misfit;
  const double most = std::max(1.5 * best, best + 0.02);
  for (Virtue virtue : all_virtues) {
    const Found* chosen = nullptr;
    for (const auto& [number, bin] : bins_) {
      const Found& held = bin[static_cast<std::size_t>(virtue)].front();
      if (held.misfit > most) continue;
      if (chosen == nullptr || better(virtue, held, *chosen)) chosen = &held;
    }
    const bool shown = chosen == nullptr || std::ranges::any_of(drawn, [&](const auto& earlier) {
                         return same_build(earlier.second, *chosen);
                       });
    if (!shown) drawn.emplace_back(virtue, *chosen);
  }
  return drawn;
}

std::vector<Found> Shortlist::best(std::size_t most) const {
  std::vector<Found> found;
  for (const auto& [number, bin] : bins_) {
    if (found.size() == most) break;
    found.push_back(bin[0].front());
  }
  return found;
}

}  // namespace grainwright
