#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Draws the pictures of docs/scatter.md from the program's own output.

    docs/draw_scatter.py build/grainwright

Scatters case 13 and writes docs/scatter-thrust.svg, scatter-pressure.svg and scatter-shares.svg.
"""
import json
import pathlib
import subprocess
import sys

HOUSE = pathlib.Path(__file__).resolve().parent.parent
CASE = HOUSE / "cases" / "13-one-motor-in-forty.toml"
WIDTH, HEIGHT = 760, 320
LEFT, RIGHT, TOP, BOTTOM = 64, 16, 20, 48
BLUE, RED, GREY = "#1f5fa8", "#b5371f", "#5a6472"


def ticks(top, count):
    """Round steps from 0 to the top."""
    step = 1e-9
    while True:
        for factor in (1, 2, 5):
            if top / (step * factor) <= count:
                step *= factor
                return [i * step for i in range(int(top / step * 1.0001) + 1)]
        step *= 10


class Picture:
    """An SVG with axes from 0 (or a given left end) to what must fit."""

    def __init__(self, title, x_range, y_top, x_words, y_words, y_ticks=True):
        self.x0, self.x1 = x_range
        self.top = y_top
        self.lines = [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" '
            'font-family="sans-serif" font-size="13">',
            f"<title>{title}</title>", f'<rect width="{WIDTH}" height="{HEIGHT}" fill="#fff"/>']
        for value in ticks(y_top, 6) if y_ticks else []:
            self.lines.append(f'<path d="M{LEFT} {self.y(value):.1f}H{WIDTH - RIGHT}" stroke="#ddd"/>')
            self.text(LEFT - 8, self.y(value) + 4, f"{value:g}", "end")
        for value in ticks(self.x1, 8):
            if value >= self.x0:
                self.lines.append(f'<path d="M{self.x(value):.1f} {self.y(0):.1f}v5" stroke="#444"/>')
                self.text(self.x(value), self.y(0) + 20, f"{value:g}", "middle")
        self.lines.append(f'<path d="M{LEFT} {self.y(0):.1f}H{WIDTH - RIGHT}" stroke="#444"/>')
        self.text((LEFT + WIDTH - RIGHT) / 2, HEIGHT - 8, x_words, "middle")
        self.lines.append(f'<text transform="translate(16 {(HEIGHT - BOTTOM) / 2}) rotate(-90)" '
                          f'text-anchor="middle">{y_words}</text>')

    def x(self, value):
        return LEFT + (WIDTH - LEFT - RIGHT) * (value - self.x0) / (self.x1 - self.x0)

    def y(self, value):
        return HEIGHT - BOTTOM - (HEIGHT - TOP - BOTTOM) * value / self.top

    def text(self, x, y, words, anchor="start", colour="#222", bold=False):
        weight = ' font-weight="bold"' if bold else ""
        self.lines.append(f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" '
                          f'fill="{colour}"{weight}>{words}</text>')

    def path(self, points, stroke="none", fill="none", width=2.5, close=False):
        data = "L".join(f"{self.x(a):.1f} {self.y(b):.1f}" for a, b in points)
        self.lines.append(f'<path d="M{data}{"Z" if close else ""}" fill="{fill}" stroke="{stroke}" '
                          f'stroke-width="{width}" stroke-linejoin="round"/>')

    def save(self, name):
        (HOUSE / "docs" / name).write_text("\n".join(self.lines) + "\n</svg>\n")


def thrust(result):
    band = result["thrust_band"]
    time = band["time_s"]
    picture = Picture("Thrust over time: the band that holds nine of ten motors",
                      (0, time[-1]), max(band["p95_N"]) * 1.1, "time, s", "thrust, N")
    low, middle, high = (list(zip(time, band[key])) for key in ("p5_N", "p50_N", "p95_N"))
    picture.path(high + low[::-1], fill="#cfe0f2", close=True, width=0)
    picture.path(middle, stroke=BLUE)
    # Over the tail, where nothing is drawn, with a line from each name to what it names.
    for words, key, share, x, y in (("nine of ten motors at each moment", "p95_N", 0.36, 0.5, 0.95),
                                    ("half of them stay under this", "p50_N", 0.55, 0.62, 0.78)):
        at = int(share * len(time))
        to_x, to_y = picture.x(time[at]), picture.y(band[key][at])
        from_x, from_y = picture.x(x * time[-1]), picture.y(y * picture.top)
        picture.lines.append(f'<path d="M{from_x - 6:.1f} {from_y - 4:.1f}L{to_x:.1f} {to_y:.1f}" '
                             f'stroke="{GREY}"/>')
        picture.text(from_x, from_y, words, "start", BLUE, True)
    picture.save("scatter-thrust.svg")


def pressure(result):
    histogram = result["histogram"]
    share = [100 * value for value in histogram["share"]]
    start, step = histogram["from_Pa"] / 1e6, histogram["step_Pa"] / 1e6
    ceiling = result["ceiling_Pa"] / 1e6
    weakest = min(result["parts"], key=lambda part: part["holds_Pa"])
    holds = weakest["holds_Pa"] / 1e6
    end = max(start + step * len(share), holds * 1.06)
    picture = Picture("Peak pressure of many motors", (0, end), max(share) * 1.15,
                      "peak pressure, MPa", "motors in a hundred")
    for i, value in enumerate(share):
        left, right = start + i * step, start + (i + 1) * step
        colour = RED if left >= ceiling else BLUE
        picture.path([(left, 0), (left, value), (right, value), (right, 0)], fill=colour,
                     close=True, width=0)
    for at, words, y in ((ceiling, "ceiling", 0.98), (holds, f"the {weakest['part']} gives", 0.85)):
        picture.path([(at, 0), (at, picture.top)], stroke=RED, width=1.5)
        picture.text(picture.x(at) - 6, picture.y(picture.top * y) + 8, words, "end", RED, True)
    over = 100 * result["chance_over_ceiling"]["value"]
    picture.text(picture.x(ceiling) + 8, picture.y(picture.top * 0.3), f"{over:.1f} in a hundred",
                 "start", RED, True)
    picture.save("scatter-pressure.svg")


def shares(result):
    rows = [row for row in result["shares"] if not row["key"].endswith("strength")]
    rows = sorted(rows, key=lambda row: -row["total"]["value"])[:9]
    picture = Picture("What part of the variance of peak pressure goes with each input", (0, 100),
                      len(rows), "of the variance of peak pressure, %", "", y_ticks=False)
    left = 250
    scale = (WIDTH - RIGHT - left) / 100
    picture.lines = picture.lines[:3]
    row_height = (HEIGHT - TOP - BOTTOM) / len(rows)
    for i, row in enumerate(rows):
        y = TOP + i * row_height
        alone = max(0.0, 100 * row["alone"]["value"])
        total = max(alone, 100 * row["total"]["value"])
        picture.text(left - 10, y + row_height / 2 + 4, row["input"], "end")
        for value, colour in ((total, "#cfe0f2"), (alone, BLUE)):
            picture.lines.append(f'<rect x="{left}" y="{y + 4:.1f}" width="{value * scale:.1f}" '
                                 f'height="{row_height - 8:.1f}" fill="{colour}"/>')
        picture.text(left + total * scale + 6, y + row_height / 2 + 4, f"{total:.1f} %", "start", GREY)
    picture.text((left + WIDTH - RIGHT) / 2, HEIGHT - 12,
                 "part of the variance of peak pressure: dark alone, light together with others",
                 "middle")
    picture.save("scatter-shares.svg")


def main():
    program = str(pathlib.Path(sys.argv[1]).resolve())
    run = subprocess.run([program, "scatter", str(CASE), "--json"], capture_output=True, text=True,
                         check=False)
    result = json.loads(run.stdout)["scatter"]
    thrust(result)
    pressure(result)
    shares(result)


if __name__ == "__main__":
    main()
