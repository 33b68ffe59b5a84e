# SPDX-License-Identifier: GPL-3.0-or-later
"""Burnback and steady firing, recomputed in the plainest way with SciPy.

Nothing is shared with the program and, where it can be, not even the method: pressure is found by
bracketing the mass balance, the nozzle's exit by bracketing the area ratio, and the burn is followed
in time with an adaptive Runge-Kutta method, where the program sums over the web."""

import math
from dataclasses import dataclass, field

import numpy as np
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq, minimize_scalar

from quantities import GRAVITY

SEPARATION = 0.4  # wall pressure / ambient at which the flow leaves the wall


@dataclass(frozen=True)
class Segment:
    """One cast piece; lengths in m, inhibited faces by name."""

    length: float
    outer: float
    core: float
    inhibited: frozenset

    def bare(self, face):
        return face not in self.inhibited and not (face == "core" and self.core == 0)

    def shape(self, web):
        """Length, core and outer diameter after so much web, going on smoothly past burnout."""
        ends = self.bare("head") + self.bare("nozzle")
        return (self.length - web * ends,
                self.core + 2 * web * self.bare("core"),
                self.outer - 2 * web * self.bare("outer"))

    def area(self, web):
        length, core, outer = self.shape(web)
        area = math.pi * core * length * self.bare("core")
        area += math.pi * outer * length * self.bare("outer")
        ends = self.bare("head") + self.bare("nozzle")
        return area + ends * math.pi / 4 * (outer**2 - core**2)

    def volume(self, web):
        length, core, outer = self.shape(web)
        return math.pi / 4 * (outer**2 - core**2) * length if web < self.burnout() else 0.0

    def port(self, web):
        """Open to flow: everything in the original outline that is not propellant."""
        if web >= self.burnout():
            return math.pi / 4 * self.outer**2
        _, core, outer = self.shape(web)
        return math.pi / 4 * (core**2 + self.outer**2 - outer**2)

    def burnout(self):
        """First web at which the length or the wall is gone."""
        def left(web):
            length, core, outer = self.shape(web)
            return min(length, outer - core)
        return brentq(left, 0, self.length + self.outer, xtol=1e-18, rtol=1e-15)


@dataclass
class Motor:
    segments: list  # head end first
    density: float
    c_star: float
    gamma: float
    expansion_gamma: float
    law: list  # pieces (rate at 1 Pa, exponent, from, to), rising
    throat: float
    exit: float
    half_angle: float = 0.0
    efficiency: float = 1.0
    ambient: float = 101325.0
    spacer: float = 0.0

    def __post_init__(self):
        self.throat_area = math.pi / 4 * self.throat**2
        ends = {s.burnout() for s in self.segments}
        self.events = []
        for web in sorted(ends):
            if not self.events or web > self.events[-1] * (1 + 1e-12):
                self.events.append(web)

    def alive(self, web):
        """Segments that burn just after `web`."""
        return [s for s in self.segments if s.burnout() > web * (1 + 1e-12)]

    def area_before(self, web):
        """Burning area at `web`; at an event the value just before it."""
        return sum(s.area(web) for s in self.segments if s.burnout() >= web * (1 - 1e-12))

    def area_after(self, web):
        return sum(s.area(web) for s in self.alive(web))

    def volume(self, web):
        return sum(s.volume(web) for s in self.segments)

    # Pressure: density r(P) A = P At / c*, the lowest root; the joint where pieces leave no root.
    def pressure(self, area):
        if area <= 0:
            return self.ambient

        def surplus(log_p, piece):
            coefficient, exponent, _, _ = piece
            made = math.log(self.density * coefficient * area) + exponent * log_p
            return log_p + math.log(self.throat_area / self.c_star) - made

        for number, piece in enumerate(self.law):
            first, last = number == 0, number == len(self.law) - 1
            low = math.log(1e-6 if first else piece[2])
            high = math.log(1e15 if last else piece[3])
            if surplus(high, piece) < 0:
                continue
            if surplus(low, piece) > 0:
                found = low
            else:
                found = brentq(surplus, low, high, args=(piece,), xtol=1e-14, rtol=1e-14)
            return max(self.ambient, math.exp(found))
        raise ValueError("no pressure balances")

    def rate(self, area, pressure):
        """m/s: what the throat lets the grain burn; at ambient pressure what the law says."""
        if pressure <= self.ambient:
            coefficient, exponent, _, _ = next(
                (p for p in self.law if pressure <= p[3]), self.law[-1])
            return coefficient * pressure**exponent
        return pressure * self.throat_area / (self.c_star * self.density * area)

    # Nozzle: Mach number from area, then momentum and pressure terms.
    def thrust(self, pressure):
        k, g = self.expansion_gamma, self.gamma
        chokes_at = self.ambient * ((g + 1) / 2) ** (g / (g - 1))
        if pressure <= self.ambient:
            return 0.0
        if pressure < chokes_at:
            # A subsonic jet's thrust goes with its Mach number squared, up to where it chokes.
            mach = brentq(lambda m: (1 + (g - 1) / 2 * m**2) ** (g / (g - 1))
                          - pressure / self.ambient, 0, 1, xtol=1e-15, rtol=1e-14)
            return self.thrust(chokes_at * (1 + 1e-15)) * mach**2
        choked = math.sqrt(g) * (2 / (g + 1)) ** ((g + 1) / (2 * (g - 1)))
        root_rt = self.c_star * choked  # sqrt(R T0)
        mass_flow = pressure * self.throat_area / self.c_star

        def ratio(mach):
            return (2 / (k + 1) * (1 + (k - 1) / 2 * mach**2)) ** ((k + 1) / (2 * (k - 1))) / mach

        def part(mach):
            return (1 + (k - 1) / 2 * mach**2) ** (-k / (k - 1))

        def speed(mach):
            return mach * root_rt * math.sqrt(k / (1 + (k - 1) / 2 * mach**2))

        expansion = (self.exit / self.throat) ** 2
        mach = 1.0
        if expansion > 1 + 1e-12:
            mach = brentq(lambda m: ratio(m) - expansion, 1, 50, xtol=1e-14, rtol=1e-14)
        if pressure * part(mach) < SEPARATION * self.ambient:
            wall = SEPARATION * self.ambient / pressure
            mach = brentq(lambda m: part(m) - wall, 1, mach, xtol=1e-14, rtol=1e-14)
            expansion = ratio(mach)
        divergence = (1 + math.cos(self.half_angle)) / 2 if self.exit > self.throat else 1.0
        push = (pressure * part(mach) - self.ambient) * expansion * self.throat_area
        return max(0.0, self.efficiency * (divergence * mass_flow * speed(mach) + push))


@dataclass
class Burn:
    """A burn followed in time: pieces of dense solution between events."""

    motor: Motor
    pieces: list = field(default_factory=list)  # (web from, web to, time from, time to, solution)
    time: float = 0.0
    impulse: float = 0.0
    pressure_time: float = 0.0

    def time_at(self, web):
        for start, end, t0, t1, solution in self.pieces:
            if web <= end * (1 + 1e-12):
                if web <= start:
                    return t0
                if web >= end:
                    return t1
                return brentq(lambda t: solution(t)[0] - web, t0, t1, xtol=1e-15, rtol=1e-14)
        return self.time


def fire(motor):
    """Follows web, impulse and the integral of pressure in time, from lighting to burnout."""
    burn = Burn(motor)
    state = np.zeros(3)
    web = 0.0
    for event in motor.events:
        alive = motor.alive(web)

        def slope(_, y, alive=alive):
            area = max(sum(s.area(y[0]) for s in alive), 1e-12)
            pressure = motor.pressure(area)
            return [motor.rate(area, pressure), motor.thrust(pressure), pressure]

        def reached(_, y, event=event):
            return y[0] - event
        reached.terminal = True

        state[0] = web
        scale = np.maximum(np.abs(state), 1e-6)
        scale[0] = event
        run = solve_ivp(slope, (burn.time, 1e4), state, method="DOP853", events=reached, rtol=1e-11,
                        atol=1e-12 * scale, dense_output=True, first_step=1e-4)
        if run.status != 1:
            raise ArithmeticError(f"web {event} not reached: {run.message}")
        time = float(run.t_events[0][0])
        burn.pieces.append((web, event, burn.time, time, run.sol))
        burn.time, web, state = time, event, np.array(run.y_events[0][0])
    burn.impulse, burn.pressure_time = float(state[1]), float(state[2])
    return burn


def greatest(function, low, high, samples=200):
    """Greatest value of a smooth function in an interval: sampled, then sharpened."""
    grid = np.linspace(low, high, samples + 1)
    values = [function(x) for x in grid]
    best = int(np.argmax(values))
    top = values[best]
    left, right = grid[max(best - 1, 0)], grid[min(best + 1, samples)]
    found = minimize_scalar(lambda x: -function(x), bounds=(left, right), method="bounded",
                            options={"xatol": 1e-10 * high})
    return max(top, -found.fun)


def over_stretches(motor, function_of):
    """Greatest value over the burn of a function built from the segments alive in a stretch."""
    start, best = 0.0, -math.inf
    for event in motor.events:
        best = max(best, greatest(function_of(motor.alive(start)), start, event))
        start = event
    return best


def letter_class(impulse):
    rounded = round(impulse, 2)
    if rounded <= 0.625:
        return "1/4A"
    if rounded <= 1.25:
        return "1/2A"
    number = max(0, math.ceil(math.log2(rounded / 2.5) - 1e-12))
    return chr(ord("A") + number) if number < 26 else "over Z"


def mass_flux(motor, alive):
    """Greatest flow per open area over the segments, all gas of a segment and of those headward."""
    def at(web):
        area = sum(s.area(web) for s in alive)
        if area <= 0:
            return 0.0
        rate = motor.rate(area, motor.pressure(area))
        flow, worst = 0.0, 0.0
        for segment in motor.segments:
            burns = segment in alive
            flow += motor.density * rate * (segment.area(web) if burns else 0.0)
            if segment.core > 0 or segment.bare("outer"):
                _, core, outer = segment.shape(web)
                open_area = math.pi / 4 * (core**2 + segment.outer**2 - outer**2)
                open_area = open_area if burns else math.pi / 4 * segment.outer**2
                worst = max(worst, flow / open_area) if open_area > 0 else worst
        return worst
    return at


def summary(motor, burn=None):
    burn = burn or fire(motor)
    area_of = lambda alive: lambda web: sum(s.area(web) for s in alive)
    area_0 = motor.area_after(0)
    peak_area = over_stretches(motor, area_of)
    lowest_area = -over_stretches(motor, lambda alive: lambda web: -sum(s.area(web) for s in alive))
    pressure_0, peak_pressure = motor.pressure(area_0), motor.pressure(peak_area)
    mass = motor.density * motor.volume(0)
    ports = [s.port(0) for s in motor.segments if s.core > 0]
    mean_thrust = burn.impulse / burn.time
    return {
        "initial_burning_area_m2": area_0,
        "peak_burning_area_m2": peak_area,
        "initial_kn": area_0 / motor.throat_area,
        "peak_kn": peak_area / motor.throat_area,
        "initial_pressure_Pa": pressure_0,
        "peak_pressure_Pa": peak_pressure,
        "mean_pressure_Pa": burn.pressure_time / burn.time,
        "lowest_pressure_Pa": motor.pressure(lowest_area),
        "initial_thrust_N": motor.thrust(pressure_0),
        "peak_thrust_N": motor.thrust(peak_pressure),
        "mean_thrust_N": mean_thrust,
        "burn_time_s": burn.time,
        "total_impulse_Ns": burn.impulse,
        "specific_impulse_s": burn.impulse / (mass * GRAVITY),
        "propellant_mass_kg": mass,
        "letter_class": letter_class(burn.impulse),
        "port_to_throat": min(ports) / motor.throat_area if ports else 0.0,
        "peak_mass_flux_kg_m2s": over_stretches(motor, lambda alive: mass_flux(motor, alive))
        if ports else 0.0,
        "peak_to_mean_thrust": motor.thrust(peak_pressure) / mean_thrust,
    }


def impulse_of(motor, volume):
    """The most that so much propellant could give in vacuum: thrust over pressure without its loss."""
    thrust, pressure = [], (2e7, 3e7)
    for each in pressure:
        thrust.append(motor.thrust(each))
    per_pressure = (thrust[1] - thrust[0]) / (pressure[1] - pressure[0])
    return per_pressure * motor.density * motor.c_star / motor.throat_area * volume


def misfit(motor, profile, burn=None):
    """RMS over burn time of thrust / mean thrust less the profile (points, scaled to unit mean)."""
    burn = burn or fire(motor)
    at, asked = np.array([p[0] for p in profile]), np.array([p[1] for p in profile])
    asked = asked / np.trapz(asked, at)
    mean = burn.impulse / burn.time
    total, start = 0.0, 0.0
    for _, event, t0, t1, web_at in burn.pieces:
        alive = motor.alive(start)
        start = event

        def squared(t, alive=alive, web_at=web_at):
            area = sum(s.area(web_at(t)[0]) for s in alive)
            thrust = motor.thrust(motor.pressure(area))
            return (thrust / mean - np.interp(t / burn.time, at, asked)) ** 2
        cuts = [t0, *(f * burn.time for f in at if t0 < f * burn.time < t1), t1]
        for low, high in zip(cuts, cuts[1:]):
            total += quad(squared, low, high, limit=500, epsabs=1e-11, epsrel=1e-10)[0]
    return math.sqrt(total / burn.time)
