"""Solves every numeric exercise again from its printed question alone, three pulls each.

Usage: resolve.py QUESTIONS [PROGRAMME], the path of the built helper that prints the questions, and a programme folder.
Prints what does not agree; exit status 1 if anything does not, or if an exercise has no solver.
"""

import importlib
import json
import pathlib
import subprocess
import sys

HERE = pathlib.Path(__file__).parent
sys.path.insert(0, str(HERE))
sys.dont_write_bytecode = True

from solving import SOLVERS, Question, in_unit

for path in sorted(HERE.glob("solve_*.py")):
    importlib.import_module(path.stem)


def judged(question):
    """What is wrong with the solver's answers, or nothing."""
    solver = SOLVERS.get(question["id"])
    if solver is None:
        return "no solver"
    try:
        answers = solver(Question(question["ask"], question["parts"]))
        answers = answers if isinstance(answers, (list, tuple)) else [answers]
        numbers = [in_unit(answer, part["unit"]) for answer, part in zip(answers, question["parts"], strict=True)]
    except Exception as error:  # a solver that cannot read its question is a finding like any other
        return f"{type(error).__name__}: {error}"
    for number, part, (low, high) in zip(numbers, question["parts"], question["right"]):
        slack = 1e-9 * max(abs(low), abs(high))
        if not low - slack <= number <= high + slack:
            return f"{part['label']}: solved as {number:.6g} {part['unit']}, right is {low:.6g} to {high:.6g}"
    return None


def main():
    lines = subprocess.run(sys.argv[1:], capture_output=True, text=True, check=True).stdout.splitlines()
    questions = [json.loads(line) for line in lines]
    faults = 0
    for question in questions:
        fault = judged(question)
        if fault:
            faults += 1
            print(f"{question['id']}, pull {question['pull']}: {fault}\n    {question['ask']}")
    known = {question["id"] for question in questions}
    for name in sorted(set(SOLVERS) - known):
        faults += 1
        print(f"{name}: a solver without an exercise")
    print(f"{len(known)} exercises, {len(questions)} pulls solved again, {faults} do not agree")
    return 1 if faults or not questions else 0


if __name__ == "__main__":
    sys.exit(main())
