// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/motor/burn_law.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "grainwright/quantity.hpp"

namespace grainwright {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
// A jump of the rate at a joint that is worth a word.
constexpr double jump_worth_a_word = 0.05;

std::string shown_pressure(double pressure) {
  return show(pressure, Dimension::pressure, UnitSystem::si);
}

// P/r of a piece at a pressure.
double load_of(const LawPiece& piece, double pressure) {
  if (pressure == 0) return 0;
  return std::isinf(pressure) ? infinity : pressure / piece(pressure);
}

BurnLaw::Band band_of(const LawPiece& piece, double from, double to) {
  // P/r = P^(1-n) at^n / rate = load  =>  P = (load rate / at^n)^(1/(1-n)).
  const double power = 1 / (1 - piece.exponent);
  const double scale = std::pow(piece.rate * std::pow(piece.at, -piece.exponent), power);
  return {from, to, piece.exponent, scale, 0};
}

std::vector<BurnLaw::Band> bands_of(const std::vector<LawPiece>& pieces) {
  std::vector<BurnLaw::Band> bands;
  double reached = 0;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const LawPiece& piece = pieces[i];
    const bool last = i + 1 == pieces.size();
    const double bottom = i == 0 ? 0 : load_of(piece, piece.from);
    const double top = last ? infinity : load_of(piece, piece.to);
    // The rate jumps down at the joint: no pressure balances in the gap, so it sits on the joint.
    if (bottom > reached) {
      bands.push_back({reached, bottom, 0, 0, piece.from});
      reached = bottom;
    }
    // The rate jumps up: the lower piece answers as far as it reaches.
    if (top > reached) {
      bands.push_back(band_of(piece, reached, top));
      reached = top;
    }
  }
  return bands;
}

}  // namespace

double LawPiece::operator()(double pressure) const {
  return rate * std::pow(pressure / at, exponent);
}

std::vector<Complaint> complaints(const std::vector<LawPiece>& pieces) {
  std::vector<Complaint> found;
  if (pieces.empty()) found.push_back({"law", "none", "at least one piece"});
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const LawPiece& piece = pieces[i];
    const std::string where = "law " + std::to_string(i + 1) + ": ";
    if (!(std::isfinite(piece.rate) && piece.rate > 0)) {
      found.push_back({where + "rate", std::to_string(piece.rate), "a burn rate above zero"});
    }
    if (!(std::isfinite(piece.at) && piece.at > 0)) {
      found.push_back({where + "at", std::to_string(piece.at), "a pressure above zero"});
    }
    if (!(std::isfinite(piece.exponent) && piece.exponent < 1)) {
      found.push_back({where + "n", std::to_string(piece.exponent),
                       "below 1: at 1 or more no pressure is stable and the motor runs away"});
    }
    if (!(piece.from >= 0 && piece.from < piece.to)) {
      found.push_back({where + "from", shown_pressure(piece.from), "below the piece's `to`"});
    }
    if (i > 0 && piece.from != pieces[i - 1].to) {
      found.push_back({where + "from", shown_pressure(piece.from),
                       "where the piece before it ends, " + shown_pressure(pieces[i - 1].to)});
    }
  }
  return found;
}

BurnLaw::BurnLaw(std::vector<LawPiece> pieces) : pieces_(std::move(pieces)) {
  if (auto found = complaints(pieces_); !found.empty()) throw InputError(std::move(found));
  bands_ = bands_of(pieces_);
}

double BurnLaw::rate(double pressure) const {
  const auto piece = std::ranges::find_if(
      pieces_, [&](const LawPiece& candidate) { return pressure <= candidate.to; });
  return (piece == pieces_.end() ? pieces_.back() : *piece)(pressure);
}

double BurnLaw::pressure(double load) const {
  const auto found =
      std::ranges::find_if(bands_, [&](const Band& candidate) { return load <= candidate.to; });
  const Band& band = found == bands_.end() ? bands_.back() : *found;
  if (band.joint_pressure > 0) return band.joint_pressure;
  return band.scale * std::pow(load, 1 / (1 - band.exponent));
}

BurnLaw BurnLaw::times(double factor) const {
  std::vector<LawPiece> scaled = pieces_;
  for (LawPiece& piece : scaled) piece.rate *= factor;
  return BurnLaw(std::move(scaled));
}

std::vector<std::string> BurnLaw::warnings() const {
  std::vector<std::string> words;
  for (std::size_t i = 1; i < pieces_.size(); ++i) {
    const double joint = pieces_[i].from;
    const double jump = pieces_[i](joint) / pieces_[i - 1](joint) - 1;
    if (std::abs(jump) <= jump_worth_a_word) continue;
    words.push_back("the burn rate jumps by " +
                    show(jump * 100, Dimension::ratio, UnitSystem::si, 3) +
                    " % where two pieces of the law meet at " + shown_pressure(joint));
  }
  return words;
}

}  // namespace grainwright
