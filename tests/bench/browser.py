# SPDX-License-Identifier: GPL-3.0-or-later
"""browser.py PROGRAM [NAME...]: the bench's page in a real browser, driven as a hand would.

Each trial below gets a bench of its own on a copy of a case. A trial waits for what must become true,
never for a time."""

import contextlib
import json
import pathlib
import re
import sys
import time
import urllib.parse

from selenium import webdriver
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.ui import WebDriverWait

from server import Bench, PATIENCE

sys.path.append(str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import chromium

FLAT = "02-flat-burn-in-a-short-casing.toml"
STEP = 0.0254 / 16  # of its saw, m


def browser():
    options = webdriver.ChromeOptions()
    for word in ("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage",
                 "--hide-scrollbars", "--window-size=1280,1000", "--disable-extensions"):
        options.add_argument(word)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    driver = chromium.started(options)
    driver.set_script_timeout(PATIENCE)
    driver.set_page_load_timeout(PATIENCE)
    return driver


class Page:
    """What a hand and an eye do on the page."""

    def __init__(self, driver, bench):
        self.driver, self.bench = driver, bench

    def open(self):
        # The state of the page before is in its address alone.
        self.driver.get("about:blank")
        self.driver.get(self.bench.address)
        self.settled()
        return self

    def one(self, selector):
        return self.driver.find_element("css selector", selector)

    def all(self, selector):
        return self.driver.find_elements("css selector", selector)

    def run(self, script, *arguments):
        return self.driver.execute_script(script, *arguments)

    def until(self, true, what):
        WebDriverWait(self.driver, PATIENCE, poll_frequency=0.03).until(
            lambda _: true(), message=f"it never came: {what}")

    def settled(self):
        """The full answer, which follows the last move, is on the page."""
        self.until(lambda: self.run(
            "const w = document.getElementById('workshop');"
            "return w.querySelector('td') && !w.classList.contains('stale')"), "an answer at rest")

    def moved(self, deed):
        """Does something that changes the build, and waits until the page has followed."""
        before = self.state()
        deed()
        self.until(lambda: self.state() != before, "another state in the address")
        self.settled()

    def state(self):
        held = urllib.parse.unquote(self.driver.current_url.partition("#")[2])
        return json.loads(held)["state"] if held else None

    def press(self, selector):
        self.run("arguments[0].scrollIntoView({block: 'center'})", self.one(selector))
        self.one(selector).click()

    def typed(self, knob, text):
        field = self.one(f"[data-field='{knob}']")
        field.send_keys(Keys.CONTROL, "a")
        field.send_keys(text, Keys.ENTER)

    def figures(self):
        """Each with its value in SI and as it is read, all of one moment."""
        return {key: (float(value), text) for key, value, text in self.run(
            "return [...document.querySelectorAll('#figures dd')].map("
            "(d) => [d.dataset.figure, d.dataset.value, d.textContent])")}

    def limit(self, key):
        return self.one(f"#limits [data-key='{key}']")

    def point_on(self, selector, share=0.25):
        """A point on a drawn line, from the middle of the drawing."""
        return self.run(
            "const path = document.querySelector(arguments[0]);"
            "const p = path.getPointAtLength(path.getTotalLength() * arguments[1])"
            "  .matrixTransform(path.getScreenCTM());"
            "const box = document.getElementById('drawing').getBoundingClientRect();"
            "return [p.x - box.x - box.width / 2, p.y - box.y - box.height / 2]", selector, share)

    def click_face(self, number, face):
        self.run("document.getElementById('drawing').scrollIntoView({block: 'center'})")
        x, y = self.point_on(f"[data-number='{number}'][data-face='{face}'] .hit")
        ActionChains(self.driver).move_to_element_with_offset(
            self.one("#drawing"), round(x), round(y)).click().perform()

    def drag_grip(self, number, grip, dx, dy, shift=False):
        self.run("document.getElementById('drawing').scrollIntoView({block: 'center'})")
        knob = self.one(f"[data-number='{number}'][data-grip='{grip}'] .knobby")
        chain = ActionChains(self.driver, duration=20).move_to_element(knob)
        if shift:
            chain.key_down(Keys.SHIFT)
        chain.click_and_hold()
        for i in range(4):
            chain.move_by_offset(dx // 4, dy // 4)
        chain.release()
        if shift:
            chain.key_up(Keys.SHIFT)
        chain.perform()

    def save(self, name, over=False):
        self.press("#save")
        self.until(lambda: self.one("#save-name").is_displayed(), "the dialog")
        self.run("document.getElementById('save-name').value = arguments[0]", name)
        if over:
            self.press("#save-over")
        self.press("#save-go")
        self.until(lambda: self.one("#save-words").text != "", "words on the save")
        words = self.one("#save-words").text
        self.press("#save-close")
        return words


def equals_fire(page, name):
    """The figures on the page are those that `fire --json` gives for the saved job."""
    summary = page.bench.fired(name)["summary"]
    figures = page.figures()
    assert len(figures) >= 8, figures
    for key, (value, _) in figures.items():
        assert abs(value - summary[key]) <= 1e-9 * abs(summary[key]), (key, value, summary[key])


def on_the_step(length):
    return abs(length / STEP - round(length / STEP)) < 1e-6


def drags_lengths_and_cores(page):
    page.open()
    before = page.figures()
    page.moved(lambda: page.drag_grip(1, "length", -60, 0))
    length = page.state()["segments"][0]["length_m"]
    assert on_the_step(length), length
    assert page.figures()["total_impulse_Ns"][0] < before["total_impulse_Ns"][0]
    page.moved(lambda: page.drag_grip(1, "length", 24, 0, shift=True))
    assert page.state()["segments"][0]["length_m"] > length
    assert not on_the_step(page.state()["segments"][0]["length_m"])
    page.moved(lambda: page.drag_grip(1, "core", 0, -16))
    assert page.state()["segments"][0]["core_m"] == 0.015875, page.state()
    page.save("dragged.toml")
    equals_fire(page, "dragged.toml")


def clicks_a_face_and_undoes_it(page):
    page.open()
    before = page.figures()
    page.moved(lambda: page.click_face(1, "head"))
    assert page.state()["segments"][0]["inhibited"].count("head") == 1
    assert page.figures()["peak_thrust_N"] != before["peak_thrust_N"]
    page.moved(lambda: page.one("body").send_keys(Keys.CONTROL, "z"))
    assert page.figures() == before
    page.moved(lambda: page.press("#redo"))
    assert page.state()["segments"][0]["inhibited"].count("head") == 1
    page.moved(lambda: page.press("[data-face-button='head']"))
    assert page.figures() == before


def sentences_turn(page):
    page.open()
    page.moved(lambda: page.typed("throat", "7/16 in"))
    limit = page.limit("limits.pressure")
    assert limit.get_attribute("class") == "kept" and "under its ceiling" in limit.text, limit.text
    page.moved(lambda: page.typed("throat", "1/4 in"))
    limit = page.limit("limits.pressure")
    assert limit.get_attribute("class") == "broken" and "OVER its ceiling" in limit.text, limit.text
    assert "breaks" in page.one("#verdict").text
    page.typed("throat", "7")
    page.until(lambda: "has no unit" in page.one("#trouble").text, "a complaint about the unit")


def keeps_its_state(page):
    page.open()
    page.moved(lambda: page.press("[data-more='0']"))
    many, figures = page.state(), page.figures()
    page.driver.refresh()
    page.settled()
    assert page.state() == many and page.figures() == figures
    page.moved(lambda: page.press("[data-face-button='nozzle']"))
    page.moved(lambda: page.driver.back())
    assert page.state() == many
    page.until(lambda: page.figures() == figures, "the figures before")


def searches_from_here(page):
    page.open()
    page.press("#seek")
    page.until(lambda: page.all("#designs [data-design='0']"), "designs")
    assert "proven best" in page.one("#quest-words").text, page.one("#quest-words").text
    page.moved(lambda: page.press("#designs [data-design='0']"))
    found = re.search(r"misfit ([0-9.]+)", page.one("#designs li").text)[1]
    assert f"Misfit {found} " in page.one("#fit").text, (found, page.one("#fit").text)
    assert "holds every limit" in page.one("#verdict").text
    page.save("found.toml")
    equals_fire(page, "found.toml")


def saves_and_never_over(page):
    page.open()
    before = page.bench.files()
    assert "exists already" in page.save("job.toml")
    assert "plain file name" in page.save("../stolen.toml")
    assert page.bench.files() == before
    assert "Saved as mine.toml" in page.save("mine.toml")
    equals_fire(page, "mine.toml")
    page.moved(lambda: page.press("[data-face-button='head']"))
    assert "exists already" in page.save("mine.toml")
    assert "Saved as mine.toml" in page.save("mine.toml", over=True)
    equals_fire(page, "mine.toml")


def notices_the_file(page):
    page.open()
    text = page.bench.job.read_text().replace('throat = "3/8 in"', 'throat = "7/16 in"')
    page.bench.job.write_text(text)
    page.until(lambda: "has changed" in page.one("#notice").text, "a notice")
    page.moved(lambda: page.press("#notice-take"))
    assert abs(page.state()["throat_m"] - 0.0111125) < 1e-12
    page.until(lambda: not page.one("#notice").is_displayed(), "the notice gone")


def two_windows(page):
    page.open()
    first = page.driver.current_window_handle
    figures = page.figures()
    page.driver.switch_to.new_window("tab")
    try:
        page.open()
        page.moved(lambda: page.press("[data-face-button='head']"))
        assert page.figures() != figures
    finally:
        page.driver.close()
        page.driver.switch_to.window(first)
    assert page.figures() == figures


def keeps_to_compare(page):
    page.open()
    for face in ("head", "nozzle"):
        page.press("#keep")
        page.moved(lambda face=face: page.press(f"[data-face-button='{face}']"))
    assert len(page.all("#thrust .kept")) == 2 and len(page.all("#kept-table tbody tr")) == 3
    page.driver.refresh()
    page.until(lambda: len(page.all("#thrust .kept")) == 2, "the kept curves after a reload")
    page.settled()
    page.press("#keep")
    page.press("#keep")
    assert not page.one("#keep").is_enabled()


def works_by_keyboard(page):
    page.open()
    length = page.run("return Number(document.querySelector('[data-grip=length]').ariaValueNow)")
    page.run("document.querySelector('[data-grip=length]').focus()")
    page.moved(lambda: ActionChains(page.driver).send_keys(Keys.ARROW_LEFT).perform())
    assert abs(page.state()["segments"][0]["length_m"] - (length - STEP)) < 1e-9
    page.moved(lambda: ActionChains(page.driver).send_keys(Keys.ARROW_LEFT).perform())
    assert abs(page.state()["segments"][0]["length_m"] - (length - 2 * STEP)) < 1e-9
    page.run("document.querySelector('[data-face=head]').focus()")
    page.moved(lambda: ActionChains(page.driver).send_keys(" ").perform())
    assert "head" in page.state()["segments"][0]["inhibited"]
    slider = page.one("[data-knob='core']")
    page.moved(lambda: slider.send_keys(Keys.ARROW_RIGHT))
    assert page.state()["segments"][0]["core_m"] == 0.0127


def opens_the_report(page):
    page.open()
    page.moved(lambda: page.typed("length", "2 1/4 in"))
    first = page.driver.current_window_handle
    page.press("#report")
    page.until(lambda: len(page.driver.window_handles) == 2, "another window")
    page.driver.switch_to.window(page.driver.window_handles[1])
    try:
        page.until(lambda: "2.25 in" in page.one("body").text, "the build in its report")
    finally:
        page.driver.close()
        page.driver.switch_to.window(first)


@contextlib.contextmanager
def screen(page, width, height, touch=False):
    page.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", {
        "width": width, "height": height, "deviceScaleFactor": 1, "mobile": touch})
    page.driver.execute_cdp_cmd("Emulation.setTouchEmulationEnabled", {"enabled": touch})
    try:
        yield
    finally:
        page.driver.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
        page.driver.execute_cdp_cmd("Emulation.setTouchEmulationEnabled", {"enabled": False})


def works_by_touch_on_any_screen(page):
    with screen(page, 3840, 2160):
        page.open()
        assert page.run("return document.documentElement.scrollWidth <= innerWidth")
    with screen(page, 360, 740, touch=True):
        page.open()
        assert page.run("return innerWidth") == 360
        assert page.run("return document.documentElement.scrollWidth <= innerWidth")
        page.run("document.getElementById('drawing').scrollIntoView({block: 'center'})")
        x, y = page.run(
            "const b = document.querySelector('[data-grip=length] .knobby').getBoundingClientRect();"
            "return [b.x + b.width / 2, b.y + b.height / 2]")

        def swipe():
            for kind, at in (("touchStart", x), ("touchMove", x - 8), ("touchMove", x - 16),
                             ("touchMove", x - 24), ("touchEnd", None)):
                points = [] if at is None else [{"x": at, "y": y}]
                page.driver.execute_cdp_cmd("Input.dispatchTouchEvent",
                                            {"type": kind, "touchPoints": points})
        before = page.state()
        assert before is None or on_the_step(before["segments"][0]["length_m"])
        page.moved(swipe)
        assert on_the_step(page.state()["segments"][0]["length_m"])


TRIALS = [drags_lengths_and_cores, clicks_a_face_and_undoes_it, sentences_turn, keeps_its_state,
          searches_from_here, saves_and_never_over, notices_the_file, two_windows,
          keeps_to_compare, works_by_keyboard, opens_the_report, works_by_touch_on_any_screen]


def complaints_of(driver):
    """What the browser's console holds: a broken script, a breach of the page's policy. That the
    server refuses what it must refuse is no complaint."""
    return [entry["message"] for entry in driver.get_log("browser")
            if entry["level"] == "SEVERE" and "Failed to load resource" not in entry["message"]]


def main(program, names):
    chosen = [trial for trial in TRIALS if not names or trial.__name__ in names]
    driver = browser()
    try:
        for trial in chosen:
            begun = time.monotonic()
            with Bench(program, FLAT) as bench:
                trial(Page(driver, bench))
                assert bench.runs(), "the bench has gone"
            complaints = complaints_of(driver)
            assert not complaints, complaints
            print(f"{trial.__name__}: {time.monotonic() - begun:.1f} s", flush=True)
    finally:
        driver.quit()


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:])
