"""Compares the statistics of classes with numpy, scipy, statsmodels and pingouin on random classes.

Usage: cross_check_marks.py MARK_MANY, the path of the built helper.
Prints a line for each comparison; exit status 1 if one is past its tolerance.
"""

import json
import subprocess
import sys
import warnings

import numpy as np

warnings.filterwarnings("ignore")
import pandas as pd
import pingouin
from scipy.stats import norm, pearsonr
from statsmodels.stats.proportion import proportion_confint

CLASSES = 1_000
SEED = 20261125
TOLERANCE = 1e-9


def ask(path, requests):
    text = "\n".join(json.dumps(one) for one in requests) + "\n"
    done = subprocess.run([path], input=text, capture_output=True, text=True, check=True)
    return [json.loads(line) for line in done.stdout.splitlines()]


class Report:
    def __init__(self):
        self.faults = 0

    def compare(self, what, library, pairs):
        """`pairs` of what the program says and what the library says; words where there is no value."""
        worst, missing = 0.0, 0
        for got, wanted in pairs:
            if isinstance(got, str) or got is None or not np.isfinite(wanted):
                missing += (isinstance(got, str) or got is None) != (not np.isfinite(wanted))
            else:
                worst = max(worst, abs(got - wanted))
        fine = worst <= TOLERANCE and not missing and len(pairs) > 100
        self.faults += not fine
        print(f"{'agrees' if fine else 'DIFFERS':7} {what:24} {len(pairs):6} values, worst {worst:.2g} of {TOLERANCE:g}, {missing} defined on one side only  ({library})")


def random_class(random):
    """Takers of differing ability, exercises of differing difficulty; some marks in parts, some dockets short."""
    takers, exercises = random.integers(3, 120), random.integers(2, 21)
    logit = random.normal(0, 1.2, (takers, 1)) - random.normal(0, 1.2, (1, exercises))
    marks = (random.uniform(0, 1, (takers, exercises)) < 1 / (1 + np.exp(-logit))).astype(float)
    if random.integers(3) == 0:
        columns = random.integers(0, 2, exercises).astype(bool)
        marks[:, columns] = np.round(np.clip(marks[:, columns] * 0.6 + random.uniform(0, 0.6, (takers, columns.sum())), 0, 1), 2)
    if random.integers(3) == 0:
        marks[random.uniform(0, 1, marks.shape) < 0.03] = np.nan
    return marks


def common(marks):
    return marks[~np.isnan(marks).any(axis=1)]


def quiet_alpha(full):
    if len(full) < 2 or full.shape[1] < 2 or full.sum(axis=1).var() < 1e-15:
        return np.nan
    return pingouin.cronbach_alpha(pd.DataFrame(full))[0]


def delta_error(full):
    """The standard error of alpha by the delta method: the slope of alpha at the covariances V, and the
    covariance of covariances of normal marks, 2 N (V x V)."""
    n, k = full.shape
    v = np.cov(full, rowvar=False)
    total, trace = v.sum(), np.trace(v)
    slope = (k / (k - 1)) * (-np.eye(k) / total + trace * np.ones((k, k)) / total**2)
    moved = slope @ v
    return np.sqrt(2 * max(np.trace(moved @ moved), 0) / n)


def published_error(full):
    """The same as van Zyl, Neudecker & Nel (2000) and Duhachek & Iacobucci (2004) print it. Where it is
    small, the difference in it has no digits left."""
    n, k = full.shape
    v = np.cov(full, rowvar=False)
    one = np.ones(k)
    total, trace, square = one @ v @ one, np.trace(v), v @ v
    q = 2 * k**2 / ((k - 1) ** 2 * total**3) * (total * (np.trace(square) + trace**2) - 2 * trace * (one @ square @ one))
    return np.sqrt(max(q, 0) / n)


def rest(full, one):
    own, others = full[:, one], np.delete(full, one, axis=1).sum(axis=1)
    if len(full) < 2 or np.ptp(own) < 1e-12 or np.ptp(others) < 1e-9:
        return np.nan
    return pearsonr(own, others)[0]


def fisher(r, n):
    if not np.isfinite(r):
        return [np.nan, np.nan]
    if n < 4:
        return [-1.0, 1.0]
    if abs(r) > 1 - 1e-12:
        return None
    return np.tanh(np.arctanh(r) + norm.ppf([0.025, 0.975]) / np.sqrt(n - 3))


def check_classes(path, report, random):
    classes = [random_class(random) for _ in range(CLASSES)]
    as_rows = [[[None if np.isnan(mark) else mark for mark in row] for row in one.tolist()] for one in classes]
    answers = ask(path, [{"marks": rows} for rows in as_rows])
    pairs = {name: [] for name in ("wilson", "rest_correlation", "fisher", "alpha", "alpha_error squared", "alpha_error as printed", "alpha_without", "measurement_error")}
    for marks, got in zip(classes, answers):
        full = common(marks)
        wanted_alpha = quiet_alpha(full)
        pairs["alpha"].append((got["alpha"], wanted_alpha))
        defined = np.isfinite(wanted_alpha)
        # Squared: where the error is 0, its root is the root of the dust of either side.
        squared = got["alpha_error"] ** 2 if defined else got["alpha_error"]
        pairs["alpha_error squared"].append((squared, delta_error(full) ** 2 if defined else np.nan))
        if defined and published_error(full) > 1e-3:
            pairs["alpha_error as printed"].append((got["alpha_error"], published_error(full)))
        error = np.std(full.sum(axis=1), ddof=1) * np.sqrt(1 - wanted_alpha) if defined else np.nan
        pairs["measurement_error"].append((got["measurement_error"], error))
        for one in range(marks.shape[1]):
            own = marks[:, one][~np.isnan(marks[:, one])]
            if len(own):
                pairs["wilson"] += zip(got["wilson"][one], proportion_confint(own.sum(), len(own), method="wilson"))
            pairs["alpha_without"].append((got["alpha_without"][one], quiet_alpha(np.delete(full, one, axis=1))))
            r = rest(full, one)
            pairs["rest_correlation"].append((got["rest_correlation"][one], r))
            interval = fisher(r, len(full))
            if interval is not None:
                pairs["fisher"] += zip(got["fisher"][one] or [None, None], interval)
    libraries = {"wilson": "statsmodels", "alpha": "pingouin", "alpha_without": "pingouin"}
    for name, list_of in pairs.items():
        library = libraries.get(name, "scipy" if name in ("rest_correlation", "fisher") else "numpy")
        report.compare(name, library, list_of)


def check_judges(path, report, random):
    panels = [random.uniform(0, 1, (random.integers(2, 9), random.integers(1, 21))) for _ in range(CLASSES)]
    answers = ask(path, [{"judges": one.tolist()} for one in panels])
    sums = [one.sum(axis=1) for one in panels]
    report.compare("cut", "numpy", [(got["cut"], one.mean()) for got, one in zip(answers, sums)])
    report.compare("spread of judges", "numpy", [(got["spread"], np.std(one, ddof=1)) for got, one in zip(answers, sums)])
    wanted = [np.std(one, ddof=1) / np.sqrt(len(one)) for one in sums]
    report.compare("error of the cut", "numpy", [(got["standard_error"], one) for got, one in zip(answers, wanted)])


def main():
    report, random = Report(), np.random.default_rng(SEED)
    check_classes(sys.argv[1], report, random)
    check_judges(sys.argv[1], report, random)
    print(f"{report.faults} comparisons differ")
    return 1 if report.faults else 0


if __name__ == "__main__":
    sys.exit(main())
