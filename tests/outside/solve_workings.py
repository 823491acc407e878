"""Solvers for workings with a line gone wrong: each line is worked out again from the lines shown above it, as a crew
mate with a calculator would; the first that comes out otherwise is the wrong one. The rest follows from the right lines.

Written from the printed questions by the author of the exercises, with pint; not by someone who had not seen the formulas.
"""

import re
from math import pi

from solving import PATTERN, Q, plain, quantity, solves

# How far a line may lie off for having been rounded on the way, as a share of it.
ROUNDED = 0.006


def shown_lines(question):
    """What the lines of the working say, behind their last colon."""
    lines = re.findall(r"^\d+\. .*: (.+)$", question.text, flags=re.M)
    found = []
    for text in lines:
        match = PATTERN.fullmatch(text.strip())
        found.append(quantity(plain(match[1]), match[2]) if match else plain(text))
    return found


def size(value):
    return abs(value.to_base_units().magnitude) if isinstance(value, Q) else abs(value)


def found(question, *steps):
    """The number of the wrong line, and what the last line should say. A step takes the lines above it."""
    shown = shown_lines(question)
    assert len(shown) == len(steps)
    right = []
    for step in steps:
        right.append(step(right))
    wrong = [
        number
        for number, (step, line) in enumerate(zip(steps, shown), 1)
        if size(step(shown[: number - 1]) - line) > ROUNDED * max(size(line), size(step(shown[: number - 1])))
    ]
    assert wrong, question.text
    last = right[-1]
    # Shares are read as fractions, and asked for in per cent.
    share = not isinstance(last, Q) and question.parts[-1]["unit"] in ("%", "points")
    return wrong[0], last * 100 if share else last


def head(question):
    """The quantities of the question before its working."""
    text = question.text.split("\n1. ")[0]
    return [quantity(plain(match[1]), match[2]) for match in PATTERN.finditer(text)]


@solves("line-in-a-film-working")
def film(question):
    volume, to_plate, to_web = head(question)[:3]
    return found(question, lambda _: volume, lambda above: above[0] * to_plate, lambda above: above[1] * to_web)


@solves("line-in-a-build-up")
def build_up(question):
    pitch, plate, tape = head(question)[:3]
    return found(question, lambda _: plate + tape, lambda above: 2 * above[0], lambda above: pitch - above[1])


@solves("line-in-a-repeat")
def repeat(question):
    teeth, around = question.after("in has"), question.after("to stand")
    gap = question.after("times around, with")
    pitch = Q(1 / 8, "inch")
    return found(question, lambda _: teeth * pitch, lambda above: above[0] / around, lambda above: above[1] - gap)


@solves("line-in-a-tone-value")
def tone(question):
    paper, tint, solid = question.after("Paper reads"), question.after("50 % tint"), question.after("and the solid")
    return found(
        question,
        lambda _: tint - paper,
        lambda _: solid - paper,
        lambda above: (1 - 10 ** -above[0]) / (1 - 10 ** -above[1]),
        lambda above: above[2] - 0.50,
    )


@solves("line-in-a-run-time")
def run_time(question):
    labels, lanes, length, speed = head(question)[:4]
    return found(question, lambda _: labels / lanes, lambda above: above[0] * length, lambda above: above[1] / speed)


@solves("line-in-an-ink-order")
def ink_order(question):
    film, coverage, width, web = head(question)[:4]
    density = Q(1.1, "kg/L")
    return found(
        question,
        lambda _: web * width,
        lambda above: above[0] * coverage,
        lambda above: above[1] * film,
        lambda above: above[2] * density,
    )


@solves("line-in-a-share-of-waste")
def waste(question):
    unwound, setting, torn = head(question)[:3]
    return found(
        question,
        lambda _: setting + torn,
        lambda above: unwound - above[0],
        lambda above: ((unwound - above[1]) / unwound).to("").magnitude,
    )


@solves("line-in-a-distortion")
def distortion(question):
    plate, backing, length = head(question)[:3]
    return found(question, lambda _: plate - backing, lambda above: 2 * pi * above[0], lambda above: length - above[1])


@solves("line-in-a-dose")
def dose(question):
    meter, speed, fast = head(question)[:3]
    return found(
        question, lambda _: (fast / speed).to("").magnitude, lambda above: meter / above[0], lambda above: 2 * above[1]
    )


@solves("line-in-a-mean")
def mean_of_three(question):
    one, two, three, aim = head(question)[:4]
    return found(
        question,
        lambda _: one + two + three,
        lambda above: above[0] / 3,
        lambda above: above[1] - aim,
        lambda above: above[2] / aim,
    )


@solves("line-in-a-blend")
def blend(question):
    pail, strong, wanted = head(question)[:3]
    return found(question, lambda _: pail * strong, lambda above: above[0] / wanted, lambda above: above[1] - pail)
