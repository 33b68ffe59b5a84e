#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""stand_truth.py PROGRAM [FIRST [COUNT]]: does what `stand` learns from made-up logs hold the truth?

Each seed is a motor, a stand and one or two firings of stand_logs.py, with flaws drawn at random. Held: of the laws
that are saved, 95 % intervals of rate, exponent and efficiency hold the truth in at least 90 %; and none gives, for
the motor that was measured or for it behind a throat a twelfth smaller, a peak pressure more than 5 % under the
true one. What is refused is counted, and not more than a share of it may be."""

import json
import math
import subprocess
import sys
import tempfile
from dataclasses import replace
from pathlib import Path

import numpy as np

import stand_logs as logs

INTERVAL, HELD, UNDER = 1.959964, 0.90, 0.05
NEXT_THROAT = 11 / 12
MOST_REFUSED = 0.25
SHAPES = ("even", "even", "early", "falling", "hump", "rising")


def drawn(seed):
    """A motor, what its job says, and the stands of its firings."""
    rng = np.random.default_rng(seed)
    count = int(rng.integers(1, 5))
    length = rng.uniform(0.05, 0.09) if count > 1 else rng.uniform(0.09, 0.16)
    motor = logs.Motor(
        count=count, length=length, core=rng.uniform(0.011, 0.019), rate=rng.uniform(5e-3, 11e-3),
        n=rng.uniform(0.2, 0.45), efficiency=rng.uniform(0.76, 0.95),
        web=SHAPES[int(rng.integers(len(SHAPES)))], depth=rng.uniform(0.0, 0.15))
    pressure = rng.uniform(2.5, 5.0)  # MPa, about
    kn = pressure ** (1 - motor.n) / (motor.density * motor.rate * motor.c_star * 1e-6)
    throat = math.sqrt(4 * motor.area(0.3 * motor.burnout) / (math.pi * kn))
    motor = replace(motor, throat=throat, exit=throat * rng.uniform(1.4, 1.9))
    says = logs.JobSays(rate=motor.rate * math.exp(rng.normal(0, 0.12)),
                        n=motor.n + rng.normal(0, 0.06), efficiency=0.85,
                        c_star=motor.c_star * math.exp(rng.normal(0, 0.01)))
    shots = [stand_of(rng, motor)]
    if rng.random() < 0.4:
        ratio = rng.uniform(1.15, 1.3)
        shots.append(stand_of(rng, replace(motor, throat=throat * ratio, exit=motor.exit * ratio)))
    return motor, says, shots


def stand_of(rng, motor):
    """The motor as it burns this time, the throat that its job has, and the stand's flaws."""
    burned = replace(motor, rate=motor.rate * math.exp(rng.normal(0, 0.01)))
    flaws = logs.Flaws(
        rate=float(rng.choice([250, 500, 1000])), noise=rng.uniform(0.5, 4), drift=rng.normal(0, 1.5),
        scale=1 + rng.normal(0, 0.02), clock=1 + rng.normal(0, 0.005),
        lag=abs(rng.normal(0, 0.002)), jitter=rng.uniform(0, 0.4),
        soft=rng.choice([0.0, 0.0, rng.uniform(0, 0.03)]),
        spike=rng.choice([0.0, 0.0, rng.uniform(0, 0.4)]) * 300, drop_every=0)
    return burned, motor.throat + rng.normal(0, 0.1e-3), flaws


def without(text, throat):
    """The job behind another throat."""
    lines = [f'throat = "{throat * 1e3:.10g} mm"' if line.startswith("throat =") else line
             for line in text.splitlines()]
    return "\n".join(lines) + "\n"


def peak_of(program, text, throat, folder):
    job = Path(folder, "again.toml")
    job.write_text(without(text, throat), encoding="utf-8")
    done = subprocess.run([program, "fire", job, "--model", "transient", "--json"], capture_output=True,
                          text=True, check=False)
    return json.loads(done.stdout)["summary"]["peak_pressure_Pa"]


def tried(program, seed, folder):
    """What came of one seed: None where nothing was saved."""
    motor, says, shots = drawn(seed)
    files = []
    for i, (burned, throat, flaws) in enumerate(shots):
        files.append(logs.written(folder, f"log{i}", burned, replace(says, throat=throat), flaws,
                                  1000 * seed + i)[:2])
    saved = Path(folder, "saved.toml")
    saved.unlink(missing_ok=True)
    words = [program, "stand", files[0][0], "--job", files[0][1], "--save", saved, "--json"]
    if len(files) > 1:
        words += ["--with", f"{files[1][0]}={files[1][1]}"]
    done = subprocess.run(words, capture_output=True, text=True, check=False)
    if done.returncode > 1:
        raise SystemExit(f"seed {seed}: exit {done.returncode}: {done.stderr}")
    answer = json.loads(done.stdout)
    if done.returncode == 1:
        return {"seed": seed, "saved": False, "web": motor.web, "depth": motor.depth,
                "why": [d["doubt"] for d in answer["doubts"]]}
    fit = answer["stand"]["fit"]
    at = fit["at_Pa"]
    deviations = {
        "rate": math.log(fit["rate_m_s"] / (motor.rate * (at / 1e6) ** motor.n)) / fit["rate_error"],
        "n": (fit["n"] - motor.n) / fit["n_error"],
        "efficiency": math.log(fit["efficiency"] / motor.efficiency)
        / math.sqrt(fit["covariance"][2][2]),
    }
    text = saved.read_text(encoding="utf-8")
    ratios = {}
    for name, share in (("own", 1.0), ("next", NEXT_THROAT)):
        behind = replace(motor, throat=motor.throat * share)
        truth = float(logs.fired(behind)[1].max())
        ratios[name] = peak_of(program, text, behind.throat, folder) / truth
    return {"seed": seed, "saved": True, "logs": len(files), "web": motor.web, "depth": motor.depth,
            "deviations": deviations, "peaks": ratios, "n_fitted": fit["n_fitted"],
            "web_fitted": fit["web_fitted"], "misfit": fit["misfit"], "rate_error": fit["rate_error"],
            "n_error": fit["n_error"]}


def told(results):
    """Prints the figures; gives how many are not met."""
    saved = [one for one in results if one["saved"]]
    failed = 0
    for name in ("rate", "n", "efficiency"):
        within = sum(abs(one["deviations"][name]) <= INTERVAL for one in saved)
        share = within / len(saved)
        failed += share < HELD
        print(f"{name}: the truth is within the 95 % interval in {within} of {len(saved)}")
    for name in ("own", "next"):
        peaks = sorted(one["peaks"][name] for one in saved)
        failed += peaks[0] < 1 - UNDER
        print(f"peak pressure behind the {name} throat over the true one: least {peaks[0]:.3f}, "
              f"median {peaks[len(peaks) // 2]:.3f}, greatest {peaks[-1]:.3f}")
    refused = [one for one in results if not one["saved"]]
    failed += len(refused) > MOST_REFUSED * len(results)
    print(f"refused: {len(refused)} of {len(results)}")
    return failed


def main(program, first="1", count="60"):
    results = []
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(int(first), int(first) + int(count)):
            results.append(tried(program, seed, folder))
            one = results[-1]
            if not one["saved"] or max(map(abs, one["deviations"].values())) > 2.5 \
                    or min(one["peaks"].values()) < 1 - UNDER:
                print(json.dumps(one))
    return 1 if told(results) else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
