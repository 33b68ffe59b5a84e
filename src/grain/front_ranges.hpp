// SPDX-License-Identifier: GPL-3.0-or-later
//
// Items that each concern a range of webs, and which of them concern one web.
#pragma once

#include <algorithm>
#include <vector>

namespace grainwright::front {

/// Items with members `low` and `high`, found by a web with low < web <= high.
template <typename Item>
class Ranges {
 public:
  Ranges() = default;
  explicit Ranges(std::vector<Item> items) : items_(std::move(items)) {
    std::ranges::sort(items_, {}, &Item::low);
    for (std::size_t i = 0; i < items_.size(); ++i) {
      if (i % block == 0) block_high_.push_back(items_[i].high);
      block_high_.back() = std::max(block_high_.back(), items_[i].high);
    }
  }

  template <typename Use>
  void visit(double web, Use&& use) const {
    for (std::size_t b = 0; b < block_high_.size() && items_[b * block].low < web; ++b) {
      if (block_high_[b] < web) continue;
      const std::size_t end = std::min(items_.size(), (b + 1) * block);
      for (std::size_t i = b * block; i < end && items_[i].low < web; ++i) {
        if (items_[i].high >= web) use(items_[i]);
      }
    }
  }

 private:
  static constexpr std::size_t block = 16;  // items looked at together
  std::vector<Item> items_;
  std::vector<double> block_high_;
};

}  // namespace grainwright::front
