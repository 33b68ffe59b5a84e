# SPDX-License-Identifier: GPL-3.0-or-later
"""Spoils one line of physics at a time, in a copy, and asks whether a test notices.

Usage: mutants.py [folder for the copy and its build; build-mutants if left out]

Each mutant must compile and must fail a test of its own room. Prints a table of what was spoiled and
which test said so first; exit 1 where a mutant lives.
"""

import pathlib
import re
import shutil
import subprocess
import sys

HOUSE = pathlib.Path(__file__).resolve().parents[2]

# What the line is about, source below src/, the text, what it is spoiled to, room whose tests must notice.
MUTANTS = [
    ("core's side in a segment's burning area", "grain/segment.cpp",
     "segment.core_diameter + (core_burns ? 2 * web : 0)",
     "segment.core_diameter + (core_burns ? web : 0)", "grain"),
    ("a grain's heat: sense of the temperature sensitivity", "motor/propellant.cpp",
     "temperature - reference_temperature", "reference_temperature - temperature", "motor"),
    ("choked flow function", "motor/gas.cpp",
     "return std::sqrt(gamma) * std::pow(2 /", "return gamma * std::pow(2 /", "motor"),
    ("divergence of a conical nozzle", "motor/nozzle.cpp",
     "std::cos(nozzle.half_angle)", "std::cos(2 * nozzle.half_angle)", "motor"),
    ("ambient pressure on a separated nozzle", "motor/nozzle.cpp",
     "(pressure * (momentum + ratio * area) - ambient_ * area)",
     "(pressure * (momentum + ratio * area))", "motor"),
    ("length in the erosive rate of Lenoir and Robillard", "motor/erosion.cpp",
     "std::pow(length, -0.2)", "std::pow(length, 0.2)", "motor"),
    ("a law's falling joint: the pressure sits on it", "motor/burn_law.cpp",
     "bands.push_back({reached, bottom, 0, 0, piece.from});",
     "bands.push_back({reached, bottom, 0, 0, piece.to});", "motor"),
    ("ambient loss in the closed form of impulse", "firing/steady.cpp",
     "law.per_pressure() * pressure - law.loss() : law(pressure)",
     "law.per_pressure() * pressure : law(pressure)", "firing"),
    ("free volume that grows as the grain burns", "firing/transient.cpp",
     "const double pressure = y[gas] * heat_ / (volume_ + burned(stretch, web));",
     "const double pressure = y[gas] * heat_ / volume_;", "firing"),
    ("unchoked outflow at the end of blow-down", "firing/throat.cpp",
     "std::pow(ratio, 1 / k)", "std::pow(ratio, k)", "firing"),
    ("mean diameter in the hoop formula of ASTM D1785", "strength/tube.cpp",
     "/ (tube.outer_diameter - tube.wall)", "/ tube.outer_diameter", "strength"),
    ("radius in Lame's stresses", "strength/tube.cpp",
     "((b - a) * radius * radius)", "((b - a) * radius * outer_radius)", "strength"),
    ("half a cell's conductance", "strength/conduction.cpp",
     "2 * slab.conductivity / width", "slab.conductivity / width", "strength"),
    ("drag's square of speed", "flight/ascent.hpp",
     "air.density * speed * speed / 2", "air.density * speed / 2", "flight"),
    ("total index of Sobol", "scatter/variance.cpp",
     "moved * moved / (2 * n)", "moved * moved / n", "scatter"),
]


def run(*words):
    return subprocess.run([str(word) for word in words], text=True, capture_output=True, check=False)


def built(build, room):
    done = run("cmake", "--build", build, "--target", f"test_{room}")
    return done.returncode == 0, done.stdout + done.stderr


def killer(build, room):
    """The first test that fails, or None; RapidCheck's seeds are fixed so that the table is."""
    done = subprocess.run([f"./test_{room}", "--abort", "--reporter", "xml"], cwd=build / "tests",
                          env={"RC_PARAMS": "seed=1", "PATH": "/usr/bin:/bin"}, text=True,
                          capture_output=True, check=False, timeout=1800)
    if done.returncode == 0:
        return None
    names = re.findall(r'<TestCase name="([^"]*)"', done.stdout)
    return names[-1].replace("&lt;", "<").replace("&quot;", '"') if names else "the program stopped"


def main(folder="build-mutants"):
    folder = pathlib.Path(folder).resolve()
    copy, build = folder / "house", folder / "build"
    shutil.rmtree(copy, ignore_errors=True)
    shutil.copytree(HOUSE, copy, ignore=shutil.ignore_patterns("build*", ".git"))
    done = run("cmake", "-S", copy, "-B", build, "-G", "Ninja", "-DCMAKE_BUILD_TYPE=Release",
               "-DCMAKE_CXX_FLAGS_RELEASE=-O1")
    if done.returncode != 0:
        raise SystemExit(done.stderr)
    for room in sorted({room for *_, room in MUTANTS}):
        fine, text = built(build, room)
        if not fine:
            raise SystemExit(text)
        if (name := killer(build, room)) is not None:
            raise SystemExit(f"{room}: unspoiled, \"{name}\" fails already")
    print("| spoiled | in | killed by |\n| --- | --- | --- |", flush=True)
    alive = 0
    for about, file, text, spoiled, room in MUTANTS:
        path = copy / "src" / file
        whole = path.read_text(encoding="utf-8")
        if whole.count(text) != 1:
            raise SystemExit(f"{file} has not once: {text}")
        path.write_text(whole.replace(text, spoiled), encoding="utf-8")
        fine, words = built(build, room)
        name = killer(build, room) if fine else None
        path.write_text(whole, encoding="utf-8")
        if not fine:
            raise SystemExit(f"{about} does not compile:\n{words}")
        alive += name is None
        print(f"| {about} | `src/{file}` | {f'{room}: {name}' if name else 'NOTHING'} |", flush=True)
    return 1 if alive else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
