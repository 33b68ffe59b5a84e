# SPDX-License-Identifier: GPL-3.0-or-later
"""What holds and how hot it is, from the job file alone: equal cells marched by LSODA's stiff steps,
which shares neither mesh nor stepper with the program."""

import math
import tomllib
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

import jobs
import transient
from quantities import read

SHIPPED = Path(__file__).resolve().parents[2] / "src" / "job" / "materials.toml"
CELLS = 400  # in each layer
STRENGTHS = ("yield", "ultimate", "shear", "bearing", "burst_stress")
THERMAL = {"conductivity": "conductivity", "density": "density", "specific_heat": "specific_heat"}


def materials_of(job):
    known = {}
    for table in tomllib.loads(SHIPPED.read_text())["material"] + job.get("material", []):
        plain = {key: jobs.plain(value) for key, value in table.items()}
        data = dict(known.get(plain.get("like"), {}))
        for key in STRENGTHS:
            if key in plain:
                data[key] = read(plain[key], "pressure")
        for key, dimension in THERMAL.items():
            if key in plain:
                data[key] = read(plain[key], dimension)
        if "strength_at" in plain:
            data["strength_at"] = [(read(t, "temperature"), s) for t, s in plain["strength_at"]]
        if "cure" in plain:
            data["cure"] = [(read(t, "time"), read(s, "pressure")) for t, s in plain["cure"]]
        known[plain["name"]] = data
    return known


def share(material, kelvin):
    points = material.get("strength_at")
    if not points:
        return np.ones_like(kelvin)
    temperatures, shares = zip(*points)
    return np.interp(kelvin, temperatures, shares, right=0.0)


@dataclass
class Part:
    name: str
    column: list  # (material, thickness), gas side first
    modes: list  # (capacity, material, from, to), depths behind the part's own hot side
    area: float  # sealed; 0 for the pipe
    thrust: bool
    coefficient: float | None
    bare_from: float = 0.0

    def own_depth(self):
        return sum(thickness for _, thickness in self.column[:-1])


@dataclass
class Load:
    time: np.ndarray
    pressure: np.ndarray
    thrust: np.ndarray
    ambient: float
    gas: float
    coefficient: float
    start: float


def bartz(temperature, molar_mass, gamma, c_star, pressure, throat, bore):
    """In the chamber, the wall at half the gas's temperature, the throat as curved as it is wide."""
    cp = gamma / (gamma - 1) * jobs.GAS_CONSTANT / molar_mass
    prandtl = 4 * gamma / (9 * gamma - 5)
    viscosity = 1.184081e-7 * math.sqrt(1000 * molar_mass) * temperature**0.6
    ratio = (bore / throat) ** 2
    power = (gamma + 1) / (2 * (gamma - 1))

    def area(mach):
        return (2 / (gamma + 1) * (1 + (gamma - 1) / 2 * mach**2)) ** power / mach - ratio

    mach = brentq(area, 1e-6, 1)
    warmth = 1 + (gamma - 1) / 2 * mach**2
    sigma = (0.25 * warmth + 0.5) ** -0.68 * warmth**-0.12
    return (0.026 * throat**-0.2 * viscosity**0.2 * cp * prandtl**-0.6 *
            (pressure / c_star) ** 0.8 * ratio**-0.9 * sigma)


def heated(part, load):
    """Temperatures of the cells' middles at the load's times; middles and edges, m."""
    width, k, capacity = [], [], []
    for material, thickness in part.column:
        width += [thickness / CELLS] * CELLS
        k += [material["conductivity"]] * CELLS
        capacity += [material["density"] * material["specific_heat"]] * CELLS
    width, k, capacity = map(np.array, (width, k, capacity))
    half = width / (2 * k)
    between = 1 / (half[:-1] + half[1:])
    peak = load.pressure.max()

    def coefficient(t):
        if t < part.bare_from:
            return 0.0
        if part.coefficient is not None:
            return part.coefficient
        return load.coefficient * (np.interp(t, load.time, load.pressure) / peak) ** 0.8

    def slope(t, kelvin):
        flow = np.zeros(len(kelvin) + 1)
        h = coefficient(t)
        if h > 0:
            flow[0] = (load.gas - kelvin[0]) / (1 / h + half[0])
        flow[1:-1] = between * (kelvin[:-1] - kelvin[1:])
        return (flow[:-1] - flow[1:]) / (capacity * width)

    start = np.full(len(width), load.start)
    temperatures = np.repeat(start[:, None], len(load.time), axis=1)
    begin = max(part.bare_from, load.time[0])
    after = load.time > begin
    if after.any():
        run = solve_ivp(slope, (begin, load.time[-1]), start, method="LSODA",
                        t_eval=load.time[after], rtol=1e-8, atol=1e-7, lband=1, uband=1)
        temperatures[:, after] = run.y
    edges = np.concatenate(([0], np.cumsum(width)))
    return temperatures, (edges[:-1] + edges[1:]) / 2, edges


def ratio_of(part, load):
    """The least ratio of all modes over the firing."""
    temperatures, middles, edges = heated(part, load)
    gauge = np.maximum(load.pressure - load.ambient, 0)
    forces = gauge * part.area if part.area else gauge
    if part.thrust:
        forces = np.maximum(forces - load.thrust, 0)
    least = math.inf
    own = part.own_depth()
    for capacity, material, start, end in part.modes:
        if end > start:
            inside = np.clip(np.minimum(edges[1:], own + end) - np.maximum(edges[:-1], own + start),
                             0, None)
            left = (share(material, temperatures) * inside[:, None]).sum(axis=0) / inside.sum()
        else:
            place = np.array([np.interp(own + start, middles, column)
                              for column in temperatures.T])
            left = share(material, place)
        loaded = forces > 0
        least = min(least, float((capacity * left[loaded] / forces[loaded]).min()))
    return least


def closure_modes(table, known, pipe, bore, wall):
    own = known[table["material"]]
    length = lambda key: read(table[key], "length")  # noqa: E731
    if table["joint"] == "bonded":
        bond, end = known[table["bond"]], length("bond_length")
        shear = bond.get("shear")
        if "cure" in bond:
            cured = read(table["cure_time"], "time")
            shear = [stress for time, stress in bond["cure"] if time <= cured][-1]
        return [(math.pi * bore * end * shear, bond, 0.0, end)]
    pin, n, d, depth = known[table["pin_material"]], table["pins"], length("pin_diameter"), \
        length("pin_depth")
    reach, end = length("pin_reach"), length("end_distance")
    across = n * d * wall
    tension = math.pi * (bore + wall) * wall - across
    return [
        (n * math.pi / 4 * d**2 * pin["shear"], pin, depth, depth),
        (across * pin["bearing"], pin, depth, depth),
        (across * pipe["bearing"], pipe, depth, depth),
        (2 * n * (end - d / 2) * wall * pipe["shear"], pipe, depth, depth),
        (tension * pipe["ultimate"], pipe, depth, depth),
        (n * d * reach * own["bearing"], own, depth, depth),
        (2 * n * (depth - d / 2) * reach * own["shear"], own, 0.0, depth),
    ]


def parts_of(job, known, burnt_through):
    bore, wall = jobs.bore_and_wall(job["casing"])
    pipe = known[job["casing"]["material"]]
    liner = (known[job["casing"].get("tube_material", "paper")],
             read(job["casing"]["tube_wall"], "length"))
    common = job.get("heat", {}).get("gas_coefficient")
    common = read(common, "heat_transfer") if common else None
    burst = (2 * pipe["burst_stress"] * wall / (bore + wall), pipe, 0.0, wall)
    parts = [Part("pipe under the grain", [liner, (pipe, wall)], [burst], 0, False, common,
                  burnt_through),
             Part("pipe at the bare ends", [liner, (pipe, wall)], [burst], 0, False, common)]
    for end, name in (("head", "head closure"), ("nozzle", "nozzle seat")):
        table = job["closure"][end]
        column = [(known[m], read(t, "length")) for m, t in table.get("protection", [])]
        column.append((known[table["material"]], read(table["thickness"], "length")))
        own = table.get("gas_coefficient")
        parts.append(Part(name, column, closure_modes(table, known, pipe, bore, wall),
                          math.pi / 4 * bore**2, end == "nozzle",
                          read(own, "heat_transfer") if own else common))
    return parts


def firing_of(job, motor):
    """Times, pressures, thrusts and the moment of burn-through, by the transient model."""
    motor.spacer = jobs.spacer_of(job)
    chamber = transient.chamber_of(motor, jobs.spare_volume_of(job, motor))
    _, (times, pressures), events = transient.follow(motor, chamber)
    return times, pressures, np.array([motor.thrust(p) for p in pressures]), events[0]


def firing_from(curve):
    """The same from a curve as `fire --json` has it: what is checked then is the heat and the strength."""
    times = np.array(curve["time_s"])
    once = np.append(True, np.diff(times) > 0)  # an event stands twice
    times, web, pressures, thrusts = (
        np.array(curve[key])[once] for key in ("time_s", "web_m", "pressure_Pa", "thrust_N"))
    return times, pressures, thrusts, times[np.argmax(web >= web.max() * (1 - 1e-9))]


def margins(job, curve=None):
    """Least ratio of each part, by name."""
    motor = jobs.motor_of(job)
    times, pressures, thrusts, burnt_through = (
        firing_of(job, motor) if curve is None else firing_from(curve))
    gas = jobs.gas_of(job)
    bore, _ = jobs.bore_and_wall(job["casing"])
    load = Load(time=times, pressure=pressures,
                thrust=thrusts,
                ambient=motor.ambient, gas=gas["temperature"],
                coefficient=bartz(gas["temperature"], gas["molar_mass"], motor.gamma,
                                  motor.c_star, pressures.max(), motor.throat, bore),
                start=read(job.get("day", {}).get("temperature", "293.15 K"), "temperature"))
    known = materials_of(job)
    return {part.name: ratio_of(part, load)
            for part in parts_of(job, known, burnt_through)}
