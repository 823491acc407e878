"""What an instructor reads on the key page of a docket: the questions, what is right, where wrong turns lead."""

import re
from dataclasses import dataclass, field
from decimal import Decimal
from html.parser import HTMLParser

EMPTY = {"meta", "link", "br", "hr", "img", "input", "use", "path", "circle", "line", "rect"}
NUMBER = re.compile(r"([−-]?)(\d+(?:[ \u202f\u00a0,]\d{3}(?!\d))*(?:\.\d+)?)(.*)", re.DOTALL)


class Node:
    def __init__(self, tag, attributes):
        self.tag, self.attributes, self.inside = tag, attributes, []

    def all(self, tag, **wanted):
        """All descendants of a tag; a wanted class is one of several, `data_key=None` asks only that it is there."""
        for child in (one for one in self.inside if isinstance(one, Node)):
            if child.tag == tag and child.has(wanted):
                yield child
            yield from child.all(tag, **wanted)

    def one(self, tag, **wanted):
        found = list(self.all(tag, **wanted))
        assert len(found) == 1, f"{len(found)} times <{tag}> {wanted}, expected once"
        return found[0]

    def has(self, wanted):
        def holds(name, value):
            name = name.rstrip("_").replace("_", "-")
            is_there = name in self.attributes
            own = self.attributes.get(name) or ""
            return is_there and (value is None or own == value or (name == "class" and value in own.split()))

        return all(holds(name, value) for name, value in wanted.items())

    def text(self, but=()):
        parts = (one if isinstance(one, str) else "" if one.tag in but else one.text(but) for one in self.inside)
        return "".join(parts)


class Reader(HTMLParser):
    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.root = Node("page", {})
        self.open = [self.root]

    def handle_starttag(self, tag, attributes):
        node = Node(tag, dict(attributes))
        self.open[-1].inside.append(node)
        if tag not in EMPTY:
            self.open.append(node)

    def handle_startendtag(self, tag, attributes):
        self.open[-1].inside.append(Node(tag, dict(attributes)))

    def handle_endtag(self, tag):
        if any(one.tag == tag for one in self.open):
            while self.open.pop().tag != tag:
                pass

    def handle_data(self, data):
        self.open[-1].inside.append(data)


def page(path):
    reader = Reader()
    reader.feed(path.read_text(encoding="utf-8"))
    return reader.root


def number(text):
    """The number in front of a printed quantity, and what stands behind it."""
    match = NUMBER.match(text.strip())
    assert match, f"no number in front of `{text}`"
    sign, digits, rest = match.groups()
    return Decimal(("-" if sign else "") + re.sub(r"[ \u202f\u00a0,]", "", digits)), rest.strip()


@dataclass
class Part:
    """A number asked for: its key as printed, and the ends of what is taken as right."""

    key: str
    low: Decimal
    high: Decimal


@dataclass
class Question:
    """Options to pick from: what they say, and the numbers of those that are right."""

    options: list
    right: list


@dataclass
class Rounds:
    """What the question shows of moves that are done one at a time, and what the key says of them."""

    start: int
    most: int
    leads: dict  # by sample: the sample that each move leads to
    right: list  # samples to end with
    unsafe: list  # moves

    def walk(self, moves):
        at = self.start
        for move in moves:
            at = self.leads[at][move - 1]
        return at

    def fewest(self):
        """The least number of safe moves to a right end."""
        seen, at, count = set(), {self.start}, 0
        while not at & set(self.right):
            seen |= at
            safe = [move for move in range(len(self.leads[self.start])) if move + 1 not in self.unsafe]
            at = {self.leads[one][move] for one in at for move in safe} - seen
            count += 1
            assert at, "no way to a right end"
        return count


@dataclass
class Keyed:
    """One exercise on a key page."""

    kind: str
    title: str
    question: str
    parts: list = field(default_factory=list)
    turns: dict = field(default_factory=dict)
    questions: list = field(default_factory=list)
    moves: list = field(default_factory=list)
    order: list = field(default_factory=list)
    pairs: list = field(default_factory=list)
    rounds: object = None


def words(text):
    return " ".join(text.split())


def part(node, place):
    key = node.one("b", data_key=str(place)).text()
    says = node.one("span", data_range=str(place)).text()
    if says == "this alone":
        return Part(key, number(key)[0], number(key)[0])
    low, high = says.split(" to ")
    return Part(key, number(low)[0], number(high)[0])


def pairs(node):
    """First move, later move, whether someone is hurt otherwise."""
    found = []
    for entry in node.one("ul", class_="pairs").all("li"):
        marks = list(entry.all("b"))
        for mark, behind in zip(marks[1:], [*marks[2:], None]):
            if not mark.has({"class": "safety"}):
                is_safety = behind is not None and behind.has({"class": "safety"})
                found.append((int(marks[0].text()), int(mark.text()), is_safety))
    return found


def questions(section):
    """The questions of a choice, in order; each has an answer of its own."""
    found = []
    for place, shown in enumerate(section.all("ol", class_="shown"), 1):
        options = list(shown.all("li"))
        is_right = [one.one("b", class_="is-right").text() == "right" for one in options]
        right = [number for number, right in enumerate(is_right, 1) if right]
        # At the head stand all that are right; where one is picked, the first of them.
        head = [int(one) for one in section.one("b", data_key=str(place)).text().split(",")]
        assert head and head == right[: len(head)], f"{head} at the head, {right} beside the options"
        found.append(Question([words(one.text(but=("b", "div"))) for one in options], right))
    return found


def rounds(section):
    shown = section.one("div", class_="samples")
    leads = {
        int(one.attributes["data-sample"]): [int(to) for to in one.attributes["data-leads"].split()]
        for one in shown.all("div", data_sample=None)
    }
    right, unsafe = [], []
    for entry in section.one("ul", class_="pairs").all("li"):
        text = words(entry.text())
        if text.startswith("Right to end with"):
            right = [int(one.text()) for one in entry.all("b")]
        elif any(one.has({"class": "safety"}) for one in entry.all("b")):
            unsafe.append(int(text.split()[1]))
        else:
            sample, move, to = map(int, re.match(r"Sample (\d+), move (\d+) to sample (\d+):", text).groups())
            assert leads[sample][move - 1] == to, text
    return Rounds(int(shown.attributes["data-start"]), int(shown.attributes["data-most"]), leads, right, unsafe)


def exercise(section):
    kind = section.attributes["data-kind"]
    keyed = Keyed(kind, words(section.one("h2").text()), words(section.one("div", class_="question").text()))
    if kind == "numeric":
        count = len(list(section.all("b", data_key=None)))
        keyed.parts = [part(section, place + 1) for place in range(count)]
        for turn in section.all("div", data_turn=None):
            leads = {int(one.attributes["data-part"]) - 1: one.text() for one in turn.all("b", data_part=None)}
            keyed.turns[turn.attributes["data-turn"]] = leads
    elif kind == "order":
        keyed.moves = [words(one.text()) for one in section.one("ol", class_="shown").all("li")]
        keyed.order = [int(one) for one in section.one("b", data_key="1").text().split()]
        keyed.pairs = pairs(section)
        assert sorted(keyed.order) == list(range(1, len(keyed.moves) + 1)) and keyed.pairs
    elif kind == "rounds":
        keyed.moves = [words(one.text()) for one in section.one("ol", class_="shown").all("li")]
        keyed.order = [int(one) for one in section.one("b", data_key="1").text().split()]
        keyed.rounds = rounds(section)
        assert keyed.rounds.walk(keyed.order) in keyed.rounds.right and len(keyed.order) == keyed.rounds.fewest()
    else:
        keyed.questions = questions(section)
    return keyed


def read(path):
    """The exercises of a key page, in order."""
    sections = list(page(path).all("section", data_kind=None))
    assert sections, f"{path} has no exercises"
    return [exercise(section) for section in sections]
