//! The words of verdicts: said once, for the terminal and the pages.

use super::numeric::Verdict;
use super::part::General;
use crate::ground::language::filled;

impl Verdict {
    /// The verdict in words.
    #[must_use]
    pub fn words(&self) -> String {
        filled(&format!("verdict.{}", self.name()), &[])
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
    pub fn words(self) -> String {
        filled(&format!("general.{}", self.name()), &[])
    }
}
