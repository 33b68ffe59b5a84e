#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""reference.py JOB: burnback, steady firing and misfit of a job file as JSON, in the program's keys."""

import json
import sys

import numpy as np

import flight
import jobs
import physics


def curve(motor, burn, webs):
    """The firing at given webs; at an event the values just before it."""
    areas = [motor.area_before(web) if web > 0 else motor.area_after(0) for web in webs]
    pressures = [motor.pressure(area) for area in areas]
    return {
        "time_s": [burn.time_at(web) for web in webs],
        "web_m": list(webs),
        "burning_area_m2": areas,
        "kn": [area / motor.throat_area for area in areas],
        "pressure_Pa": pressures,
        "thrust_N": [motor.thrust(pressure) for pressure in pressures],
    }


def burnback(motor, webs):
    return {
        "web_m": list(webs),
        "burning_area_m2": [motor.area_before(web) if web > 0 else motor.area_after(0)
                            for web in webs],
        "propellant_volume_m3": [motor.volume(web) for web in webs],
    }


def main(path):
    job = jobs.load(path)
    motor = jobs.motor_of(job)
    burn = physics.fire(motor)
    webs = [float(web) for web in np.linspace(0, motor.events[-1], 51)]
    answer = {
        "summary": physics.summary(motor, burn),
        "curve": curve(motor, burn, webs),
        "burnback": burnback(motor, webs),
    }
    if "airframe" in job:
        answer["fly"] = flight.fly(motor, flight.airframe_of(job))
    if "wish" in job:
        answer["misfit"] = physics.misfit(motor, jobs.profile_of(job), burn)
    json.dump(answer, sys.stdout, indent=1)
    print()


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    main(sys.argv[1])
