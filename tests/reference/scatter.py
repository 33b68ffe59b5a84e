# SPDX-License-Identifier: GPL-3.0-or-later
"""A scatter, recomputed with SciPy's own scrambled Sobol points and distributions.

Every segment strays in length by itself, every mistake is a segment changed, and every motor is fired
by bracketing the mass balance at each web: nothing of the program's short cuts is in here."""

import math
from dataclasses import replace

import numpy as np
from scipy.stats import norm, qmc

import jobs
from physics import Motor
from quantities import read

DEFAULTS = {
    "burn_rate": "5 %", "density": "1 %", "characteristic_velocity": "2 %",
    "nozzle_efficiency": "2 %",
    "throat": {"limits": "0.05 mm"}, "core": {"limits": "0.1 mm"}, "length": {"limits": "0.4 mm"},
    "temperature": {"limits": "3 K"},
}
NODES, WEIGHTS = np.polynomial.legendre.leggauss(8)


def width_of(text):
    """(width, whether it is a share)."""
    if isinstance(text, str) and text.endswith("K"):
        return float(text[:-1]), False
    try:
        return read(text, "ratio"), True
    except (ValueError, KeyError):
        return read(text, "length"), False


class Spread:
    def __init__(self, entry):
        table = entry if isinstance(entry, dict) else {"sigma": entry}
        self.limits = "limits" in table
        self.name = table.get("distribution", "uniform" if self.limits else "normal")
        self.width, self.share = width_of(table["limits" if self.limits else "sigma"])

    def departure(self, u):
        if self.name == "normal":
            return norm.ppf(u) * (self.width / 3 if self.limits else self.width)
        if self.name == "uniform":
            half = self.width if self.limits else self.width * math.sqrt(3)
            return half * (2 * u - 1)
        half = self.width if self.limits else self.width * math.sqrt(6)
        return half * (math.sqrt(2 * u) - 1 if u < 0.5 else 1 - math.sqrt(2 * (1 - u)))

    def strayed(self, nominal, u):
        by = self.departure(u)
        if not self.share:
            return nominal + by
        return nominal * (math.exp(by) if self.name == "normal" else 1 + by)


def with_fault(parts, fault):
    """Parts are (weight, segment, table's number, part of its length)."""
    table = fault.get("segment", 1) - 1
    index = next(i for i, part in enumerate(parts) if part[2] == table)
    weight, segment, number, share = parts.pop(index)
    kind = fault["kind"]
    if kind == "wrong core":
        return parts + [(weight, replace(segment, core=read(fault["core"], "length")), number, share)]
    if kind == "crack":
        section = math.pi / 4 * (segment.outer**2 - segment.core**2)
        part = read(fault["extra_area"], "area") / (2 * section)
        half = segment.length / 2
        first = replace(segment, length=half, inhibited=segment.inhibited - {"nozzle"})
        second = replace(segment, length=half, inhibited=segment.inhibited - {"head"})
        assert part <= 1
        return parts + [(weight * (1 - part), segment, number, share),
                        (weight * part, first, number, share / 2),
                        (weight * part, second, number, share / 2)]
    faces = set(segment.inhibited)
    if kind == "debond":
        faces.discard("outer")
    elif kind == "face lights":
        faces.discard(fault["face"])
    else:
        faces.add(fault["face"])
    return parts + [(weight, replace(segment, inhibited=frozenset(faces)), number, share)]


def fire(motor, parts):
    """Peak pressure, burn time and peak thrust."""
    peak = time = start = 0.0
    for end in sorted({segment.burnout() for _, segment, _, _ in parts}):
        if end <= start * (1 + 1e-12):
            continue
        alive = [(w, s) for w, s, _, _ in parts if s.burnout() > start * (1 + 1e-12)]
        area = lambda web: sum(w * s.area(web) for w, s in alive)
        webs = np.linspace(start, end, 65)
        areas = [area(web) for web in webs]
        top = int(np.argmax(areas))
        near = np.linspace(webs[max(0, top - 1)], webs[min(64, top + 1)], 33)
        peak = max(peak, max(area(web) for web in near))
        for node, weight in zip(NODES, WEIGHTS):
            here = area(start + (end - start) * (node + 1) / 2)
            time += weight * (end - start) / 2 / motor.rate(here, motor.pressure(here))
        start = end
    return motor.pressure(peak), time, motor.thrust(motor.pressure(peak))


def scatter(job, log2_points, seed):
    """Peak pressures, burn times and peak thrusts of so many motors."""
    drawn = jobs.motor_of(job)
    spreads = {key: Spread(job.get("tolerance", {}).get(key, entry))
               for key, entry in DEFAULTS.items()}
    faults = [f for f in job.get("fault", []) if read(f.get("probability", 0), "ratio") > 0]
    tables = []
    for number, table in enumerate(job["segment"]):
        tables += [number] * table.get("count", 1)
    rods = sorted({s.core for s in drawn.segments})
    sensitivity = jobs.propellant_of(job["propellant"])["sensitivity"]
    count = 6 + len(rods) + len(tables) + len(faults)
    points = qmc.Sobol(count, scramble=True, seed=seed).random_base2(log2_points)
    results = []
    for point in points:
        u = iter(point)
        happened = [f for f in faults if next(u) > 1 - read(f["probability"], "ratio")]
        rate = spreads["burn_rate"].strayed(1, next(u)) * math.exp(
            sensitivity * spreads["temperature"].departure(next(u)))
        throat = drawn.throat
        parts = [(1.0, s, n, 1.0) for s, n in zip(drawn.segments, tables)]
        for fault in happened:
            if fault["kind"] == "wrong throat":
                throat = read(fault["throat"], "length")
            else:
                parts = with_fault(parts, fault)
        motor = Motor(
            segments=[], density=drawn.density * spreads["density"].strayed(1, next(u)),
            c_star=drawn.c_star * spreads["characteristic_velocity"].strayed(1, next(u)),
            gamma=drawn.gamma, expansion_gamma=drawn.expansion_gamma,
            law=[(a * rate, n, low, high) for a, n, low, high in drawn.law],
            throat=spreads["throat"].strayed(throat, next(u)), exit=drawn.exit,
            ambient=drawn.ambient, half_angle=drawn.half_angle,
            efficiency=spreads["nozzle_efficiency"].strayed(drawn.efficiency, next(u)))
        core = {rod: spreads["core"].departure(next(u)) for rod in rods}
        lengths = [next(u) for _ in tables]
        strayed = []
        for i, (weight, segment, number, share) in enumerate(parts):
            by = spreads["length"].departure(lengths[i % len(lengths)]) * share
            rod = drawn.segments[tables.index(number)].core
            strayed.append((weight, replace(segment, length=segment.length + by,
                                            core=segment.core + core[rod]), number, share))
        results.append(fire(motor, strayed))
    return np.array(results)
