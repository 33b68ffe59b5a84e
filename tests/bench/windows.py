# SPDX-License-Identifier: GPL-3.0-or-later
"""windows.py PROGRAM [NAME...]: ways to the bench's page: two windows, a file that changes, a keyboard, a
finger, small and large screens, the browser that `--open` calls."""

import contextlib
import pathlib
import stat
import sys
import tempfile
import time

from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.keys import Keys

from hand import FLAT, STEP, equals_fire, on_the_step, screen, try_all
from server import PATIENCE, Bench


def notices_the_file(page):
    page.open()
    text = page.bench.job.read_text().replace('throat = "3/8 in"', 'throat = "7/16 in"')
    page.bench.job.write_text(text)
    page.until(lambda: "has changed" in page.one("#notice").text, "a notice")
    page.moved(lambda: page.press("#notice-take"))
    assert abs(page.state()["throat_m"] - 0.0111125) < 1e-12
    page.until(lambda: not page.one("#notice").is_displayed(), "the notice gone")
    page.bench.job.write_text(text + "# and again\n")
    page.until(lambda: page.one("#notice").is_displayed(), "a second notice")
    before = page.state()
    page.press("#notice-leave")
    page.moved(lambda: page.press("[data-face-button='head']"))
    page.until(lambda: not page.one("#notice").is_displayed(), "the notice gone")
    assert page.state()["throat_m"] == before["throat_m"]


def two_windows(page):
    page.open()
    first = page.driver.current_window_handle
    figures = page.figures()
    page.driver.switch_to.new_window("tab")
    second = page.driver.current_window_handle
    try:
        page.open()
        page.moved(lambda: page.press("[data-face-button='head']"))
        bared, changed = page.state(), page.figures()
        assert changed != figures
        page.driver.switch_to.window(first)
        assert page.figures() == figures
        page.moved(lambda: page.press("[data-face-button='nozzle']"))
        page.save("first.toml")
        equals_fire(page, "first.toml")
        page.driver.switch_to.window(second)
        assert page.state() == bared and page.figures() == changed
        page.driver.refresh()
        page.settled()
        assert page.state() == bared and page.figures() == changed
        page.save("second.toml")
        equals_fire(page, "second.toml")
    finally:
        page.driver.switch_to.window(second)
        page.driver.close()
        page.driver.switch_to.window(first)


def keys(page, *pressed, held=()):
    chain = ActionChains(page.driver)
    for key in held:
        chain.key_down(key)
    chain.send_keys(*pressed)
    for key in held:
        chain.key_up(key)
    chain.perform()


def tab_to(page, selector):
    """On with the tabulator until it is there, and seen to be there."""
    for _ in range(150):
        if page.run("return document.activeElement.matches(arguments[0])", selector):
            break
        keys(page, Keys.TAB)
    else:
        raise AssertionError(f"no way to {selector} by the tabulator")
    assert page.run("""
        const held = document.activeElement;
        const style = getComputedStyle(held);
        if (style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2) return true;
        const probe = document.body.appendChild(document.createElement('i'));
        probe.style.color = 'var(--focus)';
        const {color} = getComputedStyle(probe);
        probe.remove();
        return [...held.children].some((part) => {
          const {fill, stroke} = getComputedStyle(part);
          return fill === color || stroke === color;
        });
        """), f"nobody sees that {selector} has the focus"


def works_by_keyboard(page):
    page.open()
    length = page.run("return Number(document.querySelector('[data-grip=length]').ariaValueNow)")
    tab_to(page, "[data-face=head]")
    page.moved(lambda: keys(page, " "))
    assert "head" in page.state()["segments"][0]["inhibited"]
    page.moved(lambda: keys(page, " "))
    tab_to(page, "[data-grip=length]")
    for steps in (1, 2):
        page.moved(lambda: keys(page, Keys.ARROW_LEFT))
        assert abs(page.state()["segments"][0]["length_m"] - (length - steps * STEP)) < 1e-9
    tab_to(page, "[data-knob='core']")
    page.moved(lambda: keys(page, Keys.ARROW_RIGHT))
    assert page.state()["segments"][0]["core_m"] == 0.0127
    tab_to(page, "[data-field='throat']")
    page.moved(lambda: keys(page, "7/16 in", Keys.ENTER))
    keys(page, Keys.TAB)  # in a field Ctrl+Z is the browser's own
    page.moved(lambda: keys(page, "z", held=[Keys.CONTROL]))
    page.moved(lambda: keys(page, "z", held=[Keys.CONTROL, Keys.SHIFT]))
    assert abs(page.state()["throat_m"] - 0.0111125) < 1e-12
    tab_to(page, "#seek")
    keys(page, Keys.ENTER)
    page.until(lambda: page.all("#designs [data-design='0']"), "designs")
    tab_to(page, "[data-design='0']")
    page.moved(lambda: keys(page, Keys.ENTER))
    tab_to(page, "#save")
    keys(page, Keys.ENTER)
    page.until(lambda: page.one("#save-name").is_displayed(), "the dialog")
    keys(page, "by-keyboard.toml", Keys.ENTER)
    page.until(lambda: "Saved" in page.one("#save-words").text, "words on the save")
    keys(page, Keys.ESCAPE)
    page.until(lambda: not page.one("#save-name").is_displayed(), "the dialog gone")
    equals_fire(page, "by-keyboard.toml")


def fits_any_screen(page):
    for width, height, touch in ((360, 740, True), (3840, 2160, False)):
        with screen(page, width, height, touch):
            page.open()
            assert page.run("return innerWidth") == width
            assert page.run("return document.documentElement.scrollWidth <= innerWidth")
            # Nothing that is pressed lies outside, or is too small for a finger.
            astray = page.run("""
                return [...document.querySelectorAll('button, input, select, a')].filter((part) => {
                  const {left, right, height} = part.getBoundingClientRect();
                  return height > 0 && (left < 0 || right > innerWidth
                    || height < 24 && part.type !== 'checkbox');
                }).map((part) => part.outerHTML)""")
            assert not astray, astray
    with screen(page, 360, 740, touch=True):
        page.open()
        page.run("document.querySelector(\"[data-knob='throat']\").scrollIntoView({block: 'end'})")
        top, bottom = page.run("const b = document.getElementById('thrust').getBoundingClientRect();"
                               "return [b.top, b.bottom]")
        assert 0 <= top and bottom <= 740, "the curve is out of sight while the throat is moved"


def works_by_touch(page):
    with screen(page, 360, 740, touch=True):
        page.open()
        page.run("document.getElementById('drawing').scrollIntoView({block: 'center'})")
        x, y = page.run(
            "const b = document.querySelector('[data-grip=length] .knobby').getBoundingClientRect();"
            "return [b.x + b.width / 2, b.y + b.height / 2]")

        def touched(*places):
            for kind, at in (*places, ("touchEnd", None)):
                page.driver.execute_cdp_cmd("Input.dispatchTouchEvent", {
                    "type": kind,
                    "touchPoints": [] if at is None else [{"x": at[0], "y": at[1]}]})

        page.moved(lambda: touched(("touchStart", (x, y)), *(
            ("touchMove", (x - by, y)) for by in (8, 16, 24))))
        assert on_the_step(page.state()["segments"][0]["length_m"])

        def tapped():
            size = page.run("const b = document.getElementById('drawing').getBoundingClientRect();"
                            "return [b.x + b.width / 2, b.y + b.height / 2]")
            dx, dy = page.point_on("[data-number='1'][data-face='head'] .hit")
            before, begun = page.state(), time.monotonic()
            touched(("touchStart", (size[0] + dx, size[1] + dy)))
            # On a busy machine a tap may last so long that it is a press, which does nothing.
            if time.monotonic() - begun > 0.3:
                time.sleep(5)
                if page.state() == before:
                    tapped()

        page.moved(tapped)
        assert "head" in page.state()["segments"][0]["inhibited"]


@contextlib.contextmanager
def opened_bench(program):
    """A bench that has been asked to open a browser, and what it called that with."""
    with tempfile.TemporaryDirectory(prefix="grainwright-") as folder:
        called = pathlib.Path(folder, "called")
        opener = pathlib.Path(folder, "xdg-open")
        opener.write_text(f'#!/bin/sh\nprintf %s "$*" > {called}.part\nmv {called}.part {called}\n')
        opener.chmod(0o700)
        with Bench(program, FLAT, "--open", path=folder) as bench:
            until = time.monotonic() + PATIENCE
            while not called.exists():
                assert time.monotonic() < until, "no browser was called"
                time.sleep(0.02)
            yield bench, called.read_text()


def comes_in_by_a_doorway(page):
    with opened_bench(page.bench.program) as (bench, called):
        doorway = pathlib.Path(called)
        assert bench.token not in called
        assert stat.S_IMODE(doorway.stat().st_mode) == 0o600
        page.driver.get(doorway.as_uri())
        page.settled()
        assert page.driver.current_url == bench.address
        page.until(lambda: not doorway.exists(), "the doorway gone, as it is used")
    with opened_bench(page.bench.program) as (bench, called):
        assert pathlib.Path(called).exists()
        bench.interrupt()
        assert not pathlib.Path(called).exists()


TRIALS = [notices_the_file, two_windows, works_by_keyboard, fits_any_screen,
          works_by_touch, comes_in_by_a_doorway]


if __name__ == "__main__":
    try_all(TRIALS, sys.argv[1], sys.argv[2:])
