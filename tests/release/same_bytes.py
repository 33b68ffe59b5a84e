# SPDX-License-Identifier: GPL-3.0-or-later
"""Runs every command on every case twice, and compares every byte that comes out.

Usage: same_bytes.py threads PROGRAM          one thread and two; fails where a byte differs
       same_bytes.py programs PROGRAM OTHER   two builds of the program; prints how far they differ,
                                               and fails where that is more than numbers

What is compared is standard output, standard error, the exit code and every file that is written. Only
times that were measured are taken out first. The bench is a server and is not run here.
"""

import collections
import os
import pathlib
import re
import shutil
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from session import HOUSE, VOLATILE, Session  # noqa: E402

CASES = sorted(path.name for path in (HOUSE / "cases").glob("*.toml"))
LOG = "11-stand-log.csv"
NUMBER = re.compile(r"-?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?")

# What is asked of a job with segments; FILES stands for the names that a command may write.
JOB_COMMANDS = [
    "burnback JOB --svg FILES.svg", "burnback JOB --json", "burnback JOB --csv",
    *(f"{command} JOB --model {model} {form}" for command in ("fire", "fly")
      for model in ("steady", "transient", "axial") for form in ("", "--json", "--csv")),
    "fire JOB --sweep nozzle.throat=8mm,9mm", "margins JOB", "margins JOB --json",
    "cutlist JOB --sheet FILES.html", "cutlist JOB --json",
    f"stand {LOG} --job JOB --scale-error 2% --save FILES.toml --date 2031-05-12",
    f"stand {LOG} --job JOB --json", f"stand {LOG} --csv",
    "fire JOB --units si", "fire JOB --units us",
]
# These share their work among threads.
SHARED_COMMANDS = ["scatter JOB --samples 4096", "scatter JOB --samples 4096 --json",
                   "report JOB --out FILES.html --data FILES.csv"]
SEARCHES = ["design CASE", "design CASE --json", "design CASE --save FILES.toml --pick 2"]
ALONE = ["even --tube 38.1mm --core 9.525mm --segments 3", "--help",
         "even --tube 38.1mm --core 9.525mm --segments 3 --json"]


def commands_on(case, shared_only):
    """The words after the program's name, in an order in which each finds its files."""
    yield from (words.replace("CASE", case) for words in SEARCHES)
    job = case
    if "[[segment]]" not in (HOUSE / "cases" / case).read_text(encoding="utf-8"):
        job = "build.toml"
        yield f"design {case} --save {job}"
    for words in SHARED_COMMANDS + ([] if shared_only else JOB_COMMANDS):
        yield words.replace("JOB", job)


def without_times(text):
    for pattern, stand_in in VOLATILE[:2]:
        text = pattern.sub(stand_in, text)
    return text


def outcome(session, words):
    """{"exit", "out", "err" and each file's name: text}; files are taken away again."""
    done = session.run(words)
    found = {"exit": str(done.returncode), "out": without_times(done.stdout), "err": done.stderr}
    for path in sorted(session.folder.glob("FILES.*")):
        found[path.name] = without_times(path.read_text(encoding="utf-8"))
        path.unlink()
    return found


def on(threads, words):
    """The same words, told how many threads to use where the command can be told."""
    return f"{words} --threads {threads}" if words.split()[0] in ("design", "scatter") else words


def distance(one, other):
    """Largest relative difference between numbers in two texts; None where their words differ."""
    if NUMBER.sub("#", one) != NUMBER.sub("#", other):
        return None
    worst = 0.0
    for a, b in zip(map(float, NUMBER.findall(one)), map(float, NUMBER.findall(other))):
        if a != b:
            worst = max(worst, abs(a - b) / max(abs(a), abs(b)))
    return worst


def compare_threads(program):
    every, runs, wrong = os.sched_getaffinity(0), 0, []
    for case in CASES:
        with Session(program) as single, Session(program) as double:
            for words in commands_on(case, shared_only=True):
                os.sched_setaffinity(0, {min(every)})
                one = outcome(single, on(1, words))
                os.sched_setaffinity(0, every)
                two = outcome(double, on(2, words))
                runs += 1
                wrong += [f"{words}: {what} differs" for what in one if one[what] != two.get(what)]
    print("\n".join(wrong) or f"{runs} runs: the same bytes on one thread and on two")
    return 1 if wrong or not runs else 0


def compare_programs(program, other):
    rows = collections.defaultdict(lambda: [0, 0, 0.0, 0])
    for case in CASES:
        with Session(program) as first, Session(other) as second:
            for words in [*commands_on(case, shared_only=False), *(ALONE if case == CASES[0] else [])]:
                one, two = outcome(first, words), outcome(second, words)
                if words.startswith("design") and "--save build.toml" in words:
                    # What follows is to be asked of one and the same job, or of none.
                    (second.folder / "build.toml").unlink(missing_ok=True)
                    if (first.folder / "build.toml").exists():
                        shutil.copy(first.folder / "build.toml", second.folder)
                form = next((f for f in ("--json", "--csv") if f in words), "text and pages")
                row = rows[f"`{words.split()[0]}`, {form.lstrip('-')}"]
                row[0] += 1
                if one == two:
                    row[1] += 1
                    continue
                apart = [distance(one[what], two.get(what, "")) for what in one]
                if None in apart or one.keys() != two.keys():
                    row[3] += 1
                    print(f"other words: {words}", file=sys.stderr)
                row[2] = max([row[2], *(value for value in apart if value is not None)])
    print("| command | runs | same bytes | greatest difference of a number | other words |")
    print("| --- | --- | --- | --- | --- |")
    for name, (runs, same, worst, words) in sorted(rows.items()):
        print(f"| {name} | {runs} | {same} | {f'{worst:.0e}' if worst else 'none'} | {words} |")
    runs, same = (sum(row[i] for row in rows.values()) for i in (0, 1))
    print(f"| all | {runs} | {same} | | |")
    return 1 if any(row[3] for row in rows.values()) or not runs else 0


if __name__ == "__main__":
    KIND, *PROGRAMS = sys.argv[1:]
    PROGRAMS = [os.path.abspath(path) for path in PROGRAMS]
    sys.exit({"threads": compare_threads, "programs": compare_programs}[KIND](*PROGRAMS))
