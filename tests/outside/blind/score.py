"""Counts how many print samples were named rightly by eye.

usage: score.py KEY.csv NAMED.csv

NAMED.csv has the columns number and state; a picture that is not named counts as wrong. Prints a table of what was
shown against what it was named, the share that is right, and the pair most often mixed up.
"""

import collections
import csv
import sys

NOT_NAMED = "(not named)"


def read(path):
    """Number and state of each row of a table."""
    with open(path, newline="", encoding="utf-8-sig") as file:
        rows = [(row["number"].strip(), row["state"].strip().lower()) for row in csv.DictReader(file)]
    twice = [number for number, times in collections.Counter(number for number, _ in rows).items() if times > 1]
    if twice:
        raise SystemExit(f"{path}: named more than once: {', '.join(twice)}")
    return dict(rows)


def main():
    """Reads both tables and prints what came of it."""
    if len(sys.argv) != 3:
        raise SystemExit(__doc__)
    key, named = read(sys.argv[1]), read(sys.argv[2])
    states = list(dict.fromkeys(sorted(key.values())))
    strange = sorted({state for state in named.values() if state and state not in states})
    if strange or set(named) - set(key):
        raise SystemExit(f"not in the key: {', '.join(strange + sorted(set(named) - set(key)))}")
    table = collections.Counter((shown, named.get(number) or NOT_NAMED) for number, shown in key.items())
    columns = states + ([NOT_NAMED] if any(pair[1] == NOT_NAMED for pair in table) else [])
    width = max(map(len, columns))
    print("shown \\ named".ljust(width + 2) + " ".join(f"{number:>3}" for number in range(1, len(columns) + 1)))
    for row, shown in enumerate(states, 1):
        cells = " ".join(f"{table[shown, name] or '.':>3}" for name in columns)
        print(f"{row:>2} {shown}".ljust(width + 2) + cells)
    if NOT_NAMED in columns:
        print(f"{len(columns)} {NOT_NAMED}")
    right = sum(times for (shown, name), times in table.items() if shown == name)
    print(f"right: {right} of {len(key)}, {100 * right / len(key):.1f} %")
    for shown in states:
        all_of = sum(times for pair, times in table.items() if pair[0] == shown)
        if table[shown, shown] < all_of:
            print(f"  {shown}: {table[shown, shown]} of {all_of}")
    pairs = collections.Counter()
    for (shown, name), times in table.items():
        if name not in (shown, NOT_NAMED):
            pairs[tuple(sorted((shown, name)))] += times
    if pairs:
        (one, other), times = min(pairs.items(), key=lambda entry: (-entry[1], entry[0]))
        both = sum(1 for shown in key.values() if shown in (one, other))
        print(f"most mixed up: {one} and {other}, {times} of {both}")
    else:
        print("none mixed up")


if __name__ == "__main__":
    main()
