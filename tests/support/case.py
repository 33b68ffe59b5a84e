# SPDX-License-Identifier: GPL-3.0-or-later
"""Runs one case and holds its opening comment to its word.

Usage: case.py PROGRAM CASE

The opening comment has the question, and then one or more times

    # run: grainwright fire 04-one-long-pour.toml
    # expect: exit 0
    # expect: contains "progressive"
    # expect: lacks "over the ceiling"

Expectations are about the run above them, its stdout and stderr together, in small or capital letters.
"""

import re
import sys

from session import HOUSE, Session


def opening_comment(case):
    lines = []
    for line in (HOUSE / "cases" / case).read_text(encoding="utf-8").splitlines():
        if not line.startswith("#"):
            break
        lines.append(line.lstrip("#").strip())
    return lines


def runs_of(lines):
    """[(command, [expectation, ...]), ...]"""
    runs = []
    for line in lines:
        if line.startswith("run:"):
            command = line.removeprefix("run:").strip()
            if not command.startswith("grainwright "):
                raise SystemExit(f"a run names the program first: {line}")
            runs.append((command.removeprefix("grainwright "), []))
        elif line.startswith("expect:"):
            if not runs:
                raise SystemExit(f"an expectation stands under the run it is about: {line}")
            runs[-1][1].append(line.removeprefix("expect:").strip())
    return runs


def holds(expectation, done):
    output = (done.stdout + done.stderr).lower()
    if match := re.fullmatch(r"exit (\d+)", expectation):
        return done.returncode == int(match[1])
    if match := re.fullmatch(r'contains "(.+)"', expectation):
        return match[1].lower() in output
    if match := re.fullmatch(r'lacks "(.+)"', expectation):
        return match[1].lower() not in output
    raise SystemExit(f"not an expectation: {expectation}")


def main(program, case):
    lines = opening_comment(case)
    runs = runs_of(lines)
    if not any(line.endswith("?") for line in lines):
        raise SystemExit("the opening comment asks no question")
    if not runs or not all(expectations for _, expectations in runs):
        raise SystemExit("the opening comment runs nothing, or expects nothing of a run")
    failed = 0
    with Session(program) as session:
        for command, expectations in runs:
            done = session.run(command)
            print(f"$ grainwright {command}\n{done.stdout}{done.stderr}-- exit {done.returncode}")
            for expectation in expectations:
                if not holds(expectation, done):
                    failed += 1
                    print(f"NOT MET: {expectation}")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
