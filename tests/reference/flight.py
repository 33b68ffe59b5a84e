# SPDX-License-Identifier: GPL-3.0-or-later
"""The flight of a steady firing, and of a transient one, followed in time with SciPy.

Shares the model with the program and nothing else. Steady: web, place and speed are one state over time
here, where the program follows the web while the motor burns. Transient: the pressure is that of
transient.py, smooth within its legs, where the program has straight lines between points. The air's
pressure is the hydrostatic equation integrated in geometric altitude, where the program has closed forms
for each layer."""

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

import transient
from physics import SEPARATION
from quantities import GRAVITY, read

# U.S. Standard Atmosphere 1976: bases in geopotential km and lapses in K/km.
LAYERS = ((0, -6.5), (11, 0.0), (20, 1.0), (32, 2.8), (47, 0.0), (51, -2.8), (71, -2.0))
EARTH = 6356766.0
AIR = 8314.32 / 28.9644
TOP = 80000.0


def geopotential(z):
    return EARTH * z / (EARTH + z)


def standard_temperature(z):
    height, temperature = geopotential(z) / 1000, 288.15
    for (base, lapse), above in zip(LAYERS, (*LAYERS[1:], (1e9, 0))):
        if base == 0 and height < 0:
            return temperature + lapse * height
        temperature += lapse * max(0.0, min(height, above[0]) - base)
    return temperature


@lru_cache(maxsize=8)
def log_pressure(start, warmer):
    """ln(p / p at start) over geometric altitude, integrated up to TOP, and down from there."""
    def slope(z, _):
        gravity = GRAVITY * (EARTH / (EARTH + z)) ** 2
        return [-gravity / (AIR * (standard_temperature(z) + warmer))]
    joints = [EARTH * 1000 * base / (EARTH - 1000 * base) for base, _ in LAYERS[1:]]
    pieces, value, low = [], 0.0, start
    for joint in (*(j for j in joints if start < j < TOP), TOP):
        run = solve_ivp(slope, (low, joint), [value], method="DOP853", rtol=1e-12, atol=1e-13,
                        dense_output=True)
        pieces.append((low, joint, run.sol))
        value, low = float(run.y[0][-1]), joint
    below = solve_ivp(slope, (start, -3000.0), [0.0], method="DOP853", rtol=1e-12, atol=1e-13,
                      dense_output=True).sol

    def at(z):
        if z < start:
            return float(below(z)[0])
        for piece_low, piece_high, solution in pieces:
            if z <= piece_high:
                return float(solution(z)[0])
        return -math.inf
    return at


class Air:
    def __init__(self, altitude, temperature):
        self.warmer = 0.0 if temperature is None else temperature - standard_temperature(altitude)
        from_sea = log_pressure(0.0, 0.0)
        self.pressure_there = 101325.0 * math.exp(from_sea(altitude))
        self.relative = log_pressure(altitude, self.warmer)

    def __call__(self, z):
        temperature = standard_temperature(min(z, TOP)) + self.warmer
        pressure = self.pressure_there * math.exp(self.relative(z)) if z <= TOP else 0.0
        return pressure, pressure / (AIR * temperature), math.sqrt(1.4 * AIR * temperature)


@dataclass
class Airframe:
    mass: float
    hardware: float
    section: float
    drag: list
    rail: float
    elevation: float
    altitude: float
    temperature: float | None


def airframe_of(job):
    table = job["airframe"]
    drag = table["drag_coefficient"]
    above_sea = table.get("launch_altitude", job.get("day", {}).get("altitude", "0 m"))
    warmth = table.get("air_temperature")
    return Airframe(
        mass=read(table["mass"], "mass"),
        hardware=read(table["motor_hardware"], "mass"),
        section=math.pi / 4 * read(table["diameter"], "length") ** 2,
        drag=drag if isinstance(drag, list) else [[0, drag]],
        rail=read(table["rail_length"], "length"),
        elevation=read(table.get("rail_elevation", "90 deg"), "angle"),
        altitude=read(above_sea, "length"),
        temperature=None if warmth is None else read(warmth, "temperature"))


class Ascent:
    """Forces on a rocket that has burned so much web and stands at (x, h) with velocity (vx, vh)."""

    def __init__(self, motor, airframe):
        self.motor, self.frame, self.air = motor, airframe, Air(airframe.altitude,
                                                                airframe.temperature)
        self.launch = self.air(airframe.altitude)
        self.exit_area = motor.efficiency * math.pi / 4 * motor.exit**2
        self.along = np.array([math.cos(airframe.elevation), math.sin(airframe.elevation)])
        if abs(airframe.elevation - math.pi / 2) < 1e-12:
            self.along = np.array([0.0, 1.0])

    def flows_full(self, pressure):
        """Choked, and the exit not under 0.4 of the ambient pressure."""
        k, g = self.motor.expansion_gamma, self.motor.gamma
        choked = pressure >= self.motor.ambient * ((g + 1) / 2) ** (g / (g - 1))
        expansion = (self.motor.exit / self.motor.throat) ** 2
        mach = 1.0
        if expansion > 1 + 1e-12:
            mach = brentq(lambda m: (2 / (k + 1) * (1 + (k - 1) / 2 * m**2)) **
                          ((k + 1) / (2 * (k - 1))) / m - expansion, 1, 50, xtol=1e-14, rtol=1e-14)
        wall = pressure * (1 + (k - 1) / 2 * mach**2) ** (-k / (k - 1))
        return choked and wall >= SEPARATION * self.motor.ambient

    def mass(self, web):
        return self.frame.mass + self.frame.hardware + self.motor.density * self.motor.volume(web)

    def thrust(self, area, air):
        return self.thrust_of(self.motor.pressure(area), air) if area > 0 else 0.0

    def thrust_of(self, pressure, air):
        thrust = self.motor.thrust(pressure)
        if self.flows_full(pressure):
            thrust += self.exit_area * (self.motor.ambient - air[0])
        return thrust

    def drag(self, speed, air):
        mach = speed / air[2]
        coefficient = np.interp(mach, *zip(*self.frame.drag))
        return air[1] * speed**2 / 2 * coefficient * self.frame.section

    def air_at(self, place):
        return self.air(self.frame.altitude + place[1])

    def acceleration(self, area, web, place, velocity, on_rail):
        air = self.launch if on_rail else self.air_at(place)
        return self.pushed(self.thrust(area, air), self.mass(web), air, velocity, on_rail)

    def pushed(self, thrust, mass, air, velocity, on_rail):
        speed = float(np.hypot(*velocity))
        direction = velocity / speed if speed > 0 and not on_rail else self.along
        push = (thrust - self.drag(speed, air)) / mass
        if on_rail:
            return (push - GRAVITY * self.along[1]) * self.along
        return push * direction - np.array([0.0, GRAVITY])


def fly(motor, airframe):
    """Figures in the program's keys. The rocket must lift from the start."""
    ascent = Ascent(motor, airframe)
    state = np.zeros(5)  # web, x, h, vx, vh
    time, on_rail, figures = 0.0, True, {}
    area = motor.area_after(0)
    weight = ascent.mass(0) * GRAVITY
    figures["liftoff_mass_kg"] = ascent.mass(0)
    figures["thrust_to_weight"] = ascent.thrust(area, ascent.launch) / weight
    for event in (*motor.events, math.inf):
        alive = motor.alive(state[0]) if event < math.inf else []
        while True:
            def burning(web, alive=alive):
                return sum(s.area(web) for s in alive)

            def slope(_, y, alive=alive, on_rail=on_rail):
                area = max(burning(y[0]), 1e-12) if alive else 0.0
                rate = motor.rate(area, motor.pressure(area)) if alive else 0.0
                pulled = ascent.acceleration(area, y[0], y[1:3], y[3:5], on_rail)
                return [rate, y[3], y[4], *pulled]

            def burned(_, y, event=event):
                return y[0] - event

            def left_rail(_, y):
                return float(y[1:3] @ ascent.along) - airframe.rail

            def on_top(_, y):
                return y[4]
            burned.terminal = left_rail.terminal = on_top.terminal = True
            on_top.direction = -1
            watched = ([burned] if alive else []) + [left_rail if on_rail else on_top]
            scale = np.array([motor.events[-1], 1.0, 1.0, 1.0, 1.0])
            run = solve_ivp(slope, (time, time + 1e4), state, method="DOP853", events=watched,
                            rtol=1e-11, atol=1e-12 * scale, first_step=1e-4, max_step=0.5)
            which = next(i for i, times in enumerate(run.t_events) if len(times))
            time, state = float(run.t_events[which][0]), np.array(run.y_events[which][0])
            if watched[which] is burned:
                state[0] = event
                break
            if watched[which] is on_top:
                figures["apogee_m"], figures["time_to_apogee_s"] = float(state[2]), time
                figures["apogee_downrange_m"] = float(state[1])
                if "burnout_time_s" in figures:
                    figures["best_delay_s"] = time - figures["burnout_time_s"]
                return figures
            on_rail = False
            figures["rail_exit_speed_m_s"] = float(np.hypot(*state[3:5]))
            figures["rail_exit_time_s"] = time
            figures["exit_thrust_to_weight"] = (
                ascent.thrust(burning(state[0]), ascent.air(airframe.altitude + state[2])) /
                (ascent.mass(state[0]) * GRAVITY))
        if event == motor.events[-1]:
            figures["burnout_time_s"] = time
            figures["burnout_speed_m_s"] = float(np.hypot(*state[3:5]))
            figures["burnout_height_m"] = float(state[2])
    raise ArithmeticError("no apogee")


def fly_transient(motor, chamber, airframe):
    """The flight of the transient firing. Propellant leaves in proportion to pressure, so that all of it is
    gone when the curve ends. The rocket waits on its pad for its thrust."""
    ascent = Ascent(motor, airframe)
    fired, _, legs = transient.legs_of(motor, chamber)
    whole = sum(quad(pressure, start, end, limit=500, epsrel=1e-10)[0] for start, end, pressure in legs)

    def mass(spent):
        return airframe.mass + airframe.hardware + fired["propellant_mass_kg"] * (1 - spent / whole)

    def thrust(pressure, air):
        return ascent.thrust_of(pressure, air) if pressure > 0 else 0.0

    def slope(time, state, pressure, phase):
        now = pressure(time)
        if phase == "pad":
            return [now, 0, 0, 0, 0]
        air = ascent.launch if phase == "rail" else ascent.air_at(state[1:3])
        pulled = ascent.pushed(thrust(now, air), mass(state[0]), air, state[3:5], phase == "rail")
        return [now, state[3], state[4], *pulled]

    ends = {  # of each phase: what is zero there, and which way it goes
        "pad": (lambda t, y, p, _: thrust(p(t), ascent.launch) - mass(y[0]) * GRAVITY * ascent.along[1], 1),
        "rail": (lambda t, y, *_: float(y[1:3] @ ascent.along) - airframe.rail, 1),
        "free": (lambda t, y, *_: y[4], -1),
    }
    phase, state = "pad", np.zeros(5)  # integral of pressure, x, h, vx, vh
    figures = {"liftoff_mass_kg": mass(0.0)}
    for start, end, pressure in (*legs, (legs[-1][1], 1e4, lambda _: 0.0)):
        time = start
        while time < end and phase != "over":
            reached, direction = ends[phase]
            if not (phase == "pad" and reached(time, state, pressure, phase) > 0):
                def event(*arguments, reached=reached):
                    return reached(*arguments)
                event.terminal, event.direction = True, direction
                run = solve_ivp(slope, (time, end), state, args=(pressure, phase), events=event,
                                method="DOP853", rtol=1e-10, atol=[1e-3, 1e-10, 1e-10, 1e-10, 1e-10],
                                max_step=0.5 if pressure(time) == 0 else (end - start) / 20)
                time, state = float(run.t[-1]), np.array(run.y[:, -1])
                if not len(run.t_events[0]):
                    break
            if phase == "pad":
                figures["first_motion_s"], phase = time, "rail"
            elif phase == "rail":
                figures["rail_exit_speed_m_s"] = float(np.hypot(*state[3:5]))
                figures["rail_exit_time_s"], phase = time, "free"
                figures["exit_thrust_to_weight"] = (
                    thrust(pressure(time), ascent.air_at(state[1:3])) / (mass(state[0]) * GRAVITY))
            else:
                figures["apogee_m"], figures["apogee_downrange_m"] = float(state[2]), float(state[1])
                figures["time_to_apogee_s"], phase = time, "over"
        if end == fired["burn_time_s"] and phase == "free":
            figures["burnout_time_s"] = end
            figures["burnout_speed_m_s"] = float(np.hypot(*state[3:5]))
            figures["burnout_height_m"] = float(state[2])
    if "burnout_time_s" in figures:
        figures["best_delay_s"] = figures["time_to_apogee_s"] - figures["burnout_time_s"]
    return figures
