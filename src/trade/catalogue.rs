//! The catalogue: each calculation registered once.

use super::kind::KindOfQuantity;
use super::{cups, curing, distortion, film, register, repeat, tension, tone, viscosity, web};

/// What a calculation is about; the order is the order of `work`'s list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each topic's title says it: see `Topic::title`")]
pub enum Topic {
    Film,
    Repeat,
    Distortion,
    Web,
    Tension,
    Viscosity,
    Register,
    Curing,
    Tone,
}

impl Topic {
    /// The topic in words.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::Film => "Anilox and ink film",
            Self::Repeat => "Repeat and gearing",
            Self::Distortion => "Plate distortion",
            Self::Web => "Web, roll and job",
            Self::Tension => "Tension",
            Self::Viscosity => "Viscosity, dilution, blending",
            Self::Register => "Register",
            Self::Curing => "Drying and curing",
            Self::Tone => "Density and tone",
        }
    }
}

/// One thing a calculation needs.
#[derive(Debug)]
pub struct Parameter {
    /// Its name in formulas and on the command line.
    pub name: &'static str,
    /// Its symbol in mathematics: a letter, perhaps `_` and an index.
    pub symbol: &'static str,
    /// What it is, in a few words that follow "the".
    pub says: &'static str,
    /// The unit its range is given in; its dimension is what is accepted.
    pub unit: &'static str,
    /// The least value that makes sense, in `unit`.
    pub least: f64,
    /// The greatest value that makes sense, in `unit`.
    pub most: f64,
}

/// What a calculation yields.
#[derive(Debug)]
pub struct Outcome {
    /// Its symbol in mathematics.
    pub symbol: &'static str,
    /// The unit it is usually given in.
    pub unit: &'static str,
    /// What kind of quantity it is: this decides the leeway.
    pub kind: KindOfQuantity,
    /// The least result that makes sense, in `unit`.
    pub least: f64,
    /// The greatest result that makes sense, in `unit`.
    pub most: f64,
}

/// A usual way to go wrong with a calculation.
#[derive(Debug)]
pub struct UsualTurn {
    /// Its name, for `take:` in an exercise.
    pub name: &'static str,
    /// The wrong formula, over the calculation's parameters.
    pub is: &'static str,
    /// What to tell the person who took it, to "you".
    pub because: &'static str,
}

/// One calculation of the trade.
#[derive(Debug)]
pub struct Calculation {
    /// Its name in formulas and on the command line.
    pub name: &'static str,
    /// Its name in words.
    pub title: &'static str,
    /// Where it belongs.
    pub topic: Topic,
    /// What question it answers, in a sentence.
    pub says: &'static str,
    /// What it needs, in order.
    pub parameters: &'static [Parameter],
    /// What it yields.
    pub outcome: Outcome,
    /// The function: SI values in the order of `parameters`, an SI value out;
    /// not a number if the values are not as many as the parameters.
    pub compute: fn(&[f64]) -> f64,
    /// The same as formula text over the parameters, if it can be written so.
    pub expansion: Option<&'static str>,
    /// Usual ways to go wrong.
    pub wrong_turns: &'static [UsualTurn],
    /// Where it comes from.
    pub source: &'static str,
}

/// All calculations, by topic. (Each topic's file holds its own list; the flow
/// cups have a file to themselves.)
pub static CATALOGUE: &[&[Calculation]] = &[
    film::CALCULATIONS,
    repeat::CALCULATIONS,
    distortion::CALCULATIONS,
    web::CALCULATIONS,
    tension::CALCULATIONS,
    cups::CALCULATIONS,
    viscosity::CALCULATIONS,
    register::CALCULATIONS,
    curing::CALCULATIONS,
    tone::CALCULATIONS,
];

/// The calculation of that name.
///
/// ```
/// use gearside::trade::calculation;
/// assert_eq!(calculation("zahn_2").unwrap().parameters[0].unit, "s (Zahn 2)");
/// assert!(calculation("zahn").is_none());
/// ```
#[must_use]
pub fn calculation(name: &str) -> Option<&'static Calculation> {
    CATALOGUE.iter().flat_map(|list| list.iter()).find(|calculation| calculation.name == name)
}

// The entries are tables of data; these make one row of each.

pub(super) const fn parameter(
    name: &'static str,
    symbol: &'static str,
    says: &'static str,
    unit: &'static str,
    least: f64,
    most: f64,
) -> Parameter {
    Parameter { name, symbol, says, unit, least, most }
}

pub(super) const fn outcome(
    symbol: &'static str,
    unit: &'static str,
    kind: KindOfQuantity,
    least: f64,
    most: f64,
) -> Outcome {
    Outcome { symbol, unit, kind, least, most }
}

pub(super) const fn turn(name: &'static str, is: &'static str, because: &'static str) -> UsualTurn {
    UsualTurn { name, is, because }
}

// From a slice of values to a function's arguments. The formula room counts
// them beforehand; a wrong number here still must not panic.

pub(super) fn one(values: &[f64], function: fn(f64) -> f64) -> f64 {
    if let [a] = *values { function(a) } else { f64::NAN }
}

pub(super) fn two(values: &[f64], function: fn(f64, f64) -> f64) -> f64 {
    if let [a, b] = *values { function(a, b) } else { f64::NAN }
}

pub(super) fn three(values: &[f64], function: fn(f64, f64, f64) -> f64) -> f64 {
    if let [a, b, c] = *values { function(a, b, c) } else { f64::NAN }
}

pub(super) fn four(values: &[f64], function: fn(f64, f64, f64, f64) -> f64) -> f64 {
    if let [a, b, c, d] = *values { function(a, b, c, d) } else { f64::NAN }
}

pub(super) fn five(values: &[f64], function: fn(f64, f64, f64, f64, f64) -> f64) -> f64 {
    if let [a, b, c, d, e] = *values { function(a, b, c, d, e) } else { f64::NAN }
}

#[cfg(test)]
#[path = "catalogue_tests.rs"]
mod tests;
