"""Solvers for questions with a figure: what is read stands in the words of the figure, as someone hears it who does not
see it. Written by the author of the exercises from what is printed; not by someone who had not seen the formulas.
"""

import re
from math import pi

from solving import Q, solves

WORDS = {word: number for number, word in enumerate("no one two three four five six seven eight nine ten".split())}


def figure(question):
    return question.text.split("In the figure: ")[1]


def marks(text):
    """How many small marks, in words: `two`, `four and a half`, `half a`."""
    half = 0.5 if "half" in text else 0
    first = text.split()[0]
    return (0 if first in ("half", "a") else WORDS[first]) + half


def scale(words, before, small):
    """What stands on a scale behind these words: `stands two small marks past 3`, `stands at 3`."""
    rest = words.split(before)[1]
    at = re.match(r".*?\bat (-?[\d.]+\d|\d+)", rest)
    past = re.match(r".*?((?:half a|a|\w+)(?: and a half)?) small marks? past (\d+(?:\.\d+)?)", rest)
    if past and (not at or past.end() <= at.end()):
        return float(past[2]) + marks(past[1]) * small
    return float(at[1])


def numbers(text):
    return [float(number.replace("−", "-")) for number in re.findall(r"−?\d+(?:\.\d+)?", text)]


@solves("dials-of-one-deck")
def dials(question):
    words = figure(question)
    gear = scale(words, "On the gear side the pointer", 0.2)
    operator = scale(words, "On the operator side the pointer", 0.2)
    return gear, operator, operator - gear


@solves("turn-back-by-the-target")
def target(question):
    words = figure(question)
    space = float(re.search(r"small spaces of (\d\.\d+) mm", words)[1])
    said = re.search(r"Colour 1 lies (.*?)(?:, colour 2| *\. )", words)[1]
    match = re.search(r"(?:and )?(\d+(?:\.\d+)?) (ahead|behind)", said)
    along = float(match[1]) * space * (1 if match[2] == "ahead" else -1)
    repeat = question.after("Its repeat is").to("mm").magnitude
    return Q(along, "mm"), Q(along / repeat * 360, "degree")


@solves("increase-off-the-curve")
def curve(question):
    middle = float(re.search(r"(\d+(?:\.\d+)?) % at 50 %", figure(question))[1])
    return middle, middle - 50


@solves("growth-of-a-bar")
def bar(question):
    words = figure(question)
    module = scale(words, "from nought at one broken line, the next", 0.02)
    printed = scale(words, "its right edge", 0.02)
    return Q(module, "mm"), Q(printed, "mm"), Q(printed - module, "mm")


@solves("web-left-on-the-roll")
def roll(question):
    words = figure(question)
    small = float(re.search(r"One small space on the tapes is (\d+) mm", words)[1])
    outside = scale(words, "outside of the roll ends", small)
    core = scale(words, "across its core ends", small)
    thick = question.after("The web is").to("mm").magnitude
    return Q(outside, "mm"), Q(core, "mm"), Q(pi * (outside**2 - core**2) / (4 * thick), "mm")


@solves("contrast-off-the-strip")
def strip(question):
    solid = float(re.search(r"magenta (\d\.\d+)", figure(question))[1])
    tint = float(re.search(r"magenta 75 % (\d\.\d+)", figure(question))[1])
    return 100 * (solid - tint) / solid


@solves("web-between-two-decks")
def web(question):
    lengths = numbers(figure(question).split("the lengths in m are")[1].split(". The first")[0])
    first, second = map(int, re.search(r"Decks (\d) and (\d) are ringed", figure(question)).groups())
    return Q(sum(lengths[first:second]), "m")


@solves("spread-off-the-chart")
def chart(question):
    centre, lower, upper = numbers(re.search(r"The centre line .*?the upper at [\d.]+", figure(question))[0])
    return centre, upper, (upper - centre) / 3


@solves("blade-against-the-sheet")
def blade(question):
    angle = scale(figure(question), "the line of the blade", 1)
    return Q(angle, "degree"), Q(angle - question.after("sheet says").to("degree").magnitude, "degree")


@solves("repeat-by-counting-teeth")
def gear(question):
    words = figure(question)
    last, more = re.search(r"after number (\d+) (\w+) more follow", words).groups()
    pitch = float(re.search(r"is (\d+(?:\.\d+)?) mm along the pitch line", words)[1])
    teeth = int(last) + WORDS[more]
    return teeth, Q(teeth * pitch, "mm")
