#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""stand.py PROGRAM JOB: the fit of `stand` against SciPy's, on a made-up log whose truth is known.

The log comes from tests/support/synthetic_log.py. Its rows are read here once more, the reading at rest taken
off, and the reference's own transient firing fitted to them by scipy.optimize.least_squares. Held: that both fits
agree within a part of their stated errors, that the errors agree, and that the truth lies within three of them."""

import json
import math
import subprocess
import sys
import tempfile
from dataclasses import replace
from pathlib import Path

import numpy as np
from scipy.optimize import least_squares

import jobs
import transient

TRUTH = {"rate": 9.4e-3, "n": 0.33, "efficiency": 0.79}  # m/s at 1 MPa
NOISE, SEED, RATE = 3.0, 11, 400  # N, -, Hz
REST, RISE, RISE_SHARE = 0.05, 0.05, 0.05  # docs/stand.md: rest that counts, the rise, its rows
AGREE = 0.35  # of a standard deviation, between the two fits
ERRORS_AGREE = 0.25  # of each other: burnout is a corner, which either blurs in its own way
HERE = Path(__file__).resolve().parent

transient.CURVE_POINTS = 1500


def made_log(program, job, path):
    law = f'[{{rate="{TRUTH["rate"] * 1e3} mm/s",at="1 MPa",n={TRUTH["n"]}}}]'
    text = subprocess.run(
        [sys.executable, HERE.parent / "support" / "synthetic_log.py", program, job,
         f"set:propellant.law={law}", f"set:nozzle.efficiency={TRUTH['efficiency']}", f"rate={RATE}",
         f"noise={NOISE}", "flaws=0", f"seed={SEED}", "lasts=3"],
        capture_output=True, check=True, text=True).stdout
    path.write_text(text)
    return np.array([[float(cell) for cell in line.split(",")]
                     for line in text.splitlines()[2:]])


def thrust_of(rows):
    """Times from the log's start and thrust: the line between the readings before and after taken off."""
    time, reading = rows[:, 0], rows[:, 1]
    peak = reading.max() - reading[:50].mean()
    burning = np.flatnonzero(reading - reading[:50].mean() > 0.1 * peak)
    before, after = slice(0, burning[0] - 4), slice(burning[-1] + 20, None)
    t0, t1 = time[before].mean(), time[after].mean()
    r0, r1 = reading[before].mean(), reading[after].mean()
    thrust = reading - (r0 + (r1 - r0) * (time - t0) / (t1 - t0))
    errors = NOISE * np.array([len(time[before]), len(time[after])]) ** -0.5
    lasts = time[burning[-1]] - time[burning[0]]
    lit, out = time[burning[0]] - 2 / RATE, time[burning[-1]] + 12 / RATE
    chosen = (time >= lit - REST * lasts) & (time <= out + REST * lasts)
    time, thrust = time[chosen], thrust[chosen]
    rising = (time > lit) & (time <= time[np.argmax(thrust > 0.1 * peak)] + RISE * lasts)
    deviation = np.where(rising, math.hypot(NOISE, RISE_SHARE * thrust.max()), NOISE)
    return time, thrust, ((time - t0) / (t1 - t0), errors), deviation


def firing(motor, spare):
    """ln pressure over time, of the reference's own transient firing."""
    times, pressures = transient.follow(motor, transient.chamber_of(motor, spare))[1]
    return times, np.log(pressures)


def fitted(job, time, thrust, rests, deviation):
    """ln factor of the rate at 1 MPa, n, ln gain, lighting, both rests, with their covariance."""
    way, rest_errors = rests
    base = jobs.motor_of(job)
    spare = jobs.spare_volume_of(job, base)
    (a, n, low, high), = base.law

    def residuals(p):
        motor = replace(base, law=[(a * math.exp(p[0]) * 1e6 ** (n - p[1]), p[1], low, high)])
        when, ln_pressure = firing(motor, spare)
        at = time - p[3]
        pressure = np.exp(np.interp(at, when, ln_pressure, left=math.log(base.ambient),
                                    right=math.log(base.ambient)))
        model = math.exp(p[2]) * np.array([motor.thrust(one) for one in pressure])
        rest = p[4] + (p[5] - p[4]) * way
        return np.append((thrust - rest - model) / deviation, p[4:] / rest_errors)

    start = [0.05, n, 0.0, 1.204, 0.0, 0.0]
    found = least_squares(residuals, start, x_scale=[0.1, 0.05, 0.1, 0.01, 0.1, 0.1],
                          diff_step=[2e-3, 2e-4, 1e-3, 4e-5, 1e-3, 1e-3], xtol=1e-10, ftol=1e-12)
    plain = np.append(deviation == NOISE, [False, False])
    noise = (found.fun[plain] @ found.fun[plain]) / (plain.sum() - len(start) * plain.mean())
    covariance = np.linalg.inv(found.jac.T @ found.jac) * noise
    return found.x, covariance, base


def main(program, job_file):
    job = jobs.load(job_file)
    with tempfile.TemporaryDirectory() as folder:
        log = Path(folder, "log.csv")
        rows = made_log(program, job_file, log)
        answer = subprocess.run([program, "stand", log, "--job", job_file, "--noise-alone", "--json"],
                                capture_output=True, check=True, text=True)
    fit = json.loads(answer.stdout)["stand"]["fit"]
    p, covariance, base = fitted(job, *thrust_of(rows))
    (a, n, *_), = base.law
    away = math.log(fit["at_Pa"] / 1e6)
    rate = a * 1e6**n * math.exp(p[0]) * (fit["at_Pa"] / 1e6) ** p[1]
    slope = np.array([1, away, 0, 0, 0, 0])
    program_sd = [math.sqrt(fit["covariance"][i][i]) for i in range(3)]
    own_sd = [math.sqrt(slope @ covariance @ slope), math.sqrt(covariance[1, 1]),
              math.sqrt(covariance[2, 2])]
    true_rate = TRUTH["rate"] * (fit["at_Pa"] / 1e6) ** TRUTH["n"]
    table = [("ln rate", math.log(fit["rate_m_s"]), math.log(rate), math.log(true_rate)),
             ("n", fit["n"], p[1], TRUTH["n"]),
             ("ln efficiency", math.log(fit["efficiency"]), math.log(base.efficiency) + p[2],
              math.log(TRUTH["efficiency"]))]
    failed = 0 if fit["n_fitted"] else 1
    for (name, got, own, truth), sd, other in zip(table, program_sd, own_sd):
        agree = abs(got - own) <= AGREE * sd
        alike = abs(sd / other - 1) <= ERRORS_AGREE
        true = abs(got - truth) <= 3 * sd
        failed += not (agree and alike and true)
        print(f"{name}: program {got:.7f} +- {sd:.2g}, SciPy {own:.7f} +- {other:.2g}, truth "
              f"{truth:.7f}{'' if agree and alike and true else '  NOT MET'}")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
