//! What the figure of a pull is given.

use super::chance::{Chance, Root};
use super::figures::Figures;
use crate::formula::Stack;
use crate::programme::{Argument, Exercise, Picture};
use crate::trade::figures::{Arguments, Kind, Signature};

/// The figure that a pull shows, before it is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Pictured {
    /// Which one.
    pub figure: &'static Signature,
    /// What it is given.
    pub arguments: Arguments,
}

impl Pictured {
    /// Whether two figures show the same, whatever their grain.
    #[must_use]
    pub fn looks_like(&self, other: &Self) -> bool {
        let (own, other) = (&self.arguments, &other.arguments);
        own.numbers == other.numbers && own.series == other.series && own.words == other.words
    }

    /// What it is given and could not draw: the argument's name, and the value.
    pub fn beyond(&self) -> impl Iterator<Item = (&'static str, f64)> + '_ {
        self.figure.takes.iter().flat_map(|takes| {
            let (values, least, most): (&[f64], f64, f64) = match takes.kind {
                Kind::Number { least, most, .. } => {
                    (self.arguments.numbers.get(takes.name).map_or(&[], std::slice::from_ref), least, most)
                }
                Kind::Series { least, most, .. } => (self.arguments.series(takes.name), least, most),
                Kind::Word(_) => (&[], 0.0, 0.0),
            };
            let fits = move |value: &f64| value.is_finite() && (least..=most).contains(value);
            values.iter().filter(move |value| !fits(value)).map(|value| (takes.name, *value))
        })
    }
}

/// What the figure of an exercise is given in a pull; `None` if it has none.
#[must_use]
pub fn pictured(exercise: &Exercise, figures: &Figures, seed: &str, number: u64) -> Option<Pictured> {
    let root = Root { exercise: exercise.id.as_str(), seed, number, try_number: 0 };
    exercise.picture.as_ref().map(|picture| drawn_from(picture, figures, Chance::new(root, ":grain")))
}

/// What a figure is given, with its grain from that stream of chance.
pub(super) fn drawn_from(picture: &Picture, figures: &Figures, mut chance: Chance) -> Pictured {
    let values = figures.values();
    let mut stack = Stack::default();
    let mut arguments = Arguments { grain: chance.below(u64::MAX), ..Arguments::default() };
    for (takes, argument) in &picture.arguments {
        let name = takes.name.to_owned();
        match argument {
            Argument::Number(formula, unit) => {
                arguments.numbers.insert(name, unit.from_si(formula.evaluate(&values, &mut stack)));
            }
            Argument::Numbers(formulas, unit) => {
                let list = formulas.iter().map(|one| unit.from_si(one.evaluate(&values, &mut stack))).collect();
                arguments.series.insert(name, list);
            }
            Argument::Series(slot, unit) => {
                let list = figures.series.get(*slot).map(Vec::as_slice).unwrap_or_default();
                arguments.series.insert(name, list.iter().map(|si| unit.from_si(*si)).collect());
            }
            Argument::Word(word) => drop(arguments.words.insert(name, word.clone())),
            Argument::Text(print) => {
                arguments.words.insert(name, figures.printed.get(*print).cloned().unwrap_or_default());
            }
        }
    }
    Pictured { figure: picture.figure, arguments }
}
