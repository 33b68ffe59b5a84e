# SPDX-License-Identifier: GPL-3.0-or-later
"""The ports at lighting once more: the differential equations along each port, followed with SciPy,
where the program goes slice by slice. Every relation is solved by bracketing."""

import math

from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from transient import choked_flow, outflow, rate


class Choked(Exception):
    """A port cannot pass what comes."""


class Gas:
    def __init__(self, motor):
        self.k = motor.gamma
        self.heat = (motor.c_star * choked_flow(motor.gamma)) ** 2

    def stagnation(self, mach):
        """p0 / p."""
        return (1 + (self.k - 1) / 2 * mach**2) ** (self.k / (self.k - 1))

    def flow(self, mach):
        """m sqrt(R T0) / (p A)."""
        return mach * math.sqrt(self.k * (1 + (self.k - 1) / 2 * mach**2))

    def mach(self, function, value):
        """Subsonic Mach number at which a rising function has a value."""
        if function(1.0) < value:
            raise Choked
        return brentq(lambda m: function(m) - value, 0, 1, xtol=1e-15, rtol=1e-14)

    def gathered(self, flow, area, thrust):
        """Pressure and Mach number from flow and p + m u / A."""
        w = flow * math.sqrt(self.heat) / (area * thrust)
        mach = self.mach(lambda m: self.flow(m) / (1 + self.k * m**2), w)
        return thrust / (1 + self.k * mach**2), mach

    def narrowed(self, flow, area, stagnation):
        w = flow * math.sqrt(self.heat) / (area * stagnation)
        mach = self.mach(lambda m: self.flow(m) / self.stagnation(m), w)
        return stagnation / self.stagnation(mach), mach


def enter(gas, area, added, stream):
    """Through a gap in which `added` joins: (area, flow, pressure, Mach number)."""
    old, flow, pressure, mach = stream
    momentum = gas.k * mach**2 * pressure * old if mach > 0 else 0.0
    if area >= old:
        return (area, flow + added, *gas.gathered(flow + added, area, pressure + momentum / area))
    if mach > 0:
        pressure, mach = gas.gathered(flow + added, old, pressure + momentum / old)
    stagnation = pressure * gas.stagnation(mach)
    return (area, flow + added, *gas.narrowed(flow + added, area, stagnation))


def march(motor, head):
    """Flow and stagnation pressure at the nozzle, and (position, pressure, Mach) along the ports."""
    gas = Gas(motor)
    stream, waiting, top, stations = (math.inf, 0.0, head, 0.0), 0.0, 0.0, []

    def face():
        return motor.density * rate(motor, stream[2])
    for segment in motor.segments:
        section = math.pi / 4 * (segment.outer**2 - segment.core**2)
        if segment.bare("head"):
            waiting += face() * section
        if segment.core > 0:
            area = math.pi / 4 * segment.core**2
            stream, waiting = enter(gas, area, waiting, stream), 0.0
            girth = math.pi * segment.core if segment.bare("core") else 0.0
            thrust = stream[2] * (1 + gas.k * stream[3] ** 2)

            def slope(_, y, area=area, girth=girth, thrust=thrust):
                return [motor.density * rate(motor, gas.gathered(y[0], area, thrust)[0]) * girth]
            run = solve_ivp(slope, (0, segment.length), [stream[1]], rtol=1e-11, atol=1e-14,
                            dense_output=True)
            stations.append((top, segment.length, area, thrust, run.sol))
            flow = float(run.y[0, -1])
            stream = (area, flow, *gas.gathered(flow, area, thrust))
        if segment.bare("nozzle"):
            waiting += face() * section
        top += segment.length + motor.spacer
    area, flow, pressure, mach = stream
    if math.isinf(area):
        flow += waiting
    elif waiting:
        thrust = pressure * (1 + gas.k * mach**2)
        flow += waiting
        pressure, mach = gas.gathered(flow, area, thrust)
    return flow, pressure * gas.stagnation(mach), mach, stations


def at_lighting(motor):
    """Head pressure, nozzle stagnation pressure, Mach number at the nozzle's entry, and a function
    of position that gives pressure and Mach number in the port."""
    def surplus(log_head):
        try:
            flow, stagnation, _, _ = march(motor, math.exp(log_head))
        except Choked:
            return 100.0
        out = outflow(motor, stagnation)
        return math.log(flow / out) if out > 0 else 100.0
    start = math.log(motor.pressure(motor.area_after(0)))
    head = math.exp(brentq(surplus, start - 0.05, start + 0.7, xtol=1e-13, rtol=1e-13))
    _, stagnation, mach, stations = march(motor, head)
    gas = Gas(motor)

    def port(position):
        for top, length, area, thrust, solution in stations:
            if top <= position <= top + length:
                return gas.gathered(float(solution(position - top)[0]), area, thrust)
        raise ValueError(position)
    return head, stagnation, mach, port
