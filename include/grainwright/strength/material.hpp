// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a part is made of: how it conducts heat, what it holds when cold, and what share of that is
// left when it is hot. Values with their sources are data (src/job/materials.toml), not code.
#pragma once

#include <string>
#include <vector>

#include "grainwright/error.hpp"

namespace grainwright {

/// A share of the cold strength that is left at a temperature.
struct StrengthPoint {
  double temperature = 0;  ///< K
  double share = 1;        ///< of the strength at room temperature, 0 to 1
  bool operator==(const StrengthPoint&) const = default;
};

/// The lap shear that a bond has reached after so long.
struct CurePoint {
  double time = 0;   ///< s after the parts were joined
  double shear = 0;  ///< Pa
  bool operator==(const CurePoint&) const = default;
};

/// SI; 0 or empty where a value is not known. Stresses at room temperature.
struct Material {
  std::string name;
  double conductivity = 0;           ///< W/(m K)
  double density = 0;                ///< kg/m3
  double specific_heat = 0;          ///< J/(kg K)
  double yield = 0;                  ///< Pa, tension
  double ultimate = 0;               ///< Pa, tension
  double shear = 0;                  ///< Pa, ultimate
  double bearing = 0;                ///< Pa, ultimate
  double rating_stress = 0;          ///< Pa, in ASTM D1785's formula: the pipe's rating for water
  double burst_stress = 0;           ///< Pa, the same for the short-time burst
  std::vector<CurePoint> cure = {};  ///< of a bond, in rising order
  std::vector<StrengthPoint> strength_at = {};  ///< in rising order of temperature
  std::string caution = {};                     ///< what a user of these numbers must know

  bool operator==(const Material&) const = default;
  /// Whether all is known that the heat in it depends on.
  [[nodiscard]] bool conducts() const {
    return conductivity > 0 && density > 0 && specific_heat > 0;
  }
  /// k / (rho cp), m2/s.
  [[nodiscard]] double diffusivity() const { return conductivity / (density * specific_heat); }
  /// Share of the cold strength at a temperature in K: straight lines between the points, the first
  /// point's below them, nothing above them; 1 where no points are known.
  [[nodiscard]] double strength_share(double temperature) const;
  /// Pa after so many seconds of cure: the last step that was reached, nothing before the first;
  /// the material's shear where it has no cure table.
  [[nodiscard]] double lap_shear(double cure_time) const;
};

[[nodiscard]] std::vector<Complaint> complaints(const Material& material);

}  // namespace grainwright
