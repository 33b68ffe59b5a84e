# SPDX-License-Identifier: GPL-3.0-or-later
"""Fires every case in all three models, and holds the table in docs/firing.md to what they say.

Usage: models.py PROGRAM [--write]

A case without segments is designed first; one that cannot be met is left out. With --write the table is
put into the page instead of being compared with it.
"""

import difflib
import json
import re
import sys

from session import HOUSE, Session

PAGE = HOUSE / "docs" / "firing.md"
BEGIN, END = "<!-- models: begin -->\n", "<!-- models: end -->\n"
MODELS = ("steady", "transient", "axial")
FIGURES = {
    "pressure at lighting": ("initial_pressure_Pa", 1e-6, "MPa"),
    "peak pressure": ("peak_pressure_Pa", 1e-6, "MPa"),
    "mean thrust": ("mean_thrust_N", 1, "N"),
    "burn time": ("burn_time_s", 1, "s"),
    "total impulse": ("total_impulse_Ns", 1, "N s"),
}


def fired_file(session, case):
    """The case itself where it has segments, else the design that it asks for, or nothing."""
    if "[[segment]]" in (HOUSE / "cases" / case).read_text(encoding="utf-8"):
        return case
    build = f"built-{case}"
    session.run(f"design {case} --save {build}")
    return build if session.run(f"fire {build}").stdout else None


def summaries_of(session, file):
    """Each model's summary; none of the axial one where slices cannot show the core."""
    found = {}
    for model in MODELS:
        done = session.run(f"fire {file} --model {model} --json")
        if model == "axial" and done.returncode == 2 and "slices along the axis" in done.stderr:
            continue
        if done.returncode not in (0, 1):
            raise SystemExit(f"fire {file} --model {model}: exit {done.returncode}\n{done.stderr}")
        found[model] = json.loads(done.stdout)["summary"]
    return found


def cell(found, key, scale, unit):
    steady = found["steady"][key]
    parts = [f"{steady * scale:#.4g} {unit}"]
    for model in MODELS[1:]:
        if model not in found:
            parts.append("not taken")
            continue
        share = round(100 * (found[model][key] / steady - 1), 1)
        parts.append(f"{share:+.1f} %" if share else "0")
    return ", ".join(parts)


def table(program):
    rows = ["| case | " + " | ".join(FIGURES) + " |", "| --- |" + " --- |" * len(FIGURES)]
    with Session(program) as session:
        for case in sorted(path.name for path in (HOUSE / "cases").glob("*.toml")):
            file = fired_file(session, case)
            if file is None:
                continue
            found = summaries_of(session, file)
            cells = [cell(found, *figure) for figure in FIGURES.values()]
            name = re.match(r"\d+\w?", case)[0] + (", as designed" if file != case else "")
            rows.append(f"| {name} | " + " | ".join(cells) + " |")
    return "\n".join(rows) + "\n"


def main(program, write=None):
    page = PAGE.read_text(encoding="utf-8")
    before, rest = page.split(BEGIN)
    shown, after = rest.split(END)
    got = table(program)
    if write == "--write":
        PAGE.write_text(before + BEGIN + got + END + after, encoding="utf-8")
        return 0
    sys.stdout.writelines(difflib.unified_diff(
        shown.splitlines(keepends=True), got.splitlines(keepends=True), "docs/firing.md", "now"))
    return 0 if shown == got else 1


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
