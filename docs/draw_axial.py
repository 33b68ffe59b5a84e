#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Draws docs/firing-axial.svg from the program's own output: docs/draw_axial.py build/grainwright

One long core with a port of 1.8 times the throat: the steady firing, the axial one, and the axial
one with constants of erosion. Standard Python only."""

import json
import subprocess
import sys
import tempfile
from pathlib import Path

JOB = """
[propellant]
name = "invented"
density = "1770 kg/m3"
characteristic_velocity = "1500 m/s"
gamma = 1.2
[[propellant.law]]
rate = "3 mm/s"
n = 0.35
{erosion}
[nozzle]
throat = "14.907 mm"
exit = "36 mm"
[[segment]]
length = "400 mm"
core = "20 mm"
outer_diameter = "50 mm"
"""
EROSION = "[propellant.erosion]\nalpha = 6e-5\n"
WIDTH, HEIGHT, LEFT, BOTTOM, TOP, RIGHT = 720, 320, 60, 44, 16, 16
LINES = [("steady", "steady", "", "#777777", "6 4"), ("axial", "axial", "", "#1f5fa8", "none"),
         ("axial, with erosion", "axial", EROSION, "#b3401f", "none")]


def curve(program, model, erosion):
    with tempfile.TemporaryDirectory() as folder:
        job = Path(folder) / "job.toml"
        job.write_text(JOB.format(erosion=erosion))
        answer = subprocess.run([program, "fire", job, "--model", model, "--json"],
                                capture_output=True, check=True, text=True)
    columns = json.loads(answer.stdout)["curve"]
    return columns["time_s"], [p / 1e6 for p in columns["pressure_Pa"]]


def main():
    curves = [(name, curve(sys.argv[1], model, erosion), colour, dash)
              for name, model, erosion, colour, dash in LINES]
    last = max(times[-1] for _, (times, _), _, _ in curves)
    most = max(max(values) for _, (_, values), _, _ in curves) * 1.05
    x = lambda t: LEFT + t / last * (WIDTH - LEFT - RIGHT)
    y = lambda p: HEIGHT - BOTTOM - p / most * (HEIGHT - BOTTOM - TOP)
    svg = [f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" '
           'font-family="sans-serif" font-size="13">',
           f'<rect width="{WIDTH}" height="{HEIGHT}" fill="white"/>']
    for p in range(int(most) + 1):
        svg.append(f'<path d="M{LEFT} {y(p):.1f}H{WIDTH - RIGHT}" stroke="#dddddd"/>'
                   f'<text x="{LEFT - 8}" y="{y(p) + 4:.1f}" text-anchor="end">{p}</text>')
    for t in range(int(last) + 1):
        svg.append(f'<text x="{x(t):.1f}" y="{HEIGHT - BOTTOM + 18}" text-anchor="middle">{t}</text>')
    svg.append(f'<text x="{WIDTH - RIGHT}" y="{HEIGHT - 8}" text-anchor="end">time, s</text>')
    svg.append(f'<text x="{LEFT + 8}" y="{TOP + 10}">head pressure, MPa</text>')
    for row, (name, (times, values), colour, dash) in enumerate(curves):
        points = " ".join(f"{x(t):.1f},{y(p):.1f}" for t, p in zip(times, values))
        svg.append(f'<polyline points="{points}" fill="none" stroke="{colour}" stroke-width="2" '
                   f'stroke-dasharray="{dash}"/>')
        svg.append(f'<text x="{LEFT + 220}" y="{TOP + 10 + 18 * row}" fill="{colour}">{name}</text>')
    svg.append("</svg>")
    target = Path(__file__).with_name("firing-axial.svg")
    target.write_text("\n".join(svg) + "\n")


if __name__ == "__main__":
    main()
