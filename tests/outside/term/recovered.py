"""Whether the statistics of a term give back what was planted in the class.

How sharply they can is worked out from the response model itself: the same term is drawn again many times with the
planted chances, and what is asked of the program's numbers is what all but one in a thousand of these terms reach.
"""

import random

import numpy as np
import planted
from answering import Writer
from scipy.stats import rankdata

TERMS, WRONGS = 3000, 12


def rank_correlation(rows, wanted):
    """Spearman's, of each row with what is wanted."""
    ranks, own = rankdata(np.atleast_2d(rows), axis=-1), rankdata(wanted)
    ranks, own = ranks - ranks.mean(axis=-1, keepdims=True), own - own.mean()
    return (ranks @ own) / np.sqrt((ranks**2).sum(axis=-1) * (own @ own))


def chances(picks):
    """How likely each of the class has each of these exercises right, by the plan of the simulation."""
    people = list(planted.STRENGTHS)
    def of(pick):
        return [planted.chance(who, planted.STRENGTHS[who], pick["family"], pick["stage"]) for who in people]

    return np.array([of(pick) for pick in picks])


def model(asked, rules):
    """Per exercise and person: the chance to be right, and marks of some wrong answers. `asked` holds
    (pick, dockets) for each exercise of the term."""
    right = chances([pick for pick, _, _ in asked])
    wrong = np.zeros((*right.shape, WRONGS))
    for row, (pick, place, dockets) in enumerate(asked):
        for column, who in enumerate(planted.STRENGTHS):
            lot = random.Random(f"{row} {who}")
            writer = Writer(who, pick, dockets[who].keyed[place], rules[pick["exercise"]], lot)
            always = writer.planted()
            if always is not None:
                right[row, column], wrong[row, column] = 0.0, always.mark
            else:
                wrong[row, column] = [writer.wrong().mark for _ in range(WRONGS)]
    return right, wrong


def drawn_again(right, wrong):
    """Marks of many terms: term, exercise, person."""
    draw = np.random.default_rng(10)
    is_right = draw.random((TERMS, *right.shape)) < right
    which = draw.integers(0, WRONGS, is_right.shape)
    rows, columns = np.indices(right.shape)
    return np.where(is_right, 1.0, wrong[rows, columns, which])


def contrast(marks, stages, stage, person):
    """How much better someone does in a stage than elsewhere, beside the class."""
    own, here = marks[..., person] - marks.mean(axis=-1), np.array(stages) == stage
    return own[..., here].mean(axis=-1) - own[..., ~here].mean(axis=-1)


class Recovered:
    def __init__(self):
        self.wrong = []

    def at_least(self, what, got, terms, sign=1.0):
        least = float(np.quantile(sign * terms, 0.001))
        # A term that could not show it at all would be no check.
        is_sharp, is_so = least > 0, sign * got >= least
        print(f"  {what}: {got:.3f}; in the model {terms.mean():.3f}, all but 1 in 1000 beyond {sign * least:.3f}")
        if not (is_sharp and is_so):
            self.wrong.append(what)

    def strengths(self, asked, rules, marks):
        """`marks`: what the program says, exercise by person, in the order of `asked`."""
        right, wrong = model(asked, rules)
        terms = drawn_again(right, wrong)
        easy = right.mean(axis=1)
        means = marks.mean(axis=1)
        in_model = rank_correlation(terms.mean(axis=2), easy)
        self.at_least("easiness of exercises, rank correlation", rank_correlation(means, easy)[0], in_model)
        strengths = list(planted.STRENGTHS.values())
        totals = rank_correlation(marks.sum(axis=0), strengths)[0]
        in_model = rank_correlation(terms.sum(axis=1), strengths)
        self.at_least("strength of the nine, rank correlation", totals, in_model)
        stages = [pick["stage"] for pick, _, _ in asked]
        for (who, stage), skill in planted.SKILLS.items():
            person = list(planted.STRENGTHS).index(who)
            got, drawn = contrast(marks, stages, stage, person), contrast(terms, stages, stage, person)
            self.at_least(f"{who} in `{stage}` beside elsewhere", float(got), drawn, np.sign(skill))

    def wrong_turn(self, what, commonest, way, count):
        """The commonest way that the program reports, against the planted one and how many took it."""
        print(f"  {what}: {commonest}, planted {way} in {count}")
        said = commonest and next(iter(commonest["way"].items()))
        if said != way or commonest["takers"] != count or count < 2:
            self.wrong.append(what)
