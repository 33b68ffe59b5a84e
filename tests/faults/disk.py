# SPDX-License-Identifier: GPL-3.0-or-later
"""disk.py PROGRAM: disks that are full, folders that cannot be written, readers that go away."""

import os
import resource
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


def limited_files(desk):
    """A file that may not grow breaks off in the middle; then nothing is written at all."""
    old = desk.path / "kept"
    for name, words in WRITERS.items():
        old.write_bytes(b"as it was\n")
        before = desk.names()
        # Python ignores the signal of this limit, and lets the program inherit that.
        code, _, said = desk.run([*words, str(old)], restore_signals=False, preexec_fn=lambda:
                                 resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000)))
        assert code == 3 and b"too large" in said, f"{name}: {code} {said!r}"
        assert old.read_bytes() == b"as it was\n" and desk.names() == before, name


def full_disk(desk):
    """What cannot be written whole is not written at all, and what was there stays."""
    with mounted(desk.path / "small", "size=16k") as small:
        if small is None:
            return "full disk"
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
    return None


def refuses_to_write(desk, folder, reason):
    for name, words in WRITERS.items():
        for target in ("kept", "new"):
            code, _, said = desk.run([*words, str(folder / target)])
            assert code == 3 and reason in said, f"{name}: {code} {said!r}"
        assert os.listdir(folder) == ["kept"], name
    assert (folder / "kept").read_bytes() == b"as it was\n"


def read_only_disk(desk):
    """A disk that is only read says so."""
    with mounted(desk.path / "read", "size=1m") as read:
        if read is None:
            return "read-only disk"
        (read / "kept").write_bytes(b"as it was\n")
        subprocess.run(["mount", "-o", "remount,ro", str(read)], check=True)
        refuses_to_write(desk, read, b"ead-only")
    return None


def closed_folder(desk):
    """So does a folder that is closed to its reader; none is to root."""
    if os.geteuid() == 0:
        return "closed folder"
    closed = desk.path / "closed"
    closed.mkdir()
    (closed / "kept").write_bytes(b"as it was\n")
    closed.chmod(0o555)
    try:
        refuses_to_write(desk, closed, b"ermission denied")
    finally:
        closed.chmod(0o755)
    return None


def main(program):
    with Desk(program) as desk:
        for fault in (full_device, gone_reader, limited_files, full_disk, read_only_disk,
                      closed_folder):
            if (left_out := fault(desk)) is not None:
                print(f"not tried as this user here: {left_out}")


if __name__ == "__main__":
    main(sys.argv[1])
