#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Takes the pictures of these pages from the program's own pages, in Chromium.

    docs/pictures.py build/grainwright

Makes the report, the casting sheet and a comparison of the front-loaded case, and writes docs/*.png.
Needs the packages of the group "tests".
"""
import base64
import pathlib
import subprocess
import sys
import tempfile

from selenium import webdriver

HOUSE = pathlib.Path(__file__).resolve().parent.parent
CASES = HOUSE / "cases"
# Name, page, colours, width, and what of the page is kept: from its top down to the end of this.
PICTURES = [
    ("report", "report.html", "light", 1000, ".chart"),
    ("report-half-burned", "report.html", "dark", 1000, ".chart"),
    ("casting-sheet", "sheet.html", "light", 1000, "main"),
    ("comparison", "compare.html", "light", 1000, ".chart"),
]


def pages(program, folder):
    def run(*words):
        subprocess.run([program, *map(str, words)], cwd=folder, check=True, capture_output=True)

    run("design", CASES / "03-front-loaded-for-a-heavy-airframe.toml", "--save", "build.toml")
    run("design", CASES / "03-front-loaded-for-a-heavy-airframe.toml", "--save", "fewest.toml",
        "--pick", "3")
    run("report", "build.toml", "-o", "report.html")
    run("cutlist", "build.toml", "--sheet", "sheet.html")
    run("design", "--compare", "build.toml", "fewest.toml", "-o", "compare.html")


def opened_browser():
    options = webdriver.ChromeOptions()
    options.binary_location = "/usr/bin/chromium"
    for word in ("--headless=new", "--no-sandbox", "--disable-gpu", "--hide-scrollbars"):
        options.add_argument(word)
    return webdriver.Chrome(service=webdriver.chrome.service.Service("/usr/bin/chromedriver"),
                            options=options)


def picture(browser, page, scheme, width, last):
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {
        "features": [{"name": "prefers-color-scheme", "value": scheme}]})
    browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", {
        "width": width, "height": 1400, "deviceScaleFactor": 1, "mobile": False})
    browser.get(page.as_uri())
    if scheme == "dark":
        browser.execute_script("const s = document.getElementById('moment'); s.value = 24;"
                               "s.dispatchEvent(new Event('input'))")
    height = browser.execute_script(
        "return document.querySelector(arguments[0]).getBoundingClientRect().bottom + 16", last)
    shot = browser.execute_cdp_cmd("Page.captureScreenshot", {
        "captureBeyondViewport": True,
        "clip": {"x": 0, "y": 0, "width": width, "height": height, "scale": 1}})
    return base64.b64decode(shot["data"])


def main():
    program = str(pathlib.Path(sys.argv[1]).resolve())
    browser = opened_browser()
    try:
        with tempfile.TemporaryDirectory() as folder:
            pages(program, folder)
            for name, page, scheme, width, last in PICTURES:
                made = picture(browser, pathlib.Path(folder, page), scheme, width, last)
                (HOUSE / "docs" / f"{name}.png").write_bytes(made)
    finally:
        browser.quit()


if __name__ == "__main__":
    main()
