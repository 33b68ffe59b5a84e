# SPDX-License-Identifier: GPL-3.0-or-later
"""Asks every command that answers on a motor, in every form that it has, and reads what it says."""

import dataclasses
import html.parser
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import urllib.request

HOUSE = pathlib.Path(__file__).resolve().parents[2]
sys.path.append(str(HOUSE / "tests" / "bench"))
from server import Bench

PATIENCE = 240  # s; a loaded machine is slow, and nothing here is about time

# What answers on a motor, and what does not: which of the two, a new command has to say.
ON_A_MOTOR = {"fire", "margins", "scatter", "cutlist", "fly", "report", "design", "bench"}
NOT_ON_A_MOTOR = {"even", "burnback", "stand"}


@dataclasses.dataclass
class Motion:
    """What decides which commands can be asked."""
    text: str
    planes: bool    # round cores, for the axial model
    material: bool  # and all that `margins` needs
    flies: bool
    temperature: str = "20 degC"  # the job's own
    lean: bool = False  # leaves out the text of what takes seconds


@dataclasses.dataclass
class Said:
    """One answer: of a command in one form."""
    who: str
    form: str  # "text", "json", "html" or "bench"
    code: object
    body: object
    whole: str = ""
    key: str = ""

    def __str__(self):
        return f"{self.who} ({self.form})"


def commands_of(program):
    """As `--help` lists them."""
    told = subprocess.run([program, "--help"], capture_output=True, text=True, timeout=PATIENCE, check=True)
    listed = told.stdout.partition("commands")[2].partition("\n\n")[0]
    return set(re.findall(r"^  ([a-z]+)\b", listed, re.MULTILINE))


def ways(motion):
    """(name, words, page written or None): each is asked for text and for JSON."""
    yield "fire", ["fire", "job.toml"], None
    yield "fire steady", ["fire", "job.toml", "--model", "steady"], None
    if motion.planes:
        yield "fire axial", ["fire", "job.toml", "--model", "axial"], None
    yield "sweep", ["fire", "job.toml", "--sweep", f"day.temperature={motion.temperature}"], None
    if motion.material:
        yield "margins", ["margins", "job.toml"], None
    yield "scatter", ["scatter", "job.toml", "--samples", "1024", "--threads", "1"], None
    yield "cutlist", ["cutlist", "job.toml"], None
    yield "cutlist --sheet", ["cutlist", "job.toml", "--sheet"], "sheet"
    if motion.flies:
        yield "fly", ["fly", "job.toml"], None
    yield "report", ["report", "job.toml", "--out"], "report"
    yield "compare", ["design", "--compare", "job.toml", "twin.toml", "--out"], "comparison"


def run(program, folder, words):
    environment = {**os.environ, "LC_ALL": "C.UTF-8", "COLUMNS": "100"}
    return subprocess.run([program, *words], cwd=folder, env=environment, text=True,
                          stdin=subprocess.DEVNULL, capture_output=True, timeout=PATIENCE, check=False)


def asked(program, motion, skip=()):
    """Every answer on this motor; what is in `skip` is not asked."""
    with tempfile.TemporaryDirectory(prefix="grainwright-") as name:
        folder = pathlib.Path(name)
        for file in ("job.toml", "twin.toml"):
            (folder / file).write_text(motion.text, encoding="utf-8")
        for who, words, page in ways(motion):
            if who in skip:
                continue
            slow = motion.lean and who in ("scatter", "report", "margins")
            for form in ("json",) if slow else ("text", "json"):
                target = [f"{page}-{form}.html"] if page else []
                done = run(program, folder, words + target + (["--json"] if form == "json" else []))
                yield Said(who, form, done.returncode, done.stdout, done.stdout + done.stderr)
            if page:
                written = folder / target[0]
                yield Said(who, "html", done.returncode,
                           written.read_text(encoding="utf-8") if written.exists() else "")
        if "bench" not in skip:
            yield from benched(program, folder / "job.toml")


def benched(program, file):
    """What the bench's page would show once the build rests."""
    with Bench(program, str(file)) as bench:
        def fetched(errand, body=None):
            request = urllib.request.Request(
                bench.address + errand, json.dumps(body).encode() if body else None,
                {"Content-Type": "application/json", "Origin": f"http://127.0.0.1:{bench.port}"})
            with urllib.request.urlopen(request, timeout=PATIENCE) as answer:
                return json.load(answer)
        opening = fetched("opening")
        answer = fetched("answer", {"state": opening["start"], "stamp": opening["stamp"], "free": True,
                                    "full": True})
    yield Said("bench", "bench", None, answer, json.dumps(answer))


class Banner(html.parser.HTMLParser):
    """The first element of a page whose class list has "verdict"."""
    VOID = {"br", "img", "hr", "input", "meta", "link", "wbr"}

    def __init__(self, page):
        super().__init__()
        self.answer, self.text, self._depth = None, "", 0
        self.feed(page)

    def handle_starttag(self, tag, attributes):
        attributes = dict(attributes)
        if self._depth:
            self._depth += tag not in self.VOID
        elif self.answer is None and "verdict" in (attributes.get("class") or "").split():
            self.answer, self._depth = attributes.get("data-answer", "missing"), 1

    def handle_endtag(self, tag):
        self._depth -= self._depth > 0 and tag not in self.VOID

    def handle_data(self, data):
        if self._depth:
            self.text += data


def squeezed(text):
    return " ".join(text.split())


WORDS = {"no": "NO", "unknown": "UNKNOWN", "yes": "YES"}


def answer_of_words(text, who):
    """"no", "unknown", "yes" or what is there instead, from the first words of a text."""
    first = squeezed(next((line for line in text.splitlines() if line.strip()), ""))
    several = {"sweep": r"(?:, by this prediction)? at ", "compare": r"(?:, by this prediction,)? for "}
    for answer, word in WORDS.items():
        if re.match(rf"{word}{several[who]}" if who in several else rf"{word}(: |, |$)", first):
            return answer
    return f"first words: {first[:100]!r}"


def listed(text, headings):
    """The items under these headings, whole again after the wrapping."""
    found, under = [], False
    for line in text.splitlines():
        if line and not line.startswith(" "):
            under = line.strip() in headings
        elif under and line.startswith("  - "):
            found.append(line[4:].strip())
        elif under and found and line.startswith("    "):
            found[-1] += " " + line.strip()
        else:
            under = under and not found
    return found


def read_json(said):
    if said.form == "bench":
        return said.body
    try:
        return json.loads(said.body)
    except ValueError:
        return {}


def remarks_in(data):
    """Every list of remarks, wherever it stands."""
    if isinstance(data, dict):
        return [words for key, value in data.items()
                for words in (value if key == "remarks" else remarks_in(value))]
    if isinstance(data, list):
        return [words for value in data for words in remarks_in(value)]
    return []
