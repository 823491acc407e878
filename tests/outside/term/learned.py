"""What is learnt from a class, worked out again from the simulation's own marks with pandas, scipy, statsmodels, pingouin."""

from collections import Counter

import numpy as np
import pandas as pd
import pingouin
from scipy.stats import pearsonr
from statsmodels.stats.proportion import proportion_confint

ENOUGH = 30


class Same:
    """Compares values to 1e-9, and counts."""

    def __init__(self):
        self.count, self.wrong = 0, []

    def near(self, got, wanted, what):
        self.count += 1
        if got is None or abs(got - wanted) > 1e-9 * max(1.0, abs(wanted)):
            self.wrong.append(f"{what}: {got}, expected {wanted}")

    def equal(self, got, wanted, what):
        self.count += 1
        if got != wanted:
            self.wrong.append(f"{what}: {got}, expected {wanted}")


def frame(answers):
    """Takers by exercises; `answers` holds a list of answers for each person who came back."""
    return pd.DataFrame({person: [one.mark for one in own] for person, own in answers.items()}).T


def interval(marks):
    return proportion_confint(marks.sum(), len(marks), method="wilson")


def counts(answers):
    return Counter(one.verdict.replace("-", "_") for one in answers)


def commonest(ways):
    """What can be said of the commonest way from outside: all that are as common, and how common. A plain wrong
    value is told by its ratio to the key, which differs from person to person here; it counts once."""
    tally = Counter(way for one in ways for way in one if way != ("value",))
    most = max(tally.values(), default=0)
    return {way for way, count in tally.items() if count == most}, most, any(("value",) in one for one in ways)


def is_commonest(got, ways, what, same):
    best, most, has_values = commonest(ways)
    if most <= 1 and has_values:
        return  # as common as any of the plain wrong values
    if not most:
        return same.equal(got, None, what)
    way = (got["way"],) if isinstance(got["way"], str) else next(iter(got["way"].items()))
    own = (way[0], tuple(way[1])) if way[0] == "pair" else way
    if ("some turn",) not in best:
        same.equal(own in best, True, f"{what}: {own}, expected one of {best}")
        same.equal(got["takers"], most, f"{what}: how many")


def quiz(got, picks, answers, same):
    """The statistics of one quiz."""
    marks, name = frame(answers), got["quiz"]
    is_full = len(marks) >= ENOUGH
    for place, (exercise, pick) in enumerate(zip(got["exercises"], picks)):
        own, said, what = marks[place], exercise["statistics"], f"{name}, {pick['exercise']}"
        here = [one[place] for one in answers.values()]
        got_counts = {verdict: count for verdict, count in exercise["counts"].items() if count}
        same.equal(got_counts, dict(counts(here)), f"{what}: counts")
        same.near(said["difficulty"], own.mean(), f"{what}: difficulty")
        for end, wanted in zip(said["interval"], interval(own)):
            same.near(end, wanted, f"{what}: interval")
        right, nothing = int((own > 1 - 1e-9).sum()), int((own <= 0).sum())
        wanted = (len(own), right, len(own) - right - nothing, len(own))
        same.equal((said["takers"], said["right"], said["partly"], said["common"]), wanted, f"{what}: takers")
        is_commonest(said["commonest"], [one.all_ways() for one in here], f"{what}: commonest", same)
        for number, part in enumerate(exercise["parts"]):
            is_commonest(part["commonest"], [one.ways[number] for one in here], f"{what}, part {number + 1}", same)
        rest = marks.drop(columns=place).sum(axis=1)
        apart(said["tells_apart"], own, rest, is_full, what, same)
    whole(got, marks, is_full, same)


def apart(got, own, rest, is_full, what, same):
    if own.nunique() < 2 or rest.std() < 1e-9:
        same.equal("Err" in got, True, f"{what}: nothing to tell apart")
    elif is_full:
        same.near(got.get("Ok"), pearsonr(own, rest).statistic, f"{what}: tells apart")
    else:
        same.equal(got, {"Err": {"too-few": len(own)}}, f"{what}: tells apart")


def error_of_alpha(marks):
    """The asymptotic error of van Zyl, Neudecker & Nel (Psychometrika 65, 2000) in matrices."""
    covariances, (takers, count) = np.cov(marks.T.to_numpy()), marks.shape
    total, trace, squared = covariances.sum(), np.trace(covariances), covariances @ covariances
    inner = total * (np.trace(squared) + trace**2) - 2 * trace * squared.sum()
    return np.sqrt(2 * count**2 / ((count - 1) ** 2 * total**3) * inner / takers)


def whole(got, marks, is_full, same):
    said, name = got["whole"], got["quiz"]
    same.equal((said["takers"], said["common"], said["exercises"]), (len(marks), *marks.shape), f"{name}: takers")
    same.near(said["mean_share"], marks.to_numpy().mean(), f"{name}: mean share")
    if not is_full:
        for one in ("alpha", "error", "times_for_enough"):
            same.equal(said[one], {"Err": {"too-few": len(marks)}}, f"{name}: {one}")
        return
    alpha = pingouin.cronbach_alpha(data=marks)[0]
    same.near(said["alpha"]["Ok"]["alpha"], alpha, f"{name}: alpha")
    same.near(said["alpha"]["Ok"]["standard_error"], error_of_alpha(marks), f"{name}: error of alpha")
    same.near(said["error"]["Ok"], marks.sum(axis=1).std() * np.sqrt(1 - alpha), f"{name}: error of measurement")
    # Spearman and Brown, turned round.
    same.near(said["times_for_enough"]["Ok"], 0.8 * (1 - alpha) / (alpha * 0.2), f"{name}: times for 0.8")


def families(got, term, same):
    """The families over all quizzes, as the last quiz tells them. `term` holds (picks, answers) by quiz."""
    rows = []
    for name, (picks, answers) in term.items():
        marks = frame(answers)
        for place, pick in enumerate(picks):
            rest = marks.drop(columns=place).mean(axis=1)
            for person, own in answers.items():
                ways = own[place].all_ways()
                rows.append((name, pick["family"], person, own[place].mark, rest[person], ways))
    table = pd.DataFrame(rows, columns=["quiz", "family", "person", "mark", "rest", "ways"])
    same.equal([one["family"] for one in got], sorted(table.family.unique()), "families")
    for one in got:
        own, said, what = table[table.family == one["family"]], one["statistics"], f"family {one['family']}"
        same.equal(
            (said["sittings"], said["people"], said["quizzes"], said["right"]),
            (len(own), own.person.nunique(), own.quiz.nunique(), int((own.mark > 1 - 1e-9).sum())),
            f"{what}: how many",
        )
        same.near(said["difficulty"], own.mark.mean(), f"{what}: difficulty")
        for end, wanted in zip(said["interval"], interval(own.mark)):
            same.near(end, wanted, f"{what}: interval")
        within = own[["mark", "rest"]] - own.groupby("quiz")[["mark", "rest"]].transform("mean")
        if within.mark.std() < 1e-9 or within.rest.std() < 1e-9:
            same.equal("Err" in said["tells_apart"], True, f"{what}: nothing to tell apart")
        elif len(own) < ENOUGH:
            same.equal(said["tells_apart"], {"Err": {"too-few": len(own)}}, f"{what}: tells apart")
        else:
            wanted = pearsonr(within.mark, within.rest).statistic
            same.near(said["tells_apart"].get("Ok"), wanted, f"{what}: tells apart")
