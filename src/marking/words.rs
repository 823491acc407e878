//! The words of verdicts: said once, for the terminal and the pages.

use serde_json::json;

use super::numeric::Verdict;
use super::part::General;

impl Verdict {
    /// The verdict in words.
    #[must_use]
    pub fn words(&self) -> &'static str {
        match self {
            Self::Blank => "Nothing typed yet.",
            Self::Unreadable => "Not read.",
            Self::UnknownUnit => "A unit not known here.",
            Self::WrongKind => "A wrong kind of unit.",
            Self::Right => "Right.",
            Self::Carried => "Right, carried on from your own earlier answer.",
            Self::WrongTurn(_) => "A wrong turn.",
            Self::General(_) | Self::Wrong => "Wrong.",
        }
    }
}

impl General {
    /// All of them.
    pub const ALL: [Self; 5] =
        [Self::PowerOfTen, Self::PercentForFraction, Self::Inverse, Self::Sign, Self::InchMillimetre];

    /// Its name in the browser's data.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::PowerOfTen => "power-of-ten",
            Self::PercentForFraction => "percent-for-fraction",
            Self::Inverse => "inverse",
            Self::Sign => "sign",
            Self::InchMillimetre => "inch-millimetre",
        }
    }

    /// What is said.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::PowerOfTen => "This looks like the right figures with the decimal mark in the wrong place.",
            Self::PercentForFraction => "This looks like a percentage given as a fraction, or the other way round.",
            Self::Inverse => "This looks like the right ratio upside down.",
            Self::Sign => "This looks like the right amount with the wrong sign.",
            Self::InchMillimetre => "This looks like inches and millimetres changed over.",
        }
    }
}

/// The words as the pages' script takes them.
#[must_use]
pub fn words_json() -> serde_json::Value {
    let general: serde_json::Map<String, serde_json::Value> =
        General::ALL.iter().map(|one| (one.name().to_owned(), json!(one.words()))).collect();
    let verdicts = [
        Verdict::Blank,
        Verdict::Unreadable,
        Verdict::UnknownUnit,
        Verdict::WrongKind,
        Verdict::Right,
        Verdict::WrongTurn(vec![]),
        Verdict::General(General::Sign),
        Verdict::Wrong,
    ];
    let verdict: serde_json::Map<String, serde_json::Value> =
        verdicts.iter().map(|one| (one.name().to_owned(), json!(one.words()))).collect();
    json!({ "verdict": verdict, "general": general })
}
