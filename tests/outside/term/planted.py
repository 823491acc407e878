"""What is planted in the class: strengths, and the wrong turns that some of it always take.

The names are invented. Where a planted wrong turn leads is worked out here from the printed question; neither the
bank nor the key page is asked.
"""

import math
import random
import re

from keys import number

SEED = "a term of ten weeks"

# Strength on the scale of the logistic: 0 has an exercise of middling easiness right every second time.
STRENGTHS = {
    "a-1": 0.9, "a-2": -0.45, "a-3": 1.8, "a-4": 0.0, "a-5": 0.45, "a-6": -1.8, "a-7": 1.35, "a-8": -0.9, "a-9": -1.35,
}
NAMES = {
    "a-1": "Ilva Tarn", "a-2": "Bero Quist", "a-3": "Mirel Aske", "a-4": "Tovo Lund-Ray", "a-5": "Senna Okari",
    "a-6": "Jorun Pell", "a-7": "Dimo Havre", "a-8": "Kaia Brannock", "a-9": "Rune Estova",
}
# Stages in which someone is much better, or worse, than elsewhere.
SKILLS = {("a-9", "ink"): 3.0, ("a-1", "ink"): -2.5}
EASINESS = (-1.6, -0.5, 0.5, 1.6)


def easiness(family):
    return random.Random(f"{SEED}: {family}").choice(EASINESS)


def chance(person, strength, family, stage):
    """The probability that someone has all of an exercise right."""
    return 1 / (1 + math.exp(-(strength + SKILLS.get((person, stage), 0.0) + easiness(family))))


def found(pattern, text):
    match = re.search(pattern, text)
    assert match, f"`{pattern}` is not in: {text}"
    return number(match[1])[0]


def carried_on(first, text):
    """What is reckoned on rightly from where a listed wrong turn leads is carried, in every pull."""
    return [first, text], ["wrong-turn", "carried"]


def zahn_dead_time_kept(question):
    """The cup's seconds, all of them, times its factor; then millipascal seconds of that."""
    seconds, density = found(r"runs out of the cup in (\S+)", question), found(r"density is (\S+)", question)
    kinematic = round(float(seconds) * 3.5, 1)
    dynamic = kinematic * float(density)
    return carried_on(f"{kinematic:.1f}", f"{dynamic:.1f}")


def ford_dead_time_kept(question):
    seconds, density = found(r"sheet for an overprint varnish says (\S+)", question), found(r"density of (\S+)", question)
    kinematic = round(float(seconds) * 3.85, 1)
    dynamic = kinematic * float(density)
    return carried_on(f"{kinematic:.1f} mm²/s", f"{dynamic:.1f} mPa·s")


def inch_wall_forgotten(question):
    """The pitch, which is asked first, taken for the opening."""
    pitch = 25_400 / float(found(r"fine dots has (\S+)", question))
    return [f"{pitch:.2f}", f"{pitch:.2f} µm"], ["right", "wrong-turn"]


def metric_wall_forgotten(question):
    """The pitch taken for the opening, and the dot compared with that."""
    pitch = round(10_000 / float(found(r"roll of (\S+)", question)), 2)
    smaller = float(found(r"dots down to (\S+)", question)) - pitch
    return carried_on(f"{pitch:.2f}", f"{smaller:.1f}")


# exercise: who, the name of the wrong turn, how it is worked out
NUMBERS = {
    "zahn-seconds-to-viscosity": ({"a-5", "a-8"}, "dead_time_kept", zahn_dead_time_kept),
    "ford-seconds-to-viscosity": ({"a-5", "a-8"}, "dead_time_kept", ford_dead_time_kept),
    "opening-against-dot": (set(STRENGTHS) - {"a-3", "a-7"}, "wall_forgotten", inch_wall_forgotten),
    "opening-against-dot-metric": (set(STRENGTHS) - {"a-3", "a-7"}, "wall_forgotten", metric_wall_forgotten),
}
# exercise: who, the wrong option that they pick
OPTIONS = {
    "after-the-emergency-stop": (
        {"a-2", "a-4", "a-5", "a-6", "a-8", "a-9"},
        "Wait until I have reset the button, then go ahead",
    ),
}
# The exercises that must come so that what is planted is asked, by week.
MUST_COME = {
    2: ["zahn-seconds-to-viscosity", "opening-against-dot"],
    3: ["after-the-emergency-stop"],
    4: ["ford-seconds-to-viscosity", "opening-against-dot-metric"],
    6: ["zahn-seconds-to-viscosity", "opening-against-dot"],
    8: ["ford-seconds-to-viscosity", "opening-against-dot-metric", "from-squeeze-to-kiss"],
    10: ["zahn-seconds-to-viscosity", "opening-against-dot"],
}
# What was taught other than planned, by week: a nip was shown early, in a week that the plan leaves for looking again.
TAUGHT = {8: ["set-kiss-impression"]}
