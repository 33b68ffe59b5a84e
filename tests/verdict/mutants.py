# SPDX-License-Identifier: GPL-3.0-or-later
"""Each hazard of src/assessment/hazards.cpp blinded, in the form of tests/release/mutants.py; instead of a
room, the motor of motors.py that must notice: `matrix.py PROGRAM "that name"` must fail then.

A blind row says nothing, as if its function had returned at once."""

BLIND = ", [](const Case&, Verdict&) {}}"

# Function of the row, and who notices.
ROWS = [
    ("port_chokes", "round port narrower than the throat"),
    ("throat_wider_than_pipe", "end burner with a throat wider than its pipe"),
    ("parts_fail", "pipe at half its load under a typed ceiling"),
    ("cold_parts_fail", "cold too weak, heat not known"),
    ("limits_break", "over the ceiling"),
    ("too_many_over", "too many motors over the ceiling"),
    ("goes_out", "throat that does not choke"),
    ("does_not_fly", "too heavy to lift"),
    ("nothing_says_it_holds", "nothing says that it holds"),
    ("factor_without_material", "factor asked without a material"),
    ("shell_lacks", "gas temperature not known"),
    ("parts_not_described", "head closure not described"),
    ("heat_weakens_unknown", "hot pipe of which only the cold strength is known"),
    ("erosion_not_modelled", "narrow port without erosion constants"),
    ("law_carried_on", "law thirty per cent past its range"),
    ("steep_law", "exponent near one"),
    ("temperature_without_sensitivity", "hot day, sensitivity not known"),
    ("porous", "a third of the density"),
    ("flight_not_judged", "slow off its rail, nothing asked"),
    ("judged_as_drawn", "near its ceiling, as drawn"),
    ("ceiling_is_trusted", "a typed ceiling"),
    ("only_fits_as_drawn", "ends that touch, and no room to spare"),
    ("gaps_are_free", "ends that touch, and no room to spare"),
    ("source_assumes", "ends that touch, and no room to spare"),
]

# What the line is about, source below src/, the text, what it is spoiled to, motor that must notice.
MUTANTS = [(f"hazard {row} is not looked for", "assessment/hazards.cpp", f", {row}}}", BLIND, motor)
           for row, motor in ROWS]
