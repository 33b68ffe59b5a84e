# SPDX-License-Identifier: GPL-3.0-or-later
"""A bench that runs on a copy of a case, for the tests that knock at it."""

import json
import os
import pathlib
import re
import shutil
import signal
import subprocess
import tempfile

HOUSE = pathlib.Path(__file__).resolve().parents[2]
PATIENCE = 120  # s; a loaded machine is slow, and none of these tests is about time


class Bench:
    """Runs from entering to leaving; `address` ends in the token and a slash. What it starts itself is
    looked for in `path` first."""

    def __init__(self, program, case, *options, path=None):
        self.program, self._options = program, options
        self._search = os.pathsep.join(filter(None, [path, os.environ.get("PATH")]))
        self._folder = tempfile.TemporaryDirectory(prefix="grainwright-")
        self.folder = pathlib.Path(self._folder.name, "desk")
        self.folder.mkdir()
        self.job = self.folder / "job.toml"
        shutil.copy(HOUSE / "cases" / case, self.job)

    def __enter__(self):
        self._process = subprocess.Popen(
            [self.program, "bench", str(self.job), *self._options], stdout=subprocess.PIPE,
            stderr=subprocess.PIPE, text=True, env={**os.environ, "PATH": self._search})
        self._process.stdout.readline()
        self.address = self._process.stdout.readline().strip()
        found = re.fullmatch(r"http://127\.0\.0\.1:(\d+)/([0-9a-f]{32})/", self.address)
        assert found, f"no address: {self.address!r}"
        self.port, self.token = int(found[1]), found[2]
        return self

    def __exit__(self, *_):
        if self._process.poll() is None:
            self._process.kill()
        self._process.communicate()
        self._folder.cleanup()

    def runs(self):
        return self._process.poll() is None

    def interrupt(self):
        """Ctrl-C; gives the exit code and what was said on standard error."""
        self._process.send_signal(signal.SIGINT)
        _, said = self._process.communicate(timeout=PATIENCE)
        return self._process.returncode, said

    def files(self):
        """Everything around the job, by name, with its content."""
        top = pathlib.Path(self._folder.name)
        return {str(path.relative_to(top)): path.read_bytes()
                for path in sorted(top.rglob("*")) if path.is_file()}

    def told(self, command, name):
        """What a command says with `--json` of a job in the folder."""
        done = subprocess.run([self.program, command, str(self.folder / name), "--json"],
                              capture_output=True, text=True, timeout=PATIENCE, check=False)
        assert done.stdout, done.stderr
        return json.loads(done.stdout)
