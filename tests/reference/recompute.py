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
import importlib
import pathlib
import sys
from decimal import Decimal
from fractions import Fraction

HERE = pathlib.Path(__file__).parent
sys.path.insert(0, str(HERE))
sys.dont_write_bytecode = True

from definitions import UNITS, decimal, unit_of

# Each `roads_….py` beside this file holds another road to some of the calculations.
ROADS = {}
for path in sorted(HERE.glob("roads_*.py")):
    ROADS.update(importlib.import_module(path.stem).ROADS)


def quantity(text):
    """`3.5 BCM/in²` as its number and its unit's name."""
    number, _, name = text.partition(" ")
    return Fraction(number), name


def in_si(text):
    """One value, or a list of them where `|` stands between."""
    if "|" in text:
        return [in_si(one) for one in text.split("|")]
    number, unit = quantity(text)
    if unit == "°C":
        return number + Fraction(27315, 100)
    return decimal(number) * unit_of(unit) if unit == "°" else number * UNITS[unit]


def check(row):
    inputs = dict(part.split("=") for part in row["inputs"].split("; "))
    si = {name: in_si(text) for name, text in inputs.items()}
    got = decimal(ROADS[row["calculation"]](**si))
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
