#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Prints casting sheets in Chromium, on A4 and on Letter, and measures the paper.

Usage: true_size.py PROGRAM [FOLDER]

What is wanted is what the jobs below say, in mm. With FOLDER the PDFs are kept there, to be looked at.
"""

import base64
import contextlib
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

import chromium
import printed
from selenium import webdriver

PAPERS = {"A4": (8.27, 11.69), "Letter": (8.5, 11)}  # in
ACCURACY = 0.002
INCH = 25.4
EDGE = 9.9  # mm, how near to the paper's edge a template may come
LEAST = 3  # mm; smaller rings are the marks before the remarks
PROGRAM = ""
KEPT = None

HEAD = """[job]
title = "{title}"
units = "{units}"
[propellant]
name = "{propellant}"
density = "1770 kg/m3"
characteristic_velocity = "1500 m/s"
gamma = 1.2
[[propellant.law]]
rate = "3 mm/s"
at = "1 MPa"
n = 0.35
[nozzle]
throat = "14 mm"
"""
SEGMENT = """[[segment]]
count = {count}
length = "{length}"
outer_diameter = "{tube}"
core = {core}
inhibited = {faces}
"""


def job(units, segments, title="Bench motor", propellant="example"):
    text = HEAD.format(title=title, units=units, propellant=propellant)
    for count, length, tube, core, *faces in segments:
        text += SEGMENT.format(count=count, length=length, tube=tube,
                               core=core if core.startswith("{") else f'"{core}"',
                               faces=faces[0] if faces else '["outer"]')
    return text


WORDY = " ".join(["Second pour of the long batch, cast after the first one was found too short"] * 4)
UNBROKEN = "Unbroken" * 30
ALL_FACES = '["outer", "head"]'
SIXTEENTHS = range(4, 16)

# A job, and the diameters that its templates hold, mm.
JOBS = {
    "metric, one kind": (job("si", [(4, "85 mm", "50 mm", "20 mm")]), [50, 20]),
    "inches, one kind": (job("us", [(4, "2 7/16 in", "1 5/16 in", "5/8 in")]),
                         [1.3125 * INCH, 0.625 * INCH]),
    "inches, long words": (
        job("us", [(3, "12 63/64 in", "1 21/32 in", "5/8 in", ALL_FACES),
                   (2, "3 1/128 in", "1 21/32 in", "37/64 in", ALL_FACES)], WORDY, UNBROKEN),
        [1.65625 * INCH, 0.625 * INCH, 1.65625 * INCH, 37 / 64 * INCH]),
    "inches, an unbroken title": (job("us", [(4, "2 7/16 in", "1 5/16 in", "5/8 in")], UNBROKEN),
                                  [1.3125 * INCH, 0.625 * INCH]),
    "inches, twelve kinds": (
        job("us", [(2, f"{2 + i % 3} {2 * i + 1}/64 in", "1 5/16 in", f"{i}/16 in")
                   for i in SIXTEENTHS]),
        [size for i in SIXTEENTHS for size in (1.3125 * INCH, i / 16 * INCH)]),
    "metric, twelve kinds of 98 mm": (
        job("si", [(1, f"{100 + 7 * i}.5 mm", "98 mm", f"{20 + 2 * i} mm") for i in range(12)]),
        [size for i in range(12) for size in (98, 20 + 2 * i)]),
    "metric, 98 mm, tapered": (
        job("si", [(2, "150 mm", "98 mm", '{ head = "30 mm", nozzle = "36.5 mm" }')]),
        [98, 30, 36.5]),
    "inches, as wide as the paper": (job("us", [(2, "6 1/2 in", "7 in", "1 3/4 in")]),
                                     [7 * INCH, 1.75 * INCH]),
}
# Wider than both papers print, beside one that is not.
TOO_WIDE = job("si", [(2, "150 mm", "179 mm", "60 mm"), (2, "150 mm", "120 mm", "40 mm")])

# As another font might be: a quarter of its size more room behind every letter.
WIDE_LETTERS = ("const style = document.createElement('style'); style.textContent = "
                "'* { letter-spacing: .25em !important }'; document.head.append(style)")


class Printer:
    def __init__(self, stack):
        self.folder = pathlib.Path(stack.enter_context(
            tempfile.TemporaryDirectory(prefix="grainwright-")))
        profile = stack.enter_context(
            tempfile.TemporaryDirectory(prefix="grainwright-", ignore_cleanup_errors=True))
        options = webdriver.ChromeOptions()
        options.binary_location = "/usr/bin/chromium"
        for word in ("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage",
                     "--no-first-run", f"--user-data-dir={profile}"):
            options.add_argument(word)
        self.browser = chromium.started(options)
        stack.callback(self.browser.quit)

    def sheet(self, text):
        """The casting sheet of a job, opened."""
        (self.folder / "job.toml").write_text(text, encoding="utf-8")
        words = [PROGRAM, "cutlist", "job.toml", "--sheet", "sheet.html", "--force"]
        done = subprocess.run(words, cwd=self.folder, capture_output=True, text=True, check=False)
        if done.returncode not in (0, 1):
            raise RuntimeError(done.stderr)
        self.browser.get((self.folder / "sheet.html").as_uri())

    def printed(self, paper, name):
        width, height = PAPERS[paper]
        pdf = base64.b64decode(self.browser.execute_cdp_cmd("Page.printToPDF", {
            "paperWidth": width, "paperHeight": height, "preferCSSPageSize": False})["data"])
        if KEPT:
            plain = re.sub("[^a-z0-9]+", "-", f"{name}, {paper}".lower())
            (pathlib.Path(KEPT) / f"{plain}.pdf").write_bytes(pdf)
        return printed.sheets_of(pdf)


class TrueSize(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.stack = contextlib.ExitStack()
        cls.printer = Printer(cls.stack)

    @classmethod
    def tearDownClass(cls):
        cls.stack.close()

    def same(self, found, wanted, what):
        shares = [f"{got:.3f} for {asked:.3f}: {got / asked:.4f}" for got, asked in zip(found, wanted)]
        self.assertEqual(len(found), len(wanted), f"{what}: {shares}")
        for got, asked in zip(found, wanted):
            self.assertLess(abs(got / asked - 1), ACCURACY, f"{what}: {shares}")

    def measured(self, sheets, rings):
        """Holds the check bar, which stands once, and the rings to their sizes."""
        bars = [path for sheet in sheets for path in sheet.paths
                if len(path.strokes) > 20 and printed.level_lines(path, 20)]
        self.assertEqual(len(bars), 1)
        self.same(printed.level_lines(bars[0], 20), [100, 4 * INCH], "check bar")
        found = []
        for sheet in sheets:
            for ring in (path for path in sheet.paths if printed.is_ring(path)):
                if ring.width() < LEAST:
                    continue
                found.append(ring.width())
                self.assertAlmostEqual(ring.height(), ring.width(), delta=ACCURACY * ring.width())
                left, low, right, high = ring.box()
                self.assertGreater(min(left, low), EDGE)
                self.assertLess(right, sheet.width - EDGE)
                self.assertLess(high, sheet.height - EDGE)
        self.same(found, rings, "rings")

    def test_true_size_on_both_papers(self):
        for name, (text, rings) in JOBS.items():
            for letters in ("as they are", "wide"):
                self.printer.sheet(text)
                if letters == "wide":
                    self.printer.browser.execute_script(WIDE_LETTERS)
                for paper in PAPERS:
                    with self.subTest(f"{name} on {paper}, letters {letters}"):
                        sheets = self.printer.printed(paper, f"{name} {letters}")
                        self.assertAlmostEqual(sheets[0].width, PAPERS[paper][0] * INCH, delta=0.5)
                        self.measured(sheets, rings)

    def test_what_no_paper_takes_is_not_drawn_but_told(self):
        self.printer.sheet(TOO_WIDE)
        told = self.printer.browser.execute_script(
            "return Array.from(document.querySelectorAll('.not-drawn'), p => p.textContent)")
        self.assertEqual(len(told), 1)
        self.assertIn("Not drawn: tube bore 179 mm, core 60 mm.", told[0])
        for paper in PAPERS:
            with self.subTest(paper):
                self.measured(self.printer.printed(paper, "too wide"), [120, 40])

    def test_a_shrunk_page_is_noticed(self):
        """The measuring itself: what widens the page must show."""
        self.printer.sheet(JOBS["metric, one kind"][0])
        self.printer.browser.execute_script(
            "const wide = document.createElement('div'); wide.style.width = '230mm';"
            "wide.textContent = 'wide'; document.body.append(wide)")
        for paper in PAPERS:
            with self.subTest(paper), self.assertRaises(AssertionError):
                self.measured(self.printer.printed(paper, "shrunk"), [50, 20])


if __name__ == "__main__":
    PROGRAM = str(pathlib.Path(sys.argv[1]).resolve())
    KEPT = sys.argv[2] if len(sys.argv) > 2 else None
    unittest.main(argv=sys.argv[:1], verbosity=2)
