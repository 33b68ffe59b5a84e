# SPDX-License-Identifier: GPL-3.0-or-later
"""interrupted.py PROGRAM [TIMES]: Ctrl-C at any time of a search and of a scatter.

Either the answer comes early and says so, or the program ends as an interrupted one does."""

import json
import random
import signal
import sys
import time

from desk import Desk

LONG = {
    "search": ["design", "long.toml", "--json"],
    "scatter": ["scatter", "13-one-motor-in-forty.toml", "--samples", "10000000", "--json"],
}
LATEST = 0.4  # s; each works far longer than that
STARTED = 0.01  # s
SOON = 10  # s in which a program that was interrupted must end


def interrupt(desk, words, wait):
    """What the answer says of itself, or "ended" if there is none."""
    with desk.start(words) as process:
        time.sleep(wait)
        process.send_signal(signal.SIGINT)
        out, said = process.communicate(timeout=SOON)
    where = f"{words} after {wait:.3f} s"
    if process.returncode == -signal.SIGINT:  # before there was anything to stop
        assert out == b"", where
        return "ended"
    assert process.returncode in (0, 1), f"{where}: {process.returncode} {said!r}"
    answer = json.loads(out)
    part = answer["search" if words[0] == "design" else "scatter"]
    assert part["stopped"], f"{where}: it says that it is whole"
    return "early"


def long_search(desk):
    """Many kinds in fine steps."""
    job = (desk.path / "02-flat-burn-in-a-short-casing.toml").read_text()
    for old, new in (("most_kinds = 2", "most_kinds = 6"), ('step = "1/16 in"', 'step = "1/64 in"')):
        assert old in job
        job = job.replace(old, new)
    (desk.path / "long.toml").write_text(job)


def main(program, times):
    dice = random.Random(5)
    with Desk(program) as desk:
        long_search(desk)
        for name, words in LONG.items():
            found = {"ended": 0, "early": 0}
            for i in range(times):
                # Half of them come while the program starts.
                found[interrupt(desk, words, dice.uniform(0, LATEST if i % 2 else STARTED))] += 1
            print(f"{name}: {times} times, {found['early']} of them with an early answer")
            assert found["early"] > 0, f"{name} is never stopped early"


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 30)
