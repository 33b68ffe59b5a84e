#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Draws the README's picture from the program's own output.

    docs/draw.py build/grainwright

Fires the long single pour of case 04 and the build that the search finds in case 02 (same pipe, same
propellant), and writes docs/long-pour-and-search.svg.
"""
import csv
import pathlib
import subprocess
import sys
import tempfile

HOUSE = pathlib.Path(__file__).resolve().parent.parent
WIDTH, HEIGHT = 760, 360
LEFT, RIGHT, TOP, BOTTOM = 64, 16, 20, 48


def curve(program, job):
    """Time in s and thrust in N, with the rise at lighting and the fall at burnout."""
    out = subprocess.run([program, "fire", job, "--csv"], capture_output=True, text=True)
    rows = list(csv.DictReader(out.stdout.splitlines()))
    points = [(float(r["time_s"]), float(r["thrust_N"])) for r in rows]
    return [(0.0, 0.0)] + points + [(points[-1][0], 0.0)]


def ticks(top, count):
    raw = top / count
    power = 10 ** len(str(int(raw))) / 10 if raw >= 1 else 0.1
    step = min((m * power for m in (1, 2, 5, 10) if m * power >= raw), default=raw)
    value = 0.0
    while value <= top * 1.0001:
        yield value
        value += step


def draw(curves):
    most_time = max(t for _, points, _ in curves for t, _ in points) * 1.05
    most_thrust = max(f for _, points, _ in curves for _, f in points) * 1.08
    x = lambda t: LEFT + (WIDTH - LEFT - RIGHT) * t / most_time
    y = lambda f: HEIGHT - BOTTOM - (HEIGHT - TOP - BOTTOM) * f / most_thrust
    svg = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" '
        'font-family="sans-serif" font-size="13">',
        "<title>Thrust over time: one long pour, and the stack that the search finds</title>",
        f'<rect width="{WIDTH}" height="{HEIGHT}" fill="#fff"/>',
    ]
    for f in ticks(most_thrust, 6):
        svg.append(f'<path d="M{LEFT} {y(f):.1f}H{WIDTH - RIGHT}" stroke="#ddd"/>')
        svg.append(f'<text x="{LEFT - 8}" y="{y(f) + 4:.1f}" text-anchor="end">{f:g}</text>')
    for t in ticks(most_time, 8):
        svg.append(f'<path d="M{x(t):.1f} {y(0):.1f}v5" stroke="#444"/>')
        svg.append(f'<text x="{x(t):.1f}" y="{y(0) + 20:.1f}" text-anchor="middle">{t:g}</text>')
    svg.append(f'<path d="M{LEFT} {y(0):.1f}H{WIDTH - RIGHT}" stroke="#444"/>')
    svg.append(f'<text x="{(LEFT + WIDTH - RIGHT) / 2}" y="{HEIGHT - 8}" text-anchor="middle">'
               "time, s</text>")
    svg.append(f'<text transform="translate(16 {(HEIGHT - BOTTOM) / 2}) rotate(-90)" '
               'text-anchor="middle">thrust, N</text>')
    for words, points, (colour, dash, at, dx, dy) in curves:
        path = "L".join(f"{x(t):.1f} {y(f):.1f}" for t, f in points)
        svg.append(f'<path d="M{path}" fill="none" stroke="{colour}" stroke-width="2.5" '
                   f'stroke-linejoin="round" stroke-dasharray="{dash}"/>')
        t, f = points[int(at * (len(points) - 1))]
        svg.append(f'<text x="{x(t) + dx:.1f}" y="{y(f) + dy:.1f}" fill="{colour}" '
                   f'font-weight="bold">{words}</text>')
    svg.append("</svg>\n")
    return "\n".join(svg)


def main():
    program = str(pathlib.Path(sys.argv[1]).resolve())
    cases = HOUSE / "cases"
    with tempfile.TemporaryDirectory() as folder:
        build = f"{folder}/build.toml"
        subprocess.run([program, "design", cases / "02-flat-burn-in-a-short-casing.toml", "--save",
                        build], check=True, capture_output=True)
        found = curve(program, build)
    long_pour = curve(program, cases / "04-one-long-pour.toml")
    (HOUSE / "docs" / "long-pour-and-search.svg").write_text(draw([
        ("one long pour", long_pour, ("#9a3324", "7 4", 0.35, 10, 20)),
        ("what the search finds", found, ("#1b5e83", "none", 0.3, 0, -12)),
    ]))


if __name__ == "__main__":
    main()
