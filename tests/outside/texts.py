"""How long the sentences of curriculum and banks are, and how hard they read.

Usage: texts.py ROOT [--guessed]. ROOT is the project's folder. Prints the length of the sentences and six published measures (reading.py
says which, and what counts as a word) for every kind of text, every file, every lesson, the lessons of each stage and all lessons.
`--guessed` adds the words whose syllables were guessed.

Exit status 1 if
* any sentence, heading or cell of a table has over 28 words, or the sentences of a lesson, of a kind or of a file average over 16;
* a lesson has under 150 or over 350 words, its tables included;
* the lessons of a stage, or all together, are outside grade 7.5 to 9.5, which rounds to grade 8 to 9, by SMOG or by Fog;
* any kind of text is above grade 9.5 by Flesch-Kincaid, SMOG or Fog;
* a text is of no known kind, so that it would go unmeasured;
* the sums disagree with textstat, which counts and computes for itself, or the examples in reading.py do not hold.

Why these two hold the band. The measures differ by three grades on the same text, because each was fitted to other readers. With 16 words
a sentence Flesch-Kincaid gives grade 8 only from 1.47 syllables a word on, which is how reports are written, not how one says what a
hand does at a press. SMOG and Fog look for the words of three and more syllables, so they move with the words of the trade. SMOG was
fitted to readers who understand everything (McLaughlin 1969), and that is what someone needs who works at a press by what the page
says. A text on the aim by these two is easier by the others; the last lines say by how much.
"""

import collections
import doctest
import pathlib
import re
import statistics
import sys

import textstat
import textstat.backend.counts._count_syllables as textstat_syllables
import yaml

import reading

LONGEST, MEAN = 28, 16.0
BAND = (7.5, 9.5)
LESSON = (150, 350)
MEASURES = ("Flesch-Kincaid", "SMOG", "Fog", "Coleman-Liau", "ARI", "Dale-Chall")
NO_PROSE = {"is", "only_if", "sane", "between", "one_of", "every", "at_least", "leeway"}
BY_KEY = {"lesson": "lessons", "ask": "asks", "about": "about", "retention": "about", "title": "titles", "word": "titles", "seen": "defects seen"}
SAID_BY = {"options": "options", "criteria": "criteria", "cautions": "cautions", "steps": "steps' words", "states": "samples of rounds"}
SAID_BY |= dict.fromkeys(("cause", "first_check", "also"), "causes and checks")
REASON_OF = {"options": "options' reasons", "wrong_turns": "wrong turns", "before": "reasons of order", "steps": "steps' reasons", "leads": "what moves lead to"}
REASON_OF |= dict.fromkeys(("cause", "first_check", "also"), "reasons of causes and checks")


def kind_of(path):
    """Which kind of text stands at the end of a path of keys, or nothing."""
    last = path[-1]
    if "moves" in path:
        return "moves"
    if "unsafe" in path:
        return "reasons of order"
    if "not" in path:
        return "why not another defect"
    if last == "rests_on" and "pass_mark" in path:
        return "about"
    lookup = {"says": SAID_BY, "because": REASON_OF}.get(last)
    return next((kind for key, kind in lookup.items() if key in path), None) if lookup else BY_KEY.get(last)


def strings(node, path=()):
    if isinstance(node, dict):
        for name, value in node.items():
            # What is said in other languages is not measured as English.
            if name == "in" and "cautions" in path:
                continue
            yield from strings(value, (*path, str(name)))
    elif isinstance(node, list):
        for value in node:
            yield from strings(value, path)
    elif isinstance(node, str):
        yield path, node


def is_text(path, text):
    """Four words and a blank: no name, no quantity."""
    return path[-1] not in NO_PROSE and "picture" not in path and " " in text and len(reading.Sentence(text).words) > 3


def gather(root, faults):
    """All sentences by kind and by file, and those of the lessons by stage."""
    kinds, files, stages = (collections.defaultdict(kind) for kind in (list, list, dict))
    for path in sorted([*root.glob("curriculum/*.yaml"), *root.glob("question-banks/*.yaml")]):
        name = f"{path.parent.name}/{path.name}"
        content = yaml.safe_load(path.read_text(encoding="utf-8"))
        for keys, text in strings(content):
            kind = kind_of(keys)
            if kind is None:
                if is_text(keys, text):
                    faults.append(f"{name}: {'.'.join(keys)}: a text of no known kind: {text}")
                continue
            found = list(reading.sentences(text))
            kinds[kind] += found
            if kind != "titles":
                files[name] += found
            for sentence in found:
                if sentence.length > LONGEST:
                    faults.append(f"{name}: {keys[-1]}: {sentence.length} words: {sentence.text.replace(reading.MARK, '…')}")
        for competency in content.get("competencies", []) if isinstance(content, dict) else []:
            stages[path.stem][competency["id"]] = list(reading.sentences(competency["lesson"]))
            words = reading.words_in(competency["lesson"])
            if not LESSON[0] <= words <= LESSON[1]:
                faults.append(f"{name}: {competency['id']}: a lesson of {words} words")
    return kinds, files, stages


def print_row(name, passage, faults):
    """Prints the figures of a passage; gives its measures."""
    counts = reading.Counts(passage)
    measures = counts.measures()
    cells = "".join(f"{measures[m]:15.1f}" for m in MEASURES) + f"{statistics.mean(measures.values()):7.1f}"
    print(f"{name:36}{len(counts.lengths):6}{counts.mean_length:7.1f}{max(counts.lengths):5}{cells}")
    if counts.mean_length > MEAN:
        faults.append(f"{name}: {counts.mean_length:.2f} words a sentence on average")
    return measures


def hold_in_band(name, measures, faults):
    for measure in ("SMOG", "Fog"):
        if not BAND[0] <= measures[measure] <= BAND[1]:
            faults.append(f"{name}: grade {measures[measure]:.2f} by {measure}, outside {BAND[0]} to {BAND[1]}")


def report(kinds, files, stages, faults):
    print(f"{'sentences, words in each, most':42}{'':12}" + "".join(f"{m:>15}" for m in MEASURES) + f"{'mean':>7}")
    for kind, passage in sorted(kinds.items()):
        measures = print_row(kind, passage, faults)
        faults += [f"{kind}: grade {measures[m]:.1f} by {m}" for m in ("Flesch-Kincaid", "SMOG", "Fog") if measures[m] > BAND[1]]
    for name, passage in files.items():
        print_row(name, passage, faults)
    for stage, lessons in stages.items():
        for name, lesson in lessons.items():
            print_row(name, lesson, faults)
        name = f"lessons of {stage}"
        hold_in_band(name, print_row(name, sum(lessons.values(), []), faults), faults)


def is_alike(word):
    return re.fullmatch("[a-zA-Z]+", word) and not reading.is_guessed(word) and word.lower() not in reading.SPOKEN


def compare_with_textstat(passage, faults):
    """Its formulas, sentences, words and syllables on the lessons, where both take the same for a word and the dictionary has it.

    For other words it goes by hyphenation, which gives `anilox` one syllable.
    """
    # It would fetch its dictionary from a server; the same dictionary is here already.
    textstat_syllables.get_cmudict = lambda _: reading.pronunciations()
    found = [s for s in passage if s.is_measured and not s.marks and len(s.words) > 2 and all(map(is_alike, s.words))]
    plain = " ".join(" ".join(s.words) + "." for s in found)
    ours = reading.Counts(found).measures()
    theirs = {"Flesch-Kincaid": textstat.flesch_kincaid_grade(plain), "SMOG": textstat.smog_index(plain)}
    for name, value in theirs.items():
        print(f"{name} of {len(found)} sentences of the lessons: {ours[name]:.2f}, by textstat {value:.2f}")
        if abs(ours[name] - value) > 0.1:
            faults.append(f"{name}: {ours[name]:.2f} here, {value:.2f} by textstat")


def report_aim(passage, faults):
    measures = reading.Counts(passage).measures()
    for name, value in measures.items():
        where = "under" if value < BAND[0] else "over" if value > BAND[1] else "on"
        print(f"all lessons by {name:14}{value:5.1f}: {where} the aim of grade 8 to 9")
    print(f"mean of the six {statistics.mean(measures.values()):.1f}, middle {statistics.median(measures.values()):.1f}")
    hold_in_band("all lessons", measures, faults)


def main():
    root, faults = pathlib.Path(sys.argv[1]), []
    kinds, files, stages = gather(root, faults)
    if not kinds["lessons"]:
        sys.exit(f"no lessons in {root}")
    report(kinds, files, stages, faults)
    if "--guessed" in sys.argv:
        words = {w.lower() for passage in kinds.values() for s in passage for w in s.words if reading.is_guessed(w)}
        print(", ".join(f"{word} {reading.syllables(word)}" for word in sorted(words)))
    compare_with_textstat(kinds["lessons"], faults)
    report_aim(kinds["lessons"], faults)
    if doctest.testmod(reading).failed:
        faults.append("an example in reading.py does not hold")
    for fault in faults:
        print(f"FAULT {fault}")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
