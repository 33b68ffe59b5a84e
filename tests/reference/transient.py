# SPDX-License-Identifier: GPL-3.0-or-later
"""The transient firing once more: mass balance of a filling chamber, followed in time with SciPy.

Nothing is shared with the program but the model: pressure and web in time, where the program follows
mass of gas in the web; events found by root finding, where the program ends its legs on them."""

import math
from dataclasses import dataclass

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import minimize_scalar

from physics import fire as fire_steadily
from physics import summary as steady_summary

JOINT = 0.005  # half width, in ln P, over which a jump of the law is drawn out
IGNITER_SHARE = 0.05
OVER_AMBIENT, OF_BURNOUT = 1e-3, 1e-4  # where the tail ends
CURVE_POINTS = 200  # at least, between two events


@dataclass
class Chamber:
    """What a motor needs beside physics.Motor."""

    volume: float  # m3, free at lighting
    igniter: float  # Pa
    adiabatic: bool = False


def choked_flow(k):
    return math.sqrt(k) * (2 / (k + 1)) ** ((k + 1) / (2 * (k - 1)))


def rate(motor, pressure):
    """The law, with each jump drawn out in ln P."""
    u = math.log(pressure)

    def of(piece, at):
        return math.log(piece[0]) + piece[1] * at
    for low, high in zip(motor.law, motor.law[1:]):
        joint = math.log(high[2])
        if abs(u - joint) <= JOINT:
            start, end = of(low, joint - JOINT), of(high, joint + JOINT)
            return math.exp(start + (end - start) * (u - joint + JOINT) / (2 * JOINT))
    piece = next((p for p in motor.law if pressure <= p[3]), motor.law[-1])
    return math.exp(of(piece, u))


def outflow(motor, pressure):
    """kg/s through the throat, choked or not, at flame temperature."""
    k, back = motor.gamma, motor.ambient / pressure
    if back >= 1:
        return 0.0
    choked = pressure * motor.throat_area / motor.c_star
    critical = (2 / (k + 1)) ** (k / (k - 1))
    if back <= critical:
        return choked
    share = math.sqrt(2 * k / (k - 1) * (back ** (2 / k) - back ** ((k + 1) / k)))
    return choked * share / choked_flow(k)


def free_volume(motor, spare):
    """Ports, gaps and what there is beside."""
    volume = spare
    for number, segment in enumerate(motor.segments):
        volume += math.pi / 4 * segment.outer**2 * segment.length - segment.volume(0)
        if number + 1 < len(motor.segments):
            volume += math.pi / 4 * segment.outer**2 * motor.spacer
    return volume


def chamber_of(motor, spare):
    """As the program has it where the job says nothing."""
    return Chamber(volume=free_volume(motor, spare), igniter=igniter_pressure(motor))


def entry(motor):
    """The cone of 45 degrees from the last segment down to the throat."""
    wide, narrow = motor.segments[-1].outer / 2, motor.throat / 2
    narrow = min(wide, narrow)
    return math.pi / 3 * (wide - narrow) * (wide**2 + wide * narrow + narrow**2)


def fire(motor, chamber):
    """Figures of the transient firing in the program's keys."""
    return follow(motor, chamber)[0]


def follow(motor, chamber):
    """The figures; columns of time and pressure, tail included; when each event comes."""
    figures, columns, legs = legs_of(motor, chamber)
    return figures, columns, [end for _, end, _ in legs[:len(motor.events)]]


def legs_of(motor, chamber):
    """The figures; columns of time and pressure; (from, to, pressure at a time) of each leg, the
    tail last where there is one."""
    times, pressures, legs = [], [], []
    heat = (motor.c_star * choked_flow(motor.gamma)) ** 2
    state = np.array([0.0, chamber.igniter, 0.0, 0.0, 0.0])  # web, pressure, impulse, P dt, out
    opened = motor.volume(0) + chamber.volume
    time, web, peak, peak_thrust = 0.0, 0.0, 0.0, 0.0
    options = {"method": "DOP853", "rtol": 1e-10, "dense_output": True}
    for event in motor.events:
        alive = motor.alive(web)
        gone = opened

        def slope(t, y, alive=alive, gone=gone):
            area = sum(s.area(y[0]) for s in alive)
            left = sum(math.pi / 4 * (o**2 - c**2) * length
                       for length, c, o in (s.shape(y[0]) for s in alive))
            r, out = rate(motor, y[1]), outflow(motor, y[1])
            volume = gone - left
            rise = (motor.density * r * area - out) * heat / volume - y[1] * r * area / volume
            return [r, rise, motor.thrust(y[1]), y[1], out]

        def reached(t, y, event=event):
            return y[0] - event
        reached.terminal = True
        run = solve_ivp(slope, (time, 1e4), state, events=reached, first_step=1e-6,
                        atol=1e-12 * np.array([event, 1e6, 1e2, 1e6, 1]), **options)
        state, end = run.y_events[0][0], float(run.t_events[0][0])
        best = int(np.argmax(run.y[1]))
        low, high = run.t[max(best - 1, 0)], run.t[min(best + 1, len(run.t) - 1)]
        top = minimize_scalar(lambda t: -run.sol(t)[1], bounds=(low, high), method="bounded",
                              options={"xatol": 1e-9})
        peak = max(peak, -top.fun, run.y[1].max())
        steps = np.union1d(run.t, np.linspace(time, end, CURVE_POINTS))
        times.append(steps)
        pressures.append(run.sol(steps)[1])
        legs.append((time, end, lambda t, sol=run.sol: float(sol(t)[1])))
        time, web = end, event
    burn_time, burnout = time, state.copy()
    left = blow_down(motor, chamber, heat, opened, burnout)
    times.append(burn_time + left["time"][1:])
    pressures.append(left["pressure"][1:])
    if len(left["time"]) > 1:
        legs.append((burn_time, burn_time + float(left["time"][-1]),
                     lambda t, sol=left["solution"]: float(sol(t - burn_time)[0])))
    impulse = burnout[2] + left["impulse"]
    peak_thrust = motor.thrust(peak)
    mass = motor.density * motor.volume(0)
    figures = {
        "peak_pressure_Pa": peak,
        "mean_pressure_Pa": burnout[3] / burn_time,
        "peak_thrust_N": peak_thrust,
        "mean_thrust_N": burnout[2] / burn_time,
        "burn_time_s": burn_time,
        "total_impulse_Ns": impulse,
        "propellant_mass_kg": mass,
        "gas_out_kg": burnout[4] + left["out"],
        "gas_left_kg": left["gas"],
    }
    return figures, (np.concatenate(times), np.concatenate(pressures)), legs


def blow_down(motor, chamber, heat, volume, burnout):
    start = burnout[1]
    stop = max((1 + OVER_AMBIENT) * motor.ambient, OF_BURNOUT * start)
    k = motor.gamma

    def share(pressure):
        return (pressure / start) ** ((k - 1) / k) if chamber.adiabatic else 1.0
    sums = {"impulse": 0.0, "out": 0.0, "gas": start * volume / heat,
            "time": np.zeros(1), "pressure": np.array([start])}
    if start <= stop:
        return sums

    def slope(t, y):
        flow = outflow(motor, y[0]) / math.sqrt(share(y[0]))
        fall = flow * heat * share(y[0]) * (k if chamber.adiabatic else 1) / volume
        return [-fall, motor.thrust(y[0]), flow]

    def reached(t, y):
        return y[0] - stop
    reached.terminal = True
    run = solve_ivp(slope, (0, 1e4), [start, 0.0, 0.0], events=reached, method="DOP853",
                    rtol=1e-11, atol=[1e-6, 1e-9, 1e-12], first_step=1e-6, dense_output=True)
    pressure, sums["impulse"], sums["out"] = run.y_events[0][0]
    sums["gas"] = pressure * volume / (heat * share(pressure))
    sums["time"], sums["pressure"], sums["solution"] = run.t, run.y[0], run.sol
    return sums


def igniter_pressure(motor):
    """Where the job gives none."""
    steady = steady_summary(motor, fire_steadily(motor))
    return motor.ambient + IGNITER_SHARE * steady["initial_pressure_Pa"]
