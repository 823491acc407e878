//! The figures of the trade: what each takes, in which units, within which range.
//!
//! What a figure looks like is drawn elsewhere; here stands what an exercise
//! may ask to be drawn, so that it is checked when its bank is loaded.

use std::collections::BTreeMap;

mod table;

pub use table::FIGURES;

/// What one argument of a figure may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Kind {
    /// A number, in this unit (empty for a plain number), within this range.
    Number {
        /// The unit in which it is handed over.
        unit: &'static str,
        /// The least that can be drawn.
        least: f64,
        /// The most that can be drawn.
        most: f64,
    },
    /// Several numbers, in this unit, each within this range.
    Series {
        /// The unit in which they are handed over.
        unit: &'static str,
        /// The least that can be drawn.
        least: f64,
        /// The most that can be drawn.
        most: f64,
    },
    /// One of these words.
    Word(&'static [&'static str]),
}

/// One argument of a figure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Takes {
    /// What the YAML calls it.
    pub name: &'static str,
    /// What it may be.
    pub kind: Kind,
    /// What it is, in a few words.
    pub says: &'static str,
    /// Whether it may be left out.
    pub optional: bool,
}

/// A figure that exercises can show.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Signature {
    /// What the YAML calls it: `dial-pair`.
    pub name: &'static str,
    /// What it shows, in a sentence.
    pub says: &'static str,
    /// What it takes.
    pub takes: &'static [Takes],
}

/// A figure by its name.
///
/// ```
/// use gearside::trade::figures::{FIGURES, figure};
/// assert!(FIGURES.iter().all(|known| figure(known.name) == Some(known)));
/// assert!(figure("a-sunset").is_none());
/// ```
#[must_use]
pub fn figure(name: &str) -> Option<&'static Signature> {
    FIGURES.iter().find(|figure| figure.name == name)
}

/// What a figure is given, by name; checked against what it takes before it gets here.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Arguments {
    /// Numbers, in the unit of what is taken.
    pub numbers: BTreeMap<String, f64>,
    /// Several numbers each.
    pub series: BTreeMap<String, Vec<f64>>,
    /// Words.
    pub words: BTreeMap<String, String>,
    /// For scatter that carries no meaning: another pull, another grain.
    pub grain: u64,
}

impl Arguments {
    /// A number, or nought if it is not there.
    #[must_use]
    pub fn number(&self, name: &str) -> f64 {
        self.numbers.get(name).copied().unwrap_or_default()
    }

    /// A number that may have been left out.
    #[must_use]
    pub fn maybe(&self, name: &str) -> Option<f64> {
        self.numbers.get(name).copied()
    }

    /// Several numbers, or none.
    #[must_use]
    pub fn series(&self, name: &str) -> &[f64] {
        self.series.get(name).map_or(&[], Vec::as_slice)
    }

    /// A word, or an empty one.
    #[must_use]
    pub fn word(&self, name: &str) -> &str {
        self.words.get(name).map_or("", String::as_str)
    }
}
