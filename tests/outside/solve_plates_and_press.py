"""Solvers for plates, mounting, press, closing, dials and impression, written from the printed questions alone."""

import re
from math import ceil, floor, hypot, pi, sqrt
from statistics import mean

from solving import Q, solves


def inch_pitch(q):
    """The circular pitch that is printed as a fraction of an inch."""
    over, under = re.search(r"(\d+)/(\d+) in circular pitch", q.text).groups()
    return Q(int(over) / int(under), "inch")


def number(value):
    """A quotient without a unit as a float, free of rounding noise, so that it can be rounded up or down."""
    return round(float(Q(value).to("").magnitude), 9)


# Plates


@solves("repeat-and-bare-cylinder")
def repeat_and_bare_cylinder(q):
    repeat = q.all[0] * inch_pitch(q)
    plate, tape = q.all_after("The plate is")[:2]
    return repeat, repeat / pi - 2 * (plate + tape)


@solves("repeat-by-module")
def repeat_by_module(q):
    teeth, module, plate, tape = q.all
    pitch_diameter = teeth * module
    return pi * pitch_diameter, pitch_diameter - 2 * (plate + tape)


@solves("repeat-by-diametral-pitch")
def repeat_by_diametral_pitch(q):
    per_inch, teeth, plate, tape = q.all
    pitch_diameter = Q(teeth / per_inch, "inch")
    return pi * pitch_diameter, pitch_diameter - 2 * (plate + tape)


@solves("labels-around")
def labels_around(q):
    repeat = q.all[0] * inch_pitch(q)
    label, least = q.all_after("A label is")
    around = floor(number(repeat / (label + least)))
    return around, repeat / around - label


@solves("gear-for-the-labels")
def gear_for_the_labels(q):
    labels, label, least, pitch = q.all
    teeth = ceil(number(labels * (label + least) / pitch))
    return teeth, teeth * pitch / labels - label


@solves("wrong-tape-fitted")
def wrong_tape_fitted(q):
    asked, found, teeth = q.all[:3]
    short = 2 * pi * (asked - found)
    return short, short / (teeth * inch_pitch(q))


@solves("allowance-and-flat-length")
def allowance_and_flat_length(q):
    plate, back, teeth = q.all[:3]
    allowance = 2 * pi * (plate - back)
    return allowance, q.after("that is to print") * (1 - allowance / (teeth * inch_pitch(q)))


@solves("allowance-metric")
def allowance_metric(q):
    plate, back, teeth, pitch, printed = q.all
    allowance = 2 * pi * (plate - back)
    return allowance, printed * (1 - allowance / (teeth * pitch))


@solves("one-percentage-for-all")
def one_percentage_for_all(q):
    rule, repeat, plate, back, printed = q.all
    right = printed * (1 - 2 * pi * (plate - back) / repeat)
    return right, printed * rule - right


@solves("plate-for-another-thickness")
def plate_for_another_thickness(q):
    planned, fitted, repeat, back, wanted = q.all
    flat = wanted * (1 - 2 * pi * (planned - back) / repeat)
    return flat, flat / (1 - 2 * pi * (fitted - back) / repeat)


@solves("allowance-by-measuring")
def allowance_by_measuring(q):
    flat, repeat, printed = q.all
    share = 1 - flat / printed
    return share, share * repeat / (2 * pi)


# Mounting


@solves("five-readings-of-a-plate")
def five_readings_of_a_plate(q):
    # Only the last of the five is printed with its unit.
    readings = [*q.all[:4], q.all[4].to("inch").magnitude]
    return Q(mean(readings), "inch"), Q(max(readings) - min(readings), "inch")


@solves("zero-of-a-micrometer")
def zero_of_a_micrometer(q):
    closed, shown, nominal = q.all
    true = shown - closed
    return true, true - nominal


@solves("relief-of-a-plate")
def relief_of_a_plate(q):
    solid, ground, back = q.all
    return solid - ground, ground - back


@solves("undercut-of-three-layers")
def undercut_of_three_layers(q):
    cushion, tape, plate, teeth = q.all[:4]
    undercut = cushion + tape + plate
    return undercut, teeth * inch_pitch(q) / pi - 2 * undercut


@solves("tape-that-belongs-there")
def tape_that_belongs_there(q):
    bare, teeth = q.all[:2]
    undercut = (teeth * inch_pitch(q) / pi - bare) / 2
    return undercut, undercut - q.after("the plate for it measures")


@solves("packing-under-a-ground-cylinder")
def packing_under_a_ground_cylinder(q):
    should_be, _, measures = q.all
    return (should_be - measures) / 2, pi * (should_be - measures)


@solves("sleeve-wall")
def sleeve_wall(q):
    repeat, mandrel, tape, plate = q.all
    outside = repeat / pi - 2 * (tape + plate)
    return outside, (outside - mandrel) / 2


@solves("plate-laid-askew")
def plate_laid_askew(q):
    off, apart, wide = q.all
    far_edge = off / apart * wide
    return far_edge, far_edge / 2


@solves("lanes-on-a-sleeve")
def lanes_on_a_sleeve(q):
    plates, wide, between = q.all
    middle = (plates - 1) / 2 * (wide + between)
    return middle, middle + wide / 2


@solves("stagger-in-degrees")
def stagger_in_degrees(q):
    # The stagger is counted on the print, where the way round is the repeat.
    later, teeth = q.all[:2]
    repeat = teeth * inch_pitch(q)
    return repeat, later / repeat * Q(360, "degree")


# The press


@solves("when-a-change-reaches-the-rewind")
def when_a_change_reaches_the_rewind(q):
    decks, between, from_last, speed, deck = q.all
    web = (decks - deck) * between + from_last
    return web, web / speed


@solves("leader-for-the-path")
def leader_for_the_path(q):
    path, times, core, splice = q.all
    on_core = times * pi * core
    return on_core, path + on_core + splice


@solves("repeats-to-take-out")
def repeats_to_take_out(q):
    # What is on the roll and what was on its way.
    # The line begins on a label's edge, and a label that it carries in part counts.
    path, speed, time, repeat = q.all[:4]
    length = speed * time + path
    return length, ceil(number(length / repeat))


@solves("turns-for-the-order")
def turns_for_the_order(q):
    order, around, across = q.all
    return around * across, ceil(number(order / (around * across)))


@solves("length-for-the-order")
def length_for_the_order(q):
    order, across, step, waste = q.all
    good = order / across * step
    return good, good / (1 - waste)


@solves("length-for-a-wrapper")
def length_for_a_wrapper(q):
    order, around, across, repeat, waste = q.all
    good = order / (around * across) * repeat
    return good, good / (1 - waste)


@solves("hours-for-the-rolls")
def hours_for_the_rolls(q):
    order, per_roll, lanes, stop, step, speed = q.all
    sets = ceil(number(order / (per_roll * lanes)))
    return sets, sets * (per_roll * step / speed + stop)


@solves("labels-accounted-for")
def labels_accounted_for(q):
    issued, good, spoiled, sample = q.all
    missing = issued - good - spoiled - sample
    return missing, 100 * missing / issued


@solves("rolls-of-stock-to-stage")
def rolls_of_stock_to_stage(q):
    needed, roll, lost = q.all
    rolls = ceil(number(needed / (roll - lost)))
    return rolls, rolls * (roll - lost) - needed


# Closing down


@solves("where-did-the-ink-go")
def where_did_the_ink_go(q):
    fetched, water, web, pail, empty = q.all
    back = pail - empty
    return back, fetched + water - web - back


@solves("hours-for-the-next-crew")
def hours_for_the_next_crew(q):
    order, counted, speed, repeat, around, across, waste = q.all
    left = order - counted
    good_in_time = speed / repeat * around * across * (1 - waste)
    return left, left / good_in_time


@solves("hours-left-on-a-blade")
def hours_left_on_a_blade(q):
    life, _, run, speed = q.all
    return life - run, (life - run) / speed


# Dials


@solves("what-a-division-moves")
def what_a_division_moves(q):
    threads, divisions, lever, turned = q.all
    one = 1 / threads / divisions * lever
    return one, turned * one


@solves("reading-after-the-play")
def reading_after_the_play(q):
    division, brought_in, open_by, play = q.all
    end = brought_in - open_by / division
    return end, end - play


@solves("run-out-from-an-indicator")
def run_out_from_an_indicator(q):
    above, below = q.all
    return above + below, (above + below) / 2


@solves("run-outs-added-up")
def run_outs_added_up(q):
    mils = [one.to("inch").magnitude * 1000 for one in q.all]
    return Q(sum(mils) / 1000, "inch"), Q(hypot(*mils) / 1000, "inch")


# Impression


@solves("dials-for-the-anilox-roll")
def dials_for_the_anilox_roll(q):
    gear, operator, division, beyond = q.all
    return gear + beyond / division, operator + beyond / division


@solves("squeeze-at-the-high-places")
def squeeze_at_the_high_places(q):
    anilox, cylinder, further = q.all
    return anilox + cylinder, anilox + cylinder + further


@solves("squeeze-from-the-dials")
def squeeze_from_the_dials(q):
    gear_kiss, operator_kiss, gear, operator, division = q.all
    on_gear, on_operator = (gear - gear_kiss) * division, (operator - operator_kiss) * division
    return on_gear, on_operator, on_gear - on_operator


@solves("width-of-the-contact")
def width_of_the_contact(q):
    repeat, across = (one.to("inch").magnitude for one in q.all[:2])
    first, second = repeat / (2 * pi), across / 2
    radius = first * second / (first + second)
    squeezes = (one.to("inch").magnitude for one in q.all_after("at a light squeeze of"))
    return [Q(2 * sqrt(2 * radius * squeeze), "inch") for squeeze in squeezes]


@solves("squeeze-in-the-other-measure")
def squeeze_in_the_other_measure(q):
    squeeze, division = q.all[:2]
    return squeeze, squeeze / division


@solves("squeeze-in-a-lane")
def squeeze_in_a_lane(q):
    gear, operator, apart, from_gear = q.all
    lane = gear + (operator - gear) * from_gear / apart
    return lane, lane - (gear + operator) / 2


@solves("level-a-cylinder")
def level_a_cylinder(q):
    gear, operator, both, division = q.all
    return (both - gear) / division, (both - operator) / division


@solves("from-lanes-to-bearings")
def from_lanes_to_bearings(q):
    _, lane_1, _, lane_4, apart, bearings = q.all
    difference = (lane_1 - lane_4) / apart * bearings
    return difference, difference / 2
