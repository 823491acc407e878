//! What is printed: where the letter, the rules, the dots of the tint and the solid stand when nothing is wrong.

use super::shapes::Area;
use crate::picture::Grain;
use crate::picture::strokes::Point;

/// The sample's edge on the sheet.
pub(super) const FRAME: Area = Area { left: 30.0, top: 26.0, right: 392.0, bottom: 366.0 };
/// From the middle of a dot to the middle of the next one; the rows stand at 45°.
pub(super) const CELL: f64 = 19.0;
/// The column of the letter and the rules.
const COLUMN: f64 = 116.0;
/// The height of letter, rules and tint.
const UPPER: f64 = 178.0;
/// The gap between parts.
const GAP: f64 = 16.0;
/// The height and width of a letter.
const LETTER: (f64, f64) = (92.0, 96.0);

/// A letter: its name, the outline around it and the one of its hollow, both in a box of side 1.
#[derive(Debug)]
pub(super) struct Letter {
    pub name: &'static str,
    around: &'static [Point],
    hollow: &'static [Point],
}

const LETTERS: [Letter; 3] = [
    Letter {
        name: "A",
        around: &[
            (0.36, 0.0),
            (0.64, 0.0),
            (1.0, 1.0),
            (0.72, 1.0),
            (0.65, 0.78),
            (0.35, 0.78),
            (0.28, 1.0),
            (0.0, 1.0),
        ],
        hollow: &[(0.5, 0.26), (0.4, 0.57), (0.6, 0.57)],
    },
    Letter {
        name: "D",
        around: &[
            (0.04, 0.0),
            (0.52, 0.0),
            (0.704, 0.038),
            (0.859, 0.146),
            (0.963, 0.309),
            (1.0, 0.5),
            (0.963, 0.691),
            (0.859, 0.854),
            (0.704, 0.962),
            (0.52, 1.0),
            (0.04, 1.0),
        ],
        hollow: &[
            (0.32, 0.22),
            (0.32, 0.78),
            (0.5, 0.78),
            (0.584, 0.759),
            (0.656, 0.698),
            (0.703, 0.607),
            (0.72, 0.5),
            (0.703, 0.393),
            (0.656, 0.302),
            (0.584, 0.241),
            (0.5, 0.22),
        ],
    },
    Letter {
        name: "P",
        around: &[
            (0.06, 0.0),
            (0.66, 0.0),
            (0.79, 0.025),
            (0.9, 0.097),
            (0.974, 0.204),
            (1.0, 0.33),
            (0.974, 0.456),
            (0.9, 0.563),
            (0.79, 0.635),
            (0.66, 0.66),
            (0.35, 0.66),
            (0.35, 1.0),
            (0.06, 1.0),
        ],
        hollow: &[
            (0.35, 0.2),
            (0.35, 0.46),
            (0.62, 0.46),
            (0.666, 0.45),
            (0.705, 0.422),
            (0.731, 0.38),
            (0.74, 0.33),
            (0.731, 0.28),
            (0.705, 0.238),
            (0.666, 0.21),
            (0.62, 0.2),
        ],
    },
];

/// One thing in full ink: an outline, and that of its hollow if it has one.
pub(super) type Shape = Vec<Vec<Point>>;

/// A sample as the plate has it.
#[derive(Debug)]
pub(super) struct Sample {
    pub letter: &'static Letter,
    pub letter_is_left: bool,
    pub letter_box: Area,
    pub rules: Vec<Area>,
    pub tint: Area,
    pub solid: Area,
    /// The middles of the dots, row by row.
    pub dots: Vec<Point>,
    /// The radius of a dot.
    pub dot: f64,
    /// From one tooth to the next.
    pub tooth: f64,
    first_tooth: f64,
}

impl Sample {
    /// A sample by chance: its letter, which side it stands on, where the screen begins and where the teeth fall.
    pub(super) fn new(grain: &mut Grain) -> Self {
        let letter = match grain.unit() {
            part if part < 1.0 / 3.0 => &LETTERS[0],
            part if part < 2.0 / 3.0 => &LETTERS[1],
            _ => &LETTERS[2],
        };
        let letter_is_left = grain.unit() < 0.5;
        let inside = FRAME.within(14.0);
        let moved = (grain.between(-5.0, 5.0), grain.between(-6.0, 0.0));
        let (left, right) = (inside.left + moved.0, inside.right + moved.0);
        let (top, bottom) = (inside.top + moved.1, inside.bottom + moved.1);
        let lower = top + UPPER;
        let (letters, tint) = if letter_is_left {
            (left, Area { left: left + COLUMN + GAP, top, right, bottom: lower })
        } else {
            (right - COLUMN, Area { left, top, right: right - COLUMN - GAP, bottom: lower })
        };
        let rule = |from: f64, high: f64| Area {
            left: letters,
            top: top + from,
            right: letters + COLUMN,
            bottom: top + from + high,
        };
        let indent = (COLUMN - LETTER.0) / 2.0;
        let letter_box =
            Area { left: letters + indent, top, right: letters + indent + LETTER.0, bottom: top + LETTER.1 };
        let tooth = grain.between(36.0, 44.0);
        Self {
            letter,
            letter_is_left,
            letter_box,
            rules: vec![rule(113.0, 18.0), rule(145.0, 12.0), rule(171.0, 7.0)],
            tint,
            solid: Area { left, top: lower + GAP, right, bottom },
            dots: screen(tint, grain),
            dot: grain.between(6.1, 6.7),
            tooth,
            first_tooth: FRAME.top + tooth * grain.between(0.15, 0.85),
        }
    }

    /// Where the marks of the teeth stand.
    pub(super) fn teeth(&self) -> impl Iterator<Item = f64> + use<> {
        let (first, tooth) = (self.first_tooth, self.tooth);
        (0..20_u32).map(move |k| first + tooth * f64::from(k)).take_while(|y| *y < FRAME.bottom - 2.0)
    }

    /// The letter, so far down from where it is printed.
    pub(super) fn letter_at(&self, down: f64) -> Shape {
        let place = |p: &Point| {
            (
                self.letter_box.left + p.0 * self.letter_box.wide(),
                self.letter_box.top + p.1 * self.letter_box.high() + down,
            )
        };
        [self.letter.around, self.letter.hollow].map(|outline| outline.iter().map(place).collect()).into()
    }

    /// The letter and the rules.
    pub(super) fn marks(&self) -> Vec<Shape> {
        let rules = self.rules.iter().map(|rule| vec![rule.outline()]);
        std::iter::once(self.letter_at(0.0)).chain(rules).collect()
    }

    /// All that is in full ink: the letter, the rules and the solid.
    pub(super) fn full(&self) -> Vec<Shape> {
        let mut all = self.marks();
        all.push(vec![self.solid.outline()]);
        all
    }
}

/// Whole dots that fill a box, in rows at 45° that begin anywhere.
fn screen(tint: Area, grain: &mut Grain) -> Vec<Point> {
    let step = CELL / 2.0_f64.sqrt();
    let inside = tint.within(6.5);
    let (mut dots, mut row) = (Vec::new(), 0_u32);
    let mut y = inside.top + grain.between(0.0, 0.4) * step;
    let begin = grain.between(-1.0, 1.0) * step;
    while y <= inside.bottom {
        let mut x = inside.left + begin + if row.is_multiple_of(2) { 0.0 } else { step } - 2.0 * step;
        while x <= inside.right {
            if x >= inside.left {
                dots.push((x, y));
            }
            x += 2.0 * step;
        }
        y += step;
        row += 1;
    }
    dots
}
