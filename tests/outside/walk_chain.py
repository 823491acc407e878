#!/usr/bin/env python3
"""Walks the chain of an export with nothing but SHA-256, after the recipe in its README.txt.

walk_chain.py facts.jsonl           the whole: numbers run from 1 without a gap
walk_chain.py --part facts.jsonl    a part: facts about others are left out between

Prints the head and ends with 0, or prints where the chain does not hold and ends with 1.
"""

import hashlib
import json
import sys


def hash_of(fact):
    digest = hashlib.sha256()
    fields = [
        b"gearside-fact-1",
        bytes.fromhex(fact["prev"]),
        fact["seq"].to_bytes(8, "big"),
        fact["at"].encode(),
        fact["kind"].encode(),
        fact["body"].encode(),
    ]
    for field in fields:
        digest.update(len(field).to_bytes(8, "big") + field)
    return digest.hexdigest()


def walk(lines, part):
    seq, head, breaks = 0, "0" * 64, []
    for line in lines:
        fact = json.loads(line)
        follows = fact["seq"] == seq + 1
        if fact["seq"] <= seq or not (follows or part):
            breaks.append(f"fact {fact['seq']} stands behind fact {seq}")
        if follows and fact["prev"] != head:
            breaks.append(f"fact {fact['seq']} does not follow from the one before")
        if hash_of(fact) != fact["hash"]:
            breaks.append(f"fact {fact['seq']} is not what was entered")
        seq, head = fact["seq"], fact["hash"]
    return seq, head, breaks


def main():
    part = "--part" in sys.argv
    (path,) = [word for word in sys.argv[1:] if word != "--part"]
    with open(path, encoding="utf-8", newline="\n") as file:
        seq, head, breaks = walk(file, part)
    for found in breaks:
        print(found)
    print(f"head {seq}:{head}")
    return 1 if breaks else 0


if __name__ == "__main__":
    sys.exit(main())
