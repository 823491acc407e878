"""Another road to each calculation of anilox, consumption, fitting, rolls, materials and production."""

from decimal import Decimal
from fractions import Fraction
from itertools import count

from definitions import PI, circle, decimal


def volume_from_depth(depth_loss, power):
    """The slices that go, each binomial term by itself: 2d − d², 3d − 3d² + d³."""
    terms = {2: (2, -1), 3: (3, -3, 1)}[power]
    return sum(factor * depth_loss**n for n, factor in enumerate(terms, start=1))


def solids_by_volume(solids_by_weight, ink_density, volatile_density):
    """By the litres in a kilogram of ink."""
    ink = 1 / ink_density
    volatile = (1 - solids_by_weight) / volatile_density
    return (ink - volatile) / ink


def cell_wall(screen, ratio):
    """As many walls as make up the spacing: one, and the opening's ratio of them."""
    spacing = 1 / screen
    return spacing - spacing * ratio / (ratio + 1)


def ink_mileage(volume, release, density):
    """By what a square metre carries."""
    on_a_square_metre = volume * density - volume * (1 - release) * density
    return 1 / on_a_square_metre


def least_teeth(label, gap, around, pitch):
    """Tries one gear after the other."""
    return next(teeth for teeth in count(1) if teeth * pitch / around - label >= gap)


def labels_around(repeat, label, gap):
    """Lays label after label until the next does not fit."""
    return next(laid for laid in count(0) if (laid + 1) * (label + gap) > repeat)


def repeat_error_share(build_up, repeat):
    """The change of the diameter over the diameter."""
    return decimal(2 * build_up) / (decimal(repeat) / PI)


def roll_diameter(length, core, caliper):
    """Halves the interval of diameters until the web is wound on."""
    low, high = Decimal(0), Decimal(10)
    for _ in range(110):
        outer = (low + high) / 2
        turns = (outer - decimal(core)) / (2 * decimal(caliper))
        if turns * PI * (outer + decimal(core)) / 2 < decimal(length):
            low = outer
        else:
            high = outer
    return low


def web_width(label, across, lane_gap, edge_trim):
    """From the left edge: trim, the first lane, a gap and a lane for each other one, trim."""
    return edge_trim + label + sum([lane_gap + label] * int(across - 1), Fraction(0)) + edge_trim


def lanes_across(web, label, lane_gap, edge_trim):
    """Tries one lane more until the web is too narrow."""
    return next(n for n in count(0) if web_width(label, n + 1, lane_gap, edge_trim) > web)


def effectiveness(availability, performance, quality):
    """What each of the three losses takes of what is left."""
    left = 1 - (1 - availability)
    left -= left * (1 - performance)
    return left - left * (1 - quality)


ROADS = {
    "overall_transfer": lambda to_plate, to_web: to_web - to_web * (1 - to_plate),
    "solids_by_volume": solids_by_volume,
    "strength_for_wear": lambda loss: 1 + loss / (1 - loss),
    "volume_from_depth": volume_from_depth,
    "cell_pitch": lambda screen: (Fraction(1, 100)) / (screen / 100),
    "cell_wall": cell_wall,
    "screen_ratio": lambda anilox, plate: (1 / plate) / (1 / anilox),
    "least_anilox_screen": lambda plate, ratio: 1 / (1 / plate / ratio),
    "ink_mileage": ink_mileage,
    "ink_for_area": lambda printed_area, mileage: printed_area * (1 / mileage),
    "ink_to_mix": lambda job_ink, charge, losses: losses + (charge + job_ink),
    "ink_volume": lambda mass, density: 1 / (density / mass),
    "circular_pitch": lambda diametral_pitch: circle(1 / diametral_pitch),
    "circular_pitch_of_module": lambda module: circle(module),
    "teeth_for_repeat": lambda repeat, pitch: 1 / (pitch / repeat),
    "least_teeth": least_teeth,
    "labels_around": labels_around,
    "gap_around": lambda repeat, label, around: (repeat - around * label) / around,
    # Half the difference of two diameters, on a bare cylinder of 1 m.
    "undercut": lambda plate, tape, cushion: ((1 + 2 * plate + 2 * tape + 2 * cushion) - 1) / 2,
    "repeat_error_share": repeat_error_share,
    "distortion_factor": lambda allowance, repeat: (repeat - allowance) / repeat,
    "distortion_elongation": lambda allowance, repeat: repeat / (repeat - allowance) - 1,
    "net_length": lambda labels, across, pitch: labels * pitch / across,
    "roll_diameter": roll_diameter,
    # The web on one side, layer on layer.
    "roll_turns": lambda outer, core, caliper: (outer / 2 - core / 2) / caliper,
    "labels_on_roll": lambda length, pitch: length // pitch,
    "rolls_needed": lambda length, per_roll: -(-length // per_roll),
    "web_width": web_width,
    "lanes_across": lanes_across,
    "job_time": lambda run, changes, per_change, set_up: set_up + run + sum([per_change] * int(changes), Fraction(0)),
    # By the mass of a square metre: a cubic metre less what lies above the film.
    "film_yield": lambda density, gauge: 1 / (density - density * (1 - gauge)),
    "film_basis_weight": lambda density, gauge: density - density * (1 - gauge),
    # One sheet's mass over its area.
    "paper_basis_weight": lambda mass, sheet_area, sheets: mass / sheets / sheet_area,
    "roll_mass": lambda basis_weight, width, length: (length * width) * basis_weight,
    "length_of_mass": lambda mass, basis_weight, width: mass / basis_weight / width,
    "area_of_mass": lambda mass, basis_weight: 1 / (basis_weight / mass),
    "waste_share": lambda gross, waste: 1 - (gross - waste) / gross,
    "waste_on_good": lambda gross, waste: gross / (gross - waste) - 1,
    "gross_by_mark_up": lambda net, mark_up: net + net * mark_up,
    "share_from_mark_up": lambda mark_up: 1 - 1 / (1 + mark_up),
    "availability": lambda run, planned: 1 - (planned - run) / planned,
    # The time that the total takes at the ideal rate, over the time run.
    "performance": lambda total, ideal_rate, run: (total / ideal_rate) / run,
    "quality": lambda good, total: 1 - (total - good) / total,
    "effectiveness": effectiveness,
}
