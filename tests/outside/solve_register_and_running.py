"""Solvers for register, web and rolls, running, planning and defects seen, written from the printed questions alone."""

import math

from solving import Q, solves

TURN = Q(360, "degree")


def circular_pitch(question):
    """The tooth pitch, printed as a fraction such as 1/8 in: the text gives its 1 and its 8 in as two quantities."""
    below = question.before(" circular pitch")
    return 1 / below.to("inch").magnitude * Q(1, "inch")


def number(value):
    """A pint quantity without a dimension as a float; rounded far behind what is printed, so that 15.9999… counts as 16."""
    return round(value.to("").magnitude, 9)


def length_on_roll(outside, core, thickness):
    """The web on a roll: the area of the ring divided by the thickness."""
    return math.pi / 4 * (outside**2 - core**2) / thickness


# Register


@solves("one-colour-against-another")
def _(question):
    cyan_late, magenta_early, cyan_across, magenta_across = question.all
    return -magenta_early - cyan_late, magenta_across - cyan_across


@solves("lines-of-a-vernier-mark")
def _(question):
    step = question.after("a line every") - question.after("the colour one every")
    return question.after("Along the web the two lines number") * step, question.after("across the web the two lines number") * step


@solves("overlap-for-two-colours")
def _(question):
    blue, red = question.all
    return blue + red, (blue**2 + red**2) ** 0.5


@solves("does-the-overlap-do")
def _(question):
    overlap, held = question.after("two colours by"), question.after("within")
    return overlap / 2, 2 * held - overlap


@solves("degrees-and-teeth")
def _(question):
    late, teeth = question.after("prints"), question.after("plate gear has")
    moved = number(late / circular_pitch(question))
    return moved / teeth * TURN, moved


@solves("gear-put-back-wrong")
def _(question):
    teeth, away = question.after("a gear of"), question.after("was put back")
    return away / teeth * TURN, away * circular_pitch(question)


@solves("span-and-a-new-repeat")
def _(question):
    span, repeat = question.all[:2]
    repeats = number(span / repeat)
    return repeats, repeats % 1 * TURN


@solves("learn-from-the-first-move")
def _(question):
    late, divisions = question.after("prints"), question.after("dial up by")
    early = question.after("now orange is")
    division = (late + early) / divisions
    return division, number(early / division)


@solves("turns-of-the-side-lay")
def _(question):
    off, travel = question.after("stands"), question.after("travels")
    turns = number(off / travel)
    return turns, turns * TURN


@solves("skew-from-both-edges")
def _(question):
    marks, left_late, right_early = question.all[:3]
    bearings = question.after("The bearings are")
    return (left_late - right_early) / 2, (left_late + right_early) * bearings / marks


@solves("angle-of-a-crooked-plate")
def _(question):
    later, apart = question.all[:2]
    label = question.after("one label,")
    return Q(math.atan((later / apart).to("").magnitude), "radian"), later * label / apart


@solves("shift-from-a-change-of-tension")
def _(question):
    width, thickness, modulus, span, rise = question.all[:5]
    strain = rise / (width * thickness) / modulus
    return strain, strain * span


@solves("shift-from-a-change-of-draw")
def _(question):
    span, draw = question.after("numbered from 1, with"), question.after("The outfeed is set")
    first, last = question.after("the print of deck"), question.after("lie off at deck")
    return draw * span, draw * span * (last - first)


@solves("drift-against-a-die")
def _(question):
    too_long, impressions = question.after("A print comes"), question.after("drifted after")
    allowed = question.after("The label allows")
    return too_long * impressions, math.floor(number(allowed / too_long))


# Web and rolls


@solves("mass-of-a-paper-roll")
def _(question):
    length, width, per_ream, _, core = question.all
    area = length * width
    return area, area * per_ream + core


@solves("minutes-to-the-splice")
def _(question):
    outside, core, thickness, left, speed = question.all
    length = length_on_roll(outside, core, thickness)
    return length, (length - left) / speed


@solves("will-the-roll-finish-the-job")
def _(question):
    labels, across, pitch, outside, core, thickness = question.all
    # The rows are whole, so that the last one may hold labels to spare.
    needed = math.ceil(labels / across) * pitch
    return needed, needed - length_on_roll(outside, core, thickness)


@solves("pull-on-the-whole-web")
def _(question):
    per_width, width = question.all
    return per_width * width


@solves("tension-from-a-table")
def _(question):
    per_width_and_thickness, thickness, width = question.all
    per_width = per_width_and_thickness * thickness
    return per_width, per_width * width


@solves("same-stock-other-width")
def _(question):
    old_width, old_setting, new_width = question.all
    per_width = old_setting / old_width
    return per_width, per_width * new_width


@solves("stress-and-stretch")
def _(question):
    thickness, per_width, modulus = question.all
    stress = per_width / thickness
    return stress, stress / modulus


@solves("torque-of-the-brake")
def _(question):
    pull, full, small = question.all
    return pull * full / 2, pull * small / 2


@solves("taper-hyperbolic")
def _(question):
    start, core, taper = question.all_after("The start is")[:3]
    diameter = question.after("when the roll is")
    tension = start * (1 - taper * (1 - core / diameter))
    return tension, tension * diameter / 2


@solves("one-setting-two-rules")
def _(question):
    start, core, taper, full = question.all[:4]
    diameter = question.after("What does each pull at")
    linear = start * (1 - taper * (diameter - core) / (full - core))
    hyperbolic = start * (1 - taper * (1 - core / diameter))
    return linear, hyperbolic


# Running


@solves("fastest-for-the-dryer")
def _(question):
    sections, in_each, time = question.all
    path = sections * in_each
    return path, path / time


@solves("time-between-decks")
def _(question):
    path, speed = question.all
    return path / speed


@solves("dose-from-the-peak")
def _(question):
    share, peak, window, speed = question.all
    average = share * peak
    return average, average * window / speed


@solves("speed-for-the-dose")
def _(question):
    read, speed, asked, lamps = question.all
    # The dose goes down as the speed goes up, and the lamps' doses add up.
    with_one = speed * read / asked
    return with_one, lamps * with_one


@solves("dose-when-lamp-and-speed-change")
def _(question):
    first, first_speed, output, speed = question.all
    new_lamp = first * first_speed / speed
    return new_lamp, output * new_lamp


@solves("what-leaves-the-web")
def _(question):
    wet, covered, solids, width, speed = question.all
    leaves = wet * (1 - solids)
    return leaves, leaves * covered * width * speed


@solves("width-for-the-lanes")
def _(question):
    labels, width, gap, trim = question.all
    return labels * width + (labels - 1) * gap + 2 * trim


@solves("share-that-becomes-matrix")
def _(question):
    width, length, across, web, gap = question.all
    labels = across * width * length
    return labels, 1 - labels / (web * (length + gap))


@solves("lanes-from-a-wide-roll")
def _(question):
    roll, lane, least_trim = question.all
    lanes = math.floor(number((roll - 2 * least_trim) / lane))
    return lanes, (roll - lanes * lane) / 2


@solves("edge-against-liner")
def _(question):
    whole, face, adhesive, above_anvil = question.all
    liner = whole - face - adhesive
    return liner, liner - above_anvil


# Planning


@solves("web-for-an-order")
def _(question):
    labels, across, pitch, waste, set_up = question.all
    good = math.ceil(labels / across) * pitch
    return good, good / (1 - waste) + set_up


@solves("two-kinds-of-waste")
def _(question):
    good, waste = question.all
    return good / (1 - waste), good * (1 + waste)


@solves("time-for-a-run")
def _(question):
    length, speed, changes, stand, set_up = question.all
    running = length / speed
    return running, running + changes * stand + set_up


@solves("labels-in-an-hour")
def _(question):
    speed, repeat, around, across = question.all
    impressions = speed / repeat
    return impressions, impressions * around * across


@solves("waste-on-which-base")
def _(question):
    run, waste = question.all
    return waste / run, waste / (run - waste)


@solves("where-the-shift-went")
def _(question):
    planned, ran, rate, made, waste = question.all
    availability = ran / planned
    performance = made / (rate * ran)
    # A plain float for a share is in percent.
    quality = Q(1 - waste / made, "")
    return availability, performance, quality, availability * performance * quality


@solves("rolls-for-a-job")
def _(question):
    job, roll, lost = question.all
    gives = roll - lost
    return gives, math.ceil(number(job / gives))


@solves("length-from-a-weighed-roll")
def _(question):
    whole, core, per_ream, _, width = question.all
    area = (whole - core) / per_ream
    return area, area / width


@solves("diameter-of-a-finished-roll")
def _(question):
    labels, pitch, thickness, core = question.all
    length = labels * pitch
    return length, (core**2 + 4 / math.pi * length * thickness) ** 0.5


@solves("labels-on-the-largest-roll")
def _(question):
    outside, core, thickness, pitch, bare = question.all
    length = length_on_roll(outside, core, thickness)
    return length, math.floor(number((length - bare) / pitch))


# Defects seen


@solves("size-of-the-roll-that-marks")
def _(question):
    length, _, last = question.all
    apart = length / (last - 1)
    return apart, apart / math.pi


@solves("which-gear-is-in-the-press")
def _(question):
    repeat = question.after("ten repeats measure") / 10
    return repeat, round(number(repeat / circular_pitch(question)))
