# SPDX-License-Identifier: GPL-3.0-or-later
"""bench_page.py PROGRAM: how long the bench takes from a hand's move to the frame that shows it.

Prints JSON in ms: a request answered by the server alone; in Chromium, a move until its answer is
drawn, and until the next frame is on the screen."""

import http.client
import json
import statistics
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "bench"))
from hand import FLAT, Page, browser  # noqa: E402
from server import Bench  # noqa: E402

MOVES = 150


def requests(bench, full):
    """Median of one answer over a connection that stays open."""
    line = http.client.HTTPConnection("127.0.0.1", bench.port)
    home = f"/{bench.token}/"
    line.request("GET", home + "opening")
    opening = json.loads(line.getresponse().read())
    head = {"Content-Type": "application/json", "Origin": f"http://127.0.0.1:{bench.port}"}
    took = []
    for i in range(2 * MOVES):
        state = json.loads(json.dumps(opening["start"]))
        state["segments"][0]["length_m"] -= 1e-5 * i
        body = json.dumps({"stamp": opening["stamp"], "state": state, "full": full})
        begun = time.perf_counter()
        line.request("POST", home + "answer", body, head)
        line.getresponse().read()
        took.append((time.perf_counter() - begun) * 1e3)
    return statistics.median(took)


MOVE = """
const done = arguments[arguments.length - 1];
const slider = document.querySelector("[data-knob='length']");
const least = Number(slider.min), most = Number(slider.max);
let left = arguments[0];
performance.clearMeasures();
slider.dispatchEvent(new PointerEvent('pointerdown', {bubbles: true}));
const step = () => {
  if (left-- === 0) {
    slider.dispatchEvent(new Event('change', {bubbles: true}));
    const read = (name) => performance.getEntriesByName(name).map((entry) => entry.duration);
    setTimeout(() => done({drawn: read('drawn'), shown: read('shown')}), 300);
    return;
  }
  slider.value = least + (most - least) * (0.2 + 0.15 * Math.sin(left / 7));
  slider.dispatchEvent(new Event('input', {bubbles: true}));
  setTimeout(step, 25);
};
step();
"""


def main(program):
    with Bench(program, FLAT) as bench:
        figures = {"request": requests(bench, False), "request_at_rest": requests(bench, True)}
        driver = browser()
        try:
            page = Page(driver, bench).open()
            driver.execute_async_script(MOVE, 30)  # warms up
            moves = driver.execute_async_script(MOVE, MOVES)
        finally:
            driver.quit()
    for name, took in moves.items():
        figures[name] = statistics.median(took)
        figures[name + "_95"] = statistics.quantiles(took, n=20)[-1]
    print(json.dumps(figures, indent=1))


if __name__ == "__main__":
    main(sys.argv[1])
