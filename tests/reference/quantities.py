# SPDX-License-Identifier: GPL-3.0-or-later
"""Quantities with units, read from text into SI. Written apart from the program's own reader.

Factors: NIST SP 811 (2008), appendix B."""

import math
import re
from fractions import Fraction

INCH = 0.0254
POUND = 0.45359237
GRAVITY = 9.80665
POUND_FORCE = POUND * GRAVITY
PSI = POUND_FORCE / INCH**2

FACTORS = {
    "length": {"m": 1, "cm": 1e-2, "mm": 1e-3, "um": 1e-6, "in": INCH, "ft": 12 * INCH},
    "area": {"m2": 1, "cm2": 1e-4, "mm2": 1e-6, "in2": INCH**2},
    "volume": {"m3": 1, "cm3": 1e-6, "in3": INCH**3, "L": 1e-3},
    "mass": {"kg": 1, "g": 1e-3, "lb": POUND, "oz": POUND / 16},
    "time": {"s": 1, "ms": 1e-3, "min": 60, "h": 3600},
    "speed": {"m/s": 1, "cm/s": 1e-2, "mm/s": 1e-3, "in/s": INCH, "ft/s": 12 * INCH, "km/h": 1 / 3.6,
              "mph": 1609.344 / 3600},
    "pressure": {"Pa": 1, "kPa": 1e3, "MPa": 1e6, "bar": 1e5, "atm": 101325, "psi": PSI,
                 "psia": PSI, "ksi": 1e3 * PSI, "N/mm2": 1e6},
    "force": {"N": 1, "kN": 1e3, "lbf": POUND_FORCE, "kgf": GRAVITY},
    "impulse": {"N s": 1, "Ns": 1, "N-s": 1, "lbf s": POUND_FORCE, "lbf-s": POUND_FORCE},
    "angle": {"rad": 1, "deg": math.pi / 180},
    "density": {"kg/m3": 1, "g/cm3": 1e3, "lb/in3": POUND / INCH**3},
    "mass_flux": {"kg/m2-s": 1, "kg/(m2 s)": 1, "lb/s-in2": POUND / INCH**2},
    "molar_mass": {"kg/mol": 1, "g/mol": 1e-3, "kg/kmol": 1e-3},
    "per_kelvin": {"1/K": 1, "%/K": 1e-2, "1/degC": 1, "%/degC": 1e-2, "1/degF": 1.8,
                   "%/degF": 1.8e-2},
    "conductivity": {"W/m-K": 1},
    "specific_heat": {"J/kg-K": 1},
    "heat_transfer": {"W/m2-K": 1},
    "ratio": {"": 1, "%": 1e-2},
}
TEMPERATURES = {
    "K": lambda t: t,
    "degC": lambda t: t + 273.15,
    "degF": lambda t: (t + 459.67) / 1.8,
}
NUMBER = re.compile(
    r"\s*(?:(?P<whole>[+-]?\d+)[ -]+(?=\d+/\d))?"
    r"(?:(?P<top>\d+)/(?P<bottom>\d+)|(?P<plain>[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?))"
    r"\s*(?P<unit>.*?)\s*$")


def read(value, dimension):
    """SI value of a text such as "2 7/16 in", or of a bare number where the dimension is a ratio."""
    if isinstance(value, (int, float)):
        if dimension != "ratio" and value != 0:
            raise ValueError(f"{value!r}: a {dimension} needs a unit")
        return float(value)
    match = NUMBER.match(value)
    if not match:
        raise ValueError(f"{value!r}: no number")
    if match["plain"]:
        number = float(match["plain"])
    else:
        number = float(int(match["whole"] or 0) + Fraction(int(match["top"]), int(match["bottom"])))
    unit = match["unit"]
    if dimension == "temperature":
        return TEMPERATURES[unit](number)
    if unit not in FACTORS[dimension]:
        raise ValueError(f"{value!r}: no unit of {dimension}")
    return number * FACTORS[dimension][unit]
