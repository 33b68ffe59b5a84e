// SPDX-License-Identifier: GPL-3.0-or-later
#include "axial_stack.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <string>
#include <utility>

namespace grainwright {
namespace {

using std::numbers::pi;

// What ends within this much web, m, ends at one moment.
constexpr double same_event = 1e-10;

std::vector<CrossSection> planes_of(const Layer& layer, std::size_t number, int parts) {
  std::vector<double> middles;
  for (int part = 0; part < parts; ++part) {
    middles.push_back(layer.segment.length * (part + 0.5) / parts);
  }
  try {
    return cross_sections(layer.segment, middles);
  } catch (const InputError& error) {
    std::vector<Complaint> found = error.complaints();
    for (Complaint& complaint : found) {
      complaint.key = "segment " + std::to_string(number + 1) + ": " + complaint.key;
      complaint.allowed += "; or the steady or the transient model";
    }
    throw InputError(std::move(found));
  }
}

}  // namespace

double Piece::full_area() const {
  return pi / 4 * segment.outer_diameter * segment.outer_diameter;
}

bool Piece::has_port() const {
  return !segment.solid() || segment.bare(Face::outer);
}

AxialStack::AxialStack(const Grain& grain, int slices) {
  double cast = 0;  // length of propellant
  for (const Layer& layer : grain.layers) cast += layer.count * layer.segment.length;
  double top = 0;
  for (std::size_t number = 0; number < grain.layers.size(); ++number) {
    const Layer& layer = grain.layers[number];
    const double length = layer.segment.length;
    const int parts = std::max(1, static_cast<int>(std::lround(slices * length / cast)));
    const std::vector<CrossSection> planes = planes_of(layer, number, parts);
    for (int i = 0; i < layer.count; ++i) {
      const std::size_t first = slices_.size();
      for (int part = 0; part < parts; ++part) {
        slices_.push_back({length * part / parts, length * (part + 1) / parts,
                           planes[static_cast<std::size_t>(part)]});
      }
      pieces_.push_back({layer.segment, number, top, first, slices_.size() - 1});
      top += length + grain.spacer;
    }
  }
  std::size_t web = slices_.size();
  for (Piece& piece : pieces_) {
    piece.head = web++;
    piece.nozzle = web++;
  }
  find_margins();
}

bool AxialStack::left() const {
  return std::ranges::any_of(pieces_, &Piece::left);
}

double AxialStack::girth(std::size_t slice, const Webs& webs) const {
  if (!slices_[slice].left) return 0;
  return slices_[slice].plane.girth(webs[slice]);
}

double AxialStack::section(std::size_t slice, const Webs& webs) const {
  if (!slices_[slice].left) return 0;
  return slices_[slice].plane.section(webs[slice]);
}

double AxialStack::port(const Piece& piece, std::size_t slice, const Webs& webs) const {
  return piece.full_area() - section(slice, webs);
}

double AxialStack::length(const Piece& piece, std::size_t slice, const Webs& webs) const {
  const double top = slice == piece.first ? webs[piece.head] : slices_[slice].top;
  const double bottom =
      slice == piece.last ? piece.segment.length - webs[piece.nozzle] : slices_[slice].bottom;
  return bottom - top;
}

double AxialStack::burning_area(const Webs& webs) const {
  double area = 0;
  for (const Piece& piece : pieces_) {
    if (!piece.left) continue;
    if (piece.segment.bare(Face::head)) area += section(piece.first, webs);
    if (piece.segment.bare(Face::nozzle)) area += section(piece.last, webs);
    for (std::size_t j = piece.first; j <= piece.last; ++j) {
      area += girth(j, webs) * length(piece, j, webs);
    }
  }
  return area;
}

double AxialStack::volume(const Webs& webs) const {
  double volume = 0;
  for (const Piece& piece : pieces_) {
    if (!piece.left) continue;
    for (std::size_t j = piece.first; j <= piece.last; ++j) {
      volume += section(j, webs) * length(piece, j, webs);
    }
  }
  return volume;
}

double AxialStack::mean_web(const Webs& webs) const {
  double sum = 0;
  double count = 0;
  for (std::size_t j = 0; j < slices_.size(); ++j) {
    if (std::isinf(slices_[j].plane.burnout())) continue;
    sum += webs[j];
    ++count;
  }
  if (count > 0) return sum / count;
  for (const Piece& piece : pieces_) {
    for (const auto& [face, web] :
         {std::pair{Face::head, piece.head}, std::pair{Face::nozzle, piece.nozzle}}) {
      if (!piece.segment.bare(face)) continue;
      sum += webs[web];
      ++count;
    }
  }
  return sum / count;
}

void AxialStack::find_margins() {
  margins_.clear();
  for (std::size_t i = 0; i < pieces_.size(); ++i) {
    const Piece& piece = pieces_[i];
    if (!piece.left) continue;
    for (std::size_t j = piece.first; j <= piece.last; ++j) {
      if (slices_[j].left && !std::isinf(slices_[j].plane.burnout())) {
        margins_.push_back({slices_[j].plane.burnout(), j, 0, i});
      }
    }
    const double length = piece.segment.length;
    if (piece.first == piece.last) {
      margins_.push_back({length, piece.head, piece.nozzle, i});
    } else {
      margins_.push_back({slices_[piece.first].bottom, piece.head, 0, i});
      margins_.push_back({length - slices_[piece.last].top, piece.nozzle, 0, i});
    }
  }
}

double AxialStack::margin(const Webs& webs) const {
  double least = std::numeric_limits<double>::infinity();
  for (const Margin& margin : margins_) least = std::min(least, margin.left(webs));
  return least;
}

double AxialStack::time_left(const Webs& webs, const Webs& rates) const {
  double least = std::numeric_limits<double>::infinity();
  for (const Margin& margin : margins_) {
    const double rate = rates[margin.a] + (margin.b > 0 ? rates[margin.b] : 0);
    if (rate > 0) least = std::min(least, margin.left(webs) / rate);
  }
  return least;
}

void AxialStack::end(const Margin& margin) {
  Piece& piece = pieces_[margin.piece];
  if (margin.a < slices_.size()) {
    slices_[margin.a].left = false;
  } else if (margin.b > 0) {
    piece.left = false;
  } else if (margin.a == piece.head) {
    ++piece.first;
  } else {
    --piece.last;
  }
  const auto at = [&](std::size_t j) { return slices_.begin() + static_cast<std::ptrdiff_t>(j); };
  piece.left = piece.left && piece.first <= piece.last &&
               std::any_of(at(piece.first), at(piece.last + 1),
                           [](const Slice& slice) { return slice.left; });
}

void AxialStack::retire(const Webs& webs) {
  for (const Margin& margin : margins_) {
    if (margin.left(webs) <= same_event && pieces_[margin.piece].left) end(margin);
  }
  find_margins();
}

}  // namespace grainwright
