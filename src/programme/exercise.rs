//! Exercises, checked and compiled: what the files say, ready to be pulled.

use std::collections::BTreeSet;
use std::ops::Range;

use super::choices::{Level, Pick, Use};
use super::names::Names;
use super::picture::Picture;
use super::rounds::Rounds;
use crate::formula::{Compiled, Expression, parse};
use crate::ground::{Decimal, Id, Place};
use crate::measure::{Quantity, Unit};
use crate::prose::Text;
use crate::trade::{KindOfQuantity, Leeway};

/// One exercise.
#[derive(Debug)]
pub struct Exercise {
    /// Its id.
    pub id: Id,
    /// The id at the root of its `like:` chain; its own if it has none.
    pub family: Id,
    /// What it exercises.
    pub competency: Id,
    /// Its title.
    pub title: String,
    /// How much it asks for.
    pub level: Level,
    /// Where it may be used.
    pub used_in: Use,
    /// How long it should take.
    pub minutes: u32,
    /// Cautions that stand beside it.
    pub cautions: Vec<Id>,
    /// The same, and those of its competency behind them: what stands beside it
    /// where the competency's page is not at hand.
    pub cautions_alone: Vec<Id>,
    /// The question.
    pub ask: Text,
    /// Givens, steps and wrong turns; all empty where nothing is reckoned.
    pub reckoning: Reckoning,
    /// What is asked for.
    pub form: Form,
    /// The figure it shows.
    pub picture: Option<Picture>,
    /// Where it stands.
    pub place: Place,
    /// Whether its units stay as they are in programmes of either unit world.
    pub both_worlds: bool,
    /// Whether its steps may leave the range of a calculation on purpose: the
    /// working then says so.
    pub beyond_range: bool,
    /// How many exercises stand before it in its bank.
    pub number_in_bank: usize,
}

/// What an exercise asks for.
#[derive(Debug)]
pub enum Form {
    /// One or more numbers.
    Numeric(Numeric),
    /// Moves in an order that works.
    Order(Order),
    /// One or some of several options.
    Choose(Choose),
    /// One move at a time, each seen before the next.
    Rounds(Rounds),
}

impl Form {
    /// What is answered with, in one word.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Self::Numeric(_) => "numeric",
            Self::Order(_) => "order",
            Self::Choose(_) => "choose",
            Self::Rounds(_) => "rounds",
        }
    }

    /// The kind as the author wrote it.
    #[must_use]
    pub fn written(&self) -> &'static str {
        match self {
            Self::Numeric(numeric) if numeric.finds_line => "find_line",
            Self::Choose(choose) if choose.diagnoses() => "diagnose",
            other => other.word(),
        }
    }
}

/// The small calculation behind an exercise.
#[derive(Debug, Default)]
pub struct Reckoning {
    /// All names with their slots, units and symbols.
    pub names: Names,
    /// Tables that rows are pulled from.
    pub tables: Vec<Table>,
    /// What is pulled, in order.
    pub givens: Vec<Given>,
    /// What must hold of a pull.
    pub only_if: Vec<Compiled>,
    /// The steps to the key.
    pub steps: Vec<Step>,
    /// Known ways to go wrong.
    pub turns: Vec<Turn>,
    /// Names of givens and steps that are at fault: what builds on them is not
    /// told again.
    pub(super) broken: BTreeSet<String>,
}

impl Reckoning {
    /// Whether a name builds on something that is at fault already.
    pub(super) fn is_broken(&self, name: &str) -> bool {
        self.broken.contains(name.split('.').next().unwrap_or(name))
    }

    /// The texts that a column of a row may hold.
    pub(super) fn texts_of<'a>(&'a self, row: &str, column: &'a str) -> impl Iterator<Item = &'a str> {
        let table = self.givens.iter().find(|given| given.name == row).and_then(|given| match given.source {
            GivenSource::Row(table) => self.tables.get(table),
            _ => None,
        });
        let place = table.and_then(|table| table.columns.iter().position(|name| name == column));
        let cells = table.into_iter().flat_map(|table| &table.rows).filter_map(move |row| row.get(place?));
        cells.filter_map(|cell| if let TableCell::Text(text) = cell { Some(text.as_str()) } else { None })
    }

    /// Whether a formula builds on something that is at fault already.
    pub(super) fn builds_on_broken(&self, formula: &str) -> bool {
        parse(formula).is_ok_and(|parsed| parsed.names().iter().any(|name| self.is_broken(name)))
    }
}

/// A table of the exercise.
#[derive(Debug)]
pub struct Table {
    /// Its name.
    pub name: String,
    /// Its columns.
    pub columns: Vec<String>,
    /// Its rows.
    pub rows: Vec<Vec<TableCell>>,
}

/// A cell of a table.
#[derive(Debug, Clone)]
pub enum TableCell {
    /// A quantity.
    Quantity(Quantity),
    /// Plain text.
    Text(String),
    /// A series of quantities in one unit.
    Series(Vec<Quantity>),
}

/// One given.
#[derive(Debug)]
pub struct Given {
    /// Its name.
    pub name: String,
    /// Where its value comes from.
    pub source: GivenSource,
    /// Whether it stays behind the scenes: not the author's own, and nowhere in the text.
    pub hidden: bool,
}

/// Where a given's value comes from.
#[derive(Debug)]
pub enum GivenSource {
    /// An exact decimal grid.
    Grid {
        /// The first value.
        from: Decimal,
        /// The step.
        every: Decimal,
        /// How many values.
        count: u64,
        /// The unit of all of them.
        unit: &'static Unit,
    },
    /// One of a list.
    OneOf(Vec<Quantity>),
    /// A row of the table of that index.
    Row(usize),
    /// Several readings around a value.
    Series {
        /// How many.
        count: usize,
        /// The value they lie around, in `unit`.
        around: f64,
        /// Their standard deviation, in `unit`.
        spread: f64,
        /// The place they are printed to.
        shown_to: Decimal,
        /// Their unit.
        unit: &'static Unit,
    },
    /// A formula of earlier givens, printed and so rounded.
    Formula {
        /// The formula.
        formula: Compiled,
        /// The unit it is printed in.
        unit: &'static Unit,
        /// The place it is printed to.
        shown_to: Decimal,
    },
}

/// One step to the key.
#[derive(Debug)]
pub struct Step {
    /// Its name.
    pub name: String,
    /// What it is, in a few words, where it is asked for.
    pub says: Option<String>,
    /// Its formula as written.
    pub expression: Expression,
    /// The formula compiled.
    pub formula: Compiled,
    /// The unit it is given in.
    pub unit: &'static Unit,
    /// Whether it is a temperature difference: its unit then has no offset.
    pub interval: bool,
    /// The place it is shown to.
    pub shown_to: Decimal,
    /// What kind of quantity it is.
    pub kind: KindOfQuantity,
    /// The leeway that the author set instead of the kind's.
    pub leeway: Option<Leeway>,
    /// Why this step.
    pub because: Text,
}

impl Step {
    /// An SI value in the step's unit.
    #[must_use]
    pub fn in_unit(&self, si: f64) -> f64 {
        if self.interval { self.unit.difference_from_si(si) } else { self.unit.from_si(si) }
    }

    /// How far an answer may lie from the key, in the step's unit: the author's
    /// leeway or the kind's, and at least half of the shown place.
    #[must_use]
    pub fn half_width(&self, key_in_unit: f64) -> f64 {
        self.kind.allowed(self.leeway, self.unit, self.shown_to.value(), key_in_unit)
    }

    /// A value in the step's unit, in SI.
    #[must_use]
    pub fn to_si(&self, value: f64) -> f64 {
        if self.interval { value * self.unit.factor } else { self.unit.to_si(value) }
    }
}

/// A known way to go wrong: one step replaced, the rest followed.
#[derive(Debug)]
pub struct Turn {
    /// Its name.
    pub name: String,
    /// The index of the step it replaces.
    pub at: usize,
    /// The wrong formula.
    pub formula: Compiled,
    /// What to tell the person who took it.
    pub because: Text,
}

/// An exercise that asks for numbers.
#[derive(Debug)]
pub struct Numeric {
    /// The indexes of the steps asked for, ascending.
    pub answers: Vec<usize>,
    /// The SI range in which the last answer must lie, in every pull.
    pub sane: (f64, f64),
    /// The same as written.
    pub sane_text: String,
    /// Whether it shows a working, and asks first for the line of it that went wrong.
    pub finds_line: bool,
}

/// An exercise that asks for moves in order.
#[derive(Debug)]
pub struct Order {
    /// All moves.
    pub moves: Vec<Move>,
    /// What must come before what.
    pub before: Vec<Before>,
    /// The least and the greatest number of moves shown.
    pub show: (usize, usize),
    /// Whether a single valid order is meant.
    pub strict: bool,
}

impl Order {
    /// Which moves lead to which.
    #[must_use]
    pub fn paths(&self) -> Paths {
        let from = |first: usize| {
            let mut reached = vec![false; self.moves.len()];
            let mut waiting = vec![first];
            while let Some(at) = waiting.pop() {
                for edge in self.before.iter().filter(|edge| edge.first == at) {
                    if !std::mem::replace(&mut reached[edge.then], true) {
                        waiting.push(edge.then);
                    }
                }
            }
            reached
        };
        Paths { reached: (0..self.moves.len()).map(from).collect() }
    }
}

/// Which moves of an order lead to which, followed once and looked up often.
#[derive(Debug)]
pub struct Paths {
    /// For each move, whether a path leads from it to each other.
    reached: Vec<Vec<bool>>,
}

impl Paths {
    /// Whether a path of precedences leads from one move to another.
    #[must_use]
    pub fn lead(&self, first: usize, then: usize) -> bool {
        self.reached.get(first).and_then(|all| all.get(then)).is_some_and(|leads| *leads)
    }

    /// Whether more than one order of these moves is valid: two neighbours of
    /// some valid order must have no path between them.
    #[must_use]
    pub fn leave_a_choice(&self, shown: &[usize]) -> bool {
        let unrelated = |a: usize, b: usize| a != b && !self.lead(a, b) && !self.lead(b, a);
        shown.iter().any(|a| shown.iter().any(|b| unrelated(*a, *b)))
    }
}

/// One move.
#[derive(Debug)]
pub struct Move {
    /// Its name in the file; never shown.
    pub name: String,
    /// What is done.
    pub text: Text,
}

/// One precedence between two moves.
#[derive(Debug)]
pub struct Before {
    /// The index of the earlier move.
    pub first: usize,
    /// The index of the later move.
    pub then: usize,
    /// Why.
    pub because: Text,
    /// Whether someone is hurt otherwise.
    pub safety: bool,
}

/// An exercise that asks for a choice.
#[derive(Debug)]
pub struct Choose {
    /// What is asked: one question, or of a defect its cause and the first check.
    pub questions: Vec<Question>,
    /// Whether the options keep their order.
    pub keep_order: bool,
    /// All options, question by question.
    pub options: Vec<Choice>,
}

/// One question of a choice.
#[derive(Debug)]
pub struct Question {
    /// What is asked for; empty where the exercise's own question says it.
    pub label: String,
    /// How many are picked.
    pub pick: Pick,
    /// How many of its options are shown.
    pub show: usize,
    /// Which options are its own.
    pub options: Range<usize>,
}

impl Choose {
    /// The question that an option answers, by its place.
    #[must_use]
    pub fn question_of(&self, option: usize) -> Option<usize> {
        self.questions.iter().position(|question| question.options.contains(&option))
    }

    /// Whether the cause and the first check of a defect are asked for.
    #[must_use]
    pub fn diagnoses(&self) -> bool {
        self.questions.len() > 1
    }
}

/// One option of a choice.
#[derive(Debug)]
pub struct Choice {
    /// What it says.
    pub says: Says,
    /// Whether it is right.
    pub right: bool,
    /// Why, or why not.
    pub because: Text,
}

/// What an option says.
#[derive(Debug)]
pub enum Says {
    /// A text.
    Text(Text),
    /// The value of a step, perhaps after a wrong turn.
    Value {
        /// The index of the step.
        step: usize,
        /// The index of the wrong turn.
        turn: Option<usize>,
    },
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_leads_over_other_moves_and_only_forwards() {
        let edge = |(first, then)| Before { first, then, because: Text::default(), safety: false };
        let moves = (0..5).map(|index| Move { name: format!("m{index}"), text: Text::default() }).collect();
        // 0 → 1 → 2 and 0 → 3; 4 stands alone.
        let before = [(0, 1), (1, 2), (0, 3)].map(edge).into();
        let paths = Order { moves, before, show: (2, 5), strict: false }.paths();
        let leads: Vec<(usize, usize)> =
            (0..25).map(|both| (both / 5, both % 5)).filter(|(first, then)| paths.lead(*first, *then)).collect();
        assert_eq!(leads, [(0, 1), (0, 2), (0, 3), (1, 2)]);
        for (shown, free) in [(vec![2, 0, 1], false), (vec![0, 3], false), (vec![2, 3], true), (vec![0, 4], true)] {
            assert_eq!(paths.leave_a_choice(&shown), free, "{shown:?}");
        }
    }
}
