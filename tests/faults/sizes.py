# SPDX-License-Identifier: GPL-3.0-or-later
"""sizes.py PROGRAM: jobs of tens of megabytes, a million segments, outlines that never end."""

import os
import sys
import time

from desk import Desk

LARGEST = 32 << 20  # bytes that a job may have
SOON = 60  # s, on a machine that does other things too


def soon(desk, words, codes):
    start = time.monotonic()
    code, out, said = desk.run(words, patience=SOON)
    took = time.monotonic() - start
    assert code in codes, f"{words}: {code} {said[:500]!r}"
    assert code < 2 or said.strip(), words
    assert len(said) < 1_000_000, f"{words} complains in {len(said)} bytes"
    print(f"{' '.join(words)}: exit {code} after {took:.1f} s")
    return out, said


def large_jobs(desk):
    case = (desk.path / "13-one-motor-in-forty.toml").read_bytes()
    room = LARGEST - len(case) - 100
    jobs = {
        "comment": (case + b"# " + b"x" * room, (0, 1)),
        "lines": (case + b"#\n" * (room // 2), (0, 1)),
        "text": (b"[job]\ntitle = \"" + b"x" * room + b"\"\n", (2,)),
        "unknown": (case + b"".join(b"k%d = 1\n" % i for i in range(300_000)), (2,)),
        "segments": (case + b"[[segment]]\nlength=\"1 m\"\ncore=0\n" * (room // 34 // 8), (2,)),
        "brackets": (case + b"x = " + b"[" * room, (2,)),
        "list": (case + b"x = [" + b"1," * (room // 2 - 10) + b"]", (2,)),
        "over": (case + b"#" * LARGEST, (3,)),
        "zeros": (b"\0" * room, (2,)),
    }
    for name, (text, codes) in jobs.items():
        (desk.path / "large.toml").write_bytes(text)
        print(name, end=" ")
        soon(desk, ["fire", "large.toml", "--model", "steady"], codes)


def endless(desk):
    """A device is no outline."""
    case = (desk.path / "09-cross-core.toml").read_text()
    for device in ("/dev/zero", "/dev/urandom"):
        text = case[:case.index("[[segment]]")] + f'[[segment]]\nlength = "50 mm"\ncore = {{ outline = "{device}" }}\n'
        (desk.path / "endless.toml").write_text(text)
        soon(desk, ["fire", "endless.toml"], (2,))
    os.mkfifo(desk.path / "pipe")
    (desk.path / "endless.toml").write_text(text.replace(device, "pipe"))
    soon(desk, ["fire", "endless.toml"], (2,))


def million(desk):
    """1000 times 1000 slices: refused by every command, and soon."""
    case = (desk.path / "13-one-motor-in-forty.toml").read_text()
    head, tail = case[:case.index("[[segment]]")], case[case.index("[closure.head]"):]
    tail = tail[:tail.index("[[fault]]")] + '[limits]\npressure = "5 MPa"\n'
    head = head.replace('"300 mm"', '"900 m"').replace('length = "400 mm"', 'length = "950 m"')
    layers = "".join(f'[[segment]]\ncount = 1000\nlength = "10 mm"\ncore = "{20 + i / 100} mm"\n'
                     for i in range(1000))
    (desk.path / "million.toml").write_text(head + layers + tail)
    for words in (["burnback"], ["fire"], ["fire", "--model", "steady"], ["fire", "--model", "axial"],
                  ["margins"], ["cutlist"], ["fly"], ["scatter", "--samples", "128"]):
        soon(desk, [words[0], "million.toml", *words[1:]], (2,))


def main(program):
    with Desk(program) as desk:
        for size in (large_jobs, endless, million):
            size(desk)


if __name__ == "__main__":
    main(sys.argv[1])
