// SPDX-License-Identifier: GPL-3.0-or-later
//
// A stack cut into slices, each with a web of its own. Slices stay where they are in the cast
// piece; the ends of a segment burn their way past them.
#pragma once

#include <cstddef>
#include <vector>

#include "grainwright/grain/core.hpp"
#include "grainwright/grain/grain.hpp"

namespace grainwright {

/// Webs of all fronts, m: first of each slice, then two for each piece, its head and its nozzle
/// end. What else is integrated comes after them.
using Webs = std::vector<double>;

struct Slice {
  double top = 0;  ///< m from the head end of its piece
  double bottom = 0;
  CrossSection plane;
  bool left = true;  ///< until its wall is burned through
};

/// One segment of the stack.
struct Piece {
  Segment segment;
  std::size_t layer = 0;  ///< where it stands in the grain, from 0
  double top = 0;         ///< m from the head end of the stack
  std::size_t first = 0;  ///< slices between the ends, as far as they have burned
  std::size_t last = 0;
  std::size_t head = 0;  ///< where the ends' webs stand
  std::size_t nozzle = 0;
  bool left = true;

  [[nodiscard]] double full_area() const;  ///< m2, of the tube
  [[nodiscard]] bool has_port() const;
};

class AxialStack {
 public:
  /// Throws InputError where a slice cannot show a segment's core.
  AxialStack(const Grain& grain, int slices);

  [[nodiscard]] const std::vector<Piece>& pieces() const { return pieces_; }
  [[nodiscard]] const std::vector<Slice>& slices() const { return slices_; }
  [[nodiscard]] std::size_t web_count() const { return slices_.size() + 2 * pieces_.size(); }
  [[nodiscard]] bool left() const;

  /// Of a slice, going on smoothly (below zero) a little past its end: burning girth m, propellant
  /// section m2, open area m2, length between the ends m.
  [[nodiscard]] double girth(std::size_t slice, const Webs& webs) const;
  [[nodiscard]] double section(std::size_t slice, const Webs& webs) const;
  [[nodiscard]] double port(const Piece& piece, std::size_t slice, const Webs& webs) const;
  [[nodiscard]] double length(const Piece& piece, std::size_t slice, const Webs& webs) const;

  [[nodiscard]] double burning_area(const Webs& webs) const;
  [[nodiscard]] double volume(const Webs& webs) const;
  /// Mean web of the slices that burn sideways; of the ends where none does.
  [[nodiscard]] double mean_web(const Webs& webs) const;

  /// Metres left until something ends: a slice's wall, or an end's way past a slice.
  [[nodiscard]] double margin(const Webs& webs) const;
  /// Seconds until then at these rates.
  [[nodiscard]] double time_left(const Webs& webs, const Webs& rates) const;
  /// Takes away what has ended.
  void retire(const Webs& webs);

 private:
  /// left = room - web at `a` (- web at `b`); `a` is a slice's own web, or an end's.
  struct Margin {
    double room = 0;
    std::size_t a = 0;
    std::size_t b = 0;  ///< 0 for none: no end's web stands there
    std::size_t piece = 0;
    [[nodiscard]] double left(const Webs& webs) const {
      return room - webs[a] - (b > 0 ? webs[b] : 0);
    }
  };
  void find_margins();
  void end(const Margin& margin);

  std::vector<Piece> pieces_;
  std::vector<Slice> slices_;
  std::vector<Margin> margins_;
};

}  // namespace grainwright
