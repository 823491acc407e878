"""Solvers for density, tone, colour, bar codes, trials and curves, written from the printed questions alone."""

from math import ceil, hypot, log10, sqrt
from statistics import NormalDist, mean, stdev

from solving import Q, solves


def bare(value):
    """The number alone, where the word "in" behind it was read as inches."""
    return value.to("inch").magnitude if isinstance(value, Q) else value


def density(share):
    """The density of a share of the light, counted from the white tile."""
    return -log10(share)


def spread(values):
    """The largest less the smallest."""
    return max(values) - min(values)


def tone_value(tint, solid, n=1):
    """The tone value in % from densities of the ink alone."""
    return 100 * (1 - 10 ** (-tint / n)) / (1 - 10 ** (-solid / n))


def contrast(solid, tint):
    """The print contrast in %."""
    return 100 * (solid - tint) / solid


def line(x, x1, y1, x2, y2):
    """The y at x on the straight line through two points."""
    return y1 + (y2 - y1) * (x - x1) / (x2 - x1)


# Densities.


@solves("five-readings-on-the-plaque")
def five_readings_on_the_plaque(question):
    printed, *readings = question.all
    return spread(readings), mean(readings) - printed


@solves("white-or-black-behind")
def white_or_black_behind(question):
    on_white, on_black = question.all
    return density(on_white), density(on_black) - density(on_white)


@solves("from-paper-zero-to-tile-zero")
def from_paper_zero_to_tile_zero(question):
    solid_over_paper, paper = question.all
    return solid_over_paper + paper


@solves("solid-against-its-aim")
@solves("solid-on-clear-film")
def solid_against_its_aim(question):
    *readings, ground, aim = question.all
    return mean(readings), mean(readings) - ground - aim


@solves("profile-across-the-web")
def profile_across_the_web(question):
    readings = [bare(value) for value in question.all]
    return mean(readings), spread(readings)


@solves("light-that-comes-back")
def light_that_comes_back(question):
    (solid,) = question.all
    return 100 * 10**-solid


@solves("a-solid-that-fades")
def a_solid_that_fades(question):
    first, later = question.all
    return 10 ** (first - later)


@solves("contrast-with-and-without-paper")
def contrast_with_and_without_paper(question):
    solid, _, tint, paper = question.all
    return contrast(solid, tint), contrast(solid - paper, tint - paper)


@solves("trap-of-yellow-on-magenta")
@solves("trap-of-magenta-on-cyan")
def trap(question):
    # By density: what the second ink adds on the first, over what it adds on paper.
    paper, first, second, both = question.all
    return 100 * ((both - paper) - (first - paper)) / (second - paper)


@solves("how-clean-is-the-magenta")
@solves("how-clean-is-the-cyan")
def how_clean_is_the_ink(question):
    # The usual definitions: hue error (M - L) / (H - L) and greyness L / H.
    *readings, paper = question.all
    low, middle, high = sorted(reading - paper for reading in readings)
    return 100 * (middle - low) / (high - low), 100 * low / high


# Tone values.


@solves("tone-value-of-a-midtone")
@solves("tone-value-of-a-highlight")
def tone_value_of_a_tint(question):
    paper, solid, tint = question.all[:3]
    nominal = 100 * question.before(" tint")
    printed = tone_value(tint - paper, solid - paper)
    return printed, printed - nominal


@solves("density-from-reflectance")
@solves("density-on-kraft")
def density_from_reflectance(question):
    paper, solid = question.all
    return density(solid), density(solid) - density(paper)


@solves("print-contrast-of-three")
def print_contrast_of_three(question):
    readings = question.all_after("black solid are")
    solid, tint = mean(readings[:3]), mean(readings[4:7])
    return solid, contrast(solid, tint)


@solves("spread-of-five-readings")
def spread_of_five_readings(question):
    readings = question.all_after("read ")[:5]
    return mean(readings), stdev(readings)


@solves("two-values-of-n")
def two_values_of_n(question):
    tint, solid, first, second = question.all
    reported = tone_value(tint, solid, first)
    return reported, reported - tone_value(tint, solid, second)


# Colour.


@solves("difference-of-a-blue")
@solves("difference-of-an-orange")
def colour_difference(question):
    reference, printed = question.all[:3], question.all[3:]
    off = [b - a for a, b in zip(reference, printed, strict=True)]
    return off[2], hypot(*off)


@solves("chroma-lost")
def chroma_lost(question):
    a1, b1, a2, b2 = [bare(value) for value in question.all]
    return hypot(a1, b1), hypot(a2, b2) - hypot(a1, b1)


@solves("hue-part-of-a-difference")
def hue_part_of_a_difference(question):
    whole, lightness, chroma = question.all
    return sqrt(whole**2 - lightness**2 - chroma**2)


@solves("hue-across-zero")
def hue_across_zero(question):
    reference, printed = [angle.to("degree").magnitude for angle in question.all]
    return (printed - reference + 180) % 360 - 180


@solves("room-left-for-yellowing")
def room_left_for_yellowing(question):
    limit, lightness, a = [bare(value) for value in question.all]
    return sqrt(limit**2 - lightness**2 - a**2)


@solves("grey-aim-by-lightness")
def grey_aim_by_lightness(question):
    light, paper_a, paper_b, patch, a, b, darkest, k = question.all[:8]
    left = 1 - k * (light - patch) / (light - darkest)
    return paper_b * left, hypot(a - paper_a * left, b - paper_b * left)


@solves("grey-aim-by-cyan")
@solves("grey-on-a-bluish-paper")
def grey_aim_by_cyan(question):
    paper_a, paper_b, cyan, a, b = question.all[:5]
    left = 1 - cyan
    return paper_b * left, hypot(a - paper_a * left, b - paper_b * left)


@solves("two-rules-for-one-grey")
def two_rules_for_one_grey(question):
    light, paper_b, cyan, patch, darkest, k = question.all[:6]
    by_lightness = paper_b * (1 - k * (light - patch) / (light - darkest))
    return by_lightness, by_lightness - paper_b * (1 - cyan)


# Bar codes.


@solves("width-and-quiet-zones")
def width_and_quiet_zones(question):
    left, bars, right, _, full_size, size = question.all_after(" has ")
    module = full_size * size
    return left * module, (left + bars + right) * module


@solves("largest-code-that-fits")
def largest_code_that_fits(question):
    modules, _, full_size, panel, reserve = question.all_after("quiet zones is")
    module = (panel - reserve) / modules
    return module, module / full_size


@solves("growth-and-reduction")
def growth_and_reduction(question):
    module, printed, modules = question.all
    growth = printed - module
    return growth, modules * module - growth


@solves("module-in-whole-pixels")
def module_in_whole_pixels(question):
    resolution, module = question.all
    pixels = round((module * resolution).to("").magnitude)
    return pixels, pixels / resolution


@solves("check-digit-of-thirteen")
@solves("check-digit-of-eight")
def check_digit(question):
    digits = question.all_after(" are ")[: 12 if question.says("EAN-13") else 7]
    # The digit beside the check digit counts three times, the one before it once, and so on.
    weighted = sum(digit * (1 if place % 2 else 3) for place, digit in enumerate(reversed(digits)))
    return weighted, -weighted % 10


# Press trials.


@solves("volume-for-the-aim")
@solves("volume-for-a-kraft-liner")
def volume_for_the_aim(question):
    lean, lean_density, full, full_density, aim = question.all
    return line(aim, lean_density, lean, full_density, full)


@solves("what-squeeze-costs")
def what_squeeze_costs(question):
    _, kiss, squeezed, squeeze, points = question.all
    rise = squeezed - kiss
    return 100 * rise, squeeze * points / rise


@solves("contrast-of-two-bands")
def contrast_of_two_bands(question):
    solid, tint, _, fuller_solid, fuller_tint = question.all
    lean = contrast(solid, tint)
    return lean, lean - contrast(fuller_solid, fuller_tint)


@solves("web-used-to-settle")
def web_used_to_settle(question):
    speed, time, roll = question.all
    return speed * time, roll - speed * time


@solves("flags-along-the-run")
def flags_along_the_run(question):
    time, speed, flags = question.all
    step = time / (flags - 1)
    return step, step * speed


@solves("how-many-samples")
@solves("how-many-samples-for-a-tint")
def how_many_samples(question):
    # The standard deviation counts as known, so the point of the normal curve is taken, not Student's t.
    deviation, within = question.all_after("standard deviation of")[:2]
    return ceil((NormalDist().inv_cdf(0.975) * deviation / within) ** 2)


@solves("limits-for-the-means")
def limits_for_the_means(question):
    _, middle, mean_range, factor = question.all
    return middle - factor * mean_range, middle + factor * mean_range


@solves("limit-for-the-ranges")
def limit_for_the_ranges(question):
    mean_range, factor = question.all_after("ranges is")
    return 100 * factor * mean_range


@solves("does-the-run-fit")
def does_the_run_fit(question):
    aim, tolerance, middle, deviation = question.all
    return tolerance / (3 * deviation), (tolerance - abs(middle - aim)) / (3 * deviation)


@solves("spread-from-five-ranges")
def spread_from_five_ranges(question):
    *ranges, factor = question.all
    return mean(ranges), mean(ranges) / factor


# Plate curves.


@solves("print-between-two-steps")
def print_between_two_steps(question):
    print1, step1, print2, step2, plate = question.all
    return 100 * line(plate, step1, print1, step2, print2)


@solves("aim-from-an-increase")
def aim_from_an_increase(question):
    _, wanted, file = question.all_after("The increase g")
    increase = 4 * wanted * file * (1 - file)
    return 100 * (file + increase), 100 * increase


@solves("plate-for-the-midtone")
@solves("plate-for-a-light-tone")
def plate_for_a_tone(question):
    print1, step1, print2, step2, print3, step3, file, aim = question.all
    low, high = ((print1, step1), (print2, step2)) if aim <= print2 else ((print2, step2), (print3, step3))
    plate = line(aim, *low, *high)
    return 100 * plate, 100 * (file - plate)


@solves("lightest-tone-of-the-plate")
def lightest_tone_of_the_plate(question):
    smallest, print1, step1, print2, step2, _, aim = question.all
    lightest = line(smallest, step1, print1, step2, print2)
    return 100 * lightest, 100 * (lightest - aim)


@solves("errors-at-three-steps")
def errors_at_three_steps(question):
    aims, prints = question.all[0:6:2], question.all_after("confirmation run prints")
    errors = [100 * (printed - aim) for aim, printed in zip(aims, prints, strict=True)]
    return mean(errors), max(errors, key=abs)


@solves("second-turn-of-the-curve")
def second_turn_of_the_curve(question):
    _, plate, above, print1, step1, print2, step2 = question.all
    down = above * (step2 - step1) / (print2 - print1)
    return 100 * down, 100 * (plate - down)


@solves("patches-inside")
def patches_inside(question):
    patches, outside = question.all
    return 100 * (patches - outside) / patches
