#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Draws the pictures of docs/burnback.md, and fills its table of one pour against three segments,
from the program's own output: docs/draw_burnback.py build/grainwright

Standard Python only."""

import json
import subprocess
import sys
from pathlib import Path

DOCS = Path(__file__).resolve().parent
CASES = DOCS.parent / "cases"
PICTURES = {
    "08-pour-that-drifted-off-centre": "burnback-off-centre",
    "09-cross-core": "burnback-cross",
    "10a-one-pour-with-three-slots": "burnback-slots",
}
COMPARED = [("one pour, three slots", "10a-one-pour-with-three-slots"),
            ("three segments", "10b-three-separate-segments")]
ROWS = [("propellant, g", "propellant_mass_kg", 1e3, 1),
        ("burning area at lighting, cm2", "initial_burning_area_m2", 1e4, 1),
        ("peak burning area, cm2", "peak_burning_area_m2", 1e4, 1),
        ("thrust at lighting, N", "initial_thrust_N", 1, 0),
        ("peak thrust, N", "peak_thrust_N", 1, 0),
        ("mean thrust, N", "mean_thrust_N", 1, 0),
        ("peak pressure, MPa", "peak_pressure_Pa", 1e-6, 2),
        ("burn time, s", "burn_time_s", 1, 3),
        ("total impulse, N s", "total_impulse_Ns", 1, 1)]
BEGIN, END = "<!-- compared: begin -->\n", "<!-- compared: end -->\n"


def main(program):
    for case, picture in PICTURES.items():
        subprocess.run([program, "burnback", CASES / f"{case}.toml", "--svg",
                        DOCS / f"{picture}.svg", "--force"], check=True, capture_output=True)
    fired = []
    for _, case in COMPARED:
        answer = subprocess.run([program, "fire", CASES / f"{case}.toml", "--model", "steady",
                                 "--json"], capture_output=True, text=True, check=True)
        fired.append(json.loads(answer.stdout)["summary"])
    lines = ["| steady model | " + " | ".join(name for name, _ in COMPARED) + " |",
             "| --- |" + " --- |" * len(COMPARED)]
    for words, key, factor, digits in ROWS:
        values = " | ".join(f"{factor * summary[key]:.{digits}f}" for summary in fired)
        lines.append(f"| {words} | {values} |")
    page = DOCS / "burnback.md"
    before, rest = page.read_text().split(BEGIN)
    after = rest.split(END)[1]
    page.write_text(before + BEGIN + "\n" + "\n".join(lines) + "\n\n" + END + after)


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    main(sys.argv[1])
