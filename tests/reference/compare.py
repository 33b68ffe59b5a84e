#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""compare.py PROGRAM JOB...: what the program answers for each job against the reference, to 1e-6.

A job with segments is burnt back and fired by all three models; one with cores that are not plain is burnt back and
fired steadily, to what its own reference is good for. A job with a wish and a shop is designed too: every design of
the shortlist is fired and its misfit worked out again, then the first one is saved and its file compared as a job of
its own. Prints each difference; exit 1 when there is any."""

import json
import math
import subprocess
import sys
import tempfile
from pathlib import Path

import axial
import cores
import flight
import jobs
import physics
import transient
from quantities import read

TOLERANCE = 1e-6
FINE_SLICES = 400  # the program goes by slices, to the second order
POLYGONS = 2e-5  # round parts are polygons in the reference of cores
STRAIGHT = 3e-5  # what a curve of straight lines does to a transient flight; with finer ones the two converge
STEPS, STEPPED = 1500, 1e-3  # of web for one kind of segment, where that reference fires; what they leave
FINE, NO = 0, 1  # exit codes that come with an answer: a broken limit still has figures


class Report:
    def __init__(self):
        self.checked = 0
        self.largest = 0.0
        self.differences = []

    def number(self, where, got, expected, scale=0.0, tolerance=TOLERANCE):
        """Relative to what is expected, or to `scale` where a column runs to zero."""
        self.checked += 1
        size = max(abs(expected), scale)
        off = abs(got - expected) / size if size > 0 else abs(got)
        self.largest = max(self.largest, off * TOLERANCE / tolerance)
        if not off <= tolerance:
            self.differences.append(f"{where}: program {got!r}, reference {expected!r}")

    def text(self, where, got, expected):
        self.checked += 1
        if got != expected:
            self.differences.append(f"{where}: program {got!r}, reference {expected!r}")

    def column(self, where, got, expected):
        self.number(f"{where}: length", len(got), len(expected))
        scale = max((abs(value) for value in expected), default=0.0)
        for index, (one, other) in enumerate(zip(got, expected)):
            self.number(f"{where}[{index}]", one, other, scale)


def answer(program, *arguments):
    """The program's JSON, or nothing where it has none to give."""
    run = subprocess.run([program, *map(str, arguments), "--json"], capture_output=True, text=True,
                         check=False)
    if run.returncode not in (FINE, NO) or not run.stdout:
        raise RuntimeError(f"{' '.join(map(str, arguments))}: exit {run.returncode}: {run.stderr}")
    return json.loads(run.stdout)


def areas_at(motor, webs):
    """Burning area at each web. An event that stands twice has its areas before and after."""
    areas = []
    for index, web in enumerate(webs):
        second = index > 0 and webs[index - 1] >= web * (1 - 1e-12)
        areas.append(motor.area_after(web) if web == 0 or second else motor.area_before(web))
    return areas


def compare_summary(report, where, got, motor, burn):
    expected = physics.summary(motor, burn)
    for key, value in got.items():
        if isinstance(value, str):
            report.text(f"{where}: {key}", value, expected[key])
        else:
            report.number(f"{where}: {key}", value, expected[key])


def compare_burnback(report, where, got, motor):
    webs = got["web_m"]
    report.column(f"{where}: burning_area_m2", got["burning_area_m2"], areas_at(motor, webs))
    report.column(f"{where}: propellant_volume_m3", got["propellant_volume_m3"],
                  [motor.volume(web) for web in webs])


def compare_curve(report, where, got, motor, burn):
    webs = got["web_m"]
    areas = areas_at(motor, webs)
    pressures = [motor.pressure(area) for area in areas]
    expected = {
        "time_s": [burn.time_at(web) for web in webs],
        "burning_area_m2": areas,
        "kn": [area / motor.throat_area for area in areas],
        "pressure_Pa": pressures,
        "thrust_N": [motor.thrust(pressure) for pressure in pressures],
    }
    for key, values in expected.items():
        report.column(f"{where}: {key}", got[key], values)


def compare_segments(report, program, path):
    job = jobs.load(path)
    name = Path(path).name
    motor = jobs.motor_of(job)
    burn = physics.fire(motor)
    compare_burnback(report, f"{name}: burnback", answer(program, "burnback", path)["burnback"],
                     motor)
    fired = answer(program, "fire", path, "--model", "steady")
    compare_summary(report, f"{name}: fire", fired["summary"], motor, burn)
    compare_curve(report, f"{name}: curve", fired["curve"], motor, burn)
    if "misfit" in fired.get("wish", {}):
        report.number(f"{name}: misfit", fired["wish"]["misfit"],
                      physics.misfit(motor, jobs.profile_of(job), burn))


def compare_cores(report, program, path):
    """Segments whose cores are not plain: volumes by polygons, and a firing by steps."""
    job = jobs.load(path)
    name = Path(path).name
    shapes = []
    for table in job["segment"]:
        outer = table.get("outer_diameter")
        outer = jobs.read(outer, "length") if outer else jobs.outer_diameter(job["casing"])
        shapes.append((cores.shape_of(table, outer), table.get("count", 1)))
    got = answer(program, "burnback", path)["burnback"]
    whole = got["propellant_volume_m3"][0]
    for web, volume in zip(got["web_m"], got["propellant_volume_m3"]):
        report.number(f"{name}: volume at {web:g} m", volume, cores.volume(shapes, web), whole,
                      POLYGONS)
    motor = jobs.motor_of(job, segments=[])
    fired = answer(program, "fire", path, "--model", "steady")
    kinds = len(shapes)
    time, impulse = cores.fire(shapes, motor, got["web_m"][-1], STEPS // kinds)
    report.number(f"{name}: propellant", fired["summary"]["propellant_mass_kg"],
                  motor.density * cores.volume(shapes, 0), 0, POLYGONS)
    report.number(f"{name}: burn time", fired["summary"]["burn_time_s"], time, 0,
                  STEPPED * kinds)
    report.number(f"{name}: impulse", fired["summary"]["total_impulse_Ns"], impulse, 0,
                  STEPPED * kinds)


def compare_transient(report, program, path):
    job = jobs.load(path)
    motor = jobs.motor_of(job)
    motor.spacer = jobs.spacer_of(job)
    chamber = transient.chamber_of(motor, jobs.spare_volume_of(job, motor))
    expected = transient.fire(motor, chamber)
    fired = answer(program, "fire", path)
    got = {**fired["summary"], **fired["transient"]}
    for key, value in expected.items():
        report.number(f"{Path(path).name}: transient: {key}", got[key], value)


def compare_axial(report, program, path):
    """At lighting, where the equations along the port can be followed without slices."""
    job = jobs.load(path)
    motor = jobs.motor_of(job)
    motor.spacer = jobs.spacer_of(job)
    if any(segment.bare("outer") for segment in motor.segments):
        return
    head, stagnation, _, port = axial.at_lighting(motor)
    fired = answer(program, "fire", path, "--model", "axial", "--slices", FINE_SLICES)
    where = f"{Path(path).name}: axial at lighting"
    report.number(f"{where}: head pressure", fired["curve"]["pressure_Pa"][0], head)
    report.number(f"{where}: nozzle pressure", fired["curve"]["nozzle_pressure_Pa"][0], stagnation)
    first = fired["axial"]["profiles"][0]
    for index in range(0, len(first["position_m"]), 7):
        pressure, mach = port(first["position_m"][index])
        report.number(f"{where}: pressure {index}", first["pressure_Pa"][index], pressure)
        report.number(f"{where}: mach {index}", first["mach"][index], mach, scale=1)


def compare_flight(report, where, got, motor, job):
    if got["end"] != "apogee":
        return
    for key, value in flight.fly(motor, flight.airframe_of(job)).items():
        report.number(f"{where}: {key}", got[key], value, scale=1e-3)


def compare_flights(report, program, path):
    """Of the steady firing, and of the transient one, which is the program's own choice."""
    job = jobs.load(path)
    name = Path(path).name
    motor = jobs.motor_of(job)
    steady = answer(program, "fly", path, "--model", "steady")["fly"]
    compare_flight(report, f"{name}: steady flight", steady, motor, job)
    got = answer(program, "fly", path)["fly"]
    if got["end"] != "apogee":
        return
    motor.spacer = jobs.spacer_of(job)
    chamber = transient.chamber_of(motor, jobs.spare_volume_of(job, motor))
    expected = flight.fly_transient(motor, chamber, flight.airframe_of(job))
    for key, value in expected.items():
        scale = 1 if key.endswith("_s") else 1e-3  # a moment near lighting is no better than others
        report.number(f"{name}: transient flight: {key}", got[key], value, scale, STRAIGHT)


def is_odd(design):
    return any("core" in layer for layer in design["segments"])


def compare_odd_design(report, program, path, design, where):
    """A build with a core that is not plain: saved, it burns and fires as any such job does."""
    with tempfile.TemporaryDirectory() as folder:
        saved = Path(folder) / Path(path).name
        answer(program, "design", path, "--save", saved, "--pick", design["rank"])
        compare_cores(report, program, saved)
        fired = answer(program, "fire", saved, "--model", "steady")["summary"]
    for key, value in design["summary"].items():
        if isinstance(value, float):
            report.number(f"{where}: {key}", value, fired[key])


def compare_designs(report, program, path):
    job = jobs.load(path)
    name = Path(path).name
    found = answer(program, "design", path)
    designed = found["designs"]
    outer = jobs.outer_diameter(job["casing"])
    for design in designed:
        where = f"{name}: design {design['rank']}"
        if is_odd(design):
            compare_odd_design(report, program, path, design, where)
            continue
        segments = []
        for layer in design["segments"]:
            segment = physics.Segment(layer["length_m"], outer, layer["core_m"],
                                      frozenset(layer["inhibited"]))
            segments += [segment] * layer["count"]
        motor = jobs.motor_of(job, segments, design["throat_m"])
        burn = physics.fire(motor)
        compare_summary(report, where, design["summary"], motor, burn)
        if "fly" in design:
            compare_flight(report, f"{where}: flight", design["fly"], motor, job)
        if job["wish"].get("profile") == "for the rail":
            misfit = 1 - burn.impulse / max(
                physics.impulse_of(jobs.motor_of(job, segments, read(throat, "length")),
                                   math.pi / 4 * outer**2
                                   * read(job["casing"]["grain_room"], "length"))
                for throat in job["shop"]["throats"])
        else:
            misfit = physics.misfit(motor, jobs.profile_of(job), burn)
        report.number(f"{where}: misfit", design["misfit"], misfit)
    if not designed:
        report.text(f"{name}: nothing fits, and why", bool(found.get("reliefs")), True)
        return
    if is_odd(designed[0]):
        return
    with tempfile.TemporaryDirectory() as folder:
        saved = Path(folder) / name
        answer(program, "design", path, "--save", saved, "--pick", 1)
        compare_segments(report, program, saved)
        if "airframe" in job:
            compare_flights(report, program, saved)


def main(program, paths):
    report = Report()
    for path in paths:
        job = jobs.load(path)
        if not all(cores.is_plain(segment) for segment in job.get("segment", [])):
            compare_cores(report, program, path)
        elif "segment" in job and "nozzle" in job and "propellant" in job:
            compare_segments(report, program, path)
            compare_transient(report, program, path)
            compare_axial(report, program, path)
            if "airframe" in job:
                compare_flights(report, program, path)
        if "wish" in job and "shop" in job:
            compare_designs(report, program, path)
    for line in report.differences:
        print(line)
    print(f"{report.checked} numbers compared, {len(report.differences)} apart by more than "
          f"{TOLERANCE:g}, or what their reference is good for; the largest difference is "
          f"{report.largest / TOLERANCE:.1g} of that")
    return 1 if report.differences or report.checked == 0 else 0


if __name__ == "__main__":
    if len(sys.argv) < 3:
        sys.exit(__doc__)
    sys.exit(main(sys.argv[1], sys.argv[2:]))
