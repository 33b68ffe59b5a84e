# SPDX-License-Identifier: GPL-3.0-or-later
"""Makes the table of checks from the rows that the tests left behind.

Usage: collate_checks.py ROWS TABLE

ROWS has a folder a room with files of tab-separated rows: quantity, source, expected, got, test. The
table is written to TABLE, and compared with docs/checks.md: the words must be equal, the numbers
within 2e-6, as compilers may differ in the last printed digit.
"""

import difflib
import math
import pathlib
import sys

from session import HOUSE

ROOMS = ["quantity", "grain", "motor", "firing", "scatter", "strength", "stand", "flight",
         "workshop", "search", "report", "job", "cli", "bench", "reference"]

HEADER = """\
# Checks

Every value from outside the project that the tests hold the program to, with its source. Made by the
test run from what the tests found (`tests/run` makes it, `tests/accept` stores it here), not by hand.

- *closed form*: a formula that can be derived, and is, beside the test.
- *common practice, no source*: a rule of the trade, loose by nature.
- *from memory*: recalled from the named work, not read there again.
"""
COLUMNS = """\
| quantity | source or tag | expected | got | test |
| --- | --- | --- | --- | --- |
"""


def rows_below(folder):
    """[room, test, quantity, source, expected, got], by room and test, in the order checked."""
    rows = []
    for file in sorted(folder.glob("*/*.tsv")):
        for line in file.read_text(encoding="utf-8").splitlines():
            quantity, source, expected, got, test = line.split("\t")
            rows.append([file.parent.name, test, quantity, source, expected, got])
    rows.sort(key=lambda row: (ROOMS.index(row[0]), row[1]))
    return rows


def table_of(rows):
    rooms = {}
    for room, test, *cells in dict.fromkeys(map(tuple, rows)):  # tests with sections repeat rows
        escaped = (cell.replace("|", r"\|") for cell in [*cells, test])
        rooms.setdefault(room, []).append("| " + " | ".join(escaped) + " |\n")
    sections = (f"\n## {room}\n\n{COLUMNS}{''.join(lines)}" for room, lines in rooms.items())
    return HEADER + "".join(sections)


def alike(cell, other):
    if cell == other:
        return True
    try:
        return math.isclose(float(cell), float(other), rel_tol=2e-6)
    except ValueError:
        return False


def same(table, stored):
    lines, others = table.splitlines(), stored.splitlines()
    if len(lines) != len(others):
        return False
    for line, other in zip(lines, others):
        cells, other_cells = line.split(" | "), other.split(" | ")
        if len(cells) != len(other_cells) or not all(map(alike, cells, other_cells)):
            return False
    return True


def main(rows, table):
    made = table_of(rows_below(pathlib.Path(rows)))
    pathlib.Path(table).write_text(made, encoding="utf-8")
    page = HOUSE / "docs" / "checks.md"
    stored = page.read_text(encoding="utf-8") if page.exists() else ""
    if same(made, stored):
        return 0
    sys.stdout.writelines(difflib.unified_diff(
        stored.splitlines(keepends=True), made.splitlines(keepends=True), "docs/checks.md", "now"))
    print("If the new table is right, tests/accept stores it.")
    return 1


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
