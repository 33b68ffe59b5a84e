# SPDX-License-Identifier: GPL-3.0-or-later
"""The steady firing as a careful SciPy script would do it: areas by segment, pressure in closed form,
adaptive quadrature over the web between burnouts, to 1e-9. What the library is timed against."""

import json
import sys
import timeit
from math import pi
from pathlib import Path

from scipy.integrate import quad

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "reference"))
import physics  # noqa: E402

WHOLE = (1770.0, 1500.0, 1.2, 1.2)
FIVE = (1879 * 0.95, 912.0, 1.1308, 1.043)
ONE_PIECE = [(3e-3, 0.35, 0.0, float("inf"))]
FIVE_PIECES = [(8.875e-3, 0.619, 0.103e6, 0.779e6), (7.553e-3, -0.009, 0.779e6, 2.57e6),
               (3.841e-3, 0.688, 2.57e6, 5.93e6), (17.20e-3, -0.148, 5.93e6, 8.50e6),
               (4.775e-3, 0.442, 8.50e6, 11.20e6)]


def motor(segments, pieces):
    """The motors of firing_benchmark.cpp."""
    def segment(length, core, *inhibited):
        return physics.Segment(length, 0.05, core, frozenset(("outer", *inhibited)))
    stack = [segment(0.085, 0.020)] * 3 if segments == 3 else [
        segment(0.085, 0.020), segment(0.060, 0.016), segment(0.110, 0.022, "head"),
        segment(0.040, 0.024, "head", "nozzle")]
    density, c_star, gamma, expansion_gamma = WHOLE if pieces == 1 else FIVE
    law = ONE_PIECE if pieces == 1 else FIVE_PIECES
    throat, wide = (0.009, 0.012) if pieces == 1 else (0.011, 0.014)
    return physics.Motor(stack, density, c_star, gamma, expansion_gamma,
                         [(rate / 1e6**n, n, low, high) for rate, n, low, high in law],
                         throat, wide)


def fire(m):
    """Burn time and impulse; the nozzle flows full, so thrust is linear in pressure."""
    low, high = 1e6, 2e6
    slope = (m.thrust(high) - m.thrust(low)) / (high - low)
    loss = slope * low - m.thrust(low)
    per_area = m.density * m.c_star / (pi / 4 * m.throat**2)
    powers = [(a ** (1 / (1 - n)), 1 / (1 - n), from_, to) for a, n, from_, to in m.law]

    def pressure(load):
        for scale, power, from_, to in powers:
            p = scale * load**power
            if p <= to:
                return max(p, from_)
        return p

    time = impulse = start = 0.0
    for event in m.events:
        alive = [s for s in m.segments if s.burnout() > start * (1 + 1e-12)]

        def slowness(x):
            load = per_area * sum(s.area(x) for s in alive)
            return load / pressure(load)

        def push(x):
            load = per_area * sum(s.area(x) for s in alive)
            p = pressure(load)
            return (slope * p - loss) * load / p
        time += quad(slowness, start, event, epsrel=1e-9, epsabs=0, limit=500)[0]
        impulse += quad(push, start, event, epsrel=1e-9, epsabs=0, limit=500)[0]
        start = event
    return time, impulse


def seconds_of(function):
    """Least time of several runs of one call."""
    once = timeit.timeit(function, number=1)
    number = max(1, int(0.2 / once))
    return min(timeit.repeat(function, number=number, repeat=5)) / number


def main():
    timed = {}
    for segments in (3, 4):
        for pieces in (1, 5):
            m = motor(segments, pieces)
            timed[f"{segments}/{pieces}"] = seconds_of(lambda m=m: fire(m))
    json.dump(timed, sys.stdout)


if __name__ == "__main__":
    main()
