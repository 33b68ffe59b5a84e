#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Draws docs/flight.svg from the program's own output: docs/draw_flight.py build/grainwright

How fast one heavy rocket leaves rails of different lengths: with one long pour, which is weakest
when it is lit, and with the build that the search finds for the rail. Standard Python only."""

import json
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
CASE = ROOT / "cases" / "12-for-the-rail.toml"
LONG_POUR = '\n[[segment]]\nlength = "300 mm"\ncore = "20 mm"\n'
RAILS = [2.4 * (i / 30) ** 2 for i in range(2, 31)]  # m, close together where the curve bends
ASKED, RAIL = 14.5, 1.8
WIDTH, HEIGHT, LEFT, BOTTOM, TOP, RIGHT = 720, 320, 60, 44, 16, 16


def speeds(program, text, folder):
    """m/s at the end of each rail."""
    found = []
    for rail in RAILS:
        job = Path(folder) / "job.toml"
        job.write_text(text.replace('rail_length = "1.8 m"', f'rail_length = "{rail} m"'))
        answer = subprocess.run([program, "fly", job, "--json"], capture_output=True, text=True,
                                check=False)
        found.append(json.loads(answer.stdout)["fly"]["rail_exit_speed_m_s"])
    return found


def main():
    program = sys.argv[1]
    with tempfile.TemporaryDirectory() as folder:
        built = Path(folder) / "built.toml"
        subprocess.run([program, "design", CASE, "--save", built], capture_output=True, check=True)
        pour = CASE.read_text().replace('throat = "13 mm"', 'throat = "15 mm"') + LONG_POUR
        curves = [("one long pour, 15 mm throat", speeds(program, pour, folder), "#777777", "6 4"),
                  ("built for the rail, 13 mm throat", speeds(program, built.read_text(), folder),
                   "#1f5fa8", "none")]
    most = 20
    x = lambda rail: LEFT + rail / RAILS[-1] * (WIDTH - LEFT - RIGHT)
    y = lambda speed: HEIGHT - BOTTOM - speed / most * (HEIGHT - BOTTOM - TOP)
    svg = [f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" '
           'font-family="sans-serif" font-size="13">',
           f'<rect width="{WIDTH}" height="{HEIGHT}" fill="white"/>']
    for speed in range(0, most + 1, 5):
        svg.append(f'<path d="M{LEFT} {y(speed):.1f}H{WIDTH - RIGHT}" stroke="#dddddd"/>'
                   f'<text x="{LEFT - 8}" y="{y(speed) + 4:.1f}" text-anchor="end">{speed}</text>')
    for tenths in range(0, 25, 6):
        svg.append(f'<text x="{x(tenths / 10):.1f}" y="{HEIGHT - BOTTOM + 18}" '
                   f'text-anchor="middle">{tenths / 10:g}</text>')
    svg.append(f'<path d="M{x(RAIL):.1f} {y(0)}V{y(ASKED):.1f}H{LEFT}" fill="none" stroke="#b3401f" '
               'stroke-dasharray="2 3"/>'
               f'<text x="{x(0.05):.1f}" y="{y(ASKED) + 16:.1f}" fill="#b3401f">'
               f'asked: {ASKED:g} m/s at {RAIL:g} m</text>')
    for number, (name, values, colour, dash) in enumerate(curves):
        points = " ".join(f"{x(rail):.1f},{y(speed):.1f}"
                          for rail, speed in zip([0.0, *RAILS], [0.0, *values]))
        svg.append(f'<polyline points="{points}" fill="none" stroke="{colour}" stroke-width="2" '
                   f'stroke-dasharray="{dash}"/>')
        row = HEIGHT - BOTTOM - 44 + 20 * number
        svg.append(f'<path d="M{LEFT + 170} {row}h28" stroke="{colour}" stroke-width="2" '
                   f'stroke-dasharray="{dash}"/>'
                   f'<text x="{LEFT + 206}" y="{row + 4}">{name}</text>')
    svg.append(f'<text x="{(LEFT + WIDTH) / 2}" y="{HEIGHT - 8}" text-anchor="middle">'
               'length of the rail, m</text>'
               f'<text x="16" y="{HEIGHT / 2}" text-anchor="middle" '
               f'transform="rotate(-90 16 {HEIGHT / 2})">rail exit speed, m/s</text></svg>')
    Path(__file__).with_name("flight.svg").write_text("\n".join(svg) + "\n")


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    main()
