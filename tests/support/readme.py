# SPDX-License-Identifier: GPL-3.0-or-later
"""Holds the README's sessions to what the program prints.

Usage: readme.py PROGRAM

Every fenced block marked `console` is a session: lines that begin with "$ grainwright " are commands,
run in turn from a copy of cases/, and the lines below are their output. A line of "..." stands for any
number of lines.
"""

import difflib
import re
import sys

from session import HOUSE, Session, settled


def sessions(page):
    return re.findall(r"^```console\n(.*?)^```$", page, re.M | re.S)


def steps(session):
    """[(command, [line, ...]), ...]"""
    found = []
    for line in session.splitlines():
        if line.startswith("$ grainwright "):
            found.append((line[2:], []))
        else:
            found[-1][1].append(line)
    return found


def fits(shown, printed):
    """Whether printed lines are what is shown, "..." standing for any lines."""
    if not shown:
        return not printed
    if shown[0] == "...":
        return any(fits(shown[1:], printed[i:]) for i in range(len(printed) + 1))
    return bool(printed) and shown[0] == printed[0] and fits(shown[1:], printed[1:])


def main(program):
    page = (HOUSE / "README.md").read_text(encoding="utf-8")
    failed = ran = 0
    with Session(program) as session:
        for command, shown in (step for text in sessions(page) for step in steps(text)):
            done = session.run(command.removeprefix("grainwright "))
            printed = [line.rstrip() for line in settled(done.stdout + done.stderr).splitlines()]
            ran += 1
            if fits(shown, printed):
                continue
            failed += 1
            print(f"the README is not what this prints: {command}")
            print("\n".join(difflib.unified_diff(shown, printed, "README.md", "printed", lineterm="")))
    if ran == 0:
        raise SystemExit("the README shows no session")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
