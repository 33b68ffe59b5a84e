// SPDX-License-Identifier: GPL-3.0-or-later
#include "joined_law.hpp"

#include <algorithm>
#include <cmath>

namespace grainwright {
namespace {

constexpr double half_width = 0.005;  // of a joint, in ln P

}  // namespace

JoinedLaw::JoinedLaw(const BurnLaw& law) {
  const auto pieces = law.pieces();
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const LawPiece& piece = pieces[i];
    const Line line{std::numeric_limits<double>::infinity(),
                    std::log(piece.rate) - piece.exponent * std::log(piece.at), piece.exponent};
    if (i > 0) {
      Line& below = lines_.back();
      const double joint = std::log(piece.from);
      // Never past the middle of a piece on either side.
      const double width = std::min({half_width, (joint - std::log(pieces[i - 1].from)) / 2,
                                     (std::log(piece.to) - joint) / 2});
      below.to = joint - width;
      const double start = below.offset + below.slope * (joint - width);
      const double end = line.offset + line.slope * (joint + width);
      const double slope = (end - start) / (2 * width);
      lines_.push_back({joint + width, start - slope * (joint - width), slope});
    }
    lines_.push_back(line);
  }
}

}  // namespace grainwright
