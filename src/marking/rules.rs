//! What marking needs to know of an exercise, kept apart from its bank.
//!
//! [`Rules`] hold what all dockets of a quiz share, [`super::OwnKey`] what one
//! pull adds. Both are plain data: they are stored when a quiz is issued, and
//! marking looks at nothing else, so that no edit of a bank changes a mark. The
//! steps are kept as formula texts: an answer that is carried on can be
//! anything, so its consequences cannot be tabled beforehand.

use serde::{Deserialize, Serialize};

use super::rounds::RoundsRules;
use crate::measure::DecimalMark;
use crate::programme::Pick;
use crate::prose::Text;
use crate::pull::Printer;
use crate::trade::Leeway;

/// The way of keeping rules; a change of the fields changes it.
pub(super) const WAY: u32 = 1;

/// A text as plain text and as safe HTML.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Said {
    /// For a terminal or a table.
    pub plain: String,
    /// For a page.
    pub html: String,
}

impl Said {
    /// Plain words; they are escaped for the page.
    #[must_use]
    pub fn words(plain: impl Into<String>) -> Self {
        let plain = plain.into();
        Self { html: crate::prose::escape(&plain), plain }
    }

    /// An author's text whose holes stay open.
    pub(super) fn of(text: &Text) -> Self {
        Self { plain: text.plain(&|_| None), html: text.html(&|_| None) }
    }
}

/// How one exercise is marked.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rules {
    /// The way these rules are kept: 1.
    pub way: u32,
    /// The exercise's id.
    pub exercise: String,
    /// The id of its family.
    pub family: String,
    /// The competency it exercises.
    pub competency: String,
    /// Its title.
    pub title: String,
    /// Whether a comma is the decimal mark of what is typed.
    pub decimal_comma: bool,
    /// What is asked for.
    pub asks: Asks,
}

/// What is asked for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Asks {
    /// Numbers.
    Numeric(NumericRules),
    /// Moves in order.
    Order(OrderRules),
    /// One or some of several options.
    Choose(ChooseRules),
    /// One move at a time, each seen before the next.
    Rounds(RoundsRules),
}

/// How numbers are marked.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct NumericRules {
    /// The names that formulas use.
    pub names: Vec<NameRule>,
    /// The steps to the key, in order.
    pub steps: Vec<StepRule>,
    /// The indexes of the steps asked for, ascending.
    pub answers: Vec<usize>,
    /// The SI range in which the last answer must lie.
    pub sane: (f64, f64),
    /// The wrong turns.
    pub turns: Vec<TurnRule>,
}

/// One name that formulas use.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct NameRule {
    /// The name, perhaps `row.column`.
    pub name: String,
    /// What it stands for.
    pub sort: Sort,
    /// A unit of what it measures.
    pub unit: String,
    /// Its slot among the numbers, or among the series.
    pub slot: usize,
    /// Its symbol.
    pub symbol: Option<String>,
    /// The place of its printed text.
    pub print: usize,
}

/// What a name stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Sort {
    /// A number.
    Number,
    /// A temperature reading.
    Point,
    /// Yes or no.
    Truth,
    /// A series of numbers.
    Series,
    /// A series of temperature readings.
    SeriesOfPoints,
}

/// One step.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct StepRule {
    /// Its name.
    pub name: String,
    /// Its formula as written.
    pub is: String,
    /// The unit it is given in.
    pub unit: String,
    /// Whether it is a temperature difference.
    pub difference: bool,
    /// The place it is shown to.
    pub shown_to: String,
    /// The word of its kind of quantity.
    pub quantity: String,
    /// The author's leeway, if there is one.
    pub leeway: Option<LeewayRule>,
    /// Why this step.
    pub because: Said,
}

/// A leeway: the larger of a share of the key and an amount; neither means exact.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct LeewayRule {
    /// The share of the key.
    pub share: Option<f64>,
    /// The amount in the asked unit.
    pub amount: Option<f64>,
}

impl From<Leeway> for LeewayRule {
    fn from(leeway: Leeway) -> Self {
        let (share, amount) = match leeway {
            Leeway::Exact => (None, None),
            Leeway::Relative(share) => (Some(share), None),
            Leeway::Absolute(amount) => (None, Some(amount)),
            Leeway::Larger(share, amount) => (Some(share), Some(amount)),
        };
        Self { share, amount }
    }
}

impl From<LeewayRule> for Leeway {
    fn from(rule: LeewayRule) -> Self {
        match (rule.share, rule.amount) {
            (None, None) => Self::Exact,
            (Some(share), None) => Self::Relative(share),
            (None, Some(amount)) => Self::Absolute(amount),
            (Some(share), Some(amount)) => Self::Larger(share, amount),
        }
    }
}

/// One wrong turn.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TurnRule {
    /// Its name.
    pub name: String,
    /// What to tell the person who took it.
    pub because: Said,
}

/// How an order is marked.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct OrderRules {
    /// All moves.
    pub moves: Vec<Said>,
    /// The reasons of the precedences.
    pub because: Vec<Said>,
}

/// How a choice is marked.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ChooseRules {
    /// How many are picked.
    pub pick: Pick,
    /// All options.
    pub options: Vec<OptionRule>,
    /// What is asked for, where there are several questions.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub questions: Vec<String>,
}

/// One option.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct OptionRule {
    /// Whether it is right.
    pub right: bool,
    /// The index and name of the wrong turn that it follows.
    pub turn: Option<(usize, String)>,
    /// Why, or why not.
    pub because: Said,
}

impl Rules {
    /// The decimal mark of what is typed and printed.
    #[must_use]
    pub fn printer(&self) -> Printer {
        Printer { mark: if self.decimal_comma { DecimalMark::Comma } else { DecimalMark::Point } }
    }
}
