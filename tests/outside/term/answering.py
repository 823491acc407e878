"""How someone of the class fills in an exercise, and what must come of it."""

from dataclasses import dataclass, field
from decimal import Decimal

import planted
from keys import number

# Of those who are not right: left blank, a known wrong turn, or else a plain wrong answer.
BLANK, TURN = 0.2, 0.45
# Units that some people change to: exact powers of ten.
OTHER_UNIT = {"µm": ("mm", -3), "mm": ("cm", -1), "cm": ("mm", 1), "m": ("cm", 2), "kg": ("g", 3), "g": ("kg", -3)}
FIRST = ["wrong-turn", "wrong", "blank", "carried"]


@dataclass
class Answer:
    """What is typed or picked, part by part, and the verdict and mark that it deserves."""

    texts: list
    verdicts: list
    marks: list
    ways: list = field(default_factory=list)  # per part: the ways in which it went wrong

    @property
    def mark(self):
        return sum(self.marks) / len(self.marks)

    @property
    def verdict(self):
        return next((one for one in FIRST if one in self.verdicts), "right")

    def all_ways(self):
        return set().union(*self.ways)


def answer(texts, verdicts, ways=None):
    marks = [1.0 if one in ("right", "carried") else 0.0 for one in verdicts]
    return Answer(texts, verdicts, marks, ways or [set() for _ in texts])


def typed(text, habit):
    """A printed quantity as someone types it: as printed, as a bare number, or in another unit."""
    value, unit = number(text)
    if habit == "bare":
        return f"{value:f}"
    if habit == "other" and unit in OTHER_UNIT:
        name, power = OTHER_UNIT[unit]
        return f"{value.scaleb(power):f} {name}"
    return text


def habit(person):
    return ("printed", "bare", "other")[sum(map(ord, person)) % 3]


class Writer:
    """Someone at one exercise. `chance` decides all that is left to chance."""

    def __init__(self, person, pick, keyed, rule, chance):
        self.person, self.exercise, self.keyed, self.rule, self.chance = person, pick["exercise"], keyed, rule, chance

    def right(self):
        keyed = self.keyed
        if keyed.kind == "numeric":
            return answer([typed(one.key, habit(self.person)) for one in keyed.parts], ["right"] * len(keyed.parts))
        if keyed.kind in ("order", "rounds"):
            return answer([" ".join(map(str, keyed.order))], ["right"])
        return answer([self.rightly(one) for one in keyed.questions], ["right"] * len(keyed.questions))

    def rightly(self, question):
        """What is right as it is ticked; where one is picked, any of those that are right."""
        picked = [self.chance.choice(question.right)] if self.rule.pick == "one" else question.right
        return " ".join(map(str, picked))

    def planted(self):
        """The wrong turn that this person always takes here; nothing if there is none."""
        who, name, work_out = planted.NUMBERS.get(self.exercise, (set(), "", None))
        if self.person in who:
            texts, verdicts = work_out(self.keyed.question)
            ways = [{("turn", name)} if one == "wrong-turn" else set() for one in verdicts]
            return answer(texts, verdicts, ways)
        who, option = planted.OPTIONS.get(self.exercise, (set(), ""))
        if self.person in who:
            [question] = self.keyed.questions
            if option in question.options:
                return self.ticked(question, [question.options.index(option) + 1])
        return None

    def wrong(self):
        lot = self.chance.random()
        if lot < BLANK:
            count = len(self.keyed.parts) or len(self.keyed.questions) or 1
            return answer([""] * count, ["blank"] * count)
        if self.keyed.kind == "numeric":
            turns = list(self.turns()) if lot < BLANK + TURN else []
            return self.at(*self.chance.choice(turns)) if turns else self.plain_wrong()
        if self.keyed.kind == "rounds":
            return self.wrong_rounds()
        return self.wrong_order() if self.keyed.kind == "order" else self.wrong_choice()

    def at(self, place, text, verdict, ways):
        """Right before a part, wrong there; what comes behind is left blank or right none the less."""
        behind = self.chance.choice(["blank", "right"])
        texts, verdicts = [], []
        for index, part in enumerate(self.keyed.parts):
            now = verdict if index == place else "right" if index < place else behind
            verdicts.append(now)
            texts.append({"right": typed(part.key, habit(self.person)), "blank": ""}.get(now, text))
        return answer(texts, verdicts, [ways if index == place else set() for index in range(len(texts))])

    def turns(self):
        """The known wrong turns that can be told from what is right, at the first part they reach."""
        if self.exercise in planted.NUMBERS:
            return
        for leads in filter(None, self.keyed.turns.values()):
            place = min(leads)
            if self.is_far(number(leads[place])[0], place, but_turns=True):
                same = {("turn", name) for name, other in self.keyed.turns.items() if other.get(place) == leads[place]}
                yield place, typed(leads[place], habit(self.person)), "wrong-turn", same

    def grid(self, place):
        return Decimal(1).scaleb(number(self.keyed.parts[place].key)[0].as_tuple().exponent)

    def is_far(self, value, place, but_turns=False):
        """Whether a value lies clear of what is right and of what wrong turns lead to."""
        part, grid = self.keyed.parts[place], self.grid(place)
        half = max(part.high - number(part.key)[0], grid)
        turns = [number(leads[place])[0] for leads in self.keyed.turns.values() if place in leads]
        near = not but_turns and any(abs(value - one) <= 2 * half for one in turns)
        return not near and not part.low - half <= value <= part.high + half

    def plain_wrong(self):
        place = self.chance.randrange(len(self.keyed.parts))
        key, unit = number(self.keyed.parts[place].key)
        for tried in range(200):
            factor = Decimal(str(round(self.chance.uniform(0.3, 3.0), 3)))
            value = key * factor + (self.chance.randrange(5, 40 + tried) * self.grid(place) if abs(key) < 20 else 0)
            if self.is_far(value, place):
                return self.at(place, typed(f"{value:f} {unit}".strip(), habit(self.person)), "wrong", {("value",)})
        raise AssertionError(f"no plainly wrong value for {self.exercise}")

    def wrong_order(self):
        order, pairs = list(self.keyed.order), self.keyed.pairs
        if self.chance.random() < 0.3:
            order.reverse()
        else:
            held = {(first, then) for first, then, _ in pairs}
            swaps = [at for at, pair in enumerate(zip(order, order[1:])) if pair in held]
            at = self.chance.choice(swaps)
            order[at], order[at + 1] = order[at + 1], order[at]
        broken = [one for one in pairs if order.index(one[0]) > order.index(one[1])]
        is_unsafe = any(safety for _, _, safety in broken)
        mark = 0.0 if is_unsafe else max(0.0, 2 * (len(pairs) - len(broken)) / len(pairs) - 1)
        says = self.keyed.moves
        ways = {("pair", (says[first - 1], says[then - 1])) for first, then, _ in broken}
        return Answer([" ".join(map(str, order))], ["wrong"], [mark], [ways])

    def wrong_rounds(self):
        """Any moves but the fewest: too many of them, a wrong end, or one that hurts someone."""
        rounds = self.keyed.rounds
        while True:
            count = self.chance.randint(1, rounds.most)
            done = [self.chance.randint(1, len(self.keyed.moves)) for _ in range(count)]
            hurts = [one for one in done if one in rounds.unsafe]
            # Few do what hurts.
            if hurts and self.chance.random() < 0.8:
                continue
            is_right, over = rounds.walk(done) in rounds.right, count - rounds.fewest()
            if hurts or not is_right or over:
                break
        mark = 0.0 if hurts or not is_right else max(0.2, round(1 - 0.2 * over, 1))
        ways = {("unsafe", self.keyed.moves[one - 1]) for one in hurts}
        if not is_right:
            ways.add(("wrong-end",))
        elif not hurts:
            ways.add(("more-moves", over))
        verdict = "right" if is_right and not hurts else "wrong"
        return Answer([" ".join(map(str, done))], [verdict], [mark], [ways])

    def wrong_choice(self):
        """At least one of the questions is wrong; the others are wrong, right or blank."""
        questions = self.keyed.questions
        at = self.chance.randrange(len(questions))
        answers = []
        for place, question in enumerate(questions):
            does = "wrong" if place == at else self.chance.choice(["wrong", "right", "blank"])
            own = {"right": lambda one: answer([self.rightly(one)], ["right"]), "blank": lambda _: answer([""], ["blank"])}
            answers.append(own.get(does, self.wrong_pick)(question))
        return Answer(*(sum(lists, []) for lists in zip(*((one.texts, one.verdicts, one.marks, one.ways) for one in answers))))

    def wrong_pick(self, question):
        wrong = [one for one in range(1, len(question.options) + 1) if one not in question.right]
        picked = list(question.right)
        if self.rule.pick == "one":
            # What some of the class always pick wrongly is left to them.
            option = planted.OPTIONS.get(self.exercise, (None, None))[1]
            picked = [self.chance.choice([one for one in wrong if question.options[one - 1] != option])]
        elif wrong and (len(picked) == 1 or self.chance.random() < 0.5):
            picked.append(self.chance.choice(wrong))
        else:
            picked.remove(self.chance.choice(picked))
        return self.ticked(question, sorted(picked))

    def ticked(self, question, picked):
        """Options as ticked, at least one of them wrong or missing."""
        wrong = [one for one in picked if one not in question.right]
        missed = [one for one in question.right if one not in picked] if self.rule.pick == "some" else []
        mark = 0.0
        if self.rule.pick == "some":
            mark = max(0.0, (len(picked) - 2 * len(wrong)) / len(question.right))
        ways = {("not-picked", question.options[one - 1]) for one in missed}
        ways |= {("some turn",) if self.rule.turns else ("option", question.options[one - 1]) for one in wrong}
        verdict = "wrong-turn" if wrong and self.rule.turns else "wrong"
        return Answer([" ".join(map(str, picked))], [verdict], [mark], [ways])

    def answer(self, probability):
        """What is answered: as planted, or right with a probability."""
        own = self.planted()
        if own is not None:
            return own
        return self.right() if self.chance.random() < probability else self.wrong()
