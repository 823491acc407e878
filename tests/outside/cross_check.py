"""Compares calculations and units with numpy, scipy, colour-science and pint on random inputs.

Usage: cross_check.py WORK_MANY, the path of the built helper that works out many calculations.
Prints a line for each comparison; exit status 1 if one is past its tolerance.
"""

import json
import subprocess
import sys
import warnings

import numpy as np

warnings.filterwarnings("ignore", message=".*related API features are not available.*")
import colour
import pint
from pint_units import PINT, PLAIN, POINTS
from scipy.integrate import quad
from scipy.interpolate import PchipInterpolator
from scipy.stats import norm

INPUTS = 10_000
SEED = 20261125


class Program:
    """The built program, asked in batches."""

    def __init__(self, path):
        self.path = path

    def ask(self, requests):
        text = "\n".join(json.dumps(one) for one in requests) + "\n"
        done = subprocess.run([self.path], input=text, capture_output=True, text=True, check=True)
        return [json.loads(line) for line in done.stdout.splitlines()]

    def work(self, name, rows):
        """`rows` of arguments; an argument is a number or a list of them."""
        wrapped = [[np.atleast_1d(one).tolist() for one in row] for row in rows]
        answers = self.ask([{"calculation": name, "arguments": row} for row in wrapped])
        return np.array([np.nan if one is None else one for one in answers], dtype=float)


class Report:
    def __init__(self):
        self.faults = 0

    def compare(self, what, library, got, wanted, tolerance, relative=False):
        got, wanted = np.asarray(got, dtype=float), np.asarray(wanted, dtype=float)
        apart = np.abs(got - wanted)
        if relative:
            apart = apart / np.maximum(np.abs(wanted), 1e-300)
        worst = np.max(np.where(np.isnan(apart), np.inf, apart))
        fine = worst <= tolerance
        self.faults += not fine
        print(f"{'agrees' if fine else 'DIFFERS':7} {what:24} {len(got):6} inputs, worst {worst:.2g} of {tolerance:g}  ({library})")
        if not fine:
            at = int(np.argmax(np.where(np.isnan(apart), np.inf, apart)))
            print(f"        input {at}: {got[at]!r}, {library} has {wanted[at]!r}")


def colours(random, count=INPUTS):
    return np.column_stack([random.uniform(0, 100, count), random.uniform(-100, 100, (count, 2))])


def check_colour(program, report, random):
    white = np.array([96.422, 100.0, 82.521]) / 100
    xyz = random.uniform(0, 100, (INPUTS, 3))
    xyz[: INPUTS // 10] *= 0.01  # the toe of the curve
    lab = colour.XYZ_to_Lab(xyz / 100, colour.XYZ_to_xy(white))
    report.compare("lab_lightness", "colour-science", program.work("lab_lightness", xyz[:, 1:2]), lab[:, 0], 1e-9)
    report.compare("lab_a", "colour-science", program.work("lab_a", xyz[:, :2]), lab[:, 1], 1e-9)
    report.compare("lab_b", "colour-science", program.work("lab_b", xyz[:, 1:]), lab[:, 2], 1e-9)
    one, other = colours(random), colours(random)
    # Half of the pairs lie close, as on a press.
    other[::2] = one[::2] + random.uniform(-3, 3, (INPUTS // 2, 3))
    other[:, 0] = np.clip(other[:, 0], 0, 100)
    polar = colour.models.Lab_to_LCHab(one)
    report.compare("chroma", "colour-science", program.work("chroma", one[:, 1:]), polar[:, 1], 1e-9)
    report.compare("hue_angle", "colour-science", np.degrees(program.work("hue_angle", one[:, 1:])), polar[:, 2], 1e-9)
    pairs = np.hstack([one, other])
    for name, method, extra, options in (
        ("delta_e_ab", "CIE 1976", [], {}),
        ("delta_e_94", "CIE 1994", [], {"textiles": False}),
        ("delta_e_2000", "CIE 2000", [], {}),
        ("delta_e_cmc", "CMC", [2, 1], {"l": 2, "c": 1}),
        ("delta_e_cmc", "CMC", [1, 1], {"l": 1, "c": 1}),
    ):
        rows = np.hstack([pairs, np.tile(extra, (INPUTS, 1))]) if extra else pairs
        wanted = colour.delta_E(one, other, method=method, **options)
        report.compare(name, "colour-science", program.work(name, rows), wanted, 1e-8)


def rising(random, steps):
    """Steps from 0 to 1 that rise by at least a little."""
    parts = random.uniform(0.05, 1, steps)
    return np.concatenate([[0], np.cumsum(parts) / parts.sum()])


def check_curves(program, report, random):
    forwards, backwards, printed, plates = [], [], [], []
    for _ in range(INPUTS):
        steps = random.integers(2, 24)
        x, y = rising(random, steps), rising(random, steps)
        curve = PchipInterpolator(x, y)
        at, wanted = random.uniform(0, x[-1]), random.uniform(0, y[-1])
        forwards.append([at, x, y])
        printed.append(curve(at))
        backwards.append([wanted, x, y])
        plates.append(wanted)
    report.compare("printed_tone", "scipy", program.work("printed_tone", forwards), printed, 1e-12)
    solved = program.work("plate_tone", backwards)
    there = [PchipInterpolator(x, y)(plate) for plate, (_, x, y) in zip(solved, backwards)]
    report.compare("plate_tone", "scipy", there, plates, 1e-12)
    rows = np.sort(random.uniform(0, 1, (INPUTS, 3)), axis=1)
    values = random.uniform(0, 1, (INPUTS, 2))
    rows = np.column_stack([rows[:, 1], rows[:, 0], values[:, 0], rows[:, 2], values[:, 1]])
    wanted = [np.interp(at, [low, high], [first, last]) for at, low, first, high, last in rows]
    report.compare("tone_between", "numpy", program.work("tone_between", rows), wanted, 1e-9)


def check_statistics(program, report, random):
    samples = [random.normal(random.uniform(-2, 2), 0.05, random.integers(2, 60)) for _ in range(INPUTS)]
    rows = [[one] for one in samples]
    report.compare("mean", "numpy", program.work("mean", rows), [np.mean(one) for one in samples], 1e-12)
    report.compare("sd", "numpy", program.work("sd", rows), [np.std(one, ddof=1) for one in samples], 1e-12)
    report.compare("range", "numpy", program.work("range", rows), [np.ptp(one) for one in samples], 1e-12)
    rows = random.uniform(0.001, 1, (INPUTS, 2))
    wanted = np.ceil((norm.ppf(0.975) * rows[:, 0] / rows[:, 1]) ** 2)
    # 1.96 is rounded: of a large count it may be off by a share of a ten-thousandth.
    near = np.abs(program.work("sample_size", rows) - wanted) <= 1 + 1e-4 * wanted
    report.compare("sample_size", "scipy", near, np.ones(INPUTS), 0)
    check_factors(program, report)


def check_factors(program, report):
    """The printed factors against integrals over the range of n normal readings."""
    sizes = range(2, 11)
    means, deviations = [], []
    for n in sizes:
        first = quad(lambda w: 1 - spread_below(w, n), 0, 12)[0]
        second = quad(lambda w: 2 * w * (1 - spread_below(w, n)), 0, 12)[0]
        means.append(first)
        deviations.append((second - first**2) ** 0.5)
    d2, d3 = np.array(means), np.array(deviations)
    rows = [[n] for n in sizes]
    report.compare("factor_d2", "scipy", program.work("factor_d2", rows), d2, 6e-4)
    report.compare("factor_d4", "scipy", program.work("factor_d4", rows), 1 + 3 * d3 / d2, 1.1e-3)
    report.compare("factor_d3", "scipy", program.work("factor_d3", rows), np.maximum(0, 1 - 3 * d3 / d2), 1.1e-3)
    report.compare("factor_a2", "scipy", program.work("factor_a2", rows), 3 / d2 / np.sqrt(list(sizes)), 1.1e-3)


def spread_below(width, n):
    """How likely the range of n standard normal readings is at most `width`."""
    return quad(lambda x: n * norm.pdf(x) * (norm.cdf(x + width) - norm.cdf(x)) ** (n - 1), -8, 8)[0]


def check_densities(program, report, random):
    light = random.uniform(0.001, 1, (INPUTS, 1))
    report.compare("density_of", "numpy", program.work("density_of", light), -np.log10(light[:, 0]), 1e-12)
    density = random.uniform(0, 3.3, (INPUTS, 1))
    wanted = np.power(10, -density[:, 0])
    report.compare("reflectance_of", "numpy", program.work("reflectance_of", density), wanted, 1e-12, relative=True)


def check_units(program, report, random):
    units = {one["name"]: one["dimension"] for one in program.ask([{"units": True}])[0]}
    left = [name for name in units if name not in PINT and name not in POINTS and name not in PLAIN and not name.startswith("s (")]
    if left:
        report.faults += 1
        print(f"DIFFERS units that are not compared: {', '.join(left)}")
    registry = pint.UnitRegistry()
    sizes = {name: registry.Quantity(text) if "*" in text or "/" in text else registry(text) for name, text in PINT.items() if name in units}
    pairs = [(a, b) for a in sizes for b in sizes if units[a] == units[b] and a != "F°" and b != "F°"]
    wanted = [(1 * sizes[a]).to(sizes[b].units).magnitude / sizes[b].magnitude for a, b in pairs]
    got = program.ask([{"value": 1, "from": a, "to": b} for a, b in pairs])
    report.compare("every pair of units", "pint", got, wanted, 1e-12, relative=True)
    picks = [pairs[i] for i in random.integers(0, len(pairs), INPUTS)]
    values = random.uniform(-1e4, 1e4, INPUTS)
    factors = dict(zip(pairs, wanted))
    got = program.ask([{"value": value, "from": a, "to": b} for value, (a, b) in zip(values, picks)])
    report.compare("values with units", "pint", got, [v * factors[p] for v, p in zip(values, picks)], 1e-12, relative=True)
    values = random.uniform(-50, 250, INPUTS)
    for a, b in (("°C", "°F"), ("°F", "°C")):
        wanted = registry.Quantity(values, POINTS[a]).to(POINTS[b]).magnitude
        got = program.ask([{"value": value, "from": a, "to": b} for value in values])
        report.compare(f"{a} to {b}", "pint", got, wanted, 1e-9)
    got = program.ask([{"value": value, "from": "F°", "to": "K"} for value in values])
    wanted = registry.Quantity(values, "delta_degF").to("delta_degC").magnitude
    report.compare("F° to K", "pint", got, wanted, 1e-9)


def main():
    program, report, random = Program(sys.argv[1]), Report(), np.random.default_rng(SEED)
    for check in (check_units, check_colour, check_curves, check_statistics, check_densities):
        check(program, report, random)
    print(f"{report.faults} comparisons differ")
    return 1 if report.faults else 0


if __name__ == "__main__":
    sys.exit(main())
