# SPDX-License-Identifier: GPL-3.0-or-later
"""Runs the program as a person would: from a copy of cases/, so that saved files hurt nobody."""

import os
import pathlib
import re
import shlex
import shutil
import subprocess
import tempfile

HOUSE = pathlib.Path(__file__).resolve().parents[2]

# What differs from run to run, and what stands for it.
VOLATILE = [
    (re.compile(r"\b(in|after|took) [0-9.]+ (s|ms)\b"), r"\1 <time> \2"),
    (re.compile(r'("seconds": ?)[-+0-9.e]+'), r"\1<time>"),
    (re.compile(r"\b(grainwright) [0-9]+\.[0-9]+\.[0-9]+\b"), r"\1 <version>"),
    (re.compile(r"^(compiler|build|libraries): .*$", re.MULTILINE), r"\1: <here>"),
]


# A number in full, as machines get it; its last digits are the compiler's.
IN_FULL = re.compile(r"-?\b\d+\.\d{7,}(e[-+]\d+)?")


def settled(text):
    """The text with its volatile parts replaced."""
    for pattern, stand_in in VOLATILE:
        text = pattern.sub(stand_in, text)
    return IN_FULL.sub(lambda match: f"{float(match[0]):.7g}", text)


class Session:
    """A scratch copy of cases/ in which commands run one after the other."""

    def __init__(self, program):
        self._program = program
        self._folder = tempfile.TemporaryDirectory(prefix="grainwright-")
        self._desk = pathlib.Path(self._folder.name, "cases")
        shutil.copytree(HOUSE / "cases", self._desk)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self._folder.cleanup()

    @property
    def folder(self):
        return self._desk

    def run(self, command):
        """Runs the words after the program's name; gives the finished process, output as text."""
        environment = {**os.environ, "LC_ALL": "C.UTF-8", "COLUMNS": "100"}
        return subprocess.run(
            [self._program, *shlex.split(command)], cwd=self._desk, env=environment, text=True,
            stdin=subprocess.DEVNULL, capture_output=True, timeout=300, check=False)
