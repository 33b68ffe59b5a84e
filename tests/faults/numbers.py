# SPDX-License-Identifier: GPL-3.0-or-later
"""numbers.py PROGRAM: every number of a whole job in turn absurdly small and absurdly large.

Each command answers or gives its reason; none crashes, hangs, or prints what is no number."""

import re
import sys

from desk import Desk

JOBS = ("13-one-motor-in-forty.toml", "11-round-the-loop.toml")
COMMANDS = (["burnback"], ["fire"], ["fire", "--model", "steady"], ["fire", "--model", "axial"],
            ["margins"], ["cutlist"], ["fly"])
PATIENCE = 60  # s
QUANTITY = re.compile(r'(?<=")(-?[0-9][0-9./ -]*)(?= ?[a-zA-Z%][a-zA-Z0-9/ %]*")')
NUMBER = re.compile(r"(?<== )(-?[0-9.]+)(?= *(#|$))", re.MULTILINE)
NONSENSE = re.compile(rb"\b-?(nan|inf)\b")
ABSURD = ("1e-300", "1e300", "1e-9", "1e9", "0.001", "100000")


def spoilt(text):
    """The job with one of its numbers made absurd, and which."""
    for kind in (QUANTITY, NUMBER):
        for found in kind.finditer(text):
            for number in ABSURD:
                at = text.count("\n", 0, found.start()) + 1
                yield f"line {at}: {number}", text[:found.start()] + number + text[found.end():]


def main(program, step):
    tried = answered = 0
    with Desk(program) as desk:
        for job in JOBS:
            text = (desk.path / job).read_text()
            text = text[text.index("[job]"):]
            for i, (what, odd) in enumerate(spoilt(text)):
                (desk.path / "odd.toml").write_text(odd)
                command = COMMANDS[i % len(COMMANDS)]
                for words in (COMMANDS if step == "all" else [command]):
                    code, out, said = desk.run([words[0], "odd.toml", *words[1:]], PATIENCE)
                    where = f"{job} {what}: {' '.join(words)}"
                    assert code in (0, 1, 2), f"{where}: exit {code} {said!r}"
                    assert not NONSENSE.search(out), f"{where}: {out.decode()}"
                    tried += 1
                    answered += code != 2
    print(f"{tried} absurd numbers: {answered} answered, {tried - answered} refused")


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2] if len(sys.argv) > 2 else "some")
