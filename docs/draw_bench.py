#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Plays the try that docs/bench.md tells, and takes its pictures.

    docs/draw_bench.py build/grainwright

Works as a hand would, on a copy of case 02, in the browser that the tests use; prints what the page says
after each step, and writes docs/bench-*.png.
"""
import base64
import pathlib
import sys

HOUSE = pathlib.Path(__file__).resolve().parent.parent
sys.path.insert(0, str(HOUSE / "tests/bench"))
from browser import FLAT, Page, browser, screen  # noqa: E402
from selenium.webdriver.common.keys import Keys  # noqa: E402
from selenium.webdriver.support.ui import Select  # noqa: E402
from server import Bench  # noqa: E402


def picture(page, name):
    """The whole page, however long."""
    size = page.run("const e = document.documentElement; return [e.clientWidth, e.scrollHeight]")
    shot = page.driver.execute_cdp_cmd("Page.captureScreenshot", {
        "captureBeyondViewport": True,
        "clip": {"x": 0, "y": 0, "width": size[0], "height": size[1], "scale": 1}})
    (HOUSE / f"docs/bench-{name}.png").write_bytes(base64.b64decode(shot["data"]))


def tell(page, deed):
    print(f"> {deed}")
    print(f"  {page.one('#verdict').text} {page.one('#fit').text}")
    for limit in page.all("#limits .broken"):
        print(f"  - {limit.text}")
    lighting, peak = page.figures()["initial_thrust_N"][1], page.figures()["peak_pressure_Pa"][1]
    print(f"  {lighting} at lighting; peak pressure {peak}")


def play(page):
    page.open()
    tell(page, "The flat case, as it opens")
    picture(page, "opens")
    page.moved(lambda: Select(page.one("#profile")).select_by_value("front-loaded"))
    page.moved(lambda: page.typed("lead", "1.3"))
    tell(page, "Profile asked: front-loaded, lead 1.3")
    slider = page.one("[data-knob='core']")
    for _ in range(2):
        page.moved(lambda: slider.send_keys(Keys.ARROW_RIGHT))
    tell(page, "Core slider two rods up, to 5/8 in")
    throat = page.one("[data-knob='throat']")
    for _ in range(2):
        page.moved(lambda: throat.send_keys(Keys.ARROW_RIGHT))
    tell(page, "Throat slider two drills up, to 7/16 in")
    page.moved(lambda: page.press("[data-more='0']"))
    tell(page, "One segment more")
    page.moved(lambda: page.typed("length", "1 13/16 in"))
    tell(page, "Segments cut to 1 13/16 in")
    page.press("#keep")
    picture(page, "by-hand")
    page.press("#seek")
    page.until(lambda: page.all("#designs [data-design='0']"), "designs")
    print(f"> Search from here\n  {page.one('#quest-words').text}\n  {page.one('#designs li').text}")
    page.moved(lambda: page.press("#designs [data-design='0']"))
    tell(page, "The first one put on the bench")
    picture(page, "searched")
    print("> " + page.save("front-loaded.toml"))


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
    finally:
        driver.quit()


if __name__ == "__main__":
    main(sys.argv[1])
