//! One typed number against the key of its part.

use serde::Serialize;

use super::part::{General, PartKey};
use crate::measure::Reading;

/// What is said of one typed number.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Nothing typed.
    Blank,
    /// It could not be read: not counted.
    Unreadable,
    /// Its unit is not known: not counted.
    UnknownUnit,
    /// A wrong kind of unit: wrong.
    WrongKind,
    /// Right.
    Right,
    /// Right, given the apprentice's own earlier answer. Practice pages go on
    /// from the true value and never say it.
    Carried,
    /// A known wrong turn: the indexes of the exercise's turns.
    WrongTurn(Vec<usize>),
    /// It looks like a general way to go wrong.
    General(General),
    /// Wrong.
    Wrong,
}

impl Verdict {
    /// The verdict's name in the vectors and in the browser.
    #[must_use]
    pub fn name(&self) -> &'static str {
        match self {
            Self::Blank => "blank",
            Self::Unreadable => "unreadable",
            Self::UnknownUnit => "unknown",
            Self::WrongKind => "kind",
            Self::Right => "right",
            Self::Carried => "carried",
            Self::WrongTurn(_) => "turn",
            Self::General(_) => "general",
            Self::Wrong => "wrong",
        }
    }
}

/// Marks a reading: right first, then the nearest wrong turn, then a general
/// way to go wrong if exactly one fits.
#[must_use]
pub fn numeric(reading: &Reading, part: &PartKey) -> Verdict {
    let value = match reading {
        Reading::Blank => return Verdict::Blank,
        Reading::Unreadable { .. } => return Verdict::Unreadable,
        Reading::UnknownUnit { .. } => return Verdict::UnknownUnit,
        Reading::WrongKind { .. } => return Verdict::WrongKind,
        Reading::Value { value, .. } => *value,
    };
    if part.right.holds(value) {
        return Verdict::Right;
    }
    let near = part.turns.iter().filter(|turn| turn.lo <= value && value <= turn.hi);
    if let Some(turn) = near.min_by(|a, b| (a.at - value).abs().total_cmp(&(b.at - value).abs())) {
        return Verdict::WrongTurn(turn.because.clone());
    }
    let mut fitting = part.general.iter().filter(|general| general.lo <= value && value <= general.hi);
    match (fitting.next(), fitting.next()) {
        (Some(only), None) => Verdict::General(only.says),
        _ => Verdict::Wrong,
    }
}
