#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Draws docs/stand.svg from the program's own output: docs/draw_stand.py build/grainwright

Case 11: the invented log, what had been predicted, and the firing with the fitted law. The prediction is
laid so that its thrust reaches a tenth of its peak when the log's does. Standard Python only."""

import csv
import io
import subprocess
import sys
import tempfile
from pathlib import Path

WIDTH, HEIGHT, LEFT, BOTTOM, TOP, RIGHT = 720, 320, 60, 44, 16, 16
CASES = Path(__file__).resolve().parents[1] / "cases"


def columns(text):
    rows = list(csv.DictReader(io.StringIO(text)))
    return {key: [float(row[key] or "nan") for row in rows] for key in rows[0]}


def begins(time, thrust):
    """When it first exceeds a tenth of its peak."""
    return next(t for t, f in zip(time, thrust) if f > 0.1 * max(thrust))


def told(program):
    """The log's columns with the fit, and those of the predicted firing."""
    program = str(Path(program).resolve())
    with tempfile.TemporaryDirectory() as folder:
        first = Path(folder) / "first.toml"
        subprocess.run([program, "design", CASES / "11-round-the-loop.toml", "--save", first],
                       capture_output=True, check=True)
        answers = [subprocess.run([program, *words, "--csv"], capture_output=True, check=True, text=True)
                   for words in (["stand", CASES / "11-stand-log.csv", "--job", first], ["fire", first])]
    return [columns(answer.stdout) for answer in answers]


def main():
    table, predicted = told(sys.argv[1])
    time = table["time_s"]
    later = begins(time, table["thrust_N"]) - begins(predicted["time_s"], predicted["thrust_N"])
    lines = [("predicted", [t + later for t in predicted["time_s"]], predicted["thrust_N"], "#777777", "6 4"),
             ("fitted", time, table["fitted_thrust_N"], "#b3401f", "none")]
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
    svg.append(f'<text x="{(LEFT + WIDTH) / 2}" y="{HEIGHT - 8}" text-anchor="middle">time, s</text>'
               f'<text x="16" y="{HEIGHT / 2}" text-anchor="middle" '
               f'transform="rotate(-90 16 {HEIGHT / 2})">thrust, N</text>')
    dots = "".join(f'<circle cx="{x(t):.1f}" cy="{y(f):.1f}" r="2.4"/>'
                   for t, f in zip(time, table["thrust_N"]) if 0 <= t <= last)
    svg.append(f'<g fill="#8fb4dd">{dots}</g>')
    middle = y(150)  # of a line of names, between two lines of the grid
    svg.append(f'<circle cx="{LEFT + 114}" cy="{middle}" r="3" fill="#8fb4dd"/>'
               f'<text x="{LEFT + 124}" y="{middle + 4}">rows of the log</text>')
    for place, (name, when, thrust, colour, dash) in enumerate(lines):
        points = " ".join(f"{x(t):.1f},{y(f):.1f}" for t, f in zip(when, thrust) if 0 <= t <= last)
        svg.append(f'<polyline points="{points}" fill="none" stroke="{colour}" stroke-width="1.5" '
                   f'stroke-dasharray="{dash}"/>')
        left = LEFT + 246 + 120 * place
        svg.append(f'<path d="M{left} {middle}h28" stroke="{colour}" stroke-width="1.5" '
                   f'stroke-dasharray="{dash}"/>'
                   f'<text x="{left + 36}" y="{middle + 4}">{name}</text>')
    svg.append("</svg>")
    Path(__file__).with_name("stand.svg").write_text("\n".join(svg) + "\n")


if __name__ == "__main__":
    main()
