"""Another road to each calculation of film, repeat, distortion, web, tension, register, curing and tone."""

from decimal import Decimal
from fractions import Fraction

from definitions import PI, circle, decimal, reflectance, unit_of

def cell_opening(screen, ratio):
    spacing = 1 / screen
    wall = spacing / (ratio + 1)
    return spacing - wall


def roll_length(outer, core, caliper):
    """Turns times the average way around."""
    turns = (outer - core) / (2 * caliper)
    return circle((outer + core) / 2) * decimal(turns)


def allowance(plate, backing):
    """The way around on the surface less the way around on the back, on a cylinder of 1 m."""
    return circle(1 + 2 * plate) - circle(1 + 2 * backing)


def plate_length(length, repeat, plate, backing):
    """The repeat's share of the length, on a plate that is one repeat less its gain."""
    flat_repeat = decimal(repeat) - allowance(plate, backing)
    return flat_repeat * decimal(length / repeat)


def tone_value(tint, solid, n=1):
    """By reflectances relative to paper: the share of the way from paper to solid."""
    tinted, inked = (Decimal(1) if d == 0 else reflectance(Fraction(d) / Fraction(n)) for d in (tint, solid))
    return (tinted - 1) / (inked - 1)


def dilution(mass, strength, target):
    solids = mass * strength
    return solids / target - mass


ROADS = {
    "wet_film": lambda volume, release: volume * release,
    "dry_film": lambda wet, solids_by_volume: wet - wet * (1 - solids_by_volume),
    "wet_coat_weight": lambda wet, density: density * wet,
    "dry_coat_weight": lambda wet, density, solids_by_weight: density * wet - density * wet * (1 - solids_by_weight),
    "worn_volume": lambda volume, loss: volume - volume * loss,
    "cell_opening": cell_opening,
    "job_ink": lambda area, coverage, volume, release, density: (area * volume) * (coverage * release) * density,
    "repeat_from_pitch": lambda teeth, pitch: sum([pitch] * int(teeth), Fraction(0)),
    "repeat_from_diametral_pitch": lambda teeth, diametral_pitch: circle(teeth / diametral_pitch),
    "repeat_from_module": lambda teeth, module: circle(teeth * module),
    "pitch_diameter": lambda repeat: decimal(repeat) / PI,
    "bare_diameter": lambda repeat, plate, tape: 2 * (decimal(repeat) / (2 * PI) - decimal(plate) - decimal(tape)),
    "repeat_change": lambda build_up: circle(1 + 2 * build_up) - circle(1),
    "distortion_allowance": allowance,
    "distortion_share": lambda repeat, plate, backing: 1 - plate_length(repeat, repeat, plate, backing) / decimal(repeat),
    "plate_length": plate_length,
    "impressions_per_hour": lambda speed, repeat: 1 / (repeat / speed),
    "labels_per_hour": lambda speed, repeat, around, across: around * across / (repeat / speed),
    "web_area": lambda length, width: width * length,
    "roll_length": roll_length,
    "gross_length": lambda net, waste: net + net * waste / (1 - waste),
    "run_time": lambda length, speed: 1 / (speed / length),
    "web_tension": lambda per_width, width: width * per_width,
    "tension_from_gauge": lambda rate, gauge: gauge * rate,
    "dynamic_viscosity": lambda kinematic, density: density * kinematic,
    "dilution": dilution,
    # One minus the share of the weak one.
    "blend_share": lambda low, high, target: 1 - (high - target) / (high - low),
    "register_degrees": lambda error, repeat: 360 * decimal(error / repeat) * unit_of("°"),
    "register_teeth": lambda error, pitch: 1 / (pitch / error),
    "dwell": lambda path, speed: 1 / (speed / path),
    "uv_dose": lambda irradiance, window, speed: irradiance * (window / speed),
    "density_of": lambda reflectance: -decimal(reflectance).log10(),
    "ink_density": lambda density, paper: -(paper - density),
    "tone_value": tone_value,
    "tone_value_n": tone_value,
    "tone_value_increase": lambda tone_value, nominal: -(nominal - tone_value),
    "print_contrast": lambda solid, tint: 1 - tint / solid,
    "trap": lambda overprint, first, second: overprint / second - first / second,
}
