# SPDX-License-Identifier: GPL-3.0-or-later
"""property.py PROGRAM [1/2 | seed ...]: random motors, many of them dangerous. Whatever the answer is, every
command gives the same one, with the exit code that belongs to it."""

import collections
import concurrent.futures
import random
import sys
import time

import asking
import parts
from asking import Motion, read_json

SEEDS = range(1, 61)


def of(dice, *choices):
    return dice.choice(choices)


def casing(dice, material):
    bore = dice.uniform(30, 80)
    tube = dice.uniform(0, 2)
    lines = [f'bore = "{bore:.2f} mm"', f'wall = "{dice.uniform(1, 8):.2f} mm"', 'grain_room = "370 mm"',
             f'tube_wall = "{tube:.2f} mm"', f'fit = "{dice.uniform(0, 1):.2f} mm"']
    if material:
        lines.append(f'material = "{material}"')
    return "[casing]\n" + "\n".join(lines) + "\n", bore, bore - 2 * tube - 1


def core(dice, outer):
    """In TOML, and whether planes show it."""
    round_core = dice.uniform(0.25, 0.7) * outer
    kind = of(dice, "round", "round", "round", "solid", "tapered", "off centre", "cross", "star", "drawn")
    if kind == "solid":
        return "0", True
    if kind == "tapered":
        return f'{{ head = "{round_core:.2f} mm", nozzle = "{round_core * dice.uniform(.8, 1.2):.2f} mm" }}', True
    if kind == "off centre":
        offset = dice.uniform(0.05, 0.9) * (outer - round_core) / 2
        return f'{{ diameter = "{round_core:.2f} mm", offset = "{offset:.2f} mm" }}', False
    if kind == "cross":
        return (f'{{ shape = "cross", length = "{round_core * 1.2:.2f} mm", '
                f'width = "{round_core * .4:.2f} mm" }}'), False
    if kind == "star":
        return (f'{{ shape = "star", points = 5, half_angle = "32 deg", fillet_centre = '
                f'"{round_core * .6:.2f} mm", fillet = "1 mm", angle_fraction = 0.75 }}'), False
    if kind == "drawn":
        half = round_core / 2
        return (f'{{ outline = "POLYGON (({-half:.2f} {-half:.2f}, {half:.2f} {-half:.2f}, '
                f'0 {half:.2f}, {-half:.2f} {-half:.2f}))" }}'), False
    return f'"{round_core:.2f} mm"', True


def stack(dice, outer):
    """Segments, head end first, a solid one only there; whether planes show them; a burning area, mm2."""
    tables, planes, area = [], True, 0
    count = dice.randint(1, 3)
    for i in range(count):
        shape, flat = core(dice, outer)
        while shape == "0" and (i > 0 or (count > 1 and dice.random() < 0.5)):
            shape, flat = core(dice, outer)
        faces = of(dice, '["outer"]', '["outer"]', '["outer", "head"]', '["outer", "head", "nozzle"]')
        if shape == "0":
            faces = '["outer", "head"]'
        length = dice.uniform(30, 120)
        tables.append(parts.segments(1, f"{length:.1f} mm", shape, f"inhibited = {faces}\n"))
        planes = planes and flat
        area += outer**2 * 0.8 if shape == "0" else 1.6 * outer * length + 0.6 * outer**2
    return "\n".join(tables), planes, area


def propellant(dice):
    name = of(dice, "kn-sucrose", "kn-dextrose", "kn-sorbitol", "ap-pban", "own", "own")
    if name != "own":
        text = f'[propellant]\nname = "{name}"\n'
        text += of(dice, "", "", f"density_ratio = {dice.uniform(.3, 1):.3f}\n")
        return text + of(dice, "", parts.EROSION)
    law = (f'rate = "{dice.uniform(2, 14):.2f} mm/s"\nat = "{dice.uniform(1, 4):.2f} MPa"\n'
           f"n = {of(dice, dice.uniform(-.2, .6), dice.uniform(.1, .5), .7):.3f}\n")
    law += of(dice, "", f'from = "0.2 MPa"\nto = "{dice.uniform(1, 9):.2f} MPa"\n')
    sensitivity = of(dice, "", 'temperature_sensitivity = "0.3 %/K"\n')
    return parts.own(law, sensitivity, dice.random() < 0.8)


def limits(dice, material):
    lines = []
    ceiling = of(dice, None, f'"{dice.uniform(1, 12):.2f} MPa"', '"from strength"' if material else None)
    if ceiling:
        lines.append(f"pressure = {ceiling}")
    lines += of(dice, [], [], [f"factor = {dice.uniform(1, 4):.2f}"])
    lines += of(dice, [], [], [f"port_to_throat = {dice.uniform(.5, 3):.2f}"])
    lines += of(dice, [], [], [f'mass_flux = "{dice.uniform(300, 3000):.0f} kg/m2-s"'])
    lines += of(dice, [], [], [f'pressure_floor = "{dice.uniform(.1, 3):.2f} MPa"'])
    if ceiling and dice.random() < 0.1:
        lines.append(f"confidence = {dice.uniform(.5, .99):.3f}")
    return "[limits]\n" + "\n".join(lines) + "\n"


def wish(dice):
    lines = []
    for key, unit, most in (("burn_time", "s", 4), ("total_impulse", "N s", 2000), ("peak_thrust", "N", 3000),
                            ("rail_speed", "m/s", 40), ("apogee", "m", 2000)):
        bound = f'"{dice.uniform(.01, 1) * most:.2f} {unit}"'
        lines += of(dice, [], [], [], [f"{key} = {bound}"], [f"{key} = {{ at_most = {bound} }}"])
    return of(dice, "", "[wish]\n" + "\n".join(lines) + "\n")


def whole_job(seed):
    dice = random.Random(seed)
    material = of(dice, None, "pvc-1120", "aluminium-6061-t6", "mild-steel", "scrap tube")
    pipe, bore, outer = casing(dice, material)
    grain, planes, area = stack(dice, outer)
    throat = (area / dice.uniform(60, 400) / 0.785)**0.5 if dice.random() < 0.95 else bore * 1.2
    if not planes:
        material = None  # heat and strength over the long tail of an odd core take minutes
        pipe = pipe.partition("material")[0]
    fuel = propellant(dice)
    tables = [pipe, fuel, parts.nozzle(f"{throat:.2f} mm", of(dice, *[""] * 19, 'throat_growth = "0.3 mm/s"')),
              grain, limits(dice, material), wish(dice),
              of(dice, "", parts.SHOP + 'length_tolerance = "0.5 mm"\n', parts.SHOP)]
    if material:
        tables += [of(dice, "", parts.HEAD, parts.HEAD), of(dice, "", parts.SEAT, parts.SEAT)]
    if material == "scrap tube":
        tables.append(parts.metal(f"{dice.uniform(5, 300):.0f} MPa", of(
            dice, "", 'strength_at = [["25 degC", 1], ["150 degC", 0.5]]')))
    flies = dice.random() < 0.4
    if not flies and any("[shop]" in table for table in tables):  # then there is a search, which must fly
        tables = [table for table in tables if "rail_speed" not in table and "apogee" not in table]
    if flies:
        tables.append(parts.airframe(f"{10 ** dice.uniform(0, 2):.2f} kg", f"{dice.uniform(.5, 5):.2f} m"))
    temperature = f"{of(dice, 20, 20, dice.uniform(-40, 60)):.1f} degC"
    tables.append(f'[day]\ntemperature = "{temperature}"\n')
    tables.append(of(dice, "", f'[tolerance]\nburn_rate = "{dice.uniform(0, 15):.1f} %"\n'))
    hot = "ap-pban" not in fuel and ("batch 7" not in fuel or "flame_temperature" in fuel)
    judged = bool(material) and hot
    return Motion(parts.job(f"seed {seed}", *tables), planes, judged, flies, temperature, lean=True)


def facts_of(said):
    """Answer, keys and code; a chance is scatter's own, by its own samples."""
    verdict = read_json(said).get("verdict")
    if verdict is None:
        return None
    twice = 2 if said.who == "compare" else 1
    keys = {name: collections.Counter(entry["key"] for entry in verdict[name]
                                      if entry["key"] != "limits.confidence")
            for name in ("broken", "not_judged")}
    return {name: {key: count / twice for key, count in counted.items()} for name, counted in keys.items()}, \
        verdict["answer"]


def judged(program, seed):
    """Faults, and the answer."""
    motion = whole_job(seed)
    # The dearer ones take turns.
    skip = (("margins", "report", "fire axial", "cutlist --sheet"), ("scatter", "margins", "sweep", "bench"),
            ("scatter", "report", "fire steady", "compare"))[seed % 3]
    try:
        answers = [said for said in asking.asked(program, motion, skip)]
    except Exception as error:  # told with its seed, and the others go on
        return [f"seed {seed}: {type(error).__name__}: {error}"], "failed"
    codes = {said.code for said in answers if said.code is not None}
    if codes == {2}:
        return [], "refused"
    faults = []
    spoken = [(said, facts_of(said)) for said in answers if said.form in ("json", "bench")]
    fired = next(facts for said, facts in spoken if said.who == "fire")
    for said, facts in spoken:
        if facts is None:
            faults.append(f"{said}: exit {said.code}, no verdict: {said.whole[:150]!r}")
        elif fired and (facts[0] != fired[0] or (facts[1] != fired[1] and said.who != "scatter")):
            faults.append(f"{said}: {facts}, and fire: {fired}")
    for said in answers:
        own = next((facts for other, facts in spoken if other.who == said.who), None)
        if own and said.form in ("text", "json") and said.code != (1 if own[1] == "no" else 0):
            faults.append(f"{said}: exit {said.code} for {own[1]}")
        if own and said.form == "text" and asking.answer_of_words(said.body, said.who) != own[1]:
            faults.append(f"{said}: {asking.answer_of_words(said.body, said.who)}, and as JSON {own[1]}")
    return [f"seed {seed}: {words}" for words in faults], fired[1] if fired else "none"


def main(program, *seeds):
    begun = time.monotonic()
    chosen = list(SEEDS)
    if seeds and "/" in seeds[0]:
        part, parts_in_all = map(int, seeds[0].split("/"))
        chosen, seeds = chosen[part - 1::parts_in_all], ()
    elif seeds:
        chosen = [int(seed) for seed in seeds]
    counts, faults = collections.Counter(), []
    with concurrent.futures.ThreadPoolExecutor(3) as pool:
        for found, answer in pool.map(lambda seed: judged(program, seed), chosen):
            faults += found
            counts[answer] += 1
            print("\n".join(found), end="\n" if found else "", flush=True)
    if seeds:
        print("\n".join(whole_job(seed).text for seed in chosen))
    print(f"{len(chosen)} motors: {dict(counts)}, {len(faults)} faults, {time.monotonic() - begun:.0f} s")
    # Random jobs that are all refused, or all answered alike, would show nothing.
    enough = seeds or (counts["no"] >= len(chosen) / 6 and counts["unknown"] >= len(chosen) / 12
                       and counts["refused"] <= len(chosen) / 3)
    if not enough:
        print("too much of one kind: the jobs test nothing")
    return 1 if faults or not enough else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
