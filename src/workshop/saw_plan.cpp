// SPDX-License-Identifier: GPL-3.0-or-later
//
// Bin packing with the kerf folded in: n pieces and n - 1 kerfs fit a tube when n (piece + kerf)
// fit (tube + kerf). Exact by bin completion (R. E. Korf, "A New Algorithm for Optimal Bin
// Packing", AAAI 2002; dominance and the lower bound are Martello & Toth, "Knapsack Problems",
// 1990, ch. 8), with equal pieces counted rather than told apart, and failed remainders remembered.
#include "grainwright/workshop/saw_plan.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <numeric>
#include <set>
#include <string>

#include "grainwright/error.hpp"
#include "grainwright/quantity.hpp"

namespace grainwright {
namespace {

using Nanometres = std::int64_t;

constexpr double longest = 1000;           // m; keeps sums of nanometres far from overflow
constexpr std::size_t most_pieces = 1000;  // beyond any workshop
// Looks at a lot of equal pieces before the search for a better plan is given up: about a second.
constexpr long budget = 150'000'000;
constexpr std::size_t most_remembered = 5'000'000;  // counts in failed remainders, 20 MB

Nanometres in_nanometres(double metres) {
  return std::llround(metres * 1e9);
}

std::string shown(double metres) {
  return show_length(metres, UnitSystem::si);
}

std::vector<Complaint> complaints(const std::vector<double>& pieces, double stock, double kerf) {
  std::vector<Complaint> found;
  const auto sound = [](double length) {
    return std::isfinite(length) && length <= longest && in_nanometres(length) > 0;
  };
  if (!sound(stock)) {
    found.push_back({"tube_stock", shown(stock), "a length above 0, up to 1 km"});
  }
  if (!(kerf == 0 || sound(kerf))) {
    found.push_back({"kerf", shown(kerf), "a width of 0 or more, up to 1 km"});
  }
  if (pieces.size() > most_pieces) {
    found.push_back({"pieces", std::to_string(pieces.size()),
                     "at most " + std::to_string(most_pieces) + " in one saw plan"});
  }
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const std::string key = "piece " + std::to_string(i + 1);
    if (!sound(pieces[i])) {
      found.push_back({key, shown(pieces[i]), "a length above 0, up to 1 km"});
    } else if (sound(stock) && in_nanometres(pieces[i]) > in_nanometres(stock)) {
      found.push_back({key, shown(pieces[i]), "no longer than the stock tube, " + shown(stock)});
    }
  }
  return found;
}

/// Pieces of one size, kerf included.
struct Lot {
  Nanometres size = 0;
  int count = 0;
};

/// How many of each lot: a cut pattern, or what is left to cut.
using Counts = std::vector<int>;

/// Martello & Toth's L2. For a threshold t, pieces above room - t share with none of t or more, and
/// those above room / 2 share with none of their like.
std::size_t least_tubes(const std::vector<Lot>& lots, Nanometres room) {
  std::size_t least = 0;
  std::vector<Nanometres> thresholds = {0};
  for (const Lot& lot : lots) {
    if (2 * lot.size <= room) thresholds.push_back(lot.size);
  }
  for (const Nanometres threshold : thresholds) {
    Nanometres alone = 0;
    Nanometres paired = 0;
    Nanometres paired_room = 0;
    Nanometres small = 0;
    for (const auto& [size, count] : lots) {
      if (size > room - threshold) {
        alone += count;
      } else if (2 * size > room) {
        paired += count;
        paired_room += count * (room - size);
      } else if (size >= threshold) {
        small += count * size;
      }
    }
    const Nanometres over = std::max<Nanometres>(0, small - paired_room);
    least = std::max(least, static_cast<std::size_t>(alone + paired + (over + room - 1) / room));
  }
  return least;
}

/// Longest first, each into the first tube that takes it: a plan to beat.
std::vector<Counts> first_fit(const std::vector<Lot>& lots, Nanometres room) {
  std::vector<Counts> tubes;
  std::vector<Nanometres> free;
  for (std::size_t i = 0; i < lots.size(); ++i) {
    for (int n = 0; n < lots[i].count; ++n) {
      const auto fits = std::ranges::find_if(free, [&](auto left) { return left >= lots[i].size; });
      const auto tube = static_cast<std::size_t>(fits - free.begin());
      if (tube == tubes.size()) {
        tubes.emplace_back(lots.size(), 0);
        free.push_back(room);
      }
      ++tubes[tube][i];
      free[tube] -= lots[i].size;
    }
  }
  return tubes;
}

enum class Verdict { fits, does_not_fit, gave_up };

/// Can these lots be cut from so many tubes? Tubes are filled one after another, each beginning
/// with the longest piece left, which has to go somewhere.
class Packer {
 public:
  Packer(const std::vector<Lot>& lots, Nanometres room) : lots_(lots), room_(room) {}

  Verdict pack(std::size_t tubes);
  [[nodiscard]] const std::vector<Counts>& tubes() const { return tubes_; }

 private:
  Verdict fill_next(std::size_t tubes, Nanometres spare);
  Verdict complete(std::size_t from, Nanometres free, std::size_t tubes, Nanometres spare);
  [[nodiscard]] bool dominated(Nanometres free);
  [[nodiscard]] bool replaceable(Nanometres taken, int pieces, Nanometres free);
  void move(std::size_t lot, int count);

  const std::vector<Lot>& lots_;
  Nanometres room_;
  Counts left_;
  std::vector<Counts> tubes_;
  std::set<Counts> failed_;
  long looks_ = 0;
};

Verdict Packer::pack(std::size_t tubes) {
  left_.clear();
  tubes_.clear();
  failed_.clear();
  Nanometres spare = static_cast<Nanometres>(tubes) * room_;
  for (const Lot& lot : lots_) {
    left_.push_back(lot.count);
    spare -= lot.count * lot.size;
  }
  return spare < 0 ? Verdict::does_not_fit : fill_next(tubes, spare);
}

// `spare` is the room that may yet be left empty in all the tubes to come.
Verdict Packer::fill_next(std::size_t tubes, Nanometres spare) {
  const auto next = std::ranges::find_if(left_, [](int count) { return count > 0; });
  if (next == left_.end()) return Verdict::fits;
  if (tubes == 0) return Verdict::does_not_fit;
  Counts state = left_;
  state.push_back(static_cast<int>(tubes));
  if (failed_.contains(state)) return Verdict::does_not_fit;

  const auto lot = static_cast<std::size_t>(next - left_.begin());
  tubes_.emplace_back(lots_.size(), 0);
  move(lot, 1);
  const Verdict verdict = complete(lot, room_ - lots_[lot].size, tubes, spare);
  if (verdict == Verdict::fits) return verdict;
  move(lot, -1);
  tubes_.pop_back();
  if (verdict == Verdict::does_not_fit && failed_.size() * state.size() < most_remembered) {
    failed_.insert(std::move(state));
  }
  return verdict;
}

// Adds pieces no longer than those already there, in every way that is worth it.
Verdict Packer::complete(std::size_t from, Nanometres free, std::size_t tubes, Nanometres spare) {
  looks_ += static_cast<long>(lots_.size() - from);
  if (looks_ > budget) return Verdict::gave_up;
  for (std::size_t i = from; i < lots_.size(); ++i) {
    if (left_[i] == 0 || lots_[i].size > free) continue;
    move(i, 1);
    const Verdict verdict = complete(i, free - lots_[i].size, tubes, spare);
    if (verdict == Verdict::fits) return verdict;
    move(i, -1);
    if (verdict == Verdict::gave_up) return verdict;
  }
  if (free > spare || dominated(free)) return Verdict::does_not_fit;
  return fill_next(tubes - 1, spare - free);
}

void Packer::move(std::size_t lot, int count) {
  left_[lot] -= count;
  tubes_.back()[lot] += count;
}

// A pattern is not worth trying when one or two of its pieces, or none, can give way to one that is
// left over and fills the tube better: whoever used the pattern could make that exchange.
bool Packer::dominated(Nanometres free) {
  if (replaceable(0, 0, free)) return true;
  const Counts& tube = tubes_.back();
  bool first = true;
  for (std::size_t i = 0; i < lots_.size(); ++i) {
    const int others = tube[i] - int{first && tube[i] > 0};
    first = first && tube[i] == 0;
    if (others == 0) continue;
    if (replaceable(lots_[i].size, 1, free)) return true;
    if (others > 1 && replaceable(2 * lots_[i].size, 2, free)) return true;
    for (std::size_t j = i + 1; j < lots_.size(); ++j) {
      if (tube[j] > 0 && replaceable(lots_[i].size + lots_[j].size, 2, free)) return true;
    }
  }
  return false;
}

// Two pieces also give way to one exactly as long; a single one does not, or exchanges could go
// round in a circle.
bool Packer::replaceable(Nanometres taken, int pieces, Nanometres free) {
  looks_ += static_cast<long>(lots_.size());
  for (std::size_t i = 0; i < lots_.size(); ++i) {
    if (left_[i] == 0 || lots_[i].size > taken + free) continue;
    return lots_[i].size > taken || (pieces == 2 && lots_[i].size == taken);
  }
  return false;
}

/// The fewest tubes, as patterns; `proven` tells whether one tube less was ruled out.
std::vector<Counts> fewest(const std::vector<Lot>& lots, Nanometres room, bool& proven) {
  std::vector<Counts> plan = first_fit(lots, room);
  const std::size_t least = least_tubes(lots, room);
  Packer packer(lots, room);
  Verdict verdict = Verdict::fits;
  while (plan.size() > least && verdict == Verdict::fits) {
    verdict = packer.pack(plan.size() - 1);
    if (verdict == Verdict::fits) plan = packer.tubes();
  }
  proven = verdict != Verdict::gave_up;
  return plan;
}

}  // namespace

SawPlan saw_plan(const std::vector<double>& pieces, double stock, double kerf) {
  if (auto found = complaints(pieces, stock, kerf); !found.empty()) throw InputError(found);
  const Nanometres cut = in_nanometres(kerf);
  std::map<Nanometres, std::vector<std::size_t>, std::greater<>> by_size;
  for (std::size_t i = pieces.size(); i-- > 0;) {
    by_size[in_nanometres(pieces[i]) + cut].push_back(i);
  }
  std::vector<Lot> lots;
  for (const auto& [size, indices] : by_size) {
    lots.push_back({size, static_cast<int>(indices.size())});
  }
  SawPlan plan;
  const Nanometres room = in_nanometres(stock) + cut;
  Nanometres left_over = 0;
  for (const Counts& counts : fewest(lots, room, plan.proven)) {
    std::vector<std::size_t>& tube = plan.tubes.emplace_back();
    left_over += room;
    for (std::size_t i = 0; i < lots.size(); ++i) {
      std::vector<std::size_t>& waiting = by_size[lots[i].size];
      for (int n = 0; n < counts[i]; ++n) {
        tube.push_back(waiting.back());
        waiting.pop_back();
      }
      left_over -= counts[i] * lots[i].size;
    }
  }
  plan.left_over = static_cast<double>(left_over) * 1e-9;
  return plan;
}

}  // namespace grainwright
