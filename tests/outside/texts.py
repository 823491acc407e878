"""How long the sentences of curriculum and banks are, and how hard they read.

Usage: texts.py ROOT, the project's folder. Prints the sentences that are too long, and the figures of each file; exit
status 1 if a sentence has over 28 words, if they average over 16, or if the grade (Flesch-Kincaid) is over 9.
"""

import pathlib
import re
import sys

import yaml

LONGEST, MEAN, GRADE = 28, 16.0, 9.0
TEXTS = {"says", "because", "ask", "lesson", "about", "retention", "rests_on"}


def texts(node, key=None):
    """All author texts below a node; moves and options are texts of their own."""
    if isinstance(node, dict):
        for name, value in node.items():
            if name == "moves":
                yield from value.values()
            else:
                yield from texts(value, name)
    elif isinstance(node, list):
        for value in node:
            yield from texts(value, key)
    elif isinstance(node, str) and key in TEXTS:
        yield node


def sentences(text):
    """Words of each sentence. Tables and formulas are left out, a hole counts as one word, a list entry ends a sentence."""
    text = re.sub(r"^\s*\|.*\|\s*$", "", text, flags=re.M)
    text = re.sub(r"\$\$.*?\$\$", ".", text, flags=re.S)
    text = re.sub(r"\$[^$\n]*\$|\{\{.*?\}\}", "five", text)
    text = re.sub(r"^\s*(?:[-+]|\d+\.)\s+", ". ", text, flags=re.M)
    text = re.sub(r"(\d)[.,](\d)", r"\1\2", text)
    for sentence in re.split(r"(?<=[.!?])[\s”\"')*]+|\n\s*\n", text):
        words = re.findall(r"[A-Za-zÀ-ÿ][A-Za-zÀ-ÿ'’-]*", sentence)
        if len(words) > 1:
            yield sentence, words


def syllables(word):
    word = re.sub(r"[^a-z]", "", word.lower())
    count = len(re.findall(r"[aeiouy]+", word))
    return max(1, count - (word.endswith("e") and not word.endswith("le")))


class Figures:
    def __init__(self):
        self.sentences = self.words = self.syllables = 0

    def add(self, words):
        self.sentences += 1
        self.words += len(words)
        self.syllables += sum(map(syllables, words))

    @property
    def mean(self):
        return self.words / max(self.sentences, 1)

    @property
    def grade(self):
        return 0.39 * self.mean + 11.8 * self.syllables / max(self.words, 1) - 15.59


def main():
    root = pathlib.Path(sys.argv[1])
    total, long = Figures(), 0
    for path in sorted([*root.glob("curriculum/*.yaml"), *root.glob("question-banks/*.yaml")]):
        figures = Figures()
        for text in texts(yaml.safe_load(path.read_text(encoding="utf-8"))):
            for sentence, words in sentences(text):
                figures.add(words)
                total.add(words)
                if len(words) > LONGEST:
                    long += 1
                    print(f"{path.name}: {len(words)} words: {' '.join(sentence.split())}")
        print(f"{path.name:26} {figures.sentences:5} sentences of {figures.mean:4.1f} words, grade {figures.grade:4.1f}")
    fine = long == 0 and total.mean <= MEAN and total.grade <= GRADE
    print(f"{total.sentences} sentences, {total.mean:.1f} words on average, {long} over {LONGEST}, grade {total.grade:.1f}")
    return 0 if fine and total.sentences else 1


if __name__ == "__main__":
    sys.exit(main())
