# SPDX-License-Identifier: GPL-3.0-or-later
"""places.py PROGRAM: locales that are not there or speak otherwise, and names that are no text."""

import json
import os
import shutil
import subprocess
import sys

from desk import COMMANDS, Desk

NAME = b"job-\xff\xfe\x80 .toml"  # no UTF-8


def comma_locale(desk):
    """A locale with decimal commas, made here; nothing where it cannot be made."""
    made = desk.path / "locales"
    made.mkdir()
    maker = shutil.which("localedef")
    words = [maker, "--no-archive", "-i", "de_DE", "-f", "UTF-8", str(made / "de_DE.UTF-8")]
    if maker is None or subprocess.run(words, capture_output=True, check=False).returncode > 1:
        return {}
    return {"LC_ALL": "de_DE.UTF-8", "LOCPATH": str(made)}


def locales(desk):
    plain = {key: value for key, value in os.environ.items() if not key.startswith(("LC_", "LANG"))}
    others = [{"LC_ALL": "xx"}, {"LC_ALL": ""}, {"LANG": "xx_XX.UTF-8"}, comma_locale(desk), {}]
    for name, words in COMMANDS.items():
        if name == "design":
            continue  # tells its own time
        # Text draws its charts in plain letters where a locale does not promise UTF-8.
        words = [word for word in words if word != "--csv"] + ["--json"]
        expected = desk.run(words, env={**plain, "LC_ALL": "C.UTF-8"})
        assert expected[1], name
        for other in others:
            assert desk.run(words, env={**plain, **other}) == expected, f"{name} in {other}"


def names(desk):
    """They are read, written and shown; JSON stays JSON."""
    folder = os.fsencode(desk.path)
    job = os.path.join(folder, NAME)
    shutil.copy(os.path.join(folder, b"13-one-motor-in-forty.toml"), job)
    program = os.fsencode(desk.program)
    for words in (["fire"], ["margins"], ["cutlist"], ["fly"]):
        desk.program = program
        code, out, said = desk.run([*map(os.fsencode, words), NAME, b"--json"])
        assert code in (0, 1), said
        json.loads(out.decode())
    for words, page in (([b"report", NAME, b"--out"], b"\xfepage.html"),
                        ([b"cutlist", NAME, b"--sheet"], b"\xfesheet.html")):
        code, _, said = desk.run([*words, page])
        assert code in (0, 1), said
        with open(os.path.join(folder, page), "rb") as file:
            file.read().decode()  # a page is UTF-8, whatever the job is called
    code, _, said = desk.run([b"fire", b"no-\xff.toml"])
    assert code == 3 and b"no-" in said, said
    code, _, said = desk.run([b"\xff\xfe"])
    assert code == 2 and said.count(b"\n") == 1, said


def main(program):
    with Desk(program) as desk:
        locales(desk)
        names(desk)


if __name__ == "__main__":
    main(sys.argv[1])
