"""Another road to each further calculation of tension, impression, viscosity, register and curing."""

from decimal import Decimal
from fractions import Fraction

from definitions import INCH, PI, decimal


def arctangent(x):
    """Its series, for x well below 1."""
    x, total, power, n = decimal(x), Decimal(0), decimal(x), 1
    while abs(power) > Decimal(10) ** -45:
        total += power / n * (1 if n % 4 == 1 else -1)
        power *= x * x
        n += 2
    return total


def straight(first, second, share):
    """A value on the way from the first to the second, weighed from both ends."""
    return first * (1 - share) + second * share


def hyperbolic_taper(start, taper, core, diameter):
    """Part of the tension falls as the torque stays the same, part stays itself."""
    constant_torque = start * core / diameter
    return taper * constant_torque + (1 - taper) * start


def likely(parts):
    """One right-angled triangle on the other."""
    side = Decimal(0)
    for part in parts:
        side = (side * side + decimal(part) ** 2).sqrt()
    return side


def nip_width(first, second, squeeze):
    """By curvatures, which add."""
    return 2 * decimal(2 * squeeze / (1 / first + 1 / second)).sqrt()


def viscosity_at(viscosity, share, warmer):
    """Degree by degree."""
    assert warmer.denominator == 1
    for _ in range(abs(warmer.numerator)):
        viscosity = viscosity * (1 - share) if warmer > 0 else viscosity / (1 - share)
    return viscosity


def share_per_degree(first, second, warmer):
    """Halves the interval of shares until the second viscosity is met."""
    low, high = Fraction(0), Fraction(1)
    for _ in range(60):
        middle = (low + high) / 2
        if viscosity_at(first, middle, warmer) > second:
            low = middle
        else:
            high = middle
    return low


def span_phase(span, repeat):
    """Takes one repeat off after the other."""
    while span >= repeat:
        span -= repeat
    return 2 * PI * decimal(span / repeat)


def evaporation(wet_coat, solids_by_weight, coverage, width, speed):
    """What is laid down in an hour less what stays."""
    laid_down = wet_coat * coverage * width * speed * 3600
    return (laid_down - laid_down * solids_by_weight) / 3600


ROADS = {
    "tension_per_width": lambda tension, width: 1 / (width / tension),
    "laminate_tension": lambda plies, extra: extra + plies[0] + sum(plies[1:], Fraction(0)),
    # The force on a strip of one inch over its cross-section.
    "web_stress": lambda per_width, gauge: per_width * INCH / (INCH * gauge),
    "web_strain": lambda per_width, gauge, modulus: per_width * INCH / (INCH * gauge) / modulus,
    "web_narrowing": lambda strain, poisson, width: width - width * (1 - poisson * strain),
    "roll_torque": lambda tension, diameter: tension * (diameter - diameter / 2),
    "hyperbolic_taper": hyperbolic_taper,
    "linear_taper": lambda start, taper, core, diameter, full: straight(
        start, start * (1 - taper), (diameter - core) / (full - core)
    ),
    "screw_movement": lambda divisions, lead, per_turn, linkage: divisions * (lead / per_turn * linkage),
    "lead_of_threads": lambda threads: INCH / (threads * INCH),
    "dial_reading": lambda kiss, squeeze, per_division: (kiss * per_division + squeeze) / per_division,
    "local_squeeze": lambda gear, operator, span, from_gear: straight(gear, operator, from_gear / span),
    "runout": lambda eccentricity: (1 + eccentricity) - (1 - eccentricity),
    "worst_stack_up": lambda parts: sum(sorted(parts), Fraction(0)),
    "likely_stack_up": likely,
    "nip_width": nip_width,
    "cylinder_tilt": lambda difference, span: arctangent(difference / span),
    "viscosity_at": viscosity_at,
    "viscosity_share_per_degree": share_per_degree,
    "viscosity_between": lambda first, first_temperature, second, second_temperature, temperature: straight(
        first, second, (temperature - first_temperature) / (second_temperature - first_temperature)
    ),
    "addition_on_ink": lambda strength, target: (strength - target) / target,
    "addition_of_final": lambda strength, target: (strength - target) / strength,
    "mixed_strength": lambda first_mass, first, second_mass, second: straight(
        first, second, second_mass / (first_mass + second_mass)
    ),
    "part_of_mix": lambda total, part, parts: total / sum(parts, Fraction(0)) * part,
    "acidity_ratio": lambda **ph: Decimal(10) ** -decimal(ph["to"]) / Decimal(10) ** -decimal(ph["from"]),
    "tooth_angle": lambda teeth: 2 * PI * decimal(1 / teeth),
    "side_lay_turns": lambda error, lead: 1 / (lead / error),
    "side_lay_degrees": lambda error, lead: 2 * PI * decimal(1 / (lead / error)),
    "skew_angle": lambda difference, apart: arctangent(difference / apart),
    "skew_movement": lambda difference, apart, bearings: bearings * (difference / apart),
    "span_phase": span_phase,
    # Each newton stretches the web by its compliance.
    "strain_shift": lambda span, change, modulus, width, gauge: change * (span / (width * gauge) / modulus),
    "draw_shift": lambda span, change: span * (1 + change) - span,
    "die_drift": lambda error, impressions: sum([error] * int(impressions), Fraction(0)),
    "worst_overlap": lambda error: error - -error,
    "likely_overlap": lambda error: likely([error, error]),
    "slur_length": lambda nip, difference: nip * (1 + difference) - nip,
    "dryer_length": lambda dwell, speed: dwell / (1 / speed),
    "average_irradiance": lambda peak, shape: peak - peak * (1 - shape),
    # The time that the dose takes, and the way in it.
    "speed_for_dose": lambda irradiance, window, lamps, dose: lamps * window / (dose / irradiance),
    "speed_for_output": lambda speed, output: 1 / (1 / output / speed),
    "evaporation": evaporation,
    "latent_power": lambda evaporation, latent_heat: evaporation * 3600 * latent_heat / 3600,
}
