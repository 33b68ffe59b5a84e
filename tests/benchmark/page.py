# SPDX-License-Identifier: GPL-3.0-or-later
"""page.py BUILD PAGE: times whole processes and writes the page of figures from what was measured."""

import json
import math
import os
import re
import statistics
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
REPETITIONS = 101
STACKS = {3: "3 equal", 4: "4 unlike"}
REACH_SUMS = {(3, 1): 0.15, (4, 1): 0.45, (3, 5): 0.3, (4, 5): 0.7}  # microseconds
REACH_MODELS = {"transient": 0.1, "axial": 5.0}  # ms
REACH_CORES = {20: 0.5, 200: 10}
REACH_SEARCH = 0.5  # s
REACH_SCATTER = 0.1  # s
REACH_PROCESS = 15.0  # ms
REACH_REPORT = 200.0  # ms
REACH_PAGE = 1000.0  # kB
REACH_MEMORY = 100.0  # MB
LOG_ROWS = 10_000_000
REACH_LOG, REACH_LOG_MEMORY = 5.0, 500.0  # s, MB
REACH_BENCH = 16.0  # ms
REACH_SCIPY = 1000.0  # times


def machine(build):
    cpu = re.search(r"model name\s*:\s*(.+)", Path("/proc/cpuinfo").read_text())
    compiler = re.search(r"CMAKE_CXX_COMPILER:\w+=(.+)", (build / "CMakeCache.txt").read_text())[1]
    version = subprocess.run([compiler, "--version"], capture_output=True, text=True, check=True)
    return (f"{cpu[1] if cpu else 'unknown processor'}, {os.cpu_count()} cores, "
            f"{version.stdout.splitlines()[0]}, release build; load average "
            f"{os.getloadavg()[2]:.1f}")


def benchmarks(path):
    """Median of each benchmark's repetitions, by name."""
    rows = json.loads(path.read_text())["benchmarks"]
    return {row["run_name"]: row for row in rows if row.get("aggregate_name") == "median"}


def process_ms(arguments, repetitions=REPETITIONS):
    """Median wall time of whole processes."""
    times = []
    for _ in range(repetitions):
        start = time.perf_counter()
        subprocess.run(arguments, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
        times.append(1e3 * (time.perf_counter() - start))
    return statistics.median(times)


def memory_mb(arguments):
    """Greatest resident memory seen, read while the process runs."""
    peak = 0
    with subprocess.Popen(arguments, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as child:
        while child.poll() is None:
            try:
                status = Path(f"/proc/{child.pid}/status").read_text()
            except OSError:
                break
            found = re.search(r"VmHWM:\s*(\d+)", status)
            peak = max(peak, int(found[1]) if found else 0)
    return peak / 1024


def table(head, rows):
    lines = ["| " + " | ".join(head) + " |", "|" + " --- |" * len(head)]
    return "\n".join(lines + ["| " + " | ".join(row) + " |" for row in rows])


def verdict(value, reach, at_least=False):
    return "reached" if (value >= reach if at_least else value <= reach) else "missed"


def firing_rows(firing, scipy):
    targets, ratios = [], []
    for (segments, pieces), reach in REACH_SUMS.items():
        key = f"{segments}/{pieces}"
        sums = firing[f"sums/{key}"]["cpu_time"] / 1e3
        start = firing[f"from_motor/{key}"]["cpu_time"] / 1e3
        naive = firing[f"naive/{key}"]
        march = naive["cpu_time"] / 1e3
        script = scipy[key] * 1e6
        what = f"{STACKS[segments]} segments, law of {pieces} piece{'s' if pieces > 1 else ''}"
        targets.append([f"one steady firing: {what}", f"{reach:g} us", f"{sums:.3g} us",
                        verdict(sums, reach)])
        ratios.append([what, f"{start:.3g} us", f"{march:.3g} us",
                       f"{max(naive['time_error'], naive['impulse_error']):.1g}",
                       f"{march / start:.0f}", f"{script:.3g} us", f"{script / start:.0f}"])
    for model, reach in REACH_MODELS.items():
        for segments, pieces in REACH_SUMS:
            took = firing[f"{model}_firing/{segments}/{pieces}"]["cpu_time"] / 1e6
            targets.append([f"one {model} firing{', 20 slices' if model == 'axial' else ''}: "
                            f"{STACKS[segments]} segments, law of {pieces} "
                            f"piece{'s' if pieces > 1 else ''}", f"{reach:g} ms", f"{took:.2g} ms",
                            verdict(took, reach)])
    slowest = min(float(row[-1]) for row in ratios)
    targets.append(["SciPy script, same job and accuracy, from the motor on", "1000 times slower",
                    f"{slowest:.0f} times or more", verdict(slowest, REACH_SCIPY, True)])
    return targets, ratios


def core_rows(core):
    targets = []
    for corners, reach in REACH_CORES.items():
        took = core[f"whole_burnback/corners:{corners}"]["cpu_time"] / 1e6
        targets.append([f"drawn core of {corners} corners: whole burnback with events",
                        f"{reach:g} ms", f"{took:.2g} ms", verdict(took, reach)])
    # An event costs a firing the same whatever makes it, so a stack with as many is the fair match.
    for name, words, most in (("firing_with_curve", "with its curve, the burnback known", True),
                              ("firing_sums", "burn time and impulse alone", False)):
        took = {corners: core[f"{name}/corners:{corners}"]["cpu_time"] / 1e3
                for corners in (-12, 0, *REACH_CORES)}
        for corners in REACH_CORES:
            targets.append([
                f"a steady firing of {corners} corners, {words}; of a round core; of 12 unlike ones",
                "like a round one" if most else "",
                f"{took[corners]:.3g} us; {took[0]:.3g} us; {took[-12]:.3g} us",
                verdict(took[corners], took[-12]) if most else ""])
    return targets


def bench_rows(bench):
    """From a hand's move on the bench's page to what an eye sees."""
    what = {"request": "bench: one move answered by the server",
            "request_at_rest": "bench: the full answer at rest, by the server",
            "drawn": "bench: from a move to its answer drawn, in Chromium",
            "drawn_95": "the same, 95 of 100 moves",
            "shown": "bench: from a move to the next frame on the screen, at 60 frames a second"}
    for key, words in what.items():
        # A frame comes every 16.7 ms whatever is drawn, so the last row has no reach of its own.
        reached = ["", f"{bench[key]:.1f} ms", ""] if key == "shown" else [
            f"{REACH_BENCH:g} ms", f"{bench[key]:.1f} ms", verdict(bench[key], REACH_BENCH)]
        yield [words, *reached]


def flight_rows(flight):
    names = {"rail_alone": "rail exit speed alone, as the search asks it",
             "apogee_alone": "apogee alone, likewise",
             "whole_steady_flight": "whole flight of a steady firing, with its track",
             "whole_transient_flight": "whole flight through a curve of over 800 points"}
    return [[words, f"{flight[name]['cpu_time']:.3g} us"] for name, words in names.items()]


# What grows, benchmark, unit, microseconds in it.
GROWTHS = [
    ("unlike segments, steady firing from the motor on", "steady_firing_of_segments", "us", 1),
    ("unlike segments, transient firing", "transient_firing_of_segments", "ms", 1e3),
    ("unlike segments, axial firing", "axial_firing_of_segments", "ms", 1e3),
    ("kinds of segment, search of the shop above", "search_with_kinds", "s", 1e6),
    ("corners of a drawn core, whole burnback", "burnback_of_corners", "ms", 1e3),
    ("firings of a scatter, with strength", "scatter_of_samples", "ms", 1e3),
]


def growth_rows(growth):
    """Each size with its time, and the power of the size with which the last step grew."""
    for words, name, unit, scale in GROWTHS:
        times = {int(row["run_name"].split("/")[1]): row["real_time"] / 1e3 / scale
                 for row in growth.values() if row["run_name"].startswith(name + "/")}
        sizes = sorted(times)
        last, before = sizes[-1], sizes[-2]
        power = math.log(times[last] / times[before]) / math.log(last / before)
        yield [words, "; ".join(f"{size}: {times[size]:.2g}" for size in sizes), unit,
               f"{power:.1f}"]


def log_rows(program, build):
    """A log of millions of rows: read, cleaned, its figures told, by a whole process."""
    log = build / "millions.csv"
    with log.open("w") as file:
        file.write("time_s,force_N\n")
        for i in range(LOG_ROWS):
            force = 320.0 if LOG_ROWS < 5 * i < 4 * LOG_ROWS else 20.0
            file.write(f"{i / 1e6:.6f},{force + i % 7 / 4:.6f}\n")
    command = [program, "stand", log]
    took = process_ms(command, repetitions=5) / 1e3
    memory = memory_mb(command)
    size = log.stat().st_size / 1e6
    log.unlink()
    return [[f"`stand` of a log of {LOG_ROWS / 1e6:.0f} million rows, {size:.0f} MB, whole process",
             f"{REACH_LOG:g} s", f"{took:.2f} s", verdict(took, REACH_LOG)],
            ["its memory", f"{REACH_LOG_MEMORY:g} MB", f"{memory:.0f} MB",
             verdict(memory, REACH_LOG_MEMORY)]]


def report_rows(program, build):
    """The page of the front-loaded case, with its search and its scatter."""
    job, made = build / "front-loaded.toml", build / "front-loaded.html"
    case = ROOT / "cases" / "03-front-loaded-for-a-heavy-airframe.toml"
    subprocess.run([program, "design", case, "--save", job, "--force"], check=True,
                   stdout=subprocess.DEVNULL)
    took = process_ms([program, "report", job, "--out", made, "--force"])
    size = made.stat().st_size / 1e3
    return [["`report`, whole process", f"{REACH_REPORT:g} ms", f"{took:.0f} ms",
             verdict(took, REACH_REPORT)],
            ["size of its page", f"{REACH_PAGE:g} kB", f"{size:.0f} kB", verdict(size, REACH_PAGE)]]


def main(build, page):
    firing, search = benchmarks(build / "firing.json"), benchmarks(build / "search.json")
    flight = benchmarks(build / "flight.json")
    scipy = json.loads((build / "scipy.json").read_text())
    targets, ratios = firing_rows(firing, scipy)
    targets += core_rows(benchmarks(build / "core.json"))
    for pieces in (1, 5):
        row = search[f"proven_search/{pieces}/0/real_time"]
        seconds = row["real_time"] / 1e3
        targets.append([f"proven search, {row['builds'] / 1e6:.1f} million builds, law of {pieces} "
                        f"piece{'s' if pieces > 1 else ''}", f"{REACH_SEARCH:g} s",
                        f"{seconds:.2f} s", verdict(seconds, REACH_SEARCH)])
    row = search["search_for_the_rail/0/real_time"]
    seconds = row["real_time"] / 1e3
    targets.append([f"proven search for the rail, {row['builds'] / 1e6:.1f} million builds",
                    f"{REACH_SEARCH:g} s", f"{seconds:.2f} s", verdict(seconds, REACH_SEARCH)])
    scatter = benchmarks(build / "scatter.json")
    row = scatter["whole_scatter/100000/0/process_time/real_time"]
    seconds = row["real_time"] / 1e3
    targets.append(["scatter of 100,000 firings with strength, and all that it tells",
                    f"{REACH_SCATTER:g} s", f"{seconds:.2f} s", verdict(seconds, REACH_SCATTER)])
    program = str(build / "grainwright")
    cases = ROOT / "cases"
    commands = {
        "even": ["even", "--tube", "38.1 mm", "--core", "9.525 mm", "--segments", "3"],
        "fire": ["fire", str(cases / "04-one-long-pour.toml")],
        "design": ["design", str(cases / "02-flat-burn-in-a-short-casing.toml")],
    }
    for name in ("even", "fire"):
        took = process_ms([program, *commands[name]])
        targets.append([f"`{name}`, whole process", f"{REACH_PROCESS:g} ms", f"{took:.1f} ms",
                        verdict(took, REACH_PROCESS)])
    targets.extend(log_rows(program, build))
    targets.extend(report_rows(program, build))
    targets.extend(bench_rows(json.loads((build / "bench.json").read_text())))
    memory = max(memory_mb([program, *arguments]) for arguments in commands.values())
    targets.append(["memory: even, fire, design", f"{REACH_MEMORY:g} MB", f"{memory:.0f} MB",
                    verdict(memory, REACH_MEMORY)])
    floor = firing["pow_floor"]["cpu_time"] / 8
    whole = max(firing[f"whole_firing/{key}"]["cpu_time"] / 1e3 for key in scipy)
    page.write_text(f"""# Performance

Written by tests/benchmark/run; no figure here was typed by hand.

Machine: {machine(build)}.

Firings are medians of processor time, searches and processes medians of wall time, which a busy
machine makes longer.

{table(["what", "reach", "measured", ""], targets)}

## Against a naive march and SciPy

From the motor on: burnback, the chamber's bands, burn time and impulse within 1e-9. The naive march
takes 1000 equal steps of web and the trapezoid rule; the error is what it leaves. The SciPy script
(tests/benchmark/scipy_firing.py) integrates with `quad` between burnouts to 1e-9, in one process, after
warming up.

{table(["motor", "library", "march", "its error", "times slower", "SciPy", "times slower"], ratios)}

One call of `pow` with values unknown to the compiler takes {floor:.1f} ns here, and every node of a
firing needs one. A firing with its curve of 201 points and its remarks takes up to {whole:.0f} us.

## Flights

{table(["what", "measured"], flight_rows(flight))}

## Growth

Wall time on all cores. The power is that of the last step: 1 where twice as much takes twice as long. A
search of three kinds is no longer complete (docs/search.md).

{table(["what grows", "size: time", "unit", "power"],
       growth_rows(benchmarks(build / "growth.json")))}
""")


if __name__ == "__main__":
    main(Path(sys.argv[1]).resolve(), Path(sys.argv[2]))
