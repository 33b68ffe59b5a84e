# SPDX-License-Identifier: GPL-3.0-or-later
"""Makes up firings on a thrust stand whose truth is known, with a transient model of its own: INVENTED logs.

It shares no code with the program, nor with the other references. The motor is a stack of equal segments with
round cores, both ends bare. Pressure and web are followed in time by SciPy (LSODA) from the mass balance of a
chamber that fills; the burn rate is f(u) a P^n with any factor f over the share u of the web. The surface lights
over a time, the igniter pushes, the throat may not be the job's, and the scale and its logger do what such do.

    python3 stand_logs.py FOLDER SEED [KEY=VALUE ...]     writes log.csv, job.toml, truth.json

Source of the balance: NASA SP-8039; of a rate that changes along the web: NASA SP-8075. Every random number comes
from the seed."""

import json
import math
import sys
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq
from scipy.signal import lfilter

AMBIENT = 101325.0
CHOKED = 1.0


@dataclass
class Motor:
    """A stack of equal segments; SI."""

    count: int = 3
    length: float = 0.062
    outer: float = 0.0365
    core: float = 0.019
    spacer: float = 0.0015
    throat: float = 0.011
    exit: float = 0.020
    efficiency: float = 0.82
    density: float = 1800.0
    c_star: float = 900.0
    gamma: float = 1.14
    rate: float = 8.5e-3  # at 1 MPa
    n: float = 0.32
    web: str = "even"  # shape of the factor over the web
    depth: float = 0.0  # of that shape

    def factor(self, share):
        """f over the share of the web, before it is made 1 in the (harmonic) mean."""
        shapes = {
            "even": lambda u: 1 + 0 * u,
            "early": lambda u: 1 + self.depth * np.exp(-u / 0.25),
            "falling": lambda u: 1 - self.depth * u,
            "hump": lambda u: 1 + self.depth * np.sin(math.pi * u),
            "rising": lambda u: 1 + self.depth * u * u,
        }
        return shapes[self.web](share)

    @property
    def burnout(self):
        return min((self.outer - self.core) / 2, self.length / 2)

    def area(self, x):
        inner, left = self.core + 2 * x, self.length - 2 * x
        return self.count * (math.pi * inner * left + math.pi / 2 * (self.outer**2 - inner**2))

    def volume(self, x):
        return self.count * math.pi / 4 * (self.outer**2 - (self.core + 2 * x) ** 2) * (self.length - 2 * x)

    @property
    def mass(self):
        return self.density * self.volume(0.0)

    @property
    def throat_area(self):
        return math.pi / 4 * self.throat**2


@dataclass
class Flaws:
    """What the stand, its logger and the lighting do."""

    rate: float = 500.0  # Hz
    noise: float = 1.5  # N
    tare: float = 14.0
    drift: float = 0.0  # N over the log
    before: float = 0.8  # s
    after: float = 1.0
    scale: float = 1.0
    clock: float = 1.0  # logged over true time
    lag: float = 0.0  # s, first order
    jitter: float = 0.0  # of the sampling moments, share of a step
    soft: float = 0.0  # s over which the surface lights
    spike: float = 0.0  # N, the igniter's push
    spike_time: float = 0.02
    clip: float = math.inf  # of the peak
    soft_clip: float = 0.0  # share of the peak where the scale bends over
    drop_every: int = 0
    untimed: bool = False
    cut_from: float = -math.inf  # share of the burn
    cut_to: float = math.inf
    twice: bool = False
    unit: str = "N"
    label: str = ""  # another unit than that which is written


UNITS = {"N": 1.0, "lbf": 4.4482216152605, "kg": 9.80665, "kN": 1000.0}


def flow_function(k):
    return math.sqrt(k) * (2 / (k + 1)) ** ((k + 1) / (2 * (k - 1)))


def pressure_ratio(mach, k):
    return (1 + (k - 1) / 2 * mach * mach) ** (-k / (k - 1))


def area_ratio(mach, k):
    return ((2 / (k + 1)) * (1 + (k - 1) / 2 * mach * mach)) ** ((k + 1) / (2 * (k - 1))) / mach


def vacuum_coefficient(back, k):
    """Momentum part of the ideal thrust coefficient for an expansion to `back` times chamber pressure."""
    expanded = 1 - back ** ((k - 1) / k)
    return math.sqrt(2 * k * k / (k - 1) * (2 / (k + 1)) ** ((k + 1) / (k - 1)) * expanded)


class Nozzle:
    """Ideal thrust: the exit flows full, or the flow leaves the wall where it has come down to ambient."""

    def __init__(self, motor):
        k = motor.gamma
        self.motor, self.k = motor, k
        ratio = (motor.exit / motor.throat) ** 2
        mach = 1.0 if ratio <= 1 else brentq(lambda m: area_ratio(m, k) - ratio, 1 + 1e-9, 20)
        self.back, self.ratio = pressure_ratio(mach, k), ratio
        self.full = vacuum_coefficient(self.back, k)
        self.critical = pressure_ratio(1.0, k)

    def thrust(self, pressure):
        k, area = self.k, self.motor.throat_area
        if pressure <= AMBIENT:
            return 0.0
        if self.back * pressure >= AMBIENT or self.back * pressure > 0.4 * AMBIENT:
            ideal = self.full + (self.back - AMBIENT / pressure) * self.ratio
        elif AMBIENT / pressure < self.critical:
            ideal = vacuum_coefficient(AMBIENT / pressure, k)
        else:
            share = self.flow_share(pressure)
            speed = math.sqrt(2 * k / (k - 1) * (1 - (AMBIENT / pressure) ** ((k - 1) / k)))
            ideal = share * flow_function(k) * speed
        return self.motor.efficiency * max(0.0, ideal) * pressure * area

    def flow_share(self, pressure):
        k, back = self.k, AMBIENT / pressure
        if back <= self.critical:
            return CHOKED
        if back >= 1:
            return 0.0
        return math.sqrt(2 * k / (k - 1) * (back ** (2 / k) - back ** ((k + 1) / k))) / flow_function(k)


def fired(motor, soft=0.0):
    """Columns of time from lighting, pressure and thrust."""
    heat = (motor.c_star * flow_function(motor.gamma)) ** 2
    nozzle = Nozzle(motor)
    stack = motor.count * motor.length + (motor.count - 1) * motor.spacer
    narrow = motor.throat / 2
    cone = math.pi / 3 * (motor.outer / 2 - narrow) * (
        motor.outer**2 / 4 + motor.outer / 2 * narrow + narrow**2)
    tube = math.pi / 4 * motor.outer**2 * stack + cone
    shares = np.linspace(0, 1, 2001)
    mean = 1 / np.trapz(1 / motor.factor(shares), shares)
    grid = [float(one) for one in motor.factor(shares) / mean] + [0.0, 0.0]
    grid[-2:] = [grid[-3]] * 2
    a, n = motor.rate * 1e-6**motor.n, motor.n

    def slope(t, y, lit=True):
        web, pressure = y
        burning = lit and web < motor.burnout
        share = 1.0 if soft <= 0 else min(1.0, 0.08 + 0.92 * max(t, 0) / soft)
        rate = 0.0
        if burning:
            place = 2000 * web / motor.burnout
            low = int(place)
            factor = grid[low] + (place - low) * (grid[low + 1] - grid[low])
            rate = a * max(pressure, 1.0) ** n * factor
        area = share * motor.area(web) if burning else 0.0
        out = nozzle.flow_share(pressure) * pressure * motor.throat_area / motor.c_star \
            if pressure > AMBIENT else 0.0
        left = motor.volume(min(web, motor.burnout))
        gas = tube - left
        made = motor.density * rate * area - out
        return [rate * (share if soft > 0 else 1.0), made * heat / gas - pressure * rate * area / gas]

    def gone(t, y):
        return y[0] - motor.burnout
    gone.terminal = True
    start = [0.0, AMBIENT + 0.05 * 3e6]
    burn = solve_ivp(slope, (0, 60), start, method="LSODA", events=gone, rtol=1e-7, atol=[1e-9, 1.0],
                     max_step=0.01, dense_output=True)
    end = burn.t[-1]

    def tail(t, y):
        return slope(t, [motor.burnout, y[0]], lit=False)[1:]
    after = solve_ivp(tail, (end, end + 0.4), [burn.y[1][-1]], method="LSODA", rtol=1e-7, atol=1.0,
                      dense_output=True)
    times = np.concatenate([np.arange(0, end, 1e-4), [end], np.arange(end + 1e-4, end + 0.4, 1e-4)])
    pressure = np.where(times <= end, burn.sol(np.minimum(times, end))[1],
                        after.sol(np.maximum(times, end))[0])
    known = np.concatenate([np.linspace(AMBIENT, 2 * AMBIENT, 60),
                            np.linspace(2 * AMBIENT, max(pressure.max(), 3 * AMBIENT), 300)[1:]])
    thrust = np.interp(pressure, known, [nozzle.thrust(one) for one in known], left=0)
    return times, pressure, thrust, end


def reading(motor, flaws, seed):
    """Logged times and readings in N, and the truth of the firing."""
    rng = np.random.default_rng(seed)
    times, pressure, thrust, end = fired(motor, flaws.soft)
    if flaws.twice:
        gap = 1.5
        times = np.concatenate([times, times + times[-1] + gap])
        thrust = np.concatenate([thrust, thrust])
        last = times[-1]
    else:
        last = end
    step = 1 / flaws.rate
    when = np.arange(-flaws.before, last + flaws.after, step)
    fine = 1e-4
    grid = np.arange(when[0], when[-1] + fine, fine)
    push = np.interp(grid, times, thrust, left=0, right=0)
    if flaws.spike > 0:
        phase = (grid + 0.5 * flaws.spike_time) / flaws.spike_time
        push += np.where((phase > 0) & (phase < 1), flaws.spike * np.sin(math.pi * phase), 0)
    if flaws.lag > 0:
        keep = math.exp(-fine / flaws.lag)
        push = lfilter([1 - keep], [1, -keep], push)
    peak = push.max()
    if flaws.soft_clip > 0:
        knee = flaws.soft_clip * peak
        push = knee * np.tanh(push / knee)
    taken = when + flaws.jitter * step * rng.uniform(-0.5, 0.5, len(when))
    value = flaws.scale * np.interp(taken, grid, push)
    value = np.minimum(value, flaws.clip * peak)
    value += flaws.tare + flaws.drift * (when - when[0]) / (when[-1] - when[0])
    value += rng.normal(0, flaws.noise, len(when))
    logged = (when - when[0]) * flaws.clock
    keep = (when >= flaws.cut_from * end) & (when <= flaws.cut_to * end)
    if flaws.drop_every:
        keep &= np.arange(len(when)) % flaws.drop_every != flaws.drop_every - 1
    truth = {"peak_pressure_Pa": float(pressure.max()), "peak_thrust_N": float(thrust.max()),
             "burn_time_s": float(end), "impulse_Ns": float(np.trapz(thrust, times)),
             "motor": asdict(motor), "flaws": {k: v for k, v in asdict(flaws).items()}}
    return logged[keep], value[keep], truth


def log_text(time, value, flaws):
    unit = flaws.label or flaws.unit
    head = f"force ({unit})" if flaws.untimed else f"time (s),force ({unit})"
    scale = 1 / UNITS[flaws.unit]
    lines = ["# an invented log: no such motor was fired", head]
    for t, v in zip(time, value):
        lines.append(f"{v * scale:.5g}" if flaws.untimed else f"{t:.5f},{v * scale:.5g}")
    return "\n".join(lines) + "\n"


@dataclass
class JobSays:
    """What the job believes, where the truth is another."""

    rate: float = 8.0e-3
    n: float = 0.32
    efficiency: float = 0.85
    throat: float = 0.0  # 0: the true one
    c_star: float = 0.0
    extra: str = field(default="")


def job_text(motor, says):
    throat = says.throat or motor.throat
    c_star = says.c_star or motor.c_star
    return f"""[job]
title = "Made up"
units = "si"

[propellant]
name = "invented"
density = "{motor.density:.10g} kg/m3"
characteristic_velocity = "{c_star:.10g} m/s"
gamma = {motor.gamma:.10g}
[[propellant.law]]
rate = "{says.rate * 1e3:.10g} mm/s"
at = "1 MPa"
n = {says.n:.10g}

[nozzle]
throat = "{throat * 1e3:.10g} mm"
exit = "{motor.exit * 1e3:.10g} mm"
efficiency = {says.efficiency:.10g}

[[segment]]
count = {motor.count}
length = "{motor.length * 1e3:.10g} mm"
core = "{motor.core * 1e3:.10g} mm"
outer_diameter = "{motor.outer * 1e3:.10g} mm"
{says.extra}"""


def written(folder, name, motor, says, flaws, seed):
    """Writes the log and its job; gives their paths and the truth."""
    folder = Path(folder)
    time, value, truth = reading(motor, flaws, seed)
    log, job = folder / f"{name}.csv", folder / f"{name}.toml"
    log.write_text(log_text(time, value, flaws), encoding="utf-8")
    job.write_text(job_text(motor, says), encoding="utf-8")
    return log, job, truth


def main(folder, seed, *given):
    motor, says, flaws = Motor(), JobSays(), Flaws()
    for word in given:
        key, value = word.split("=", 1)
        target, name = key.split(".")
        holder = {"motor": motor, "job": says, "log": flaws}[target]
        kind = type(getattr(holder, name))
        changed = replace(holder, **{name: kind(eval(value)) if kind is bool else kind(value)})
        if target == "motor":
            motor = changed
        elif target == "job":
            says = changed
        else:
            flaws = changed
    _, _, truth = written(folder, "log", motor, says, flaws, int(seed))
    print(json.dumps(truth, indent=1))


if __name__ == "__main__":
    main(*sys.argv[1:])
