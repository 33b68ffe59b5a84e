# SPDX-License-Identifier: GPL-3.0-or-later
"""matrix.py PROGRAM [1/3 | part of a motor's name ...]: every motor of motors.py x every command x text, JSON and
HTML: the first sentence, the exit code, the lists, and that no two commands disagree."""

import collections
import concurrent.futures
import re
import sys
import tempfile
import time

import asking
import motors
from asking import Motion, answer_of_words, listed, read_json, remarks_in, squeezed

LISTS = ("broken", "not_judged", "assumed")
HEADINGS = {"Broken as well", "Not judged", "Not judged either", "Assumed"}
# What no text may tell one to do with a motor that must not be fired.
URGES = re.compile(r"\b(cut, cast|cut and cast|then (cut|pour|cast)|ready to (cut|pour|cast))\b|"
                   r"grainwright cutlist", re.IGNORECASE)


# What takes seconds, scatter, report and margins, is asked of all motors for JSON and page, and of these for
# text as well.
IN_FULL = {*motors.MOTORS[::6], *(motor for motor in motors.MOTORS if motor.name.startswith((
    "round port", "pipe at half its load under", "gas temperature", "a described", "a rocket")))}


def wrong_code(said, answer):
    if said.code is None or said.code == (1 if answer == "no" else 0):
        return
    yield f"exit {said.code} for {answer}: {said.whole[:150]!r}"


def wrong_verdict(verdict):
    """What is missing in a verdict's own form."""
    if not isinstance(verdict, dict) or not {"answer", *LISTS} <= verdict.keys():
        yield f"no whole verdict: {str(verdict)[:120]}"
        return
    for name in LISTS:
        for entry in verdict[name]:
            if not {"key", "words", "value", "limit"} <= entry.keys():
                yield f"{name} has an entry without key, words, value or limit: {entry}"
            elif not entry["key"] or not entry["words"] or not re.match(r"[a-z]+(\.|$)", entry["key"]):
                yield f"{name} has an entry without a key of the job, or without words: {entry}"
    expected = "no" if verdict["broken"] else "unknown" if verdict["not_judged"] else "yes"
    if verdict["answer"] != expected:
        yield f"{verdict['answer']} over lists that make {expected}"


def wrong_text(said, motor, verdict):
    """The words of a text, against what the same command says as JSON."""
    if (told := answer_of_words(said.body, said.who)) != motor.answer:
        yield f"says {told}, not {motor.answer}"
    whole = squeezed(said.body)
    if verdict and said.who not in ("sweep", "compare"):  # which give the first for each value or build
        yield from (f"a reason of the JSON is not in the text: {entry['words']}"
                    for entry in verdict["broken"] + verdict["not_judged"]
                    if squeezed(entry["words"]) not in whole)
    if motor.answer == "no" and (urged := URGES.search(whole)):
        yield f"urges to build a motor that must not be fired: {whole[max(0, urged.start() - 60):][:140]!r}"
    if said.who.startswith("cutlist") and "Weigh each" not in whole:
        yield "does not list the pieces"


def wrong_between(text, data):
    """Reasons and remarks of a text that its JSON does not have."""
    everything = squeezed(" ".join(entry["words"] for name in LISTS for entry in data["verdict"][name]))
    for words in listed(text.body, HEADINGS):
        if squeezed(re.sub(r" \([a-z_.]+\)$", "", words)) not in everything:
            yield f"a reason of the text is not in the JSON: {words}"
    remarks = {squeezed(words) for words in remarks_in(data)}
    for words in listed(text.body, {"Remarks"}):
        plain = squeezed(re.sub(r"^at [^:]+: ", "", words))
        if squeezed(words) not in remarks and plain not in remarks:
            yield f"a remark of the text is not in the JSON: {words}"


def wrong_page(said, motor):
    banner = asking.Banner(said.body)
    if banner.answer is None:
        yield "the page has no element of class verdict"
        return
    if banner.answer != motor.answer:
        yield f"the page's data-answer is {banner.answer!r}, not {motor.answer}"
    who = "compare" if said.who == "compare" else ""
    if (told := answer_of_words(banner.text, who)) != motor.answer:
        yield f"the page says {told}, not {motor.answer}"


def keys_of(verdict, name):
    return collections.Counter(entry["key"] for entry in verdict[name])


def wrong_keys(motor, verdict):
    for name in LISTS:
        missing = set(getattr(motor, name)) - set(keys_of(verdict, name))
        if missing:
            yield f"{name} lacks {', '.join(sorted(missing))}; has {sorted(keys_of(verdict, name))}"


def faults_of(motor, answers):
    """Each thing that is wrong with what was said of a motor."""
    verdicts, texts = {}, {}
    for said in answers:
        code = [] if said.form == "html" else wrong_code(said, motor.answer)
        yield from ((said, words) for words in code)
        if said.form in ("json", "bench"):
            data = read_json(said)
            faults = list(wrong_verdict(data.get("verdict")))
            yield from ((said, words) for words in faults)
            if faults:
                continue
            verdicts[said.who] = data
            if data["verdict"]["answer"] != motor.answer:
                yield said, f"answers {data['verdict']['answer']}, not {motor.answer}"
            yield from ((said, words) for words in wrong_keys(motor, data["verdict"]))
        elif said.form == "html":
            yield from ((said, words) for words in wrong_page(said, motor))
        else:
            texts[said.who] = said
    for who, said in texts.items():
        data = verdicts.get(who)
        yield from ((said, words) for words in wrong_text(said, motor, data and data["verdict"]))
        if data:
            yield from ((said, words) for words in wrong_between(said, data))
    yield from disagreements(verdicts)


def disagreements(verdicts):
    """Of the lists of keys; the comparison has each key for both of its builds."""
    if "fire" not in verdicts:
        return
    for who, data in verdicts.items():
        twice = 2 if who == "compare" else 1
        for name in ("broken", "not_judged"):
            own, fired = (keys_of(verdict["verdict"], name) for verdict in (data, verdicts["fire"]))
            if own != collections.Counter({key: twice * count for key, count in fired.items()}):
                yield who, f"{name} is {sorted(own.elements())}, and fire has {sorted(fired.elements())}"


def judged(program, motor):
    motion = Motion(motor.text, motor.planes, motor.material, motor.flies,
                    next(iter(re.findall(r'^temperature = "(.+)"', motor.text, re.MULTILINE)), "20 degC"),
                    lean=motor not in IN_FULL)
    # A throat that changes makes every firing take seconds.
    skip = ("fire steady", "fire axial", "sweep", "report", "compare") if "throat_growth" in motor.text else ()
    try:
        answers = list(asking.asked(program, motion, skip))
        return [f"{motor.name}: {said}: {words}" for said, words in faults_of(motor, answers)]
    except Exception as error:  # told with the motor's name, and the others go on
        return [f"{motor.name}: {type(error).__name__}: {error}"]


def refusals(program, motor):
    """Every command refuses the job, and says the same."""
    motion = Motion(motor.text, motor.planes, motor.material, motor.flies)
    return [f"{motor.name}: {said}: exit {said.code}, not 2: {said.whole[:150]!r}"
            for said in asking.asked(program, motion, skip=("bench", "margins"))
            if said.form != "html" and said.code != 2]


def forgotten_commands(program):
    known = asking.ON_A_MOTOR | asking.NOT_ON_A_MOTOR
    listed_there = asking.commands_of(program)
    assert len(listed_there) >= 8, f"--help lists only {listed_there}"
    return [f"{name}: neither in this matrix nor among those that answer nothing on a motor"
            for name in sorted(listed_there - known)] + \
           [f"{name}: no such command any more" for name in sorted(known - listed_there)]


SEARCH = """
[shop]
mandrels = ["22 mm", "25 mm"]
throats = ["14 mm", "15 mm"]
length_step = "10 mm"
spacer = "2 mm"
most_segments = 3
most_kinds = 1

[wish]
profile = "flat"
"""
SEARCHES = {  # tube, limits and the rest, and what is to be said of the best build that a search finds
    "unknown": (motors.ROOM, "", ""),
    "yes": (motors.ROOM, '[limits]\npressure = "8 MPa"\nport_to_throat = 2.5\n', ""),
    "no": (motors.SCRAP, "[limits]\nfactor = 2\n", motors.metal("4 MPa")),
}


def wrong_searches(program):
    """`design` on a job to search for: the best build, and whether `fire` says the same of each."""
    for answer, (tube, limits, more) in SEARCHES.items():
        text = motors.job("a search", tube, motors.SUCROSE, motors.CALM_DAY, motors.nozzle("14 mm"), limits,
                          motors.HEAD + motors.SEAT if more else "", more, SEARCH)
        with tempfile.TemporaryDirectory(prefix="grainwright-") as folder:
            with open(f"{folder}/job.toml", "w", encoding="utf-8") as file:
                file.write(text)
            yield from (f"design, {answer}: {words}" for words in wrong_search(program, folder, answer))


def wrong_search(program, folder, answer):
    def run(*words):
        return asking.run(program, folder, [*words, "--threads", "1"] if words[0] == "design" else [*words])
    told, data = run("design", "job.toml"), run("design", "job.toml", "--json")
    for done in (told, data):
        if done.returncode != (1 if answer == "no" else 0):
            yield f"exit {done.returncode} for {answer}: {(done.stdout + done.stderr)[:150]!r}"
    if answer_of_words(told.stdout, "design") != answer:
        yield answer_of_words(told.stdout, "design")
    if answer == "no" and (urged := URGES.search(squeezed(told.stdout))):
        yield f"urges to build: {urged[0]}"
    whole = read_json(asking.Said("design", "json", 0, data.stdout))
    yield from wrong_verdict(whole.get("verdict"))
    if whole.get("verdict", {}).get("answer") != answer or not whole.get("designs"):
        yield f"{len(whole.get('designs', []))} builds, {whole.get('verdict', {}).get('answer')}, not {answer}"
    for number, build in enumerate(whole.get("designs", []), 1):
        saved = run("design", "job.toml", "--json", "--save", f"{number}.toml", "--pick", str(number))
        fired = run("fire", f"{number}.toml", "--json")
        own = build.get("verdict", {}).get("answer")
        verdicts = [read_json(asking.Said("", "json", 0, done.stdout)).get("verdict", {}).get("answer")
                    for done in (saved, fired)]
        if verdicts != [own, own] or saved.returncode != fired.returncode:
            yield f"build {number}: {own} in the list, {verdicts[0]} when picked, {verdicts[1]} to fire"


def main(program, *wanted):
    motors.check_figures()
    begun = time.monotonic()
    chosen, faults = motors.MOTORS + motors.REFUSED, forgotten_commands(program)
    searches = True
    if wanted and (part := re.fullmatch(r"(\d+)/(\d+)", wanted[0])):
        chosen, searches = chosen[int(part[1]) - 1::int(part[2])], part[1] == "1"
    elif wanted:
        chosen = [motor for motor in chosen if any(part in motor.name for part in wanted)]
        searches = False
    print("\n".join(faults), end="\n" if faults else "")
    with concurrent.futures.ThreadPoolExecutor(3) as pool:
        tasks = [pool.submit(refusals if motor.answer == "refused" else judged, program, motor)
                 for motor in chosen]
        if searches:
            tasks.append(pool.submit(lambda: list(wrong_searches(program))))
        for task in tasks:
            for fault in task.result():
                faults.append(fault)
                print(fault, flush=True)
    print(f"{len(chosen)} motors, {len(faults)} faults, {time.monotonic() - begun:.0f} s")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
