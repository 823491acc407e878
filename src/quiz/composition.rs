//! A composition: what a quiz asks, and why, as plain data to be printed.

use serde::{Deserialize, Serialize};

use crate::programme::Level;

/// Why something comes: the part of the quiz it belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Group {
    /// Taught in the last two taught weeks.
    Fortnight,
    /// Taught three to six taught weeks back.
    WeeksThreeToSix,
    /// Taught before that, or failed by the class last time.
    OlderOrFailed,
}

impl Group {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Fortnight, Self::WeeksThreeToSix, Self::OlderOrFailed];

    /// The group in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Fortnight => "the last fortnight",
            Self::WeeksThreeToSix => "weeks three to six",
            Self::OlderOrFailed => "older or failed",
        }
    }

    /// About which share of the minutes it gets.
    #[must_use]
    pub fn aim(self) -> f64 {
        match self {
            Self::Fortnight => 1.0 / 2.0,
            Self::WeeksThreeToSix => 1.0 / 3.0,
            Self::OlderOrFailed => 1.0 / 6.0,
        }
    }
}

/// What a composition gives up where it must, the first first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Constraint {
    /// No two neighbours with the same formula.
    Mixing,
    /// No level with more than two thirds of the minutes.
    Levels,
    /// Each stage within 10 points of its share.
    Shares,
    /// Nothing before its gap is over.
    Gaps,
}

impl Constraint {
    /// All of them, in the order in which they are given up.
    pub const ALL: [Self; 4] = [Self::Mixing, Self::Levels, Self::Shares, Self::Gaps];

    /// The constraint in one word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Mixing => "mixing",
            Self::Levels => "levels",
            Self::Shares => "shares",
            Self::Gaps => "gaps",
        }
    }
}

/// One exercise of a quiz.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Pick {
    /// The exercise.
    pub exercise: String,
    /// Its title.
    pub title: String,
    /// Its family.
    pub family: String,
    /// Its competency.
    pub competency: String,
    /// The stage of that.
    pub stage: String,
    /// How long it should take.
    pub minutes: u32,
    /// How much it asks for.
    pub level: Level,
    /// The functions of the catalogue that its steps use, `a + b`; `None` if none.
    pub formula: Option<String>,
    /// The part of the quiz it belongs to.
    pub group: Group,
    /// Whether its gap is over, or it was failed, or never asked.
    pub due: bool,
    /// Whether the instructor asked for it.
    pub asked_for: bool,
    /// Why it is there.
    pub reason: String,
}

/// How much of the quiz a stage has.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct StageShare {
    /// The stage.
    pub stage: String,
    /// Its title.
    pub title: String,
    /// Its minutes.
    pub minutes: u32,
    /// Its share of the minutes, 0 to 1.
    pub share: f64,
    /// The share it should have among what has been taught; `None` if the plan has no shares.
    pub planned: Option<f64>,
}

/// A soft constraint that was given up.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct GaveWay {
    /// Which.
    pub constraint: Constraint,
    /// Whether it holds all the same.
    pub holds: bool,
    /// What gave way and why, in words.
    pub words: String,
}

/// What a quiz asks, and why.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Composition {
    /// The week of the plan.
    pub week: u32,
    /// How long it may take, in minutes.
    pub wanted: u32,
    /// How long it takes, in minutes.
    pub minutes: u32,
    /// The exercises, in the order in which they are asked.
    pub picks: Vec<Pick>,
    /// The stages of which something was taught, in order.
    pub shares: Vec<StageShare>,
    /// The minutes of each group.
    pub groups: Vec<(Group, u32)>,
    /// The minutes of each level.
    pub levels: Vec<(Level, u32)>,
    /// What gave way, in the order in which it was given up.
    pub gave_way: Vec<GaveWay>,
    /// Why less than nine tenths of the minutes are filled, if so.
    pub short: Option<String>,
}
