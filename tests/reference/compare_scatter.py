#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""compare_scatter.py PROGRAM JOB: percentiles and chances by the program against SciPy's.

Both are random, each with points of its own, so they agree within what so many points leave: 0.4 % of
a percentile, and a few standard errors of a chance. The firings here are steady, as those of peak
thrust and burn time are there. The program carries its peak pressures to another model, by the ratio
that it tells of the motor as drawn, and raises them by what its check finds; so its peaks and its chance
must lie between those of the steady peaks with the ratio alone, less what its check was off by, and with
all that on top. Exit 1 when they do not."""

import json
import subprocess
import sys

import numpy as np

import jobs
import scatter

LOG2_POINTS = 12
PERCENTILE_TOLERANCE = 4e-3


def main(program, path):
    run = subprocess.run([program, "scatter", path, "--json"], capture_output=True, text=True,
                         check=False)
    if run.returncode not in (0, 1) or not run.stdout:
        raise RuntimeError(f"exit {run.returncode}: {run.stderr}")
    got = json.loads(run.stdout)["scatter"]
    results = np.vstack([scatter.scatter(jobs.load(path), LOG2_POINTS, seed) for seed in (1, 2)])
    rows = []
    for column, key in ((2, "peak_thrust_N"), (1, "burn_time_s")):
        for part, name in ((5, "p5"), (50, "p50"), (95, "p95")):
            expected = np.percentile(results[:, column], part)
            rows.append((f"{key} {name}", got[key][name], expected,
                         PERCENTILE_TOLERANCE * expected))
    judged = got["judged"]
    low = results[:, 0] * judged["ratio"] * (1 - judged["greatest_difference"])
    high = results[:, 0] * judged["ratio"] * (1 + judged["greatest_difference"] + judged["raised"])
    apart = 0
    between = []
    for part, name in ((5, "p5"), (50, "p50"), (95, "p95")):
        ends = np.percentile(low, part), np.percentile(high, part)
        between.append((f"peak_pressure_Pa {name}", got["peak_pressure_Pa"][name], *ends,
                        PERCENTILE_TOLERANCE * ends[1]))
    if got["ceiling_Pa"]:
        ends = np.mean(low > got["ceiling_Pa"]), np.mean(high > got["ceiling_Pa"])
        error = 3 * np.sqrt(ends[1] * (1 - ends[1]) / len(results)) + 1 / len(results)
        between.append(("chance over the ceiling", got["chance_over_ceiling"]["value"], *ends, error))
    for name, one, least, most, within in between:
        apart += not least - within <= one <= most + within
        print(f"{name}: program {one:.6g}, reference {least:.6g} to {most:.6g}, "
              f"may lie {within:.2g} beyond")
    for name, one, other, within in rows:
        apart += abs(one - other) > within
        print(f"{name}: program {one:.6g}, reference {other:.6g}, may differ by {within:.2g}")
    return 1 if apart else 0


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    sys.exit(main(sys.argv[1], sys.argv[2]))
