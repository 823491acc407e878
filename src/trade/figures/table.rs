//! The table of all figures.

use super::{Kind, Signature, Takes};

/// A number that has to be given.
const fn number(name: &'static str, unit: &'static str, least: f64, most: f64, says: &'static str) -> Takes {
    Takes { name, kind: Kind::Number { unit, least, most }, says, optional: false }
}

/// Several numbers that have to be given.
const fn series(name: &'static str, unit: &'static str, least: f64, most: f64, says: &'static str) -> Takes {
    Takes { name, kind: Kind::Series { unit, least, most }, says, optional: false }
}

/// A word that has to be given.
const fn word(name: &'static str, words: &'static [&'static str], says: &'static str) -> Takes {
    Takes { name, kind: Kind::Word(words), says, optional: false }
}

/// The same, but it may be left out.
const fn perhaps(takes: Takes) -> Takes {
    Takes { optional: true, ..takes }
}

/// All figures.
pub static FIGURES: &[Signature] = &[
    Signature {
        name: "control-chart",
        says: "A control chart: readings in order, the centre line, the limits, and thin lines at two thirds of them.",
        takes: &[
            series("readings", "", -1e6, 1e6, "the readings, in order"),
            number("centre", "", -1e6, 1e6, "where the centre line stands"),
            number("lower", "", -1e6, 1e6, "where the lower limit stands"),
            number("upper", "", -1e6, 1e6, "where the upper limit stands"),
        ],
    },
    Signature {
        name: "density-strip",
        says: "A strip of solids, tints and overprints with the density read off each.",
        takes: &[
            series("solid", "", 0.0, 3.0, "the solids of cyan, magenta, yellow and black, as many as there are"),
            perhaps(series("tint", "", 0.0, 3.0, "their tints")),
            perhaps(number("tint_value", "%", 1.0, 99.0, "the tone value of the tints on the plate")),
            perhaps(series("overprint", "", 0.0, 3.0, "magenta on cyan, yellow on cyan, yellow on magenta")),
            perhaps(number("paper", "", 0.0, 1.0, "the paper")),
        ],
    },
    Signature {
        name: "tone-curve",
        says: "A tone value curve: measured points, and the aim as a broken line.",
        takes: &[
            series("plate", "%", 0.0, 100.0, "the tone values of the plate"),
            series("printed", "%", 0.0, 100.0, "what they print"),
            perhaps(series("aim_plate", "%", 0.0, 100.0, "the tone values of the plate that the aim gives")),
            perhaps(series("aim_printed", "%", 0.0, 100.0, "what they should print")),
        ],
    },
    Signature {
        name: "tone-ramp",
        says: "A tone ramp as a loupe shows it: patches with dots of the printed area.",
        takes: &[
            series("plate", "%", 0.0, 100.0, "the tone values of the plate, five to ten"),
            series("printed", "%", 0.0, 100.0, "what they print"),
            perhaps(word("show_values", &["yes", "no"], "whether the readings stand below the patches")),
        ],
    },
    Signature {
        name: "bar-code-module",
        says: "A few bars of a bar code under a glass, printed wider or narrower than the nominal modules behind them.",
        takes: &[
            number("module", "mm", 0.25, 0.66, "The nominal width of a module; read to 0.01 mm or half a mil."),
            number(
                "growth",
                "mm",
                -0.05,
                0.12,
                "How much wider each bar is printed than nominal, half of it at each edge; below 0 it is narrower.",
            ),
            perhaps(number(
                "magnification",
                "",
                50.0,
                100.0,
                "How many times the glass magnifies when the figure is 12.7 cm (5 in) wide; 60 if left out.",
            )),
            perhaps(word("unit", &["mm", "mil"], "What the scales are in; mm if left out.")),
        ],
    },
    Signature {
        name: "dial-pair",
        says: "A pair of impression dials, numbered 0 to 10, one for the gear side and one for the operator side.",
        takes: &[
            number("gear_side", "", 0.0, 10.0, "Where the pointer stands, gear side."),
            number("operator_side", "", 0.0, 10.0, "Where the pointer stands, operator side."),
            number(
                "small_marks",
                "",
                2.0,
                10.0,
                "How many small spaces lie between two numbers: 2, 4, 5 or 10; read to half of one.",
            ),
            perhaps(number("kiss_gear_side", "", 0.0, 10.0, "Where kiss was found, gear side.")),
            perhaps(number("kiss_operator_side", "", 0.0, 10.0, "Where kiss was found, operator side.")),
        ],
    },
    Signature {
        name: "register-both-edges",
        says: "Register targets at the gear side edge and the operator side edge of the web, with one colour off the key.",
        takes: &[
            number(
                "around_gear_side",
                "mm",
                -1.0,
                1.0,
                "How far the colour lies off the key around at the gear side edge; above 0 ahead, below 0 behind.",
            ),
            number("around_operator_side", "mm", -1.0, 1.0, "The same at the operator side edge."),
            perhaps(number(
                "across",
                "mm",
                -1.0,
                1.0,
                "How far it lies off across, at both edges; below 0 toward the gear side, above 0 toward the operator side.",
            )),
            number("web_width", "mm", 150.0, 700.0, "How wide the web is, printed to 1 mm or a tenth of an inch."),
            perhaps(word(
                "unit",
                &["mm", "in"],
                "What the scale is in: mm (read to 0.05), or thousandths of an inch (read to 1).",
            )),
        ],
    },
    Signature {
        name: "register-target",
        says: "A register target under a glass, with two to six colours off the key and a scale to read them by.",
        takes: &[
            series(
                "across",
                "mm",
                -1.5,
                1.5,
                "How far each colour lies off the key across, the first is labelled 1; below 0 toward the gear side, above 0 toward the operator side.",
            ),
            series(
                "around",
                "mm",
                -1.5,
                1.5,
                "How far each colour lies off the key around; above 0 ahead, the way the web runs; below 0 behind.",
            ),
            perhaps(word(
                "unit",
                &["mm", "in"],
                "What the scale is in: mm (read to 0.05), or thousandths of an inch (read to 1).",
            )),
        ],
    },
    Signature {
        name: "unwinding-roll",
        says: "A roll of web seen from its end, with a tape for the diameter of the core and one for the outside.",
        takes: &[
            number(
                "outside",
                "mm",
                100.0,
                1000.0,
                "The outside diameter of the roll; read to 5 mm, or to a quarter of an inch.",
            ),
            number(
                "core",
                "mm",
                20.0,
                90.0,
                "The diameter of the core over its wall, where the web begins; read as the outside is.",
            ),
            perhaps(word("unit", &["mm", "in"], "What the tapes are in; mm if left out.")),
            perhaps(word(
                "web_leaves",
                &["over", "under"],
                "Whether the web leaves over the top of the roll or from under it.",
            )),
        ],
    },
    Signature {
        name: "web-path",
        says: "The web from the unwind through two to ten in-line decks to the rewind, with the lengths between them.",
        takes: &[
            number("decks", "", 2.0, 10.0, "How many decks there are."),
            series(
                "spans",
                "m",
                0.3,
                9.0,
                "The lengths of web in order: unwind to deck 1, deck 1 to 2, and so on, last deck to rewind; printed to 0.01 m, 10 mm, 0.1 ft or 1 in.",
            ),
            perhaps(word("unit", &["m", "mm", "ft", "in"], "What the lengths are printed in; m if left out.")),
            perhaps(word("dryer", &["none", "each deck"], "Whether a dryer stands after each deck.")),
            perhaps(number("first", "", 1.0, 10.0, "The number of a deck that is ringed.")),
            perhaps(number("second", "", 1.0, 10.0, "The number of another deck that is ringed.")),
        ],
    },
    Signature {
        name: "blade-on-roll",
        says: "A doctor blade on a roll: a scale for its angle to the tangent, and its tip magnified to show the wear.",
        takes: &[
            number("angle", "°", 20.0, 45.0, "The angle between the blade and the tangent of the roll."),
            word("tip", &["bevel", "lamella", "rounded"], "How the tip of the blade is made."),
            number("wear", "mm", 0.0, 0.6, "How much of the tip is worn off, along the side of the roll."),
            word("turns", &["clockwise", "counterclockwise"], "How the roll turns."),
            word(
                "side",
                &["left", "right"],
                "On which side of the roll the blade is seated; it always leads up to its holder.",
            ),
        ],
    },
    Signature {
        name: "cells-and-dot",
        says: "Anilox cells from above beside a plate dot at the same scale, with a scale bar.",
        takes: &[
            number("screen", "l/cm", 60.0, 500.0, "The screen of the anilox, counted along a row of cells."),
            number("wall", "µm", 1.0, 12.0, "How wide the wall between two cells is."),
            word(
                "angle",
                &["30", "45", "60"],
                "The angle of the engraving to the roll axis: six-sided cells at 30 and 60, four-sided at 45.",
            ),
            number("dot", "µm", 10.0, 150.0, "The diameter of the top of the plate dot."),
            perhaps(word("unit", &["µm", "mil"], "In what the scale bar is; micrometres if left out.")),
        ],
    },
    Signature {
        name: "cylinder-section",
        says: "A plate cylinder from its end with bare and pitch diameter, and its tape, plate and pitch line magnified.",
        takes: &[
            number("bare_diameter", "mm", 60.0, 320.0, "The diameter of the bare cylinder."),
            number("tape", "mm", 0.05, 0.6, "The thickness of the mounting tape."),
            number("plate", "mm", 0.7, 3.0, "The thickness of the plate, relief included."),
            number("pitch_diameter", "mm", 60.0, 330.0, "The pitch diameter of the gear."),
            perhaps(word(
                "unit",
                &["mm", "in"],
                "In what the numbers on the figure are written; millimetres if left out.",
            )),
        ],
    },
    Signature {
        name: "gear-and-repeat",
        says: "A gear to count the teeth of, every tenth one numbered, and its repeat laid flat on a ruler.",
        takes: &[
            number("teeth", "", 40.0, 160.0, "How many teeth the gear has."),
            number("pitch", "mm", 3.0, 7.0, "The circular pitch: from one tooth to the next along the pitch line."),
            perhaps(number("repeat", "mm", 100.0, 1150.0, "The length of the strip; teeth times pitch if left out.")),
            perhaps(number("labels", "", 1.0, 24.0, "How many labels lie around; a bare strip if left out.")),
            perhaps(word("unit", &["mm", "in"], "In what the pitch and the ruler are; millimetres if left out.")),
        ],
    },
    Signature {
        name: "ink-through-deck",
        says: "A print deck from the side: where the ink comes from, how the rolls turn, and the film on anilox, plate and web.",
        takes: &[
            word("deck", &["chamber", "open-blade", "two-roll"], "How the anilox gets its ink and loses the surplus."),
            number("anilox_film", "µm", 1.0, 20.0, "The film on the anilox when it comes to the plate."),
            number("plate_film", "µm", 0.5, 12.0, "The film on the plate when it comes to the web."),
            number("web_film", "µm", 0.3, 8.0, "The film on the web when it leaves."),
        ],
    },
    Signature {
        name: "print-close-up",
        says: "A print sample under a loupe, in one ink: a letter above three rules, a tint and a solid, in one of the states a printer tells by eye.",
        takes: &[
            word(
                "state",
                &[
                    "kiss",
                    "light",
                    "halo",
                    "feathered",
                    "dirty",
                    "starved",
                    "line-along",
                    "bars-across",
                    "slur",
                    "doughnut",
                    "pinholes",
                    "ghost",
                    "moire",
                ],
                "The state of the print; the figure and its words show it and never name it.",
            ),
            perhaps(number(
                "strength",
                "",
                1.0,
                3.0,
                "How far it has gone: 1 begins, 2 is plain, 3 is bad; 2 if left out, and nothing to kiss.",
            )),
        ],
    },
];
