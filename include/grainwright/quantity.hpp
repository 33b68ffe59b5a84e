// SPDX-License-Identifier: GPL-3.0-or-later
//
// Quantities at the border. Inside the library every number is a double in SI (m, kg, s, Pa, N, K,
// rad); text such as "2 7/16 in" or "580 psi" becomes one here and nowhere else, and is printed
// here. Factors: NIST SP 811 (2008), appendix B; exact where the definition is exact.
#pragma once

#include <string>
#include <string_view>

namespace grainwright {

/// The kinds of quantity that a job, an option or a table may hold.
enum class Dimension {
  ratio,             ///< a plain number or a percentage: "0.95", "95 %"
  length,            ///< m
  area,              ///< m2
  volume,            ///< m3
  mass,              ///< kg
  time,              ///< s
  speed,             ///< m/s; burn rates too
  acceleration,      ///< m/s2
  pressure,          ///< Pa, absolute unless a key says gauge; stresses too
  force,             ///< N
  impulse,           ///< N s
  temperature,       ///< K; "degC" and "degF" carry their offset
  temperature_step,  ///< K; "degC" and "degF" are steps
  per_kelvin,        ///< 1/K: "0.2 %/K", "0.001 1/degF"
  angle,             ///< rad
  density,           ///< kg/m3
  mass_flux,         ///< kg/(m2 s): "1 lb/s-in2", "700 kg/m2-s"
  molar_mass,        ///< kg/mol: "39.86 g/mol", "39.86 kg/kmol"
  conductivity,      ///< W/(m K)
  specific_heat,     ///< J/(kg K)
  heat_transfer,     ///< W/(m2 K)
  frequency,         ///< Hz
  stiffness,         ///< N/m
  distance,          ///< m; a length that prints in m or ft
};

/// How results are printed.
enum class UnitSystem { us, si };

/// Reads a quantity with its unit, e.g. "2 7/16 in", "61.9 mm", "580 psi", "20 degC", "8 in/s".
/// Returns SI. Throws InputError (key empty) when the text has no number, no unit where one is due,
/// a unit of another dimension, or a number that is not finite. The sign is not judged here.
[[nodiscard]] double read_quantity(std::string_view text, Dimension dimension);

/// "a length with its unit, e.g. \"2 7/16 in\" or \"61.9 mm\"": what a key of this dimension takes.
[[nodiscard]] std::string_view example_of(Dimension dimension);

/// The name of the dimension in words: "length", "burn rate or speed", ...
[[nodiscard]] std::string_view name_of(Dimension dimension);

/// One printed quantity with its unit, rounded to `digits` significant digits (fixed notation for
/// magnitudes a person reads, trailing zeros kept off). A temperature prints in degC or degF.
/// From 10 kg on a mass prints in kg, from 1 m/s or 10 ft/s on a speed in m/s or ft/s.
[[nodiscard]] std::string show(double value, Dimension dimension, UnitSystem units, int digits = 4);

/// The unit that `show` uses, e.g. "mm" or "in"; the smaller one where it has two.
[[nodiscard]] std::string_view unit_of(Dimension dimension, UnitSystem units);

/// The number, not rounded, for table columns headed by `unit_of`.
[[nodiscard]] double in_units(double value, Dimension dimension, UnitSystem units);

/// A length for the workbench: in US units decimal inches and the nearest 1/64, "2.4375 in (2
/// 7/16)", with "about" before a fraction that is off by more than a thousandth of an inch; in SI
/// "61.91 mm".
[[nodiscard]] std::string show_length(double metres, UnitSystem units);

/// The nearest 1/64 in alone, as a tape shows it: "2 7/16 in", with "about" as above.
[[nodiscard]] std::string show_fraction(double metres);

/// A length as text that `read_quantity` turns back into the same double wherever possible: whole
/// 1/64 inches as a fraction, everything else in mm with as many digits as it takes.
[[nodiscard]] std::string write_length(double metres);

/// Any quantity as text in SI-based units that `read_quantity` turns back into the same double.
[[nodiscard]] std::string write_quantity(double value, Dimension dimension);

}  // namespace grainwright
