"""Plays a term of ten weeks with the built program, from an empty folder, and sees whether its statistics give back
what was planted in a simulated class of nine.

    python tests/outside/term BINARY FILL_IN

`FILL_IN` is the node script that fills in dockets in Chromium; it does so in one of the weeks.
"""

import copy
import json
import pathlib
import random
import subprocess
import sys
import tempfile
import time

import learned
import numpy as np
import planted
from answering import FIRST, Writer
from desk import Desk
from recovered import Recovered

WEEKS = range(1, 11)
PAPER, LATE, TWICE, TWO, SET_RIGHT, CHROMIUM = 3, 4, 5, 6, 7, 8
GUESTS = 27


class Term:
    def __init__(self, desk, fill_in):
        self.desk, self.fill_in = desk, fill_in
        self.rules = desk.rules()
        self.quizzes = {}  # name: (picks, dockets, answers by person)
        self.compared = 0

    def answers(self, quiz, picks, dockets, strengths):
        """The class fills in a quiz. Chance depends on who, what and when alone, not on the numbers pulled."""
        def one(who, place, pick):
            lot = random.Random(f"{planted.SEED}: {quiz} {who} {pick['exercise']}")
            writer = Writer(who, pick, dockets[who].keyed[place], self.rules[pick["exercise"]], lot)
            return writer.answer(planted.chance(who, strengths[who], pick["family"], pick["stage"]))

        return {who: [one(who, place, pick) for place, pick in enumerate(picks)] for who in strengths}

    def issue(self, week, strengths, *more):
        must = [word for exercise in planted.MUST_COME.get(week, []) for word in ("--with", exercise)]
        quiz, picks, dockets = self.desk.issue(week, *(more or must))
        assert set(dockets) == set(strengths), f"{quiz}: dockets for {sorted(dockets)}"
        self.quizzes[quiz] = picks, dockets, self.answers(quiz, picks, dockets, strengths)
        return quiz

    def save(self, quiz, who, name=None, answers=None):
        _, dockets, own = self.quizzes[quiz]
        text = dockets[who].returned([one.texts for one in answers or own[who]])
        path = self.desk.came(quiz, name or f"return-{who}.json")
        path.write_text(text, encoding="utf-8")
        return path

    def in_chromium(self, quiz):
        _, dockets, answers = self.quizzes[quiz]
        where = {who: str(self.desk.came(quiz, f"return-{who}.json")) for who in answers}
        orders = [
            {"docket": str(dockets[who].path), "save": where[who], "answers": [one.texts for one in own]}
            for who, own in answers.items()
        ]
        subprocess.run(["node", self.fill_in], input=json.dumps(orders), encoding="utf-8", check=True)

    def mark(self, quiz, *files, taken, already=0, refused=0, status=0):
        made = self.desk.json("mark", quiz, *files, status=status)
        got = (sorted(made["taken"]), made["already"], made["refused"])
        assert got == (sorted(taken), already, refused), f"{quiz}: {got}, expected {(sorted(taken), already, refused)}"
        return made

    def week(self, week):
        if taught := planted.TAUGHT.get(week):
            self.desk.run("record", "taught", "--week", week, *taught)
        quiz = self.issue(week, planted.STRENGTHS)
        everyone, folder = list(planted.STRENGTHS), self.desk.folder / "returns" / quiz
        if week == CHROMIUM:
            self.in_chromium(quiz)
        else:
            for who in everyone:
                self.save(quiz, who)
        if week == PAPER:
            self.paper(quiz, "a-3", folder)
        late = {LATE: ["a-7"], TWO: ["a-9"]}.get(week, [])
        if week == LATE:
            (folder / "return-a-7.json").rename(self.desk.folder / "late.json")
        if week == TWICE:
            self.save(quiz, "a-2", "return-a-2 (1).json")
        if week == TWO:
            other = copy.deepcopy(self.quizzes[quiz][2]["a-9"])
            other[0].texts = ["" for _ in other[0].texts] if any(other[0].texts) else ["1" for _ in other[0].texts]
            self.save(quiz, "a-9", "return-a-9 (1).json", other)
        came = [who for who in everyone if who not in late]
        made = self.mark(quiz, folder, taken=came, refused=int(week == TWO), status=int(week == TWO))
        assert made["not_back"] == late and made["learned"]["came"] == len(came)
        if week == TWICE:
            self.mark(quiz, folder, taken=[], already=9)
        if week == TWO:
            self.mark(quiz, "--count", folder / "return-a-9.json", taken=late)
        if week == SET_RIGHT:
            self.set_right(quiz)
        if week == LATE + 1:
            self.mark(f"week-{LATE}", self.desk.folder / "late.json", taken=["a-7"])
            self.close(f"week-{LATE}", "a-7")
        if week != LATE:
            self.close(quiz, "a-1")

    def paper(self, quiz, who, folder):
        _, dockets, answers = self.quizzes[quiz]
        (folder / f"return-{who}.json").unlink()
        self.desk.on_paper(quiz, dockets[who], answers[who])

    def set_right(self, quiz):
        """The instructor overrides the mark of one answer that was plainly wrong."""
        picks, _, answers = self.quizzes[quiz]
        every = ((who, at, one) for who, own in answers.items() for at, one in enumerate(own))
        who, at, one = next(each for each in every if each[2].verdicts == ["wrong"] and each[2].mark == 0)
        fact = self.desk.marks(quiz)[who, picks[at]["exercise"], 1]["fact"]
        self.desk.run("record", "correct", fact, "mark=1", "--why", "the question could be read two ways")
        one.verdicts, one.marks, one.ways = ["right"], [1.0], [set()]

    def close(self, quiz, who):
        """No return counts any more: a changed one is refused, and changes nothing."""
        made = self.desk.json("mark", quiz, "--close")
        assert made["not_back"] == [] and made["learned"]["came"] == len(self.quizzes[quiz][2])
        other = copy.deepcopy(self.quizzes[quiz][2][who])
        other[-1].texts = ["1"] * len(other[-1].texts) if other[-1].texts != ["1"] else ["2"]
        path = self.save(quiz, who, "too-late.json", other)
        self.mark(quiz, "--count", path, taken=[], refused=1, status=1)
        path.unlink()

    def verdicts(self, quiz):
        """Every verdict and mark of every part that the program gives, against what the answers deserve."""
        picks, _, answers = self.quizzes[quiz]
        marks, wrong = self.desk.marks(quiz), []
        for who, own in answers.items():
            for pick, one in zip(picks, own):
                for part, (text, verdict, mark) in enumerate(zip(one.texts, one.verdicts, one.marks), 1):
                    row = marks.pop((who, pick["exercise"], part))
                    self.compared += 1
                    if row["verdict"] != verdict or abs(float(row["mark"]) - mark) > 1e-9:
                        got = f"{row['verdict']} {row['mark']}, expected {verdict} {mark}"
                        wrong.append(f"{quiz}, {who}, {pick['exercise']}, part {part}, `{text}`: {got}")
        wrong += [f"{quiz}: a mark of {one} that nobody earned" for one in marks]
        folder = self.desk.folder / "out/mark" / quiz
        if sorted(path.name for path in folder.glob("marked-*.html")) != sorted(f"marked-{who}.html" for who in answers):
            wrong.append(f"{quiz}: not one marked docket for each return")
        return wrong

    def people(self, got, same):
        """Totals, marks and verdicts by person, as `mark --json` tells them."""
        answers = self.quizzes[got["quiz"]][2]
        same.equal(sorted(one["person"] for one in got["people"]), sorted(answers), f"{got['quiz']}: people")
        for one in got["people"]:
            own, what = answers[one["person"]], f"{got['quiz']}, {one['person']}"
            same.equal(one["verdicts"], [each.verdict for each in own], f"{what}: verdicts")
            same.near(one["points"], sum(each.mark for each in own), f"{what}: points")
            for got_mark, each in zip(one["marks"], own, strict=True):
                same.near(got_mark, each.mark, f"{what}: mark")


def judged(term, quiz, same):
    """Three judges say what they expect of a just-competent apprentice; the pass mark is their mean sum."""
    picks, _, answers = term.quizzes[quiz]
    draw = np.random.default_rng(3)
    expected = draw.integers(4, 10, (3, len(picks))) / 10
    lines = ["exercise,expect,seen_by,date"]
    for judge, row in zip(["i-1", "s-1", "s-2"], expected):
        lines += [f"{pick['exercise']},{round(share * 100)} %,{judge},{term.desk.yesterday}" for pick, share in zip(picks, row)]
    path = term.desk.folder / "judged.csv"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    term.desk.run("record", "judged", "--csv", path)
    got = term.desk.json("mark", quiz)["learned"]["pass_mark"]
    sums = expected.sum(axis=1)
    same.near(got["cut"]["Ok"]["cut"], sums.mean(), "pass mark")
    same.near(got["cut"]["Ok"]["standard_error"]["Ok"], np.std(sums, ddof=1) / np.sqrt(3), "error of the pass mark")
    totals = [sum(one.mark for one in own) for own in answers.values()]
    same.equal(got["reached"], sum(one >= sums.mean() - 1e-9 for one in totals), "how many reach the pass mark")


def with_guests(term):
    """A second quiz of the last week, for more people: from thirty on, reliability is told."""
    draw = random.Random(f"{planted.SEED}: guests")
    strengths = {f"g-{number:02}": draw.gauss(0, 1.5) for number in range(1, GUESTS + 1)}
    path = term.desk.folder / "guests.csv"
    rows = "".join(f"{code},Guest {code},apprentice,guests\n" for code in strengths)
    path.write_text(f"code,name,role,class\n{rows}", encoding="utf-8")
    term.desk.run("record", "person", "--csv", path)
    strengths = {**planted.STRENGTHS, **strengths}
    quiz = term.issue(10, strengths, "--another")
    for who in strengths:
        term.save(quiz, who)
    term.mark(quiz, term.desk.folder / "returns" / quiz, taken=list(strengths))
    return quiz


def recovered(term, told):
    """What was planted, against what `mark --json` says."""
    found, asked, marks = Recovered(), [], []
    for week in WEEKS:
        picks, dockets, _ = term.quizzes[f"week-{week}"]
        asked += [(pick, place, dockets) for place, pick in enumerate(picks)]
        rows = {one["person"]: one["marks"] for one in told[f"week-{week}"]["people"]}
        marks += np.array([rows[who] for who in planted.STRENGTHS]).T.tolist()
    found.strengths(asked, term.rules, np.array(marks))
    ways = {exercise: ("turn", name) for exercise, (_, name, _) in planted.NUMBERS.items()}
    ways |= {exercise: ("option", option) for exercise, (_, option) in planted.OPTIONS.items()}
    over = {}
    for week in WEEKS:
        picks, _, answers = term.quizzes[f"week-{week}"]
        for place, pick in enumerate(picks):
            way = ways.get(pick["exercise"])
            if way:
                count = sum(way in own[place].all_ways() for own in answers.values())
                said = told[f"week-{week}"]["exercises"][place]["statistics"]["commonest"]
                found.wrong_turn(f"week {week}, {pick['exercise']}", said, way, count)
                if way[0] == "turn":
                    over[pick["family"], way] = over.get((pick["family"], way), 0) + count
    last = {one["family"]: one["statistics"] for one in told["week-10"]["families"]}
    for (family, way), count in over.items():
        found.wrong_turn(f"family {family} over all quizzes", last[family]["commonest"], way, count)
    return found.wrong


def covered(term):
    """What the class must have done for the term to be a check: every verdict, every kind, on the page as well."""
    wrong = []
    for name, quizzes in (("the term", term.quizzes), ("the week in Chromium", [f"week-{CHROMIUM}"])):
        kinds, verdicts = set(), set()
        for _, dockets, answers in (term.quizzes[quiz] for quiz in quizzes):
            kinds |= {one.kind for docket in dockets.values() for one in docket.keyed}
            verdicts |= {verdict for own in answers.values() for one in own for verdict in one.verdicts}
        if kinds != {"numeric", "order", "choose", "rounds"} or verdicts != {"right", *FIRST}:
            wrong.append(f"{name} has only {sorted(kinds)} with {sorted(verdicts)}")
    return wrong


def play(home, binary, fill_in):
    desk = Desk(binary, home / "programme")
    desk.start(planted.STRENGTHS, planted.NAMES)
    term, same, wrong = Term(desk, fill_in), learned.Same(), []
    for week in WEEKS:
        term.week(week)
    judged(term, "week-10", same)
    # Given back once more, from what is on record alone.
    told = {quiz: desk.json("mark", quiz)["learned"] for quiz in term.quizzes}
    wrong += recovered(term, told)
    so_far = {quiz: (picks, answers) for quiz, (picks, _, answers) in term.quizzes.items()}
    learned.families(told["week-10"]["families"], so_far, same)
    guests = with_guests(term)
    told[guests] = desk.json("mark", guests)["learned"]
    for quiz, (picks, _, answers) in term.quizzes.items():
        wrong += term.verdicts(quiz)
        learned.quiz(told[quiz], picks, answers, same)
        term.people(told[quiz], same)
    desk.run("audit")
    exercises = sum(len(picks) for picks, _, _ in term.quizzes.values())
    print(f"  {len(term.quizzes)} quizzes, {exercises} exercises, {term.compared} verdicts, {same.count} statistics compared")
    return wrong + same.wrong + covered(term)


def main():
    began = time.monotonic()
    binary, fill_in = (str(pathlib.Path(path).resolve()) for path in sys.argv[1:3])
    print("a term of ten weeks:", flush=True)
    with tempfile.TemporaryDirectory(prefix="gearside-term-") as home:
        wrong = play(pathlib.Path(home), binary, fill_in)
    for one in wrong[:40]:
        print(f"  WRONG {one}")
    print(f"  {len(wrong)} faults in {time.monotonic() - began:.0f} s")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
