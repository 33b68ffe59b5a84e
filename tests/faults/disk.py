# SPDX-License-Identifier: GPL-3.0-or-later
"""disk.py PROGRAM: disks that are full, folders that cannot be written, readers that go away."""

import os
import subprocess
import sys

from desk import COMMANDS, Desk, WRITERS, mounted


def full_device(desk):
    """Every command says that its output was lost."""
    for name, words in COMMANDS.items():
        with open("/dev/full", "wb") as full:
            code, _, said = desk.run(words, stdout=full)
        assert code == 3 and b"No space" in said, f"{name}: {code} {said!r}"


def gone_reader(desk):
    """A reader that takes one line and goes is no news; one that was never there neither."""
    for name, words in COMMANDS.items():
        with desk.start(words) as program:
            head = subprocess.run(["head", "-n", "1"], stdin=program.stdout, capture_output=True,
                                  check=True)
            program.stdout.close()
            said = program.stderr.read()
        # A short answer fits into the pipe whole.
        assert program.returncode in (0, 1, 3) and said == b"", f"{name}: {program.returncode} {said!r}"
        assert head.stdout.count(b"\n") == 1, name


def full_disk(desk):
    """What cannot be written whole is not written at all, and what was there stays."""
    with mounted(desk.path / "small", "size=16k") as small:
        old = small / "kept"
        old.write_bytes(b"as it was\n")
        (small / "ballast").write_bytes(b"x" * 11000)
        for name, words in WRITERS.items():
            if name == "design":
                continue  # a job is small enough for any disk
            code, _, said = desk.run([*words, str(old)])
            assert code == 3 and b"No space" in said, f"{name}: {code} {said!r}"
            assert old.read_bytes() == b"as it was\n", name
            assert sorted(os.listdir(small)) == ["ballast", "kept"], f"{name} leaves a draft"


def closed_folder(desk):
    """A disk that is only read says so."""
    with mounted(desk.path / "read", "size=1m") as read:
        (read / "kept").write_bytes(b"as it was\n")
        subprocess.run(["mount", "-o", "remount,ro", str(read)], check=True)
        for name, words in WRITERS.items():
            for target in ("kept", "new"):
                code, _, said = desk.run([*words, str(read / target)])
                assert code == 3 and b"ead-only" in said, f"{name}: {code} {said!r}"
            assert os.listdir(read) == ["kept"], name
        assert (read / "kept").read_bytes() == b"as it was\n"


def main(program):
    with Desk(program) as desk:
        for fault in (full_device, gone_reader, full_disk, closed_folder):
            fault(desk)


if __name__ == "__main__":
    main(sys.argv[1])
