#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""compare_scatter.py PROGRAM JOB: percentiles and chances by the program against SciPy's.

Both are random, each with points of its own, so they agree within what so many points leave: 0.4 % of
a percentile, and a few standard errors of a chance. Exit 1 when they do not."""

import json
import subprocess
import sys

import numpy as np

import jobs
import scatter

LOG2_POINTS = 11
PERCENTILE_TOLERANCE = 4e-3


def main(program, path):
    run = subprocess.run([program, "scatter", path, "--json"], capture_output=True, text=True,
                         check=False)
    if run.returncode not in (0, 1) or not run.stdout:
        raise RuntimeError(f"exit {run.returncode}: {run.stderr}")
    got = json.loads(run.stdout)["scatter"]
    results = np.vstack([scatter.scatter(jobs.load(path), LOG2_POINTS, seed) for seed in (1, 2)])
    rows = []
    for column, key in enumerate(("peak_pressure_Pa", "burn_time_s")):
        for part, name in ((5, "p5"), (50, "p50"), (95, "p95")):
            expected = np.percentile(results[:, column], part)
            rows.append((f"{key} {name}", got[key][name], expected,
                         PERCENTILE_TOLERANCE * expected))
    if got["ceiling_Pa"]:
        chance = np.mean(results[:, 0] > got["ceiling_Pa"])
        error = 3 * np.sqrt(chance * (1 - chance) / len(results)) + 1 / len(results)
        rows.append(("chance over the ceiling", got["chance_over_ceiling"]["value"], chance, error))
    apart = 0
    for name, one, other, within in rows:
        apart += abs(one - other) > within
        print(f"{name}: program {one:.6g}, reference {other:.6g}, may differ by {within:.2g}")
    return 1 if apart else 0


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    sys.exit(main(sys.argv[1], sys.argv[2]))
