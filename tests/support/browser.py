#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Opens the program's pages in Chromium as a reader does, and validates them as HTML.

Usage: browser.py PROGRAM

Looks at the report, the casting sheet and a comparison of the front-loaded case, and at the pages of
a job whose title and file name try to be more than text.
"""

import contextlib
import base64
import functools
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import time
import unittest

import chromium
from selenium import webdriver
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

HOUSE = pathlib.Path(__file__).resolve().parents[2]
PATIENCE = 60  # s, for a page on a busy machine
A4 = (8.27, 11.69)
LETTER = (8.5, 11)
HOSTILE = ("</title></script><script>window.harmed = 1</script><img src=x onerror=\"harmed = 2\">"
           "' \" & &amp; \u202eright to left\u202c \u05e9\u05dc\u05d5\u05dd ]]> " + "long" * 700)
HOSTILE_FILE = "a \"quoted\" 'job' <b onclick=harmed>\u202e&.toml"
PROGRAM = ""


class Pages:
    """Everything the tests look at, made once."""

    def __init__(self, folder):
        self.folder = pathlib.Path(folder)
        case = HOUSE / "cases" / "03-front-loaded-for-a-heavy-airframe.toml"
        self.run("design", case, "--save", "build.toml")
        self.run("report", "build.toml", "-o", "report.html")
        self.run("cutlist", "build.toml", "--sheet", "sheet.html")
        self.run("design", "--compare", "build.toml", HOUSE / "cases" / "04-one-long-pour.toml",
                 "-o", "compare.html")
        self.run("report", HOUSE / "cases" / "06c-widest-throat-loses-its-hot-seat.toml", "-o",
                 "margins.html")
        text = (self.folder / "build.toml").read_text(encoding="utf-8")
        title = "title = " + json.dumps(HOSTILE, ensure_ascii=False)
        text = re.sub("^title = .*$", lambda _: title, text, flags=re.M)
        (self.folder / HOSTILE_FILE).write_text(text, encoding="utf-8")
        self.run("report", HOSTILE_FILE, "-o", "hostile.html")
        self.run("cutlist", HOSTILE_FILE, "--sheet", "hostile-sheet.html")
        self.run("design", "--compare", HOSTILE_FILE, "build.toml", "-o", "hostile-compare.html")

    def run(self, *words):
        done = subprocess.run([PROGRAM, *map(str, words)], cwd=self.folder, capture_output=True,
                              text=True, timeout=PATIENCE, check=False)
        if done.returncode not in (0, 1):
            raise RuntimeError(f"{words}: {done.stderr}")

    def __iter__(self):
        return iter(sorted(self.folder.glob("*.html")))


def opened_browser(profile):
    options = webdriver.ChromeOptions()
    options.binary_location = "/usr/bin/chromium"
    for word in ("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage",
                 "--no-first-run", "--hide-scrollbars", f"--user-data-dir={profile}",
                 "--window-size=1100,1400"):
        options.add_argument(word)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    browser = chromium.started(options)
    browser.set_page_load_timeout(PATIENCE)
    return browser


def channel(value):
    value /= 255
    return value / 12.92 if value <= 0.03928 else ((value + 0.055) / 1.055) ** 2.4


def luminance(colour):
    """Of a CSS colour such as #0a5688, by WCAG 2.1."""
    red, green, blue = (int(colour[i:i + 2], 16) for i in (1, 3, 5))
    return 0.2126 * channel(red) + 0.7152 * channel(green) + 0.0722 * channel(blue)


def contrast(one, other):
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


class InTheBrowser(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.stack = contextlib.ExitStack()
        folder = cls.stack.enter_context(tempfile.TemporaryDirectory(prefix="grainwright-"))
        profile = cls.stack.enter_context(
            tempfile.TemporaryDirectory(prefix="grainwright-", ignore_cleanup_errors=True))
        cls.pages = Pages(folder)
        cls.browser = opened_browser(profile)
        cls.stack.callback(cls.browser.quit)

    @classmethod
    def tearDownClass(cls):
        cls.stack.close()

    def setUp(self):
        self.media()
        self.browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})

    def open(self, name):
        for kind in ("browser", "performance"):
            self.browser.get_log(kind)
        self.browser.get((self.pages.folder / name).as_uri())

    def media(self, **features):
        wanted = [{"name": k.replace("_", "-"), "value": v} for k, v in features.items()]
        self.browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": wanted})

    def script(self, text, *arguments):
        return self.browser.execute_script(text, *arguments)

    def readings(self):
        return self.script("return Array.from(document.querySelectorAll('.reading'), "
                           "reading => reading.textContent)")

    def shown(self, selector):
        return self.script("const found = document.querySelector(arguments[0]);"
                           "return found !== null && found.getClientRects().length > 0", selector)

    def printed(self, size):
        """Number of pages on paper of this size."""
        pdf = base64.b64decode(self.browser.execute_cdp_cmd("Page.printToPDF", {
            "paperWidth": size[0], "paperHeight": size[1], "preferCSSPageSize": False})["data"])
        return len(re.findall(rb"/Type\s*/Page\b", pdf))

    def test_no_complaint_and_no_request(self):
        for page in self.pages:
            with self.subTest(page.name):
                self.open(page.name)
                self.assertEqual(self.browser.get_log("browser"), [])
                asked = [json.loads(entry["message"])["message"]
                         for entry in self.browser.get_log("performance")]
                urls = [m["params"]["request"]["url"] for m in asked
                        if m["method"] == "Network.requestWillBeSent"]
                outside = [u for u in urls if u != page.as_uri() and not u.startswith("data:")]
                self.assertEqual(outside, [])
                self.assertIn(page.as_uri(), urls)

    def test_hostile_text_is_text(self):
        for name in ("hostile.html", "hostile-sheet.html", "hostile-compare.html"):
            with self.subTest(name):
                self.open(name)
                self.assertIsNone(self.script("return window.harmed ?? null"))
                heading = self.browser.find_element(By.TAG_NAME, "h1")
                self.assertIn(HOSTILE, heading.get_property("textContent"))
                self.assertEqual(self.script("return document.querySelectorAll('h1 *:not(bdi), img')"
                                             ".length"), 0)
        self.open("hostile.html")
        summary = self.browser.find_element(By.CSS_SELECTOR, "#job ~ details summary")
        self.assertEqual(summary.get_property("textContent"), HOSTILE_FILE)
        # Even a script that got in would not be run.
        self.script("const s = document.createElement('script'); s.textContent = 'window.harmed = 3';"
                    "document.body.append(s)")
        self.assertIsNone(self.script("return window.harmed ?? null"))

    def test_pointer_reads_every_chart(self):
        self.open("report.html")
        plot = self.browser.find_element(By.CSS_SELECTOR, "[data-chart=pressure] .plot")
        self.script("arguments[0].scrollIntoView({block: 'center', behavior: 'instant'})", plot)
        ActionChains(self.browser).move_to_element(plot).perform()
        readings = self.readings()
        self.assertEqual(len(readings), 3)
        moments = {reading.split(" s: ")[0] for reading in readings}
        self.assertEqual(len(moments), 1, readings)
        self.assertNotIn("", moments)
        self.assertNotEqual(self.browser.find_element(By.ID, "moment").get_property("value"), "0")

    def test_slider_burns_the_grain(self):
        self.open("report.html")
        slider = self.browser.find_element(By.ID, "moment")
        whole = self.script("return document.getElementById('propellant').getAttribute('d')")
        slider.send_keys(Keys.ARROW_RIGHT)
        first = self.script("return document.getElementById('propellant').getAttribute('d')")
        self.assertNotEqual(whole, first)
        self.assertIn("% of the propellant left", slider.get_attribute("aria-valuetext"))
        self.assertEqual(len(set(r.split(" s: ")[0] for r in self.readings())), 1)
        slider.send_keys(Keys.END)
        self.assertEqual(self.script("return document.getElementById('propellant').getAttribute('d')"),
                         "")
        self.assertIn("0 % of the propellant left", slider.get_attribute("aria-valuetext"))

    def test_without_javascript(self):
        self.browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
        try:
            self.open("report.html")
        finally:
            self.browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})
        self.assertTrue(self.shown(".chart > svg"))
        self.assertTrue(self.shown(".stills svg"))
        self.assertFalse(self.shown(".moment"))
        self.open("report.html")
        self.assertFalse(self.shown(".chart > svg"))
        self.assertFalse(self.shown(".stills svg"))
        self.assertTrue(self.shown(".moment"))

    def test_narrow_screen(self):
        self.browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", {
            "width": 320, "height": 700, "deviceScaleFactor": 1, "mobile": True})
        for page in self.pages:
            with self.subTest(page.name):
                self.open(page.name)
                self.assertEqual(self.script("return document.documentElement.scrollWidth"), 320)

    def test_light_and_dark(self):
        tints = ("ink", "quiet", "predicted", "asked", "third", "limit")
        for scheme in ("light", "dark"):
            self.media(prefers_color_scheme=scheme)
            self.open("report.html")
            value = functools.partial(
                self.script, "return getComputedStyle(document.documentElement)"
                ".getPropertyValue('--' + arguments[0]).trim()")
            paper = value("paper")
            self.assertEqual(luminance(paper) < 0.2, scheme == "dark")
            for tint in tints:
                with self.subTest(f"{tint} on {scheme} paper"):
                    self.assertGreaterEqual(contrast(value(tint), paper), 4.5)
            for tint in ("inhibited", "limit"):
                with self.subTest(f"{tint} on propellant, {scheme}"):
                    self.assertGreaterEqual(contrast(value(tint), value("propellant")), 3)

    def test_lines_differ_without_colour(self):
        self.open("compare.html")
        dashes = self.script("return [0, 1, 2, 3].map(pen => { const line = document.createElementNS("
                             "'http://www.w3.org/2000/svg', 'path'); line.setAttribute('class', "
                             "'trace pen-' + pen); document.querySelector('svg').append(line); "
                             "return getComputedStyle(line).strokeDasharray; })")
        self.assertEqual(len(set(dashes)), 4, dashes)

    def test_print(self):
        for size in (A4, LETTER):
            for name, most in (("report.html", 7), ("sheet.html", 2), ("compare.html", 4)):
                with self.subTest(f"{name} on {size}"):
                    self.open(name)
                    self.assertIn(self.printed(size), range(1, most + 1))

    def test_names_for_those_who_listen(self):
        for page in self.pages:
            with self.subTest(page.name):
                self.open(page.name)
                nameless = self.script(
                    "return Array.from(document.querySelectorAll('svg'), svg => "
                    "svg.getAttribute('aria-hidden') === 'true' || "
                    "(svg.getAttribute('aria-label') ?? '') !== '').filter(named => !named).length")
                self.assertEqual(nameless, 0)
                doubled = self.script("const ids = Array.from(document.querySelectorAll('[id]'), "
                                      "e => e.id); return ids.length - new Set(ids).size")
                self.assertEqual(doubled, 0)
                figures = self.script("return Array.from(document.querySelectorAll('.chart'), "
                                      "f => f.querySelector('details table') !== null)")
                self.assertNotIn(False, figures)

    def test_html_is_valid(self):
        for page in self.pages:
            with self.subTest(page.name):
                done = subprocess.run(["tidy", "-quiet", "-errors", "--drop-empty-elements", "no",
                                       page], capture_output=True, text=True, check=False)
                self.assertEqual(done.stderr, "")
                self.assertLess(page.stat().st_size, 1_000_000)


if __name__ == "__main__":
    PROGRAM = str(pathlib.Path(sys.argv.pop(1)).resolve())
    unittest.main(verbosity=2)
