"""What a solver gets of an exercise: the printed question, and help to pick the quantities out of it.

A solver is a function under `@solves("exercise-id")`. It gets a `Question`, works from its text alone and returns the
answers in the order of the parts: pint quantities, or plain numbers in the unit asked for.
"""

import re

import pint
from pint_units import PINT, POINTS

registry = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
Q = registry.Quantity

SOLVERS = {}

# Counts and names of plain numbers, as the program writes them.
COUNTS = [
    "points", "teeth", "impressions", "labels", "turns", "repeats", "divisions", "parts", "sheets", "rolls", "px", "dots", "D", "ΔE", "pH",
]
CUP_SECONDS = re.compile(r"s \([A-Z][^)]*\)")
# Longest first, so that `in²/lb` is not read as `in`.
UNIT_NAMES = sorted([*PINT, *POINTS, *COUNTS], key=len, reverse=True)
NUMBER = r"(?<![\w.])[−-]?\d{1,3}(?:[ \u202f\u00a0,]\d{3})+(?:\.\d+)?(?![\d])|(?<![\w.])[−-]?\d+(?:\.\d+)?"
SPACE = r"[ \u00a0\u202f]?"
PATTERN = re.compile(
    rf"({NUMBER})(?:{SPACE}(s \([A-Z][^)]*\)|" + "|".join(re.escape(name) for name in UNIT_NAMES) + r")(?![\w²³/·]))?"
)


def solves(name):
    def register(function):
        SOLVERS[name] = function
        return function

    return register


def plain(text):
    """A printed number as a float."""
    return float(re.sub(r"[ \u202f\u00a0,]", "", text).replace("−", "-"))


def quantity(number, unit):
    """A pint quantity of a printed number and unit; a float where the unit only counts, or for seconds of a flow cup."""
    if unit is None or CUP_SECONDS.fullmatch(unit):
        return number
    if unit == "%" or unit == "points":
        return number / 100
    if unit in COUNTS:
        return number
    if unit in POINTS:
        return Q(number, POINTS[unit])
    return number * size_of(unit)


def size_of(unit):
    text = PINT[unit]
    return registry.Quantity(text) if "*" in text or "/" in text else 1 * registry(text)


def in_unit(answer, unit):
    """An answer as a number in the unit asked for."""
    if not isinstance(answer, pint.Quantity):
        return float(answer)
    if unit in POINTS:
        return answer.to(POINTS[unit]).magnitude
    if unit in ("%", "points"):
        return answer.to("").magnitude * 100
    if unit in COUNTS or unit == "" or CUP_SECONDS.fullmatch(unit):
        return answer.to("").magnitude
    return (answer / size_of(unit)).to("").magnitude


class Question:
    """The printed question and what it asks for."""

    def __init__(self, text, parts):
        self.text = text
        self.parts = parts
        self.found = [(match.start(), quantity(plain(match[1]), match[2])) for match in PATTERN.finditer(text)]

    @property
    def all(self):
        """All quantities in the order of the text; shares as fractions, counts and cup seconds as floats."""
        return [value for _, value in self.found]

    def after(self, words):
        """The first quantity behind these words."""
        return self.all_after(words)[0]

    def all_after(self, words):
        """All quantities behind these words."""
        at = self.text.index(words) + len(words)
        return [value for start, value in self.found if start >= at]

    def before(self, words):
        """The last quantity in front of these words."""
        at = self.text.index(words)
        return [value for start, value in self.found if start < at][-1]

    def says(self, words):
        return words in self.text
