//! The key of one asked number: closed intervals in the asked unit.

use serde::{Deserialize, Serialize};

use crate::measure::Dimension;
use crate::programme::{Exercise, Step};
use crate::pull::Key;
use crate::trade::KindOfQuantity;

/// A relative amount that arithmetic in binary may be off by.
const DUST: f64 = 1e-9;

/// A closed interval in the asked unit; as data, its two ends.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(into = "[f64; 2]", from = "[f64; 2]")]
pub struct Interval {
    /// The lower end.
    pub lo: f64,
    /// The upper end.
    pub hi: f64,
}

impl From<Interval> for [f64; 2] {
    fn from(interval: Interval) -> Self {
        [interval.lo, interval.hi]
    }
}

impl From<[f64; 2]> for Interval {
    fn from([lo, hi]: [f64; 2]) -> Self {
        Self { lo, hi }
    }
}

impl Interval {
    /// The interval around a value, with room for the dust of binary arithmetic.
    #[must_use]
    pub fn around(value: f64, half: f64) -> Self {
        let dust = DUST * value.abs();
        Self { lo: value - half - dust, hi: value + half + dust }
    }

    /// Whether a value lies inside, ends included.
    #[must_use]
    pub fn holds(self, value: f64) -> bool {
        self.lo <= value && value <= self.hi
    }

    fn meets(self, other: Self) -> bool {
        self.lo <= other.hi && other.lo <= self.hi
    }
}

/// Where a wrong turn (or several that coincide) leads.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TurnInterval {
    /// The wrong value.
    pub at: f64,
    /// The lower end.
    pub lo: f64,
    /// The upper end.
    pub hi: f64,
    /// The indexes of the exercise's wrong turns that lead here.
    pub because: Vec<usize>,
}

/// A general way to go wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum General {
    /// Off by a power of ten.
    PowerOfTen,
    /// A percentage for a fraction, or the other way round.
    PercentForFraction,
    /// The inverse.
    Inverse,
    /// The wrong sign.
    Sign,
    /// Off by 25.4: inches for millimetres.
    InchMillimetre,
}

/// Where a general way to go wrong leads.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct GeneralInterval {
    /// Which one.
    pub says: General,
    /// The lower end.
    pub lo: f64,
    /// The upper end.
    pub hi: f64,
}

/// The key of one asked number.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PartKey {
    /// What is right.
    pub right: Interval,
    /// The wrong turns, by value.
    pub turns: Vec<TurnInterval>,
    /// The general ones.
    pub general: Vec<GeneralInterval>,
}

impl PartKey {
    /// Whether a value is right, or where one of the listed wrong turns leads.
    #[must_use]
    pub fn foresees(&self, value: f64) -> bool {
        self.right.holds(value) || self.turns.iter().any(|turn| turn.lo <= value && value <= turn.hi)
    }
}

/// How far an answer may lie from the key, in the step's unit: the author's
/// leeway or the kind's, and at least half of the shown place.
#[must_use]
pub fn half_width(step: &Step, key_in_unit: f64) -> f64 {
    step.half_width(key_in_unit)
}

/// The key of the asked step `step` in a pull.
#[must_use]
pub fn part_key(exercise: &Exercise, key: &Key, step: usize) -> PartKey {
    let asked = &exercise.reckoning.steps[step];
    let value = key.steps[step].in_unit;
    let half = half_width(asked, value);
    let right = Interval::around(value, half);
    let turn_half = (asked.shown_to.value() / 2.0).max(half / 4.0);
    let mut turns: Vec<TurnInterval> = Vec::new();
    for turn in key.turns.iter().filter(|turn| turn.step == step && turn.in_unit.is_finite()) {
        let reach = Interval::around(turn.in_unit, turn_half);
        // Within leeway of the key there is nothing to tell apart.
        if right.holds(turn.in_unit) {
            continue;
        }
        match turns.iter_mut().find(|known| same_printed(asked, known.at, turn.in_unit)) {
            Some(known) => known.because.push(turn.turn),
            None => turns.push(TurnInterval { at: turn.in_unit, lo: reach.lo, hi: reach.hi, because: vec![turn.turn] }),
        }
    }
    turns.sort_by(|a, b| a.at.total_cmp(&b.at));
    PartKey { right, turns, general: general(asked, value, half, right) }
}

/// Whether two wrong values print alike.
fn same_printed(step: &Step, a: f64, b: f64) -> bool {
    step.shown_to.nearest(a) == step.shown_to.nearest(b)
}

/// The general wrong ways: none for counts and temperatures.
fn general(step: &Step, key: f64, half: f64, right: Interval) -> Vec<GeneralInterval> {
    let dimension = step.unit.dimension;
    if matches!(step.kind, KindOfQuantity::Count | KindOfQuantity::Temperature)
        || dimension == Dimension::TEMPERATURE
        || key == 0.0
        || !key.is_finite()
    {
        return Vec::new();
    }
    let share = dimension.is_plain() && matches!(step.unit.name, "" | "%");
    let mut list = Vec::new();
    let mut add = |says: General, value: f64, half: f64| {
        let reach = Interval::around(value, half);
        if value.is_finite() && !reach.meets(right) {
            list.push(GeneralInterval { says, lo: reach.lo, hi: reach.hi });
        }
    };
    for factor in [1e-3, 1e-2, 0.1, 10.0, 100.0, 1e3] {
        #[expect(clippy::float_cmp, reason = "the factors are exactly these literals")]
        let hundred = factor == 100.0 || factor == 1e-2;
        let says = if share && hundred { General::PercentForFraction } else { General::PowerOfTen };
        add(says, key * factor, half * factor);
    }
    if dimension.is_plain() {
        let unit = step.unit.factor;
        let inverse = 1.0 / (key * unit) / unit;
        add(General::Inverse, inverse, inverse.abs() * half / key.abs());
    }
    add(General::Sign, -key, half);
    if dimension == Dimension::LENGTH {
        add(General::InchMillimetre, key * 25.4, half * 25.4);
        add(General::InchMillimetre, key / 25.4, half / 25.4);
    }
    list
}
