"""Solvers of the exercises under the glass and on the gauge, from the words of the figure.

Written from the printed questions alone, but by the author of the exercises.
"""

import re

from solve_figures import figure
from solving import Q, plain, solves


def off_the_key(picture, place, ahead, behind):
    """How far something lies off the key in one direction, from a count of small spaces in words."""
    moved = re.search(rf"(\d+(?:\.\d+)?)\s({ahead}|{behind})", place)
    spaces = 0 if moved is None else plain(moved[1]) * (1 if re.fullmatch(ahead, moved[2]) else -1)
    return spaces * picture.after("small spaces of")


def place_of(picture, colour):
    return re.search(rf"[Cc]olour {colour} lies (.*?)(?=, colour|\.\s|\.?$)", picture.text, re.S)[1]


@solves("both-edges-under-the-glass")
def both_edges(question):
    picture = figure(question)
    places = [re.search(rf"at the {side} side edge (?:it lies )?([^,.]*(?:\.\d)?[^,.]*)", picture.text, re.I)[1] for side in ("gear", "operator")]
    gear, operator = (off_the_key(picture, place, "ahead", "behind") for place in places)
    return gear, operator, operator - gear, (gear + operator) / 2


@solves("turns-of-the-side-screw")
def side_screw(question):
    picture = figure(question)
    off = off_the_key(picture, place_of(picture, 1), "toward the operator side", "toward the gear side")
    return off, (-off / question.after("to the right moves it")).to("").magnitude


@solves("teeth-of-the-setting-wheel")
def setting_wheel(question):
    picture = figure(question)
    off = off_the_key(picture, place_of(picture, 1), "ahead", "behind")
    return off, (-off / question.after("brings the print")).to("").magnitude


@solves("largest-increase-of-the-ramp")
def ramp(question):
    patches = {plain(a): plain(b) for a, b in re.findall(r"(\d+) reads (\d+)", figure(question).text)}
    increases = {plate: printed - plate for plate, printed in patches.items()}
    return Q(increases[30] / 100, ""), Q(max(increases.values()) / 100, "")


@solves("films-of-a-deck")
def films(question):
    anilox, plate, web = figure(question).all_after("The ink is")
    return web / plate, plate - web, web / anilox


@solves("dot-against-cell")
def dot_and_cell(question):
    picture = figure(question)
    part = picture.after("scale bar is") / 10
    step = picture.after("with their walls take") * part / 10
    dot = picture.after("at the same scale, takes") * part
    return step, dot, dot / step


@solves("surface-and-pitch-line")
def surface(question):
    picture = figure(question)
    bare, pitch, tape, plate = (picture.after(words) for words in ("bare cylinder measures", "of its gear", "lies a tape", "on the tape a plate"))
    across = bare + 2 * tape + 2 * plate
    return across, (across - pitch) / 2


def chart(question):
    picture = figure(question)
    readings = [plain(number) for number in re.search(r"on: ([\d.;\s]+)", picture.text)[1].rstrip(".\n ").split(";")]
    return readings, picture.after("centre line stands at"), picture.after("the lower limit at"), picture.after("the upper at")


@solves("reading-beyond-its-limit")
def beyond(question):
    readings, _, lower, upper = chart(question)
    ((number, far),) = [(i, max(r - upper, lower - r)) for i, r in enumerate(readings, 1) if not lower <= r <= upper]
    return number, far


@solves("which-rule-is-broken")
def broken_rule(question):
    readings, centre, lower, upper = chart(question)
    high, low = centre + (upper - centre) * 2 / 3, centre - (centre - lower) * 2 / 3
    signs = [lambda r: r > centre, lambda r: r < centre]
    beyond_thin = [lambda r: r > high, lambda r: r < low]
    broken = []
    for end in range(1, len(readings) + 1):
        seen = readings[:end]
        if not lower <= seen[-1] <= upper:
            broken.append((1, end))
        if any(sum(map(past, seen[-3:])) >= 2 for past in beyond_thin):
            broken.append((2, end))
        if any(end >= 8 and all(map(side, seen[-8:])) for side in signs):
            broken.append((3, end))
    first = min(broken, key=lambda pair: pair[1])
    assert {rule for rule, _ in broken} == {first[0]}, broken
    return first
