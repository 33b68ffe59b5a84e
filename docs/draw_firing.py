#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Draws the pictures of docs/firing*.md from the program's own output: docs/draw_firing.py build/grainwright

One invented job, a long core with a port of 1.8 times the throat. firing-axial.svg: its head pressure by
the steady and the axial model, and with constants of erosion. firing-transient.svg: how the chamber fills,
and how it blows down. Standard Python only."""

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
{more}
[nozzle]
throat = "14.907 mm"
exit = "36 mm"
[[segment]]
length = "400 mm"
core = "20 mm"
outer_diameter = "40 mm"
"""
EROSION = "[propellant.erosion]\nalpha = 1.2e-4\n"
ADIABATIC = '[firing]\nblow_down = "adiabatic"\n'
GREY, BLUE, RED = "#777777", "#1f5fa8", "#b3401f"
AXIAL = [("steady", "steady", "", GREY, "6 4"), ("axial", "axial", "", BLUE, "none"),
         ("axial, with erosion", "axial", EROSION, RED, "none")]
TRANSIENT = [("steady", "steady", "", GREY, "6 4"),
             ("transient", "transient", "", BLUE, "none"),
             ("transient, cooling as it blows down", "transient", ADIABATIC, RED, "2 3")]
HEIGHT, BOTTOM, TOP = 320, 44, 22


def curve(program, model, more):
    """(s, MPa) over the firing, from its first moment to its last."""
    with tempfile.TemporaryDirectory() as folder:
        job = Path(folder) / "job.toml"
        job.write_text(JOB.format(more=more))
        answer = subprocess.run([program, "fire", job, "--model", model, "--slices", "80", "--json"],
                                capture_output=True, check=True, text=True)
    columns = json.loads(answer.stdout)["curve"]
    return list(zip(columns["time_s"], (p / 1e6 for p in columns["pressure_Pa"])))


def shown(points, start, end):
    """The part between two times, cut at them."""
    kept = []
    for (t0, p0), (t1, p1) in zip(points, points[1:]):
        if t1 < start or t0 > end or t1 == t0:
            continue
        at = lambda t: p0 + (p1 - p0) * (t - t0) / (t1 - t0)
        low, high = max(t0, start), min(t1, end)
        kept += [(low, at(low)), (high, at(high))]
    return kept


class Panel:
    """Pressure over a stretch of time, between two x of the picture."""

    def __init__(self, left, right, start, end, most):
        self.left, self.right, self.start, self.end, self.most = left, right, start, end, most

    def x(self, t):
        return self.left + (t - self.start) / (self.end - self.start) * (self.right - self.left)

    def y(self, p):
        return HEIGHT - BOTTOM - p / self.most * (HEIGHT - BOTTOM - TOP)

    def axes(self, step, label):
        svg = []
        for p in range(int(self.most) + 1):
            svg.append(f'<path d="M{self.left} {self.y(p):.1f}H{self.right}" stroke="#dddddd"/>'
                       f'<text x="{self.left - 8}" y="{self.y(p) + 4:.1f}" text-anchor="end">{p}</text>')
        count = round((self.end - self.start) / step)
        for i in range(count + 1):
            t = self.start + i * step
            if t <= self.end * (1 + 1e-9):
                svg.append(f'<text x="{self.x(t):.1f}" y="{HEIGHT - BOTTOM + 18}" '
                           f'text-anchor="middle">{label(t)}</text>')
        return svg

    def line(self, points, colour, dash):
        inside = " ".join(f"{self.x(t):.1f},{self.y(p):.1f}"
                          for t, p in shown(points, self.start, self.end))
        return (f'<polyline points="{inside}" fill="none" stroke="{colour}" stroke-width="2" '
                f'stroke-dasharray="{dash}"/>')


def picture(width, title, body):
    return "\n".join([f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {HEIGHT}" '
                      'role="img" font-family="sans-serif" font-size="13">',
                      f"<title>{title}</title>",
                      f'<rect width="{width}" height="{HEIGHT}" fill="white"/>', *body, "</svg>"]) + "\n"


def legend(curves, x, y):
    return [f'<path d="M{x} {y + 18 * row - 4}h24" stroke="{colour}" stroke-width="2" '
            f'stroke-dasharray="{dash}"/><text x="{x + 30}" y="{y + 18 * row}">{name}</text>'
            for row, (name, _, colour, dash) in enumerate(curves)]


def axial(curves):
    last = max(points[-1][0] for _, points, _, _ in curves)
    most = max(p for _, points, _, _ in curves for _, p in points) * 1.05
    panel = Panel(60, 704, 0, last, most)
    body = panel.axes(1, lambda t: f"{t:g} s")
    body += [panel.line(points, colour, dash) for _, points, colour, dash in curves]
    body += ['<text x="30" y="14">head pressure, MPa</text>'] + legend(curves, 76, 214)
    return picture(720, "Head pressure over time of one long core, without and with erosion", body)


def transient(curves, rise=0.03, before=0.01, after=0.03):
    burnout = curves[0][1][-1][0]
    most = max(p for _, points, _, _ in curves for _, p in points) * 1.1
    panels = [Panel(60, 370, 0, rise, most), Panel(440, 734, burnout - before, burnout + after, most)]
    body = panels[0].axes(0.01, lambda t: f"{1e3 * t:.0f} ms")
    body += panels[1].axes(0.01, lambda t: f"{1e3 * (t - burnout):.0f} ms")
    for panel in panels:
        body += [panel.line(points + [(points[-1][0] + 1e-9, 0), (points[-1][0] + 1, 0)]
                            if name == "steady" else points, colour, dash)
                 for name, points, colour, dash in curves]
    body += ['<text x="30" y="14">pressure, MPa; after lighting</text>',
             '<text x="410" y="14">around the steady burnout</text>'] + legend(curves, 80, 60)
    return picture(760, "How the chamber fills, and how it blows down", body)


def main():
    program = sys.argv[1]
    for name, draw, lines in (("firing-axial.svg", axial, AXIAL),
                              ("firing-transient.svg", transient, TRANSIENT)):
        curves = [(label, curve(program, model, more), colour, dash)
                  for label, model, more, colour, dash in lines]
        Path(__file__).with_name(name).write_text(draw(curves))


if __name__ == "__main__":
    main()
