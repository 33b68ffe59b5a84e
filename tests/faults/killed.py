# SPDX-License-Identifier: GPL-3.0-or-later
"""killed.py PROGRAM [TIMES]: killed without warning, again and again, while it writes a file.

Half of the kills come at any time of the run, half soon after the draft has been seen on the disk.
The file is then the old one or the new one, never a part of either."""

import random
import sys
import time

from desk import Desk, WRITERS

OLD = b"<!-- the old file -->\n" * 4000
TARGET = "target"


def drafts(folder):
    return list(folder.glob(".target.*"))


def kill_at(desk, words, wait, once_written):
    """Waits for the draft if asked, then so long, then kills."""
    with desk.start(words) as process:
        while once_written and process.poll() is None and not drafts(desk.path):
            pass
        time.sleep(wait)
        process.kill()
        process.communicate()
    return bool(drafts(desk.path))


def time_of(desk, words):
    start = time.monotonic()
    code, _, said = desk.run(words)
    assert code in (0, 1), said
    return time.monotonic() - start


def trial(desk, words, times, dice):
    """Counts what was found after each kill."""
    target = desk.path / TARGET
    words = [*words, TARGET]
    whole = time_of(desk, words)
    new = target.read_bytes()
    found = {"old": 0, "new": 0, "caught": 0}
    for i in range(times):
        target.write_bytes(OLD)
        for draft in drafts(desk.path):
            draft.unlink()
        once_written = i % 2 == 0
        wait = dice.uniform(0, 0.003) if once_written else dice.uniform(0, 1.2 * whole)
        found["caught"] += kill_at(desk, words, wait, once_written)
        content = target.read_bytes()
        assert content in (OLD, new), f"a torn file of {len(content)} bytes after {words}"
        found["old" if content == OLD else "new"] += 1
    # What the killed ones left behind is in nobody's way.
    code, _, said = desk.run(words)
    assert code in (0, 1) and target.read_bytes() == new, said
    return found


def main(program, times):
    dice = random.Random(11)
    writers = {name: WRITERS[name] for name in ("burnback", "cutlist", "report", "design")}
    total = {"old": 0, "new": 0, "caught": 0}
    for words in writers.values():
        with Desk(program) as desk:
            for key, count in trial(desk, words, times // len(writers), dice).items():
                total[key] += count
    print(f"{times} kills, {total['caught']} of them while a draft was on the disk: "
          f"{total['old']} times the old file, {total['new']} times the new one, none torn")
    assert total["caught"] > 0, "no kill met a write"


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 200)
