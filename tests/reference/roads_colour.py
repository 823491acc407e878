"""Another road to colours, curves, densities and the remaining flow cups: plain floating point, over other forms of the formulas."""

import cmath
import math
from bisect import bisect_right
from decimal import Decimal
from fractions import Fraction

WHITE = (96.422, 100.0, 82.521)


def floats(function):
    """Numbers and lists of numbers as floats in, an exact fraction out."""

    def road(**arguments):
        plain = {
            name: [float(one) for one in value] if isinstance(value, list) else float(value)
            for name, value in arguments.items()
        }
        return Fraction(function(**plain))

    return road


def scale(value, white):
    """The eye's scale of one tristimulus value, −16 left in."""
    share = value / white
    return 116 * share ** (1 / 3) if share > (6 / 29) ** 3 else 16 + share * (29 / 3) ** 3


def scales(x, y, z):
    return [scale(value, white) for value, white in zip((x, y, z), WHITE)]


def lab_a(x, y):
    return 500 / 116 * (scale(x, WHITE[0]) - scale(y, WHITE[1]))


def lab_b(y, z):
    return 200 / 116 * (scale(y, WHITE[1]) - scale(z, WHITE[2]))


def hue_angle(a, b):
    return cmath.phase(complex(a, b)) % (2 * math.pi)


def hue_difference(hue, aim):
    """Turns both to points on a circle and takes the angle between."""
    return cmath.phase(cmath.exp(1j * hue) / cmath.exp(1j * aim))


def spot_tone_value(**q):
    corner = {name: scales(*(q[f"{name}_{axis}"] for axis in "xyz")) for name in ("paper", "solid", "tint")}
    return math.dist(corner["tint"], corner["paper"]) / math.dist(corner["solid"], corner["paper"])


def hue_part(a1, b1, a2, b2):
    """ΔH by the half angle between the hues."""
    one, two = complex(a1, b1), complex(a2, b2)
    if one == 0 or two == 0:
        return 0.0
    return 2 * math.sqrt(abs(one) * abs(two)) * math.sin(abs(cmath.phase(two / one)) / 2)


def delta_e_94(l1, a1, b1, l2, a2, b2):
    c1, c2 = math.hypot(a1, b1), math.hypot(a2, b2)
    return math.hypot(l2 - l1, (c2 - c1) / (1 + 0.045 * c1), hue_part(a1, b1, a2, b2) / (1 + 0.015 * c1))


def delta_e_cmc(l1, a1, b1, l2, a2, b2, lightness_weight, chroma_weight):
    c1, c2 = math.hypot(a1, b1), math.hypot(a2, b2)
    hue = math.degrees(hue_angle(a1, b1)) if c1 else 0.0
    t = (
        0.56 + abs(0.2 * math.cos(math.radians(hue + 168)))
        if 164 <= hue <= 345
        else 0.36 + abs(0.4 * math.cos(math.radians(hue + 35)))
    )
    f = (c1**4 / (c1**4 + 1900)) ** 0.5
    s_l = 0.511 if l1 < 16 else 0.040975 * l1 / (1 + 0.01765 * l1)
    s_c = 0.638 + 0.0638 * c1 / (1 + 0.0131 * c1)
    s_h = s_c * (1 - f * (1 - t))
    return math.hypot((l2 - l1) / lightness_weight / s_l, (c2 - c1) / chroma_weight / s_c, hue_part(a1, b1, a2, b2) / s_h)


def delta_e_2000(l1, a1, b1, l2, a2, b2):
    """Angles in radians; the mean hue as the bisector of two points on a circle."""
    mean = (math.hypot(a1, b1) + math.hypot(a2, b2)) / 2
    lift = 1 + 0.5 * (1 - math.sqrt(mean**7 / (mean**7 + 25**7)))
    one, two = complex(lift * a1, b1), complex(lift * a2, b2)
    c1, c2 = abs(one), abs(two)
    if c1 * c2 == 0:
        turn, h = 0.0, cmath.phase(one + two)
    else:
        h1, h2 = cmath.phase(one) % math.tau, cmath.phase(two) % math.tau
        turn, h = h2 - h1, (h1 + h2) / 2
        # A tie of exactly half a turn counts as not more than half.
        if abs(turn) > math.pi + 1e-11:
            turn -= math.copysign(math.tau, turn)
            h += math.pi if h < math.pi else -math.pi
    d_h = 2 * math.sqrt(c1 * c2) * math.sin(turn / 2)
    l, c = (l1 + l2) / 2, (c1 + c2) / 2
    degree = math.pi / 180
    t = 1 - 0.17 * math.cos(h - 30 * degree) + 0.24 * math.cos(2 * h)
    t += 0.32 * math.cos(3 * h + 6 * degree) - 0.20 * math.cos(4 * h - 63 * degree)
    s_l = 1 + 0.015 * (l - 50) ** 2 / math.sqrt(20 + (l - 50) ** 2)
    s_c, s_h = 1 + 0.045 * c, 1 + 0.015 * c * t
    around = math.degrees(h) % 360
    twist = -math.sin(60 * degree * math.exp(-(((around - 275) / 25) ** 2))) * 2 * math.sqrt(c**7 / (c**7 + 25**7))
    x, y, z = (l2 - l1) / s_l, (c2 - c1) / s_c, d_h / s_h
    return math.sqrt(x * x + y * y + z * z + twist * y * z)


def slopes(plates, prints):
    """Slopes of the monotone cubic at all steps."""
    widths = [b - a for a, b in zip(plates, plates[1:])]
    chords = [(b - a) / w for a, b, w in zip(prints, prints[1:], widths)]
    if len(chords) == 1:
        return [chords[0]] * 2

    def end(w0, w1, m0, m1):
        slope = m0 + w0 * (m0 - m1) / (w0 + w1)
        if slope * m0 <= 0:
            return 0.0
        return 3 * m0 if m0 * m1 <= 0 and abs(slope) > abs(3 * m0) else slope

    inner = []
    for k in range(1, len(plates) - 1):
        m0, m1, w0, w1 = chords[k - 1], chords[k], widths[k - 1], widths[k]
        share = (w0 + 2 * w1) / (3 * (w0 + w1))
        inner.append(0.0 if m0 * m1 <= 0 else m0 * m1 / (share * m1 + (1 - share) * m0))
    first = end(widths[0], widths[1], chords[0], chords[1])
    return [first, *inner, end(widths[-1], widths[-2], chords[-1], chords[-2])]


def printed_tone(plate, plates, prints):
    """By divided differences over the doubled ends of the segment."""
    k = min(max(bisect_right(plates, plate), 1), len(plates) - 1) - 1
    d = slopes(plates, prints)
    width, rise = plates[k + 1] - plates[k], prints[k + 1] - prints[k]
    chord = rise / width
    second, third = (chord - d[k]) / width, (d[k] + d[k + 1] - 2 * chord) / width**2
    x, y = plate - plates[k], plate - plates[k + 1]
    return prints[k] + x * (d[k] + x * (second + y * third))


def plate_tone(wanted, plates, prints):
    """By halving the whole scale."""
    low, high = plates[0], plates[-1]
    for _ in range(80):
        middle = (low + high) / 2
        if printed_tone(middle, plates, prints) < wanted:
            low = middle
        else:
            high = middle
    return low


def aim_tone(file, increase):
    """A parabola through nothing, the increase at half, and nothing."""
    return file + increase * (1 - (2 * file - 1) ** 2)


FLOAT_ROADS = {
    "lab_lightness": lambda y: scale(y, WHITE[1]) - 16,
    "lab_a": lab_a,
    "lab_b": lab_b,
    "chroma": lambda a, b: abs(complex(a, b)),
    "hue_angle": hue_angle,
    "hue_difference": hue_difference,
    "spot_tone_value": spot_tone_value,
    "grey_aim": lambda paper, share, paper_lightness, darkest, lightness: (
        paper - paper * share + paper * share * (lightness - darkest) / (paper_lightness - darkest)
    ),
    "grey_deviation": lambda a, b, aim_a, aim_b: abs(complex(a, b) - complex(aim_a, aim_b)),
    "delta_e_ab": lambda l1, a1, b1, l2, a2, b2: math.dist((l1, a1, b1), (l2, a2, b2)),
    "delta_e_94": delta_e_94,
    "delta_e_2000": delta_e_2000,
    "delta_e_cmc": delta_e_cmc,
    "printed_tone": printed_tone,
    "plate_tone": plate_tone,
    "aim_tone": aim_tone,
    "cutback": lambda file, increase, plates, prints: plate_tone(aim_tone(file, increase), plates, prints) - file,
    "held_dot": lambda plate, least: max(plate, least) if plate > 0 else 0.0,
    "lifted_dot": lambda plate, least: 1 - (1 - plate) * (1 - least) if plate > 0 else 0.0,
    "tone_between": lambda at, lower, lower_value, upper, upper_value: (
        (upper - at) * lower_value + (at - lower) * upper_value
    )
    / (upper - lower),
    "hue_error": lambda high, middle, low: 1 - (high - middle) / (high - low),
    "greyness": lambda high, low: 1 - (high - low) / high,
    "reflectance_of": lambda density: math.exp(-density * math.log(10)),
    "tone_value_from_light": lambda paper, solid, tint: 1 - (tint - solid) / (paper - solid),
    "tint_density": lambda tone_value, solid: -math.log10(tone_value * 10**-solid + 1 - tone_value),
}
ROADS = {name: floats(road) for name, road in FLOAT_ROADS.items()}

# Cups as published: mm²/s = K (t − c), or A t − B / t.
STRAIGHT = {
    "zahn_1": ("1.1", "29"), "zahn_2": ("3.5", "14"), "zahn_3": ("11.7", "7.5"), "zahn_4": ("14.8", "5"),
    "zahn_5": ("23", "0"), "shell_1": ("0.226", "13"), "shell_2": ("0.576", "5"), "shell_2_half": ("0.925", "3"),
    "shell_3": ("1.51", "2"), "shell_3_half": ("2.17", "1.5"), "shell_4": ("3.45", "1"), "shell_5": ("6.5", "1"),
    "shell_6": ("16.2", "0.5"), "ford_1": ("0.49", "35"), "ford_2": ("1.44", "18"), "ford_3": ("2.31", "6.58"),
    "ford_4": ("3.85", "4.49"), "ford_5": ("12.1", "2"),
}
BENT = {
    "din_4": ("4.57", "452"), "iso_3": ("0.443", "200"), "iso_4": ("1.37", "200"), "iso_5": ("3.28", "220"),
    "iso_6": ("6.90", "570"),
}


def cup(name, seconds):
    t = Fraction(seconds)
    if name in STRAIGHT:
        k, c = map(Fraction, STRAIGHT[name])
        return k * t / 10**6 - k * c / 10**6
    a, b = map(Fraction, BENT[name])
    return (a * t * t - b) / t / 10**6


def cup_seconds(name, viscosity):
    """Halves the interval of seconds until the viscosity is met."""
    low, high = Fraction(0), Fraction(1000)
    for _ in range(90):
        middle = (low + high) / 2
        if middle == 0 or cup(name, middle) < viscosity:
            low = middle
        else:
            high = middle
    return low


for cup_name in (*STRAIGHT, *BENT):
    ROADS[cup_name] = lambda seconds, name=cup_name: cup(name, seconds)
    ROADS[f"{cup_name}_seconds"] = lambda viscosity, name=cup_name: cup_seconds(name, viscosity)
