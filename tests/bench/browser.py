# SPDX-License-Identifier: GPL-3.0-or-later
"""browser.py PROGRAM [NAME...]: builds moved, searched, compared and saved on the bench's page."""

import pathlib
import re
import sys
import time

from selenium.webdriver.common.keys import Keys

from hand import STEP, equals_fire, on_the_step, try_all
from server import HOUSE


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
    assert page.one("#verdict").text.startswith("NO")
    page.typed("throat", "7")
    page.until(lambda: "has no unit" in page.one("#trouble").text, "a complaint about the unit")
    time.sleep(1)  # an answer at rest does not wipe it
    page.settled()
    assert "has no unit" in page.one("#trouble").text
    page.moved(lambda: page.typed("throat", "7/16 in"))
    assert not page.one("#trouble").is_displayed()


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
    assert page.one("#verdict").text.startswith("YES")
    page.save("found.toml")
    equals_fire(page, "found.toml")


def stops_a_search(page):
    fine = page.bench.job.read_text().replace('length_step = "1/16 in"', 'length_step = "1/256 in"')
    page.bench.job.write_text(fine)
    page.open()
    page.press("#seek")
    page.until(lambda: page.run("return document.getElementById('share').value") > 0, "progress")
    page.moved(lambda: page.press("[data-face-button='head']"))  # while it runs
    page.press("#halt")
    page.until(lambda: "topped" in page.one("#quest-words").text, "words that it has stopped")
    page.until(lambda: page.one("#seek").is_enabled() and not page.one("#halt").is_displayed(),
               "the buttons as they were")


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


def keeps_to_compare(page):
    page.open()
    page.press("#keep")
    first = page.state()
    page.moved(lambda: page.press("[data-face-button='head']"))
    page.press("#keep")
    page.moved(lambda: page.press("[data-face-button='nozzle']"))
    assert len(page.all("#thrust .kept")) == 2 and len(page.all("#kept-table tbody tr")) == 3
    page.driver.refresh()
    page.until(lambda: len(page.all("#thrust .kept")) == 2, "the kept curves after a reload")
    page.settled()
    page.press("#keep")
    page.press("#keep")
    assert len(page.all("#thrust .kept")) == 4 and not page.one("#keep").is_enabled()
    page.moved(lambda: page.press("#kept-table tbody tr:nth-child(2) button"))
    assert page.state() == first
    page.press("#kept-table [aria-label='Forget build A']")
    page.until(lambda: len(page.all("#thrust .kept")) == 3, "one curve fewer")
    assert page.one("#keep").is_enabled()


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


def is_propellant(page, z, y):
    """Whether the first segment is drawn solid at z from its head end, y above the axis; mm."""
    return page.run("return document.querySelector('#drawing path.cast').isPointInFill("
                    "new DOMPoint(100 * arguments[0], -100 * arguments[1]))", z, y)


def draws_odd_cores(page):
    drifted = pathlib.Path(HOUSE, "cases/08-pour-that-drifted-off-centre.toml").read_text()
    beside = '{ diameter = "14 mm", offset = "2 mm" }'
    tapered = drifted.replace(beside, '{ head = "10 mm", nozzle = "18 mm" }')
    slotted = pathlib.Path(HOUSE, "cases/10a-one-pour-with-three-slots.toml").read_text()
    for text, solid, empty in (
            (tapered, [(2, 7), (2, -7), (60, 10)], [(60, 7), (60, -7), (2, 4)]),
            (slotted, [(60, 12), (60, -12), (47.5, 16)], [(47.5, 12), (47.5, -12), (60, 5)])):
        page.bench.job.write_text(text)
        page.open()
        assert all(is_propellant(page, z, y) for z, y in solid)
        assert not any(is_propellant(page, z, y) for z, y in empty)
        assert not page.one("[data-knob='core']").is_enabled()
    page.bench.job.write_text(drifted)
    page.open()
    assert is_propellant(page, 30, 8) != is_propellant(page, 30, -8)
    assert page.one(".end .hollow").is_displayed()
    page.moved(lambda: page.click_face(2, "core"))
    assert "core" in page.state()["segments"][0]["inhibited"]
    page.moved(lambda: page.press("#undo"))
    page.moved(lambda: page.typed("length", "60 mm"))
    page.save("shorter.toml")
    equals_fire(page, "shorter.toml")
    page.moved(lambda: page.press("[data-round='0']"))
    assert not page.one(".end").is_displayed() and page.one("[data-knob='core']").is_enabled()


def tells_the_flight_and_what_holds(page):
    page.bench.job.write_text(pathlib.Path(HOUSE, "cases/12-for-the-rail.toml").read_text())
    page.open()
    page.moved(lambda: page.typed("throat", "7/16 in"))
    page.save("flown.toml")
    flight = page.bench.told("fly", "flown.toml")["fly"]
    figures = page.figures()
    for key in ("rail_exit_speed_m_s", "thrust_to_weight", "apogee_m"):
        assert figures[key][0] == flight[key], (key, figures[key], flight[key])
    page.bench.job.write_text(pathlib.Path(HOUSE, "cases/07-holds-with-factor-two.toml").read_text())
    page.open()
    page.moved(lambda: page.press("[data-face-button='head']"))
    page.save("held.toml")
    parts = page.bench.told("margins", "held.toml")["margins"]["parts"]
    assert len(parts) >= 3
    for part in parts:
        sentence = page.one(f"#holds [data-key='{part['part']}']").text
        assert f"holds {part['ratio']:.2f} times its load" in sentence, (part, sentence)


SWEEP = """
const done = arguments[arguments.length - 1];
const slider = document.querySelector("[data-knob='length']");
performance.clearResourceTimings();
let left = 20;
const step = () => {
  slider.value = Number(slider.min) + (0.2 + 0.01 * left) * (slider.max - slider.min);
  slider.dispatchEvent(new Event('input', {bubbles: true}));
  if (--left > 0) return void setTimeout(step, 10);
  slider.dispatchEvent(new Event('change', {bubbles: true}));
  done(Number(slider.value));
};
step();
"""


def asks_only_for_the_latest(page):
    page.open()
    page.driver.execute_cdp_cmd("Network.enable", {})
    page.driver.execute_cdp_cmd("Network.emulateNetworkConditions", {
        "offline": False, "latency": 300, "downloadThroughput": -1, "uploadThroughput": -1})
    try:
        last = []
        page.moved(lambda: last.append(page.driver.execute_async_script(SWEEP)))
        asked = page.run("return performance.getEntriesByType('resource')"
                         ".filter((entry) => entry.name.endsWith('/answer')).length")
        assert 2 <= asked <= 12, asked  # of 20 moves
        state, figures = page.state(), page.figures()
        assert abs(state["segments"][0]["length_m"] - last[0]) <= STEP / 2 + 1e-9
        # What is undone before its answer has come does not come back with it.
        page.run("document.querySelector(\"[data-face-button='head']\").click();"
                 "document.getElementById('undo').click()")
        page.settled()
        page.until(lambda: page.figures() == figures, "the figures before")
        time.sleep(1)  # several answers' time
        assert page.state() == state and page.figures() == figures
    finally:
        page.driver.execute_cdp_cmd("Network.emulateNetworkConditions", {
            "offline": False, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1})
        page.driver.execute_cdp_cmd("Network.disable", {})


TRIALS = [drags_lengths_and_cores, clicks_a_face_and_undoes_it, sentences_turn,
          keeps_its_state, searches_from_here, stops_a_search, saves_and_never_over,
          keeps_to_compare, opens_the_report, draws_odd_cores,
          tells_the_flight_and_what_holds, asks_only_for_the_latest]


if __name__ == "__main__":
    try_all(TRIALS, sys.argv[1], sys.argv[2:])
