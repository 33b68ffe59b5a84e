// SPDX-License-Identifier: GPL-3.0-or-later
//
// Well-Known Text by ISO 19125-1: the two kinds of figure that have an inside.
#include <charconv>
#include <cmath>

#include "grainwright/grain/outline.hpp"

namespace grainwright {
namespace {

class WktReader {
 public:
  WktReader(std::string_view text, double unit) : text_(text), unit_(unit) {}

  Outline read() {
    Outline outline;
    std::string kind = word();
    if (kind == "POLYGON") {
      outline.voids.push_back(region());
    } else if (kind == "MULTIPOLYGON") {
      list([&] { outline.voids.push_back(region()); });
    } else {
      fail(kind.empty() ? "no figure" : kind,
           "POLYGON ((x y, ...)) or MULTIPOLYGON (((x y, ...)))");
    }
    skip_space();
    if (next_ != text_.size()) fail(here(), "nothing after the last bracket");
    return outline;
  }

 private:
  [[noreturn]] void fail(const std::string& given, const std::string& allowed) const {
    auto [line, column] = position();
    InputError error("outline", given, allowed);
    Complaint complaint = error.complaints().front();
    complaint.place.line = line;
    complaint.place.column = column;
    throw InputError({complaint});
  }

  std::pair<int, int> position() const {
    int line = 1;
    int column = 1;
    for (char c : text_.substr(0, next_)) {
      column = c == '\n' ? 1 : column + 1;
      line += c == '\n' ? 1 : 0;
    }
    return {line, column};
  }

  // What stands at the reading place, for a message.
  std::string here() const {
    if (next_ >= text_.size()) return "the end of the text";
    std::string shown = "\"";
    for (char c : text_.substr(next_, 12)) {
      shown += c >= ' ' && c <= '~' ? c : '?';
    }
    return shown + "\"";
  }

  void skip_space() {
    while (next_ < text_.size() && std::string_view(" \t\r\n").find(text_[next_]) < 4) ++next_;
  }

  bool take(char c) {
    skip_space();
    if (next_ >= text_.size() || text_[next_] != c) return false;
    ++next_;
    return true;
  }

  std::string word() {
    skip_space();
    std::string out;
    for (; next_ < text_.size(); ++next_) {
      char c = text_[next_];
      if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
      if (c < 'A' || c > 'Z') break;
      out += c;
    }
    return out;
  }

  template <typename Item>
  void list(Item item) {
    if (!take('(')) fail(here(), "an opening bracket");
    do {
      item();
    } while (take(','));
    if (!take(')')) fail(here(), "a comma or a closing bracket");
  }

  Region region() {
    Region region;
    bool first = true;
    list([&] {
      (first ? region.outer : region.holes.emplace_back()) = ring();
      first = false;
    });
    return region;
  }

  Ring ring() {
    Ring ring;
    list([&] {
      if (ring.size() > most_corners) {
        fail("more than " + std::to_string(most_corners) + " corners", "fewer corners");
      }
      double x = number();
      ring.push_back({{x, number()}, 0});
    });
    if (ring.front().at != ring.back().at) {
      fail("an open ring", "a ring whose last point repeats its first");
    }
    ring.pop_back();
    return ring;
  }

  double number() {
    skip_space();
    double value = 0;
    const char* begin = text_.data() + next_;
    auto [end, error] = std::from_chars(begin, text_.data() + text_.size(), value);
    if (error != std::errc() || !std::isfinite(value)) fail(here(), "a number");
    next_ += static_cast<std::size_t>(end - begin);
    return value * unit_;
  }

  std::string_view text_;
  double unit_;
  std::size_t next_ = 0;
};

}  // namespace

Outline read_outline_wkt(std::string_view text, double unit_in_m) {
  return WktReader(text, unit_in_m).read();
}

}  // namespace grainwright
