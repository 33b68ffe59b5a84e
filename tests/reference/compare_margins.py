#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""compare_margins.py PROGRAM JOB: each part's ratio by the program against the reference, to 0.2 %.

The two cut the walls into other cells and march them with other steppers, so they agree as far as both
have converged. Exit 1 when they do not."""

import json
import subprocess
import sys

import jobs
import strength

TOLERANCE = 2e-3


def main(program, path):
    run = subprocess.run([program, "margins", path, "--json"], capture_output=True, text=True,
                         check=False)
    if run.returncode not in (0, 1) or not run.stdout:
        raise RuntimeError(f"exit {run.returncode}: {run.stderr}")
    margins = json.loads(run.stdout)["margins"]
    got = {part["part"]: part["ratio"] for part in margins["parts"]}
    curve = None
    if margins["model"] == "axial":  # the harder of the firings, which tests/reference/axial.py checks
        fired = subprocess.run([program, "fire", path, "--model", "axial", "--json"],
                               capture_output=True, text=True, check=False)
        curve = json.loads(fired.stdout)["curve"]
    expected = strength.margins(jobs.load(path), curve)
    apart = 0
    for part in sorted(got.keys() | expected.keys()):
        one, other = got.get(part), expected.get(part)
        off = abs(one / other - 1) if one and other else 1
        apart += off > TOLERANCE
        print(f"{part}: program {one}, reference {other}, apart by {off:.2g}")
    return 1 if apart or not got else 0


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    sys.exit(main(sys.argv[1], sys.argv[2]))
