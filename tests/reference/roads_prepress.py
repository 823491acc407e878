"""Another road to each calculation of bar codes, pixels, screens and moirés."""

import math
from decimal import Decimal
from fractions import Fraction

from definitions import PI, decimal

MM = Fraction(1, 1000)


def nearest(length, pixel):
    """The whole number whose pixels end nearest to the length; from halfway the larger one."""
    below = math.floor(length / pixel)
    return min((below + 1, below), key=lambda n: abs(n * pixel - length))


def snapped_up(least, resolution):
    """Adds pixels until the least length is reached."""
    length = Fraction(0)
    while length < least:
        length += 1 / resolution
    return length


def plate_bar(modules, module, reduction):
    """From edge to edge, each moved inwards by half of the reduction."""
    left, right = reduction / 2, modules * module - reduction / 2
    return right - left


def check_digit(digits):
    """Tries all ten: with the right one the weighted sum of all fourteen digits is a whole ten."""
    front = str(int(digits)).zfill(13)
    weights = [3, 1] * 7
    for last in "0123456789":
        if sum(weight * int(digit) for weight, digit in zip(weights, front + last)) % 10 == 0:
            return int(last)


def width_of_circle(area):
    return (4 * decimal(area) / PI).sqrt()


def circle_area(diameter):
    return PI * decimal(diameter / 2) ** 2


def series(x, term, power):
    """Taylor series of sine and cosine, from the first term and its power on."""
    total = Decimal(0)
    while abs(term) > Decimal("1e-38"):
        total += term
        term = -term * x * x / ((power + 1) * (power + 2))
        power += 2
    return total


def moire(first, second, angle):
    """The length of the difference of two arrows."""
    first, second, angle = decimal(first), decimal(second), decimal(angle)
    along = first - second * series(angle, Decimal(1), 0)
    across = second * series(angle, angle, 1)
    return (along**2 + across**2).sqrt()


ROADS = {
    "symbol_width": lambda modules, module: sum([module] * int(modules), Fraction(0)),
    "quiet_zone": lambda modules, module: sum([module] * int(modules), Fraction(0)),
    # The width of an EAN-13 against its width at 100 %.
    "magnification": lambda module: 113 * module / (Fraction("37.29") * MM),
    # From the printed height at 80 %.
    "bar_height": lambda magnification: Fraction("18.28") * MM / Fraction("0.80") * magnification,
    "bar_growth": lambda printed, nominal: -(nominal - printed),
    "plate_bar": plate_bar,
    # What a bar and a space of the same modules hold together, less the bar.
    "plate_space": lambda modules, module, reduction: 2 * modules * module - plate_bar(modules, module, reduction),
    # As many modules as fit on one repeat, on a plate that is one repeat less its gain.
    "ladder_module": lambda module, allowance, repeat: (repeat - allowance) / (repeat / module),
    "check_digit": check_digit,
    "pixel_size": lambda resolution: 1 / resolution,
    "whole_pixels": lambda length, resolution: nearest(length, 1 / resolution),
    "snapped_length": lambda length, resolution: nearest(length, 1 / resolution) / resolution,
    "least_snapped_length": snapped_up,
    "dot_pitch": lambda screen: 1 / screen,
    "dot_diameter": lambda screen, tone: width_of_circle(tone / screen**2),
    "hole_diameter": lambda screen, tone: width_of_circle(1 / screen**2 - tone / screen**2),
    "tone_of_dot": lambda screen, diameter: circle_area(diameter) * decimal(screen**2),
    # One opening, as wide as the dot, and one wall.
    "screen_for_dot": lambda dot, ratio: 1 / (dot + dot / ratio),
    "pixels_per_cell": lambda resolution, screen: (1 / screen) ** 2 / (1 / resolution) ** 2,
    "grey_levels": lambda resolution, screen: 1 + (1 / screen) ** 2 / (1 / resolution) ** 2,
    "tone_of_pixels": lambda pixels, resolution, screen: pixels * (1 / resolution) ** 2 / (1 / screen) ** 2,
    "angle_apart": lambda first, second: min(abs(first - second + quarter * PI / 2) for quarter in range(-4, 5)),
    "moire_screen": moire,
    "moire_period": lambda first, second, angle: 1 / moire(first, second, angle),
}
