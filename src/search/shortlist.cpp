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

// What decides between builds, without their groups.
struct Standing {
  double misfit;
  double impulse;
  double peak_pressure;
  int pours;
  std::size_t kinds;
  std::array<std::size_t, 3> order;
};

Standing standing_of(const Found& found) {
  return {found.misfit, found.impulse,       found.peak_pressure,
          found.pours,  found.groups.size(), found.order};
}

// The figure that a virtue is about; smaller is better.
double figure_of(Virtue virtue, const Standing& build) {
  switch (virtue) {
    case Virtue::best_fit:
      return 0;
    case Virtue::most_impulse:
      return -build.impulse;
    case Virtue::fewest_pours:
      return build.pours;
    case Virtue::all_alike:
      return static_cast<double>(build.kinds);
    case Virtue::lowest_pressure:
      return build.peak_pressure;
  }
  return 0;
}

bool better(Virtue virtue, const Standing& a, const Standing& b) {
  const double mine = figure_of(virtue, a);
  const double theirs = figure_of(virtue, b);
  if (mine != theirs) return mine < theirs;
  const auto rest = [](const Standing& build) {
    return std::make_tuple(std::llround(build.misfit / same_misfit), build.pours, build.kinds,
                           build.order);
  };
  return rest(a) < rest(b);
}

bool better(Virtue virtue, const Found& a, const Found& b) {
  return better(virtue, standing_of(a), standing_of(b));
}

int pours_of(std::span<const Group> groups) {
  int pours = 0;
  for (const Group& group : groups) pours += group.count;
  return pours;
}

bool same_build(const Found& a, const Found& b) {
  return a.throat == b.throat && std::ranges::equal(a.groups, b.groups, [](auto& x, auto& y) {
           return x.segment == y.segment && x.count == y.count;
         });
}

}  // namespace

Found found_of(std::span<const Group> groups, std::array<std::size_t, 3> order, std::size_t throat,
               const Evaluation& evaluation) {
  return {{groups.begin(), groups.end()},
          throat,
          evaluation.misfit,
          evaluation.figures.total_impulse,
          evaluation.figures.peak_pressure,
          pours_of(groups),
          order};
}

double Shortlist::most_shown() const {
  return std::max(1.5 * best_misfit_, best_misfit_ + 0.02);
}

void Shortlist::offer(const Found& found) {
  if (found.misfit > most_shown()) return;
  best_misfit_ = std::min(best_misfit_, found.misfit);
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

bool Shortlist::wants(std::span<const Group> groups, std::array<std::size_t, 3> order,
                      const Evaluation& evaluation) const {
  if (evaluation.misfit > most_shown()) return false;
  const auto bin = bins_.find(bin_of(evaluation.misfit));
  if (bin == bins_.end()) return true;
  const Standing build{evaluation.misfit,
                       evaluation.figures.total_impulse,
                       evaluation.figures.peak_pressure,
                       pours_of(groups),
                       groups.size(),
                       order};
  return std::ranges::any_of(all_virtues, [&](Virtue virtue) {
    const auto& held = bin->second[static_cast<std::size_t>(virtue)];
    return held.empty() || better(virtue, build, standing_of(held.front()));
  });
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
  for (Virtue virtue : all_virtues) {
    const Found* chosen = nullptr;
    for (const auto& [number, bin] : bins_) {
      const Found& held = bin[static_cast<std::size_t>(virtue)].front();
      if (held.misfit > most_shown()) continue;
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
