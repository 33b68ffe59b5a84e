#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Draws docs/stand.svg from the program's own output: docs/draw_stand.py build/grainwright

Case 11: the invented log, what had been predicted, and the firing with the fitted law. Standard Python only."""

import csv
import io
import subprocess
import sys
import tempfile
from pathlib import Path

WIDTH, HEIGHT, LEFT, BOTTOM, TOP, RIGHT = 720, 320, 60, 44, 16, 16
LINES = [("predicted", "predicted_thrust_N", "#777777", "6 4"),
         ("fitted", "fitted_thrust_N", "#b3401f", "none")]
CASES = Path(__file__).resolve().parents[1] / "cases"


def columns(program):
    program = str(Path(program).resolve())
    with tempfile.TemporaryDirectory() as folder:
        first = Path(folder) / "first.toml"
        subprocess.run([program, "design", CASES / "11-round-the-loop.toml", "--save", first],
                       capture_output=True, check=True)
        answer = subprocess.run([program, "stand", CASES / "11-stand-log.csv", "--job", first, "--csv"],
                                capture_output=True, check=True, text=True)
    rows = list(csv.DictReader(io.StringIO(answer.stdout)))
    return {key: [float(row[key]) for row in rows] for key in rows[0]}


def main():
    table = columns(sys.argv[1])
    time = table["time_s"]
    last, most = 0.8, 600.0
    x = lambda t: LEFT + t / last * (WIDTH - LEFT - RIGHT)
    y = lambda f: HEIGHT - BOTTOM - f / most * (HEIGHT - BOTTOM - TOP)
    svg = [f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" '
           'font-family="sans-serif" font-size="13">',
           f'<rect width="{WIDTH}" height="{HEIGHT}" fill="white"/>']
    for f in range(0, int(most) + 1, 100):
        svg.append(f'<path d="M{LEFT} {y(f):.1f}H{WIDTH - RIGHT}" stroke="#dddddd"/>'
                   f'<text x="{LEFT - 8}" y="{y(f) + 4:.1f}" text-anchor="end">{f}</text>')
    for tenth in range(0, 9, 2):
        svg.append(f'<text x="{x(tenth / 10):.1f}" y="{HEIGHT - BOTTOM + 18}" '
                   f'text-anchor="middle">{tenth / 10}</text>')
    svg.append(f'<text x="{WIDTH - RIGHT}" y="{HEIGHT - 8}" text-anchor="end">time, s</text>')
    svg.append(f'<text x="{LEFT + 8}" y="{TOP + 6}">thrust, N</text>')
    inside = [i for i, t in enumerate(time) if 0 <= t <= last]
    dots = "".join(f'<circle cx="{x(time[i]):.1f}" cy="{y(table["thrust_N"][i]):.1f}" r="1.3"/>'
                   for i in inside)
    svg.append(f'<g fill="#1f5fa8">{dots}</g>')
    svg.append(f'<text x="{LEFT + 190}" y="{HEIGHT - BOTTOM - 80}" fill="#1f5fa8">rows of the log'
               '</text>')
    for row, (name, key, colour, dash) in enumerate(LINES):
        points = " ".join(f"{x(time[i]):.1f},{y(table[key][i]):.1f}" for i in inside)
        svg.append(f'<polyline points="{points}" fill="none" stroke="{colour}" stroke-width="2" '
                   f'stroke-dasharray="{dash}"/>')
        svg.append(f'<text x="{LEFT + 190}" y="{HEIGHT - BOTTOM - 60 + 18 * row}" fill="{colour}">'
                   f'{name}</text>')
    svg.append("</svg>")
    Path(__file__).with_name("stand.svg").write_text("\n".join(svg) + "\n")


if __name__ == "__main__":
    main()
