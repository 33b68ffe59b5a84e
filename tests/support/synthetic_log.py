# SPDX-License-Identifier: GPL-3.0-or-later
"""Makes the log of a thrust stand up: INVENTED, for tests and cases, and marked so in its first line.

Usage: synthetic_log.py PROGRAM JOB [KEY=VALUE ...] > LOG

The job is fired by the program with some of its values changed, which is the truth that the log hides. The reading then has a tare, a drift, white noise,
and, where asked, spikes, rows that cannot be read and a gap.

    rate=HZ          rows a second, 1000
    noise=N          standard deviation of a row, 1.5
    tare=N           reading at rest, 21.4
    drift=N          of the reading over the whole log, 0.8
    lit=S            of the log, 1.204
    lasts=S          of the log, 4
    unit=N|lbf|kg    of the reading
    flaws=0|1        two spikes, three bad rows and a gap, 1
    seed=N           of the noise, 1
    set:TABLE.KEY=TOML   of the job, as it would stand there, e.g. set:nozzle.efficiency=0.8
"""

import csv
import io
import pathlib
import random
import re
import subprocess
import sys
import tempfile

UNITS = {"N": 1.0, "lbf": 4.4482216152605, "kg": 9.80665}


def changed(text, changes):
    """The job's text with each [table]'s key as given."""
    for path, value in changes.items():
        table, key = path.rsplit(".", 1)
        header = re.escape(f"[{table}]")
        body = re.search(rf"^{header}\n(?:(?!\[).*\n?)*", text, re.M)
        lines = [line for line in body[0].splitlines() if not line.startswith(f"{key} =")]
        lines.insert(1, f"{key} = {value}")
        text = text[:body.start()] + "\n".join(lines) + "\n" + text[body.end():]
    return text


def fired(program, job, changes):
    """Times and thrusts of the transient firing, SI."""
    with tempfile.TemporaryDirectory() as folder:
        truth = pathlib.Path(folder, "truth.toml")
        truth.write_text(changed(pathlib.Path(job).read_text(encoding="utf-8"), changes),
                         encoding="utf-8")
        # 1 only says that a limit of the job is broken.
        done = subprocess.run([program, "fire", str(truth), "--csv"], capture_output=True, text=True,
                              check=False)
    if done.returncode not in (0, 1):
        raise SystemExit(done.stderr)
    rows = list(csv.DictReader(io.StringIO(done.stdout)))
    return ([float(row["time_s"]) for row in rows], [float(row["thrust_N"]) for row in rows])


def between(times, values, when):
    if when <= times[0] or when >= times[-1]:
        return 0.0
    low, high = 0, len(times) - 1
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if times[middle] <= when else (low, middle)
    span = times[high] - times[low]
    share = (when - times[low]) / span if span > 0 else 1.0
    return values[low] + share * (values[high] - values[low])


def reading(times, thrusts, options):
    """Rows of (time, reading)."""
    noise = random.Random(int(options["seed"]))
    count = int(options["lasts"] * options["rate"])
    rows = []
    for i in range(count):
        when = i / options["rate"]
        thrust = between(times, thrusts, when - options["lit"])
        rest = options["tare"] + options["drift"] * when / options["lasts"]
        rows.append((when, thrust + rest + noise.gauss(0, options["noise"])))
    return rows


def lines_of(rows, options):
    scale = 1 / UNITS[options["unit"]]
    yield "# an invented log: no such motor was fired"
    yield f"time (s),force ({options['unit']})"
    flawed = options["flaws"] > 0
    step = len(rows) // 20
    for i, (when, value) in enumerate(rows):
        if flawed and i in (step, 19 * step):
            value += 900
        if flawed and step * 2 <= i < step * 2 + 12:
            continue
        if flawed and i in (step * 3, step * 3 + 1, step * 17):
            yield f"{when:.4f},---"
        else:
            yield f"{when:.4f},{value * scale:.3f}"


def main(program, job, *given):
    options = {"rate": 1000.0, "noise": 1.5, "tare": 21.4, "drift": 0.8, "lit": 1.204, "lasts": 4.0,
               "unit": "N", "flaws": 1.0, "seed": 1.0}
    changes = {}
    for word in given:
        key, value = word.split("=", 1)
        if key.startswith("set:"):
            changes[key.removeprefix("set:")] = value
        elif key in options:
            options[key] = value if key == "unit" else float(value)
        else:
            raise SystemExit(f"no such option: {key}")
    times, thrusts = fired(program, job, changes)
    for line in lines_of(reading(times, thrusts, options), options):
        print(line)


if __name__ == "__main__":
    main(*sys.argv[1:])
