# SPDX-License-Identifier: GPL-3.0-or-later
"""Holds the manual and the completions to what the program's own help says.

Usage: descriptions.py PROGRAM FOLDER

Each completion is asked in its shell, as that shell asks it; a shell that is not installed is skipped
and named. Commands, options and choices are read from the help of the program, not from its sources.
"""

import os
import pathlib
import pty
import re
import select
import shutil
import subprocess
import sys
import tempfile
import time


def output(*words, **more):
    return subprocess.run(words, text=True, capture_output=True, check=True, **more).stdout


def part(text, heading):
    """The indented lines below a heading of the help."""
    return re.search(rf"^{heading}\n((?:  .*\n)+)", text, re.MULTILINE)[1].splitlines()


def told_by(program):
    """{command: {option: its value or ""}}, and the same of the program itself under ""."""
    whole = output(program, "--help")
    told = {"": {"--help": "", "--version": ""}}
    for line in part(whole, "commands, in the order of the work"):
        command = line.split()[0]
        told[command] = {}
        for row in part(output(program, command, "--help"), "options"):
            names = re.findall(r"(?<!\S)-[-\w]+", row.split("   ")[0])
            value = re.match(r"  (?:-\w, )?--[-\w]+ (\S+)", row)
            told[command].update(dict.fromkeys(names, value[1] if value else ""))
    return told


def differences(shell, asked, offered, expected):
    """What a shell offers too much or too little for the words typed so far."""
    wrong = []
    if missing := sorted(set(expected) - set(offered)):
        wrong.append(f"{shell}: \"{asked}\" does not offer {' '.join(missing)}")
    if strange := sorted(set(offered) - set(expected)):
        wrong.append(f"{shell}: \"{asked}\" offers {' '.join(strange)}")
    return wrong


class Bash:
    name = "bash"
    long_only = False
    jobs_only = True

    def __init__(self, folder, desk):
        self._script = folder / "grainwright.bash"
        self._desk = desk

    def offers(self, words):
        lines = (f'source "{self._script}"; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1));'
                 ' _grainwright; printf "%s\\n" "${COMPREPLY[@]}"')
        return output("bash", "-c", lines, "bash", *words, cwd=self._desk).split()


class Fish:
    name = "fish"
    long_only = True  # it shows -o only where a single dash is typed
    jobs_only = False  # it lists job files first, and others after them

    def __init__(self, folder, desk):
        self._script = folder / "grainwright.fish"
        self._desk = desk

    def offers(self, words):
        lines = f'source "{self._script}"; complete -C "{" ".join(words)}"'
        with tempfile.TemporaryDirectory(prefix="grainwright-") as home:
            env = {**os.environ, "HOME": home, "XDG_CONFIG_HOME": home, "XDG_DATA_HOME": home}
            listed = output("fish", "--no-config", "-c", lines, cwd=self._desk, env=env)
        return [line.split("\t")[0] for line in listed.splitlines()]


class Zsh:
    """A shell at a terminal of its own, whose lists are read from the screen."""
    name = "zsh"
    long_only = False
    jobs_only = True
    _ready = b"READY>"

    def __init__(self, folder, desk):
        child, self._screen = pty.fork()
        if child == 0:
            os.chdir(desk)
            os.environ.update(TERM="dumb", HOME=str(desk), ZDOTDIR=str(desk), LC_ALL="C.UTF-8")
            os.execlp("zsh", "zsh", "-f", "-i")
        # The quotes keep this line's echo from looking like the prompt.
        set_up = ("PS1=READ'Y>'; stty rows 300 cols 300; LISTMAX=1000;"
                  f" fpath=({folder} $fpath);"
                  " autoload -U compinit; compinit -u -D; unsetopt auto_list auto_menu beep;"
                  " zstyle ':completion:*' verbose no; bindkey '^T' list-choices\n")
        self._say(set_up.encode(), self._ready)

    def _say(self, keys, until):
        """What the screen shows after these keys, up to a pattern."""
        os.write(self._screen, keys)
        seen = b""
        end = time.monotonic() + 30
        while not re.search(until, seen, re.S) and time.monotonic() < end:
            if select.select([self._screen], [], [], 0.1)[0]:
                seen += os.read(self._screen, 65536)
        return seen

    def offers(self, words):
        """The list, and then the shell is asked for a word that ends it."""
        self._say(b"\x15", b"")
        self._say((" ".join(words)).encode() + b"\x14", b"")
        seen = self._say(b"\x15echo E''ND\n", b"END\r\n.*" + self._ready).decode("utf-8", "replace")
        lists = seen.replace("\r", "\n").split("\n")
        return [word for line in lists if "grainwright" not in line and "E''ND" not in line
                for word in re.findall(r"(?<!\S)(?!END\b|READY>)[-\w.|/]+", line)]


def faults_of(shell, told):
    """Commands, options, and the choices of options, as this shell offers them."""
    def shown(options):
        return [name for name in options if name.startswith("--") or not shell.long_only]

    files = ["motor.toml", "notes.txt"]
    jobs = files[:1] if shell.jobs_only else files
    wrong = differences(shell.name, "grainwright ", shell.offers(["grainwright", ""]),
                        list(told)[1:] + (["--help", "--version"] if shell.name == "bash" else []))
    for command, options in told.items():
        words = ["grainwright", command, "--"] if command else ["grainwright", "--"]
        expected = [n for n in shown(options) if n.startswith("--")]
        wrong += differences(shell.name, " ".join(words), shell.offers(words), expected)
        for option, value in options.items():
            words = ["grainwright", command, option, ""]
            if "|" in value:
                wrong += differences(shell.name, " ".join(words), shell.offers(words),
                                     value.split("|"))
            elif value == "JOB":
                wrong += differences(shell.name, " ".join(words), shell.offers(words), jobs)
            elif value == "FILE":
                wrong += differences(shell.name, " ".join(words), shell.offers(words), files)
    wrong += differences(shell.name, "grainwright fire ", shell.offers(["grainwright", "fire", ""]),
                         jobs)
    return wrong


def gaps_in_manual(folder, told):
    """Commands and options that the manual's own section for them does not name."""
    text = (folder / "grainwright.1").read_text(encoding="utf-8").replace("\\-", "-")
    shared = text[text.index(".SH OPTIONS OF EVERY COMMAND"):]
    wrong = []
    for command, options in told.items():
        section = re.search(rf"^\.SS \\fB{command}\\fR.*?(?=^\.S[SH])", text, re.M | re.S)
        if command and not section:
            wrong.append(f"manual: no section on {command}")
            continue
        own = section[0] if command else ""
        wrong += [f"manual: {command} {option} is not told" for option in options
                  if f"\\fB{option}\\fR" not in own + shared]
    if shutil.which("mandoc"):
        lint = subprocess.run(["mandoc", "-T", "lint", "-W", "warning", folder / "grainwright.1"],
                              text=True, capture_output=True, check=False).stdout
        wrong += [line for line in lint.splitlines() if "missing date" not in line]
    else:
        print("mandoc is not installed: the manual's macros are not judged")
    return wrong


def main(program, folder):
    folder = pathlib.Path(folder).resolve()
    told = told_by(program)
    assert len(told) > 10 and all(told.values()), "the help is read wrongly"
    wrong = gaps_in_manual(folder, told)
    with tempfile.TemporaryDirectory(prefix="grainwright-") as desk:
        for name in ("motor.toml", "notes.txt"):
            pathlib.Path(desk, name).touch()
        for kind in (Bash, Fish, Zsh):
            if shutil.which(kind.name):
                wrong += faults_of(kind(folder, desk), told)
            else:
                print(f"{kind.name} is not installed: its completion is not asked")
    print("\n".join(wrong) or f"{len(told) - 1} commands, "
          f"{sum(len(options) for options in told.values())} options: all offered, all told")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
