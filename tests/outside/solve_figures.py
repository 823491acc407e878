"""Solvers of the exercises whose figure has to be read, from the words of the figure.

Written from the printed questions alone by someone who had not seen the formulas.
"""

import math
import re

from solving import Q, Question, plain, solves

ONES = "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen"
WORDS = {word: number for number, word in enumerate(ONES.split(), 1)}
WORD = rf"\b({'|'.join(WORDS)})\b"
READING = re.compile(rf"(?:(?:{WORD}( and a half)?|\bhalf an?) small marks? past|\bat|\bpast)\s([−-]?\d+(?:\.\d+)?)")


def figure(question):
    """The words of the figure as a text of their own."""
    return Question(question.text.partition("In the figure:")[2], question.parts)


def reading(picture, words, small):
    """What the scale reads behind these words, with the worth of one small space, in the unit of the numbers."""
    found = READING.search(picture.text, picture.text.index(words) + len(words))
    marks = WORDS.get(found[1], 0)
    if found[2] or "half a" in found[0] and not found[1]:
        marks += 0.5
    return plain(found[3]) + marks * small


def word_after(text, words):
    return WORDS[re.search(rf"{words}\s{WORD}", text)[1]]


@solves("dials-of-one-deck")
def dials(question):
    picture = figure(question)
    small = 1 / word_after(picture.text, "with")
    gear, operator = (reading(picture, words, small) for words in ("On the gear side", "On the operator side"))
    return gear, operator, operator - gear


@solves("turn-back-by-the-target")
def target(question):
    picture = figure(question)
    colour = re.search(r"does colour (\d+)", question.text)[1]
    place = re.search(rf"[Cc]olour {colour} lies (.*?)(?=, colour|\.\s|\.?$)", picture.text, re.S)[1]
    moved = re.search(r"(\d+(?:\.\d+)?)\s(ahead|behind)", place)
    spaces = 0 if moved is None else plain(moved[1]) * (1 if moved[2] == "ahead" else -1)
    off = spaces * picture.after("small spaces of")
    return off, off / question.after("repeat is") * Q(360, "degree")


@solves("increase-off-the-curve")
def increase(question):
    plate = question.after("What does the plate's")
    points = re.findall(r"(\d+(?:\.\d+)?) prints (\d+(?:\.\d+)?)", figure(question).text)
    printed = {plain(on_plate) / 100: plain(on_print) / 100 for on_plate, on_print in points}[plate]
    return Q(printed, ""), Q(printed - plate, "")


@solves("growth-of-a-bar")
def growth(question):
    picture = figure(question)
    small = picture.after("on both scales is").to("mm").magnitude
    module, bar = (Q(reading(picture, words, small), "mm") for words in ("On the upper scale", "On the lower scale"))
    return module, bar, bar - module


@solves("web-left-on-the-roll")
def web_left(question):
    picture = figure(question)
    small = picture.after("on the tapes is").to("mm").magnitude
    outside, core = (Q(reading(picture, words, small), "mm") for words in ("across the outside", "across its core"))
    return outside, core, math.pi * (outside**2 - core**2) / (4 * question.after("web is"))


@solves("contrast-off-the-strip")
def contrast(question):
    colour, tint = re.search(r"contrast has (\w+), with its (\d+)", question.text).groups()
    patches = figure(question).text
    solid = plain(re.search(rf"{colour}\s(\d\.\d+)", patches)[1])
    light = plain(re.search(rf"{colour}\s{tint}\s%\s(\d\.\d+)", patches)[1])
    return (Q((solid - light) / solid, ""),)


@solves("web-between-two-decks")
def web_between(question):
    text = figure(question).text
    lengths = [plain(number) for number in re.findall(r"\d+(?:\.\d+)?", re.search(r"in m are ([\d.;\s]+)", text)[1])]
    first, last = sorted(int(deck) for deck in re.search(r"Decks (\d+) and (\d+) are ringed", text).groups())
    return (Q(sum(lengths[first:last]), "m"),)


@solves("spread-off-the-chart")
def spread(question):
    picture = figure(question)
    centre, upper = picture.after("centre line stands at"), picture.after("the upper at")
    return centre, upper, (upper - centre) / word_after(question.text, "stand")


@solves("blade-against-the-sheet")
def blade(question):
    # The worth of a small mark is not told; numbers stand by tens, so one is a degree.
    angle = Q(reading(figure(question), "the line of the blade", 1), "degree")
    return angle, angle - question.after("setting sheet says")


@solves("repeat-by-counting-teeth")
def teeth(question):
    picture = figure(question)
    tens, more = re.search(rf"after number (\d+)(?:\s{WORD} more)?", picture.text).groups()
    count = int(tens) + WORDS.get(more, 0)
    return count, count * picture.after("to the next is")
