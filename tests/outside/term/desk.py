"""The instructor's desk: the built program, its programme folder, and the files that go out and come back."""

import csv
import datetime
import json
import re
import subprocess
from dataclasses import dataclass

import yaml

import keys

# An own plan of ten weeks.
PLAN = {
    1: ["make-the-press-safe", "act-in-an-emergency"],
    2: ["read-a-viscosity-cup", "predict-ink-film"],
    3: ["see-hazards-in-a-task", "know-the-ink-systems"],
    4: ["choose-an-anilox-roll", "adjust-ink-strength"],
    5: ["keep-the-ph", "fit-and-read-a-blade"],
    6: ["handle-waste-and-rags", "read-a-job-ticket"],
    7: ["know-the-web-path", "care-for-anilox-rolls"],
    8: ["load-an-ink-deck", "stage-and-clear-the-line"],
    9: ["plan-ink-for-a-job"],
    10: ["gauge-plates-and-tape", "match-repeat-and-gears"],
}


@dataclass
class Rule:
    """What the bank says of a choice: how many options are picked, and whether a wrong one is a known wrong turn."""

    pick: str = "one"
    turns: bool = False


@dataclass
class Docket:
    """A docket that went out: its file, what its page says of itself, and its key page."""

    path: object
    own: dict
    keyed: list

    @property
    def person(self):
        return self.own["person"]

    def returned(self, texts):
        """The file that closing the docket saves."""
        said = {name: self.own[name] for name in ("quiz", "docket", "person", "shown")}
        return json.dumps({"gearside": "return", "way": 1, **said, "answers": texts, "closed_at": ""}, ensure_ascii=False)


class Desk:
    def __init__(self, binary, folder):
        self.binary, self.folder = binary, folder

    def run(self, *arguments, status=0):
        done = subprocess.run(
            [self.binary, *map(str, arguments)], cwd=self.folder, capture_output=True, encoding="utf-8", check=False
        )
        said = f"{done.stdout[-2000:]}\n{done.stderr[-2000:]}"
        assert done.returncode == status, f"{arguments}: status {done.returncode}\n{said}"
        return done

    def json(self, *arguments, status=0):
        return json.loads(self.run(*arguments, "--json", status=status).stdout)

    def start(self, people, names):
        """A programme of one's own, with the people who keep it and its class."""
        subprocess.run([self.binary, "new", "--quiet", self.folder], check=True, capture_output=True)
        # Week 10 is this week, so that the term is the same on any day.
        today = datetime.date.today()
        starts = today - datetime.timedelta(days=today.weekday(), weeks=9)
        self.yesterday = today - datetime.timedelta(days=1)
        plan = {"starts": str(starts), "minutes": 50, "weeks": PLAN, "gap": 2, "not_again_for": 1}
        plan["classes"] = ["term class"]
        (self.folder / "curriculum/plan.yaml").write_text(yaml.safe_dump(plan, sort_keys=False), encoding="utf-8")
        since = ["--from", starts]
        self.run("record", "person", "c-1", "--role", "coordinator", *since, "--name", "Hela Vint")
        self.run("record", "person", "i-1", "--role", "instructor", *since, "--name", "Orm Teskari")
        self.run("record", "person", "s-1", "--role", "assessor", *since, "--name", "Lunde Marwick")
        self.run("record", "person", "s-2", "--role", "assessor", *since, "--name", "Petra Olvane")
        for code in people:
            self.run("record", "person", code, "--role", "apprentice", *since, "--name", names[code], "--class", "term class")

    def rules(self):
        """What the banks say of each choice."""
        raw = {}
        for path in sorted((self.folder / "question-banks").glob("*.yaml")):
            for one in yaml.safe_load(path.read_text(encoding="utf-8")).get("exercises", []):
                raw[one["id"]] = one

        def of(exercise, name):
            own = raw[exercise]
            return own[name] if name in own else of(own["like"], name) if "like" in own else None

        rules = {}
        for exercise in raw:
            options = [one for one in of(exercise, "options") or [] if not one.get("right")]
            turned = [one for one in options if "turn" in one]
            # Where only some are known wrong turns, the key page does not tell which.
            assert not turned or all("value" in one for one in options), exercise
            rules[exercise] = Rule(of(exercise, "pick") or "one", bool(turned))
        return rules

    def issue(self, week, *more):
        """Composes and issues; gives the quiz's name, its exercises, and the dockets by person."""
        made = self.json("quiz", "--week", week, *more)
        quiz = made["quiz"]
        dockets = {}
        for path in sorted((self.folder / "out/quiz" / quiz).glob("docket-*.html")):
            own = json.loads(re.search(r'id="docket">(.*?)</script>', path.read_text(encoding="utf-8"), re.DOTALL)[1])
            key = self.folder / "out/quiz" / f"{quiz}-key" / path.name.replace("docket-", "key-", 1)
            docket = Docket(path, own, keys.read(key))
            picks = made["composition"]["picks"]
            titles = [one.title for one in docket.keyed]
            assert titles == [keys.words(one["title"]) for one in picks], f"{path}: {titles}"
            dockets[docket.person] = docket
        return quiz, picks, dockets

    def came(self, quiz, name):
        """Where a return is saved."""
        path = self.folder / "returns" / quiz / name
        path.parent.mkdir(parents=True, exist_ok=True)
        return path

    def on_paper(self, quiz, docket, answers):
        """Fills in the instructor's marking table for one docket, cell by cell."""
        table = self.folder / "out/quiz" / f"{quiz}-key" / "marking.csv"
        with table.open(encoding="utf-8-sig", newline="") as file:
            rows = list(csv.DictReader(file))
        for row in rows:
            if row["docket"] == docket.own["docket"]:
                answer, place = answers[int(row["exercise"]) - 1], int(row["part"])
                is_box = row["unit"] == "number in its box"
                row["answer"] = in_its_box(answer, place) if is_box else answer.texts[place - 1]
        path = self.came(quiz, "marking.csv")
        with path.open("w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, rows[0])
            writer.writeheader()
            writer.writerows(rows)
        return path

    def marks(self, quiz):
        """The table of marks that lies with the marked dockets: by person, exercise and part."""
        with (self.folder / "out/mark" / quiz / "marks.csv").open(encoding="utf-8", newline="") as file:
            return {(row["person"], row["exercise"], int(row["part"])): row for row in csv.DictReader(file)}


def in_its_box(answer, move):
    """The number that stands in the box of a move."""
    order = answer.texts[0].split()
    return str(order.index(str(move)) + 1) if order else ""
