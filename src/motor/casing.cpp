// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/motor/casing.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>

#include "grainwright/quantity.hpp"

namespace grainwright {
namespace {

constexpr double inch = 0.0254;

/// Lower case, without spaces and hyphens, "schedule" cut to "sch".
std::string plain(std::string_view name) {
  std::string text;
  for (char c : name) {
    if (c == '-' || std::isspace(static_cast<unsigned char>(c)) != 0) continue;
    text += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  }
  if (auto at = text.find("schedule"); at != std::string::npos) text.replace(at, 8, "sch");
  return text;
}

}  // namespace

const std::vector<PipeSize>& pipe_sizes() {
  // ASTM D1785, outside diameter and least wall in inches.
  static const std::vector<PipeSize> sizes = [] {
    std::vector<PipeSize> table = {
        {"3/4 sch 40", 1.050, 0.113},   {"3/4 sch 80", 1.050, 0.154},
        {"1 sch 40", 1.315, 0.133},     {"1 sch 80", 1.315, 0.179},
        {"1-1/4 sch 40", 1.660, 0.140}, {"1-1/4 sch 80", 1.660, 0.191},
        {"1-1/2 sch 40", 1.900, 0.145}, {"1-1/2 sch 80", 1.900, 0.200},
        {"2 sch 40", 2.375, 0.154},     {"2 sch 80", 2.375, 0.218},
        {"2-1/2 sch 40", 2.875, 0.203}, {"2-1/2 sch 80", 2.875, 0.276},
        {"3 sch 40", 3.500, 0.216},     {"3 sch 80", 3.500, 0.300},
        {"3-1/2 sch 40", 4.000, 0.226}, {"3-1/2 sch 80", 4.000, 0.318},
        {"4 sch 40", 4.500, 0.237},     {"4 sch 80", 4.500, 0.337},
    };
    for (PipeSize& size : table) {
      size.outer_diameter *= inch;
      size.least_wall *= inch;
    }
    return table;
  }();
  return sizes;
}

std::optional<PipeSize> find_pipe(std::string_view name) {
  const std::string wanted = plain(name);
  const auto& sizes = pipe_sizes();
  const auto found =
      std::ranges::find(sizes, wanted, [](const PipeSize& s) { return plain(s.name); });
  if (found == sizes.end()) return std::nullopt;
  return *found;
}

std::vector<Complaint> complaints(const Casing& casing) {
  std::vector<Complaint> found;
  const auto shown = [](double metres) { return show(metres, Dimension::length, UnitSystem::si); };
  const auto above_zero = [&](const char* key, double metres) {
    if (std::isfinite(metres) && metres > 0) return;
    found.push_back({key, shown(metres), "a length above zero"});
  };
  const auto zero_or_more = [&](const char* key, double metres) {
    if (std::isfinite(metres) && metres >= 0) return;
    found.push_back({key, shown(metres), "a length of zero or more"});
  };
  above_zero("bore", casing.bore);
  above_zero("wall", casing.wall);
  above_zero("grain_room", casing.grain_room);
  zero_or_more("tube_wall", casing.tube_wall);
  zero_or_more("fit", casing.fit);
  if (found.empty() && casing.grain_outer_diameter() <= 0) {
    found.push_back(
        {"tube_wall", shown(casing.tube_wall),
         "a tube that leaves room for propellant in the bore of " + shown(casing.bore)});
  }
  return found;
}

}  // namespace grainwright
