# SPDX-License-Identifier: GPL-3.0-or-later
"""Reads what the reference needs from a job file."""

import math
import tomllib
from pathlib import Path

import transient
from physics import Motor, Segment
from quantities import GRAVITY, INCH, read

SHIPPED = Path(__file__).resolve().parents[2] / "src" / "job" / "propellants.toml"
GAS_CONSTANT = 8.31446261815324

# ASTM D1785: outside diameter and least walls of schedules 40 and 80, inches.
PIPES = {
    "3/4": (1.050, 0.113, 0.154), "1": (1.315, 0.133, 0.179), "1-1/4": (1.660, 0.140, 0.191),
    "1-1/2": (1.900, 0.145, 0.200), "2": (2.375, 0.154, 0.218), "2-1/2": (2.875, 0.203, 0.276),
    "3": (3.500, 0.216, 0.300), "3-1/2": (4.000, 0.226, 0.318), "4": (4.500, 0.237, 0.337),
}


def bore_and_wall(casing):
    """Average bore of a standard pipe: OD - 2.12 least wall."""
    bore = wall = None
    if "pipe" in casing:
        size, schedule = casing["pipe"].lower().replace("schedule", "sch").split(" sch ")
        od, wall_40, wall_80 = PIPES[size.strip()]
        wall = (wall_40 if schedule.strip() == "40" else wall_80) * INCH
        bore = od * INCH - 2.12 * wall
    if "bore" in casing:
        bore = read(casing["bore"], "length")
    if "wall" in casing:
        wall = read(casing["wall"], "length")
    return bore, wall


def outer_diameter(casing):
    """Of the propellant: bore less casting tube and its fit."""
    tube_wall = read(casing.get("tube_wall", "0 mm"), "length")
    return bore_and_wall(casing)[0] - 2 * tube_wall - read(casing.get("fit", "0 mm"), "length")


def plain(entry):
    """Shipped data stands as { value = …, source = … }."""
    return entry["value"] if isinstance(entry, dict) and "value" in entry else entry


def propellant_of(table):
    """Shipped data by name with whatever the job gives in its place."""
    data = dict(table)
    for shipped in tomllib.loads(SHIPPED.read_text())["propellant"]:
        if plain(shipped["name"]) == table.get("name"):
            data = {**shipped, **table}
    given_gas = "flame_temperature" in table or "molar_mass" in table
    if given_gas and "characteristic_velocity" not in table:
        data.pop("characteristic_velocity", None)

    def get(key, dimension, default=None):
        return read(plain(data[key]), dimension) if key in data else default

    gamma = get("gamma", "ratio")
    c_star = get("characteristic_velocity", "speed")
    if c_star is None:
        choked = math.sqrt(gamma) * (2 / (gamma + 1)) ** ((gamma + 1) / (2 * (gamma - 1)))
        specific = GAS_CONSTANT / get("molar_mass", "molar_mass")
        c_star = math.sqrt(specific * get("flame_temperature", "temperature")) / choked
    pieces = []
    for piece in plain(data["law"]):
        at = read(plain(piece.get("at", "1 MPa")), "pressure")
        n = read(plain(piece["n"]), "ratio")
        low = read(plain(piece["from"]), "pressure") if "from" in piece else 0.0
        high = read(plain(piece["to"]), "pressure") if "to" in piece else math.inf
        pieces.append((read(plain(piece["rate"]), "speed") / at**n, n, low, high))
    return {
        "density": get("density", "density") * get("density_ratio", "ratio", 1.0),
        "c_star": c_star,
        "gamma": gamma,
        "expansion_gamma": get("expansion_gamma", "ratio", gamma),
        "sensitivity": get("temperature_sensitivity", "per_kelvin", 0.0),
        "reference": get("reference_temperature", "temperature", 293.15),
        "law": pieces,
    }


def gas_of(job):
    """Temperature and molar mass of the chamber's gas, as shipped or as the job has them."""
    table = job["propellant"]
    data = dict(table)
    for shipped in tomllib.loads(SHIPPED.read_text())["propellant"]:
        if plain(shipped["name"]) == table.get("name"):
            data = {**shipped, **table}
    temperature = job.get("heat", {}).get("gas_temperature", plain(data["flame_temperature"]))
    return {"temperature": read(temperature, "temperature"),
            "molar_mass": read(plain(data["molar_mass"]), "molar_mass")}


def segments_of(job):
    casing = outer_diameter(job["casing"]) if "casing" in job else None
    segments = []
    for table in job.get("segment", []):
        given = table.get("outer_diameter")
        outer = read(given, "length") if given else casing
        segment = Segment(read(table["length"], "length"), outer, read(table["core"], "length"),
                          frozenset(table.get("inhibited", ["outer"])))
        segments += [segment] * table.get("count", 1)
    return segments


def motor_of(job, segments=None, throat=None):
    """The job's motor, or the same with a design's segments and throat."""
    nozzle, day = job["nozzle"], job.get("day", {})
    propellant = propellant_of(job["propellant"])
    warm = read(day.get("temperature", "293.15 K"), "temperature") - propellant["reference"]
    factor = math.exp(propellant["sensitivity"] * warm)
    given_throat = read(nozzle["throat"], "length") if "throat" in nozzle else throat
    throat = throat or given_throat
    exit_diameter = read(nozzle["exit"], "length") if "exit" in nozzle else given_throat
    if exit_diameter == given_throat:  # a straight hole, whatever the throat
        exit_diameter = throat
    return Motor(
        segments=segments_of(job) if segments is None else segments,
        density=propellant["density"],
        c_star=propellant["c_star"],
        gamma=propellant["gamma"],
        expansion_gamma=propellant["expansion_gamma"],
        law=[(a * factor, n, low, high) for a, n, low, high in propellant["law"]],
        throat=throat,
        exit=exit_diameter,
        half_angle=read(nozzle.get("half_angle", "0 deg"), "angle"),
        efficiency=read(nozzle.get("efficiency", 1.0), "ratio"),
        ambient=read(day.get("ambient_pressure", "101325 Pa"), "pressure"),
    )


def spacer_of(job):
    return read(job.get("shop", {}).get("spacer", "0 mm"), "length")


def spare_volume_of(job, motor):
    """Room for gas beside ports and gaps: a cone to the throat, and what is left of the room."""
    if "spare_volume" in job.get("firing", {}):
        return read(job["firing"]["spare_volume"], "volume")
    volume = transient.entry(motor)
    if "casing" in job:
        stack = sum(s.length for s in motor.segments) + (len(motor.segments) - 1) * motor.spacer
        over = max(0.0, read(job["casing"]["grain_room"], "length") - stack)
        volume += math.pi / 4 * outer_diameter(job["casing"]) ** 2 * over
    return volume


def profile_of(job):
    """Points of the wish's profile."""
    wish = job.get("wish", {})
    profile = wish.get("profile", "flat")
    if profile in ("flat", "for the rail"):
        return [(0, 1), (1, 1)]
    if profile == "front-loaded":
        lead = read(wish["lead"], "ratio")
        return [(0, lead), (1, 2 - lead)]
    return [tuple(read(v, "ratio") for v in point) for point in profile]


def load(path):
    return tomllib.loads(Path(path).read_text())
