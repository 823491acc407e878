"""Another road to each calculation of samples, control charts and capability.

The published factors of control charts are not copied: they are integrated from
the distribution of the range of so many normal readings.
"""

import math
from decimal import Decimal
from functools import cache
from itertools import combinations

from definitions import decimal

STEP, REACH = 0.02, 8.0
GRID = [i * STEP - REACH for i in range(int(2 * REACH / STEP) + 1)]


def normal(x):
    return math.erfc(-x / math.sqrt(2)) / 2


BELOW = [normal(x) for x in GRID]


@cache
def range_moments(n):
    """Mean and standard deviation of the range of n readings whose own deviation is 1.

    Mean: the chance that x lies between the least and the greatest, over all x.
    Mean square: twice the chance that both x and y, x below y, lie between them.
    """
    mean = STEP * sum(1 - p**n - (1 - p) ** n for p in BELOW)
    square = 0.0
    for i, low in enumerate(BELOW):
        # On the line x = y the trapezoid rule counts a half.
        row = (1 - low**n - (1 - low) ** n) / 2
        for high in BELOW[i + 1 :]:
            row += 1 - high**n - (1 - low) ** n + (high - low) ** n
        square += 2 * STEP * STEP * row
    return mean, math.sqrt(square - mean * mean)


def d2(size):
    return range_moments(int(size))[0]


def spread_of_range(size):
    """Three deviations of the range, as a share of its mean."""
    mean, deviation = range_moments(int(size))
    return 3 * deviation / mean


def times(value, factor):
    return decimal(value) * Decimal(factor)


def a2(size):
    return 3 / (d2(size) * math.sqrt(int(size)))


def variance(readings):
    """By the differences of all pairs, without a mean."""
    n = len(readings)
    return sum((a - b) ** 2 for a, b in combinations(readings, 2)) / (n * (n - 1))


def mean(readings):
    """Takes the readings in one by one."""
    so_far = 0
    for count, reading in enumerate(readings, start=1):
        so_far += (reading - so_far) / count
    return so_far


def sample_size(deviation, margin):
    """Adds readings until 1.96 standard errors are within the margin."""
    count = 1
    while (Decimal("1.96") * decimal(deviation)) ** 2 / count > decimal(margin) ** 2:
        count += 1
    return count


def centred_capability(upper, lower, mean, deviation):
    """The capability, less by how far the mean is off the middle."""
    half = (upper - lower) / 2
    off = abs(mean - (upper + lower) / 2)
    return (half / (3 * deviation)) * (1 - off / half)


ROADS = {
    "mean": mean,
    "sd": lambda readings: decimal(variance(readings)).sqrt(),
    "range": lambda readings: max(abs(a - b) for a, b in combinations(readings, 2)),
    "standard_error": lambda deviation, count: decimal(deviation**2 / count).sqrt(),
    "sample_size": sample_size,
    "upper_mean_limit": lambda grand_mean, mean_range, size: decimal(grand_mean) + times(mean_range, a2(size)),
    "lower_mean_limit": lambda grand_mean, mean_range, size: decimal(grand_mean) - times(mean_range, a2(size)),
    "upper_range_limit": lambda mean_range, size: times(mean_range, 1 + spread_of_range(size)),
    "lower_range_limit": lambda mean_range, size: times(mean_range, max(0.0, 1 - spread_of_range(size))),
    "deviation_from_ranges": lambda mean_range, size: times(mean_range, 1 / d2(size)),
    "factor_a2": lambda size: Decimal(a2(size)),
    "factor_d2": lambda size: Decimal(d2(size)),
    "factor_d3": lambda size: Decimal(max(0.0, 1 - spread_of_range(size))),
    "factor_d4": lambda size: Decimal(1 + spread_of_range(size)),
    "capability": lambda upper, lower, deviation: (upper - lower) / deviation / 6,
    "centred_capability": centred_capability,
}
