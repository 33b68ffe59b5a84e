# SPDX-License-Identifier: GPL-3.0-or-later
"""The bench's page in a real browser, driven as a hand would, for the trials beside this.

Each trial gets a bench of its own on a copy of a case. A trial waits for what must become true, never
for a time."""

import contextlib
import json
import pathlib
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
            "return w && w.querySelector('td') && !w.classList.contains('stale')"), "an answer at rest")

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
    fired = page.bench.told("fire", name)
    # The page shows the headline pressure: the highest of all models.
    summary = fired["summary"] | {"peak_pressure_Pa": fired["judged"]["peak_pressure_Pa"]}
    figures = page.figures()
    assert len(figures) >= 8, figures
    for key, (value, _) in figures.items():
        assert abs(value - summary[key]) <= 1e-9 * abs(summary[key]), (key, value, summary[key])


def on_the_step(length):
    return abs(length / STEP - round(length / STEP)) < 1e-6


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


def complaints_of(driver):
    """What the browser's console holds: a broken script, a breach of the page's policy. That the
    server refuses what it must refuse is no complaint."""
    return [entry["message"] for entry in driver.get_log("browser")
            if entry["level"] == "SEVERE" and "Failed to load resource" not in entry["message"]]


def try_all(trials, program, names):
    """Those of these names, or all of them."""
    driver = browser()
    try:
        for trial in trials:
            if names and trial.__name__ not in names:
                continue
            begun = time.monotonic()
            with Bench(program, FLAT) as bench:
                trial(Page(driver, bench))
                assert bench.runs(), "the bench has gone"
            complaints = complaints_of(driver)
            assert not complaints, complaints
            print(f"{trial.__name__}: {time.monotonic() - begun:.1f} s", flush=True)
    finally:
        driver.quit()
