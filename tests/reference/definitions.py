"""Definitions that the roads share: units in SI as exact fractions, and the circle."""

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
    "": 1, "%": Fraction(1, 100), "points": Fraction(1, 100), "teeth": 1, "labels": 1, "turns": 1, "rolls": 1,
    "m": 1, "cm": Fraction(1, 100), "mm": Fraction(1, 1000), "µm": Fraction(1, 10**6), "in": INCH, "ft": FOOT, "mil": MIL,
    # 1 cm³ on 1 m²; 10⁹ cubic micrometres on a square inch.
    "cm³/m²": Fraction(1, 100**3), "BCM/in²": Fraction(10**9, 10**18) / INCH**2,
    "divisions": 1, "impressions": 1, "pH": 1, "threads/in": 1 / INCH, "K": 1, "F°": Fraction(5, 9),
    "kgf/cm": 100 * Fraction(980665, 10**5), "psi": POUND_FORCE / INCH**2, "kpsi": 1000 * POUND_FORCE / INCH**2,
    "MPa": 10**6, "GPa": 10**9, "lbf·in": POUND_FORCE * INCH, "N·m": 1,
    "kg/h": Fraction(1, HOUR), "kW": 1000, "kJ/kg": 1000,
    "gauge": MIL / 100, "px": 1, "dpi": 1 / INCH, "px/cm": 100,
    "m²": 1, "in²": INCH**2, "MSI": 1000 * INCH**2, "MSF": 1000 * FOOT**2,
    "L": Fraction(1, 1000), "gal": 231 * INCH**3, "lb/gal": POUND / (231 * INCH**3),
    "in²/lb": INCH**2 / POUND, "m²/kg": 1,
    "kg": 1, "lb": POUND, "g/cm³": Fraction(1, 1000) * 100**3, "g/m²": Fraction(1, 1000), "lb/ream": POUND / (3000 * FOOT**2),
    "N": 1, "lbf": POUND_FORCE, "N/m": 1, "PLI": POUND_FORCE / INCH, "PLI/mil": POUND_FORCE / INCH / MIL,
    "lpi": 1 / INCH, "l/cm": 100, "teeth/in": 1 / INCH,
    "s": 1, "min": MINUTE, "h": HOUR, "ft/min": FOOT / MINUTE, "m/min": Fraction(1, MINUTE),
    "impressions/h": Fraction(1, HOUR), "labels/h": Fraction(1, HOUR),
    "mm²/s": Fraction(1, 10**6), "mPa·s": Fraction(1, 1000),
    "mW/cm²": Fraction(1, 1000) * 100**2, "W/cm²": 100**2, "mJ/cm²": Fraction(1, 1000) * 100**2,
}
# The seconds of a flow cup are a reading of that cup only.
CUPS = [*(f"Zahn {n}" for n in "12345"), *(f"Shell {n}" for n in ("1", "2", "2½", "3", "3½", "4", "5", "6")), *(f"Ford {n}" for n in "12345"),
        "DIN 4 mm", *(f"ISO {n} mm" for n in "3456")]
UNITS.update({f"s ({cup})": 1 for cup in CUPS})


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
