#!/usr/bin/env python3
"""Recomputes every reference row from definitions, apart from the Rust code.

Plain Python 3, standard library only. Values are exact fractions as far as they
go and 40-digit decimals beyond (circle, powers of ten). Where it can, each
calculation takes another road than the program does: rolls are wound turn by
turn on average, tone values go over reflectances, cup seconds are searched for,
distortion is the difference of two circles.

Prints one line per row that does not agree; exit status 1 if there is any.
"""

import csv
import pathlib
import sys
from decimal import Decimal, getcontext
from fractions import Fraction

getcontext().prec = 40
PI = Decimal("3.1415926535897932384626433832795028841972")

# Definitions. Everything is brought to metre, kilogram, second, radian.
INCH = Fraction(254, 10000)
POUND = Fraction(45359237, 10**8)
POUND_FORCE = POUND * Fraction(980665, 10**5)
FOOT = 12 * INCH
MIL = INCH / 1000
MINUTE, HOUR = 60, 3600
UNITS = {
    "": 1, "%": Fraction(1, 100), "points": Fraction(1, 100), "teeth": 1, "labels": 1,
    "m": 1, "cm": Fraction(1, 100), "mm": Fraction(1, 1000), "µm": Fraction(1, 10**6), "in": INCH, "ft": FOOT, "mil": MIL,
    # 1 cm³ on 1 m²; 10⁹ cubic micrometres on a square inch.
    "cm³/m²": Fraction(1, 100**3), "BCM/in²": Fraction(10**9, 10**18) / INCH**2,
    "m²": 1, "MSI": 1000 * INCH**2,
    "kg": 1, "lb": POUND, "g/cm³": Fraction(1, 1000) * 100**3, "g/m²": Fraction(1, 1000), "lb/ream": POUND / (3000 * FOOT**2),
    "N": 1, "lbf": POUND_FORCE, "N/m": 1, "PLI": POUND_FORCE / INCH, "PLI/mil": POUND_FORCE / INCH / MIL,
    "lpi": 1 / INCH, "l/cm": 100, "teeth/in": 1 / INCH,
    "s": 1, "min": MINUTE, "ft/min": FOOT / MINUTE, "m/min": Fraction(1, MINUTE),
    "impressions/h": Fraction(1, HOUR), "labels/h": Fraction(1, HOUR),
    "mm²/s": Fraction(1, 10**6), "mPa·s": Fraction(1, 1000),
    "mW/cm²": Fraction(1, 1000) * 100**2, "W/cm²": 100**2, "mJ/cm²": Fraction(1, 1000) * 100**2,
    "s (Zahn 2)": 1, "s (Zahn 3)": 1, "s (Shell 4)": 1, "s (Ford 4)": 1, "s (DIN 4 mm)": 1, "s (ISO 4 mm)": 1,
}


def decimal(value):
    """A fraction or whole number as a decimal."""
    if isinstance(value, Decimal):
        return value
    value = Fraction(value)
    return Decimal(value.numerator) / Decimal(value.denominator)


def unit_of(name):
    """A unit's size in SI. A degree is the only one that is no fraction."""
    return PI / 180 if name == "°" else decimal(UNITS[name])


def circle(diameter):
    return PI * decimal(diameter)


def reflectance(density):
    return Decimal(10) ** -decimal(density)


# Cups as published: mm²/s = K (t − c), or A t − B / t.
STRAIGHT = {"zahn_2": ("3.5", "14"), "zahn_3": ("11.7", "7.5"), "shell_4": ("3.45", "1"), "ford_4": ("3.85", "4.49")}
BENT = {"din_4": ("4.57", "452"), "iso_4": ("1.37", "200")}


def cup(name, seconds):
    t = Fraction(seconds)
    if name in STRAIGHT:
        k, c = map(Fraction, STRAIGHT[name])
        return k * t / 10**6 - k * c / 10**6
    a, b = map(Fraction, BENT[name])
    return (a * t * t - b) / t / 10**6


def cup_seconds(name, viscosity):
    """Halves the interval of seconds until the viscosity is met."""
    low, high = Fraction(0), Fraction(1000)
    for _ in range(90):
        middle = (low + high) / 2
        if cup(name, middle) < viscosity:
            low = middle
        else:
            high = middle
    return low


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


RECOMPUTE = {
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
for name in [*STRAIGHT, *BENT]:
    RECOMPUTE[name] = lambda seconds, name=name: cup(name, seconds)
for name in ("zahn_2", "zahn_3", "ford_4"):
    RECOMPUTE[name + "_seconds"] = lambda viscosity, name=name: cup_seconds(name, viscosity)


def quantity(text):
    """`3.5 BCM/in²` as its number and its unit's name."""
    number, _, name = text.partition(" ")
    return Fraction(number), name


def check(row):
    inputs = dict(part.split("=") for part in row["inputs"].split("; "))
    si = {}
    for name, text in inputs.items():
        number, unit = quantity(text)
        si[name] = number * UNITS[unit]
    got = decimal(RECOMPUTE[row["calculation"]](**si))
    number, unit = quantity(row["expected"])
    got_in_unit = got / unit_of(unit)
    return got_in_unit, abs(got_in_unit - decimal(number)) <= Decimal(row["tolerance"])


def main():
    rows = faults = 0
    for path in sorted(pathlib.Path(__file__).parent.glob("*.csv")):
        lines = [line for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
        for row in csv.DictReader(lines):
            rows += 1
            got, agrees = check(row)
            if not agrees:
                faults += 1
                print(f"{path.name}: {row['calculation']}({row['inputs']}) is {got:.10g}, not {row['expected']}")
    print(f"{rows} rows recomputed, {faults} do not agree")
    return 1 if faults or not rows else 0


if __name__ == "__main__":
    sys.exit(main())
