//! The words that files choose from.

use serde::{Deserialize, Serialize};

use crate::measure::World;

/// How much of a competency an exercise asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Level {
    /// Knowing a fact or a unit.
    Recall,
    /// Working something out.
    Apply,
    /// Weighing, deciding, putting in order.
    Judge,
}

impl Level {
    /// The level in one word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Recall => "recall",
            Self::Apply => "apply",
            Self::Judge => "judge",
        }
    }
}

/// Where an exercise may be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Use {
    /// Workbooks and quizzes.
    Both,
    /// Workbooks only.
    Practice,
    /// Quizzes only.
    Quiz,
}

/// How many options of a choice are picked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Pick {
    /// Exactly one is right.
    One,
    /// Several may be right.
    Some,
}

/// Which unit worlds a programme works in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Worlds {
    /// Inches and pounds.
    Us,
    /// Metric.
    Si,
    /// Both.
    Both,
}

impl Worlds {
    /// What people call it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Us => "inch and pound",
            Self::Si => "metric",
            Self::Both => "inch and metric",
        }
    }

    /// The only world, if there is but one.
    #[must_use]
    pub fn only(self) -> Option<World> {
        match self {
            Self::Us => Some(World::Us),
            Self::Si => Some(World::Si),
            Self::Both => None,
        }
    }
}

/// How an ink dries or cures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum InkSystem {
    /// Water leaves.
    WaterBased,
    /// Solvent leaves.
    SolventBased,
    /// Light sets it.
    UvCuring,
}

impl InkSystem {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::WaterBased, Self::SolventBased, Self::UvCuring];

    /// What people call it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::WaterBased => "water-based",
            Self::SolventBased => "solvent-based",
            Self::UvCuring => "UV-curing",
        }
    }
}

/// The paper that pages are set for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Paper {
    /// A4.
    A4,
    /// US letter.
    Letter,
    /// Safe on both.
    Both,
}
