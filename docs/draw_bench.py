#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Plays the try that docs/bench.md tells, and takes its pictures.

    docs/draw_bench.py build/grainwright

Works as a hand would, on a copy of case 02, in the browser that the tests use; prints what the page says
after each step and how long a person would have needed until then, and writes docs/bench-*.png.
"""
import base64
import pathlib
import sys
import time

HOUSE = pathlib.Path(__file__).resolve().parent.parent
sys.path.insert(0, str(HOUSE / "tests/bench"))
from hand import FLAT, Page, browser, screen  # noqa: E402
from selenium.webdriver.common.keys import Keys  # noqa: E402
from selenium.webdriver.support.ui import Select  # noqa: E402
from server import Bench  # noqa: E402


def picture(page, name, most=None):
    """The whole page, however long, or the top of it."""
    size = page.run("const e = document.documentElement; return [e.clientWidth, e.scrollHeight]")
    size[1] = min(size[1], most or size[1])
    shot = page.driver.execute_cdp_cmd("Page.captureScreenshot", {
        "captureBeyondViewport": True,
        "clip": {"x": 0, "y": 0, "width": size[0], "height": size[1], "scale": 1}})
    (HOUSE / f"docs/bench-{name}.png").write_bytes(base64.b64decode(shot["data"]))


# What a hand and a head need for each, s: keystroke-level model of Card, Moran and Newell (from memory).
NEEDS = {"think": 1.35, "point": 1.1, "press": 0.28, "home": 0.4}
WORDS_A_SECOND = 4  # read; common practice, no source


class Clock:
    """What a person would have needed so far."""

    def __init__(self):
        self.seconds = 0.0
        self._read = set()

    def does(self, deeds):
        self.seconds += sum(NEEDS[deed] for deed in deeds.split())

    def types(self, text):
        self.does("think point press home " + "press " * (len(text) + 1) + "home")

    def reads(self, text):
        """Of a sentence that has been read before, what is new in it."""
        new = [word for word in text.split() if word not in self._read]
        self._read.update(new)
        self.seconds += len(new) / WORDS_A_SECOND

    def __str__(self):
        return f"{int(self.seconds // 60)}:{int(self.seconds % 60):02}"


def tell(page, clock, deed):
    lines = [f"{page.one('#verdict').text} {page.one('#fit').text}"]
    lines += [f"- {limit.text}" for limit in page.all("#limits .broken")]
    clock.reads(" ".join(lines))
    lighting, peak = page.figures()["initial_thrust_N"][1], page.figures()["peak_pressure_Pa"][1]
    print(f"> {deed}", *lines, f"{lighting} at lighting; peak pressure {peak}; {clock}", sep="\n  ")


def turn(page, clock, knob, steps):
    """Onto a slider, and some steps up."""
    slider = page.one(f"[data-knob='{knob}']")
    clock.does("think point press home" + " press" * steps + " home")
    for _ in range(steps):
        page.moved(lambda: slider.send_keys(Keys.ARROW_RIGHT))


def type_in(page, clock, knob, text):
    clock.types(text)
    page.moved(lambda: page.typed(knob, text))


def by_hand(page, clock):
    clock.reads(page.one(".hint").text + " " + page.one("#limits").text)
    tell(page, clock, "The flat case, as it opens")
    picture(page, "opens")
    clock.does("think point press point press")
    page.moved(lambda: Select(page.one("#profile")).select_by_value("front-loaded"))
    type_in(page, clock, "lead", "1.3")
    tell(page, clock, "Profile asked: front-loaded, lead 1.3")
    turn(page, clock, "core", 2)
    tell(page, clock, "Core slider two rods up, to 5/8 in")
    turn(page, clock, "throat", 2)
    tell(page, clock, "Throat slider two drills up, to 7/16 in")
    clock.does("think point press")
    page.moved(lambda: page.press("[data-more='0']"))
    tell(page, clock, "One segment more")
    type_in(page, clock, "length", "1 13/16 in")
    tell(page, clock, "Segments cut to 1 13/16 in")


def by_search(page, clock):
    clock.does("think point press think point press")
    page.press("#keep")
    picture(page, "by-hand")
    begun = time.monotonic()
    page.press("#seek")
    page.until(lambda: page.all("#designs [data-design='0']"), "designs")
    clock.seconds += time.monotonic() - begun
    found = [page.one("#quest-words").text, page.one("#designs li").text.splitlines()[0]]
    clock.reads(" ".join(found))
    print("> Search from here", *found, sep="\n  ")
    clock.does("think point press")
    page.moved(lambda: page.press("#designs [data-design='0']"))
    tell(page, clock, "The first one put on the bench")
    picture(page, "searched")
    print("> " + page.save("front-loaded.toml"))


def play(page):
    clock = Clock()
    page.open()
    by_hand(page, clock)
    by_search(page, clock)


ODD = """[job]
title = "Four odd cores"
units = "si"

[casing]
pipe = "1-1/2 sch 40"
grain_room = "270 mm"
tube_wall = "1.5 mm"
fit = "0.5 mm"

[propellant]
name = "kn-sucrose"

[nozzle]
throat = "13 mm"
exit = "25 mm"
efficiency = 0.85

[[segment]]
length = "62 mm"
core = { diameter = "14 mm", offset = "4 mm" }

[[segment]]
length = "62 mm"
core = { head = "14 mm", nozzle = "20 mm" }

[[segment]]
length = "62 mm"
inhibited = ["head", "outer"]
[segment.core]
shape = "cross"
length = "24 mm"
width = "6 mm"

[[segment]]
length = "70 mm"
core = "16 mm"
[[segment.slot]]
at = "35 mm"
width = "4 mm"
depth = "6 mm"

[shop]
spacer = "2 mm"

[limits]
pressure = "8 MPa"
"""


def main(program):
    driver = browser()
    try:
        with Bench(program, FLAT) as bench:
            play(Page(driver, bench))
        with Bench(program, FLAT) as bench:
            page = Page(driver, bench)
            with screen(page, 360, 740, touch=True):
                page.open()
                picture(page, "phone")
            bench.job.write_text(ODD)
            picture(page.open(), "cores", 680)
    finally:
        driver.quit()


if __name__ == "__main__":
    main(sys.argv[1])
