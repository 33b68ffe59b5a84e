# SPDX-License-Identifier: GPL-3.0-or-later
"""A folder with the cases in it, and the program run there under bad conditions."""

import contextlib
import os
import pathlib
import shutil
import subprocess
import tempfile

HOUSE = pathlib.Path(__file__).resolve().parents[2]
PATIENCE = 120  # s; what takes longer hangs

# Commands that answer on standard output, with a job in which each finds what it needs.
COMMANDS = {
    "even": ["even", "--tube", "38.1 mm", "--core", "9.525 mm", "--segments", "3"],
    "burnback": ["burnback", "13-one-motor-in-forty.toml", "--csv"],
    "fire": ["fire", "13-one-motor-in-forty.toml", "--csv"],
    "margins": ["margins", "13-one-motor-in-forty.toml"],
    "scatter": ["scatter", "13-one-motor-in-forty.toml", "--samples", "128"],
    "cutlist": ["cutlist", "13-one-motor-in-forty.toml"],
    "fly": ["fly", "13-one-motor-in-forty.toml"],
    "design": ["design", "01-even-length-of-three.toml"],
    "stand": ["stand", "11-stand-log.csv"],
}
# Commands that write a file, whose name comes last.
WRITERS = {
    "burnback": ["burnback", "13-one-motor-in-forty.toml", "--force", "--svg"],
    "cutlist": ["cutlist", "13-one-motor-in-forty.toml", "--force", "--sheet"],
    "report": ["report", "04-one-long-pour.toml", "--force", "--out"],
    "design": ["design", "02-flat-burn-in-a-short-casing.toml", "--force", "--save"],
}


class Desk:
    def __init__(self, program):
        self.program = os.path.abspath(program)
        self._folder = tempfile.TemporaryDirectory(prefix="grainwright-")
        self.path = pathlib.Path(self._folder.name)

    def __enter__(self):
        for case in (HOUSE / "cases").iterdir():
            shutil.copy(case, self.path)
        return self

    def __exit__(self, *_):
        self._folder.cleanup()

    def start(self, words, **settings):
        settings.setdefault("stdout", subprocess.PIPE)
        return subprocess.Popen([self.program, *words], cwd=self.path, stdin=subprocess.DEVNULL,
                                stderr=subprocess.PIPE, **settings)

    def run(self, words, patience=PATIENCE, **settings):
        """Exit code, output and complaint; a hang ends the test."""
        with self.start(words, **settings) as process:
            try:
                out, said = process.communicate(timeout=patience)
            except subprocess.TimeoutExpired:
                process.kill()
                raise AssertionError(f"{words} hangs: over {patience} s") from None
        assert process.returncode >= 0, f"{words} died of signal {-process.returncode}: {said!r}"
        assert process.returncode in (0, 1, 2, 3), (words, process.returncode, said)
        return process.returncode, out or b"", said

    def names(self):
        return sorted(os.listdir(os.fsencode(self.path)))


@contextlib.contextmanager
def mounted(folder, options):
    """A small disk of its own, or None: it takes root, and more than some containers' root has."""
    folder.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", options, "none", str(folder)]
    if os.geteuid() != 0 or subprocess.run(mount, capture_output=True, check=False).returncode != 0:
        yield None
        return
    try:
        yield folder
    finally:
        subprocess.run(["umount", str(folder)], check=True)
