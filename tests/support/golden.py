# SPDX-License-Identifier: GPL-3.0-or-later
"""Compares what commands print with the stored text in tests/golden.

Usage: golden.py PROGRAM BLOCK FOLDER

tests/golden/commands.txt has blocks: a name and a colon, then commands, indented. They run in turn.
What came out is left in FOLDER, from where tests/accept takes it once a person has read it.
"""

import difflib
import pathlib
import sys

from session import HOUSE, Session, settled

GOLDEN = HOUSE / "tests" / "golden"


def commands_of(block):
    commands = []
    inside = False
    for line in (GOLDEN / "commands.txt").read_text(encoding="utf-8").splitlines():
        if line.startswith(" "):
            if inside:
                commands.append(line.strip())
        else:
            inside = line == f"{block}:"
    if not commands:
        raise SystemExit(f"tests/golden/commands.txt has no commands in a block {block}")
    return commands


def transcript(program, commands):
    parts = []
    with Session(program) as session:
        for command in commands:
            done = session.run(command)
            parts.append(f"$ grainwright {command}\n{done.stdout}")
            if done.stderr:
                parts.append(f"-- to stderr\n{done.stderr}")
            parts.append(f"-- exit {done.returncode}\n")
    return settled("".join(parts))


def main(program, block, folder):
    got = transcript(program, commands_of(block))
    folder = pathlib.Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    (folder / f"{block}.txt").write_text(got, encoding="utf-8")
    stored = GOLDEN / f"{block}.txt"
    expected = stored.read_text(encoding="utf-8") if stored.exists() else ""
    if got == expected:
        return 0
    sys.stdout.writelines(difflib.unified_diff(
        expected.splitlines(keepends=True), got.splitlines(keepends=True),
        f"tests/golden/{block}.txt", "now"))
    print("If the new text is right, tests/accept stores it.")
    return 1


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
