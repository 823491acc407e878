"""Solvers of the workings of which one line went wrong.

Written from the printed questions alone by someone who had not seen the formulas.

Every line is worked out afresh from the lines shown above it. The first that differs by more than the rounding of what is
shown went wrong. What the last line should say comes from a chain of right lines that is not rounded in between.
"""

import math
import re

from solving import PATTERN, Q, plain, quantity, solves

WORDS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6}
SHOWN = re.compile(r"^\d+\. .*: (.+)$", re.M)


class Line:
    """A shown value and how far the unrounded one may lie from it."""

    def __init__(self, printed):
        number, unit = PATTERN.fullmatch(printed.strip()).groups()
        step = 10.0 ** -len(number.partition(".")[2])
        # Whole things may have been rounded to the nearest or upwards.
        is_count = unit is None and step == 1
        self.value = quantity(plain(number), unit)
        self.slack = quantity(step * (1 if is_count else 0.5), unit)


def checked(question, *rules):
    """The number of the first wrong line, and the right last line. A rule takes the values of all lines above its own."""
    shown = [Line(printed) for printed in SHOWN.findall(question.text)]
    assert len(shown) == len(rules)
    right = []
    for rule in rules:
        right.append(rule(*right))
    for number, (line, rule) in enumerate(zip(shown, rules), 1):
        if not follows(line, rule, shown[: number - 1]):
            return number, right[-1] * Q(1, "")
    raise ValueError("every line follows from those above it")


def follows(line, rule, above):
    values = [each.value for each in above]
    expected = rule(*values)
    slack = line.slack
    for place, each in enumerate(above):
        moved = values[:place] + [each.value + each.slack] + values[place + 1 :]
        slack = slack + abs(rule(*moved) - expected)
    return abs(line.value - expected) <= slack * (1 + 1e-6)


@solves("line-in-a-film-working")
def film(question):
    volume = question.after("measured at")
    to_plate, to_web = question.all_after("About")[:2]
    return checked(question, lambda: volume, lambda flat: flat * to_plate, lambda flat, plate: plate * to_web)


@solves("line-in-a-build-up")
def build_up(question):
    pitch, plate, tape = (question.after(words) for words in ("pitch diameter is", "plate gauges", "the tape"))
    return checked(question, lambda: plate + tape, lambda once: 2 * once, lambda once, both: pitch - both)


@solves("line-in-a-repeat")
def repeat(question):
    over, under = re.search(r"pitch of (\d+)/(\d+)", question.text).groups()
    pitch = Q(int(over) / int(under), "inch")
    teeth, around, gap = question.before(" teeth"), question.before(" times around"), question.before(" between labels")
    return checked(question, lambda: teeth * pitch, lambda whole: whole / around, lambda whole, one: one - gap)


@solves("line-in-a-tone-value")
def tone_value(question):
    paper, plate, tint, solid = question.all_after("Paper reads")[:4]
    return checked(
        question,
        lambda: tint - paper,
        lambda light: solid - paper,
        lambda light, full: (1 - 10**-light) / (1 - 10**-full),
        lambda light, full, tone: tone - plate,
    )


@solves("line-in-a-run-time")
def run_time(question):
    labels, across, length, speed = question.all[:4]
    return checked(
        question, lambda: labels / across, lambda rows: rows * length, lambda rows, web: web / speed,
    )


@solves("line-in-an-ink-order")
def ink_order(question):
    film_, share, width, run = question.all[:4]
    density = question.after("weighs") / Q(1, "liter")
    return checked(
        question,
        lambda: width * run,
        lambda web: web * share,
        lambda web, printed: printed * film_,
        lambda web, printed, volume: volume * density,
    )


@solves("line-in-a-share-of-waste")
def share_of_waste(question):
    unwound, setting, torn = question.all[:3]
    return checked(question, lambda: setting + torn, lambda waste: unwound - waste, lambda waste, good: (unwound - good) / unwound)


@solves("line-in-a-distortion")
def distortion(question):
    plate, backing, printed = question.all[:3]
    return checked(question, lambda: plate - backing, lambda above: 2 * math.pi * above, lambda above, stretch: printed - stretch)


@solves("line-in-a-dose")
def dose(question):
    read, measured, wanted = question.all[:3]
    lamps = WORDS[re.search(r"under (\w+) such lamps", question.text)[1]]
    return checked(question, lambda: wanted / measured, lambda faster: read / faster, lambda faster, one: one * lamps)


@solves("line-in-a-mean")
def mean(question):
    aim = question.after("aim is")
    solids = question.all[: question.all.index(aim, 3)]
    return checked(
        question,
        lambda: sum(solids),
        lambda total: total / len(solids),
        lambda total, middle: middle - aim,
        lambda total, middle, off: off / aim,
    )


@solves("line-in-a-blend")
def blend(question):
    ink, strong, weak = question.all[:3]
    return checked(question, lambda: ink * strong, lambda pigment: pigment / weak, lambda pigment, whole: whole - ink)
