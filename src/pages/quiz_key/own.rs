//! What the key of one docket says of one exercise.

use std::fmt::Write as _;

use super::table::Table;
use crate::ground::say;
use crate::ground::{Decimal, Fault};
use crate::marking::one_valid_order;
use crate::marking::{Asks, ChooseRules, Interval, NumericRules, OrderRules, OwnKey, OwnPart, Pair, Said};
use crate::measure::{Unit, number, unit};
use crate::programme::Pick;
use crate::prose::escape;
use crate::pull::Printer;
use crate::quiz::{KeptExercise, KeptPull};

/// An exercise made ready for the keys of many dockets.
#[derive(Debug)]
pub(super) struct Marked<'a> {
    pub(super) kept: &'a KeptExercise,
    /// How each number asked for is shown.
    asked: Vec<Asked>,
    printer: Printer,
}

/// How a number asked for is shown.
#[derive(Debug)]
struct Asked {
    unit: &'static Unit,
    shown_to: Decimal,
}

/// What of an exercise differs from docket to docket.
#[derive(Debug, Clone, Copy)]
pub(super) enum Own {
    /// The question.
    Ask,
    /// What the move or option at that place says.
    Says(usize),
    /// A printed text.
    Printed(usize),
    /// The key of a part.
    Key(usize),
    /// What is taken as right for a part.
    Range(usize),
    /// Where a wrong turn leads.
    Turn(usize),
    /// Why it is one.
    TurnReason(usize),
    /// Why a step is taken.
    StepReason(usize),
    /// What comes before what, as list entries.
    Pairs,
    /// A valid order, as numbers of the moves.
    Order,
    /// What each move does in each sample, as list entries.
    Leads,
    /// The fewest moves, as their numbers.
    Fewest,
    /// The numbers of the right options.
    Right,
    /// A word for the option at that place if it is right.
    IsRight(usize),
    /// Why it is right or not.
    OptionReason(usize),
}

fn unreadable(what: &str) -> Fault {
    let mend = "use the version of the program that issued the quiz";
    Fault::new("kept-rules", format!("the kept rules cannot be read: {what}"), mend)
}

impl<'a> Marked<'a> {
    /// Makes an exercise ready.
    pub(super) fn of(kept: &'a KeptExercise) -> Result<Self, Fault> {
        let asked = match &kept.rules.asks {
            Asks::Numeric(rules) => {
                rules.answers.iter().map(|step| Asked::of(rules, *step)).collect::<Result<_, _>>()?
            }
            _ => Vec::new(),
        };
        Ok(Self { kept, asked, printer: kept.rules.printer() })
    }

    /// Whether what was kept of a docket is of this exercise.
    pub(super) fn fits(&self, pull: &KeptPull) -> bool {
        let says = self.kept.shown.says;
        let shown = [pull.own.shown.len(), pull.own.says.len(), pull.ask.says_html.len()];
        pull.own.parts.len() == self.asked.len() && shown.iter().all(|count| *count == says)
    }

    /// Adds what goes into a blank.
    pub(super) fn put(&self, what: Own, pull: &KeptPull, page: &mut String) {
        let own = &pull.own;
        match (what, &self.kept.rules.asks) {
            (Own::Ask, _) => page.push_str(&pull.ask.ask_html),
            (Own::Says(place), _) => page.push_str(pull.ask.says_html.get(place).map_or("", String::as_str)),
            (Own::Printed(print), _) => put_escaped(own.printed.get(print).map_or("", String::as_str), page),
            (Own::Key(part), _) => put_escaped(own.parts.get(part).map_or("", |part| &part.printed), page),
            (Own::Range(part), _) => {
                if let Some((asked, part)) = self.asked.get(part).zip(own.parts.get(part)) {
                    put_escaped(&asked.range(part, self.printer), page);
                }
            }
            (Own::Turn(turn), Asks::Numeric(rules)) => self.put_turn(turn, rules, own, page),
            (Own::TurnReason(turn), Asks::Numeric(rules)) => {
                put_said(own.reasons.get(&turn).or_else(|| rules.turns.get(turn).map(|rule| &rule.because)), page);
            }
            (Own::StepReason(step), Asks::Numeric(rules)) => {
                put_said(own.step_reasons.get(&step).or_else(|| rules.steps.get(step).map(|rule| &rule.because)), page);
            }
            (Own::Pairs, Asks::Order(rules)) => put_pairs(rules, own, page),
            (Own::Order, Asks::Order(_)) => {
                let order = one_valid_order(&own.shown, &own.pairs);
                put_numbers(order.iter().map(|index| number_of(own, *index)), " ", page);
            }
            (Own::Leads, Asks::Rounds(rules)) => Table::of(rules, own).put(page),
            (Own::Fewest, Asks::Rounds(rules)) => {
                let start = own.rounds.as_ref().map_or(usize::MAX, |rounds| rounds.start);
                let fewest = rules.ways.shortest(start).unwrap_or_default();
                put_numbers(fewest.into_iter().map(|index| number_of(own, index)), " ", page);
            }
            (Own::Right, Asks::Choose(rules)) => put_right(rules, own, page),
            (Own::IsRight(place), Asks::Choose(rules)) => {
                page.push_str(if is_right(rules, own, place) { "right" } else { "" });
            }
            (Own::OptionReason(place), Asks::Choose(rules)) => {
                let index = own.shown.get(place).copied().unwrap_or(usize::MAX);
                put_said(own.reasons.get(&index).or_else(|| rules.options.get(index).map(|rule| &rule.because)), page);
            }
            _ => {}
        }
    }

    /// Where a wrong turn leads, for each part that it reaches.
    fn put_turn(&self, turn: usize, rules: &NumericRules, own: &OwnKey, page: &mut String) {
        let mut leads = false;
        for (place, (asked, part)) in self.asked.iter().zip(&own.parts).enumerate() {
            let Some(at) = part.intervals.turns.iter().find(|reach| reach.because.contains(&turn)) else { continue };
            if leads {
                page.push_str("; ");
            }
            if rules.answers.len() > 1 {
                put_escaped(&part.label, page);
                page.push(' ');
            }
            // Writing to a string cannot fail.
            let _ = write!(page, "<b data-part=\"{}\">", place + 1);
            put_escaped(&self.printer.quantity(asked.shown_to.nearest(at.at), asked.unit, false), page);
            page.push_str("</b>");
            leads = true;
        }
        if !leads {
            page.push_str(&say!("quiz.leads-to-no"));
        }
    }
}

impl Asked {
    fn of(rules: &NumericRules, step: usize) -> Result<Self, Fault> {
        let rule = rules.steps.get(step).ok_or_else(|| unreadable("an answer asks for a step that is not there"))?;
        let unit = unit(&rule.unit).map_err(|unknown| unreadable(&format!("there is no unit `{}`", unknown.text)))?;
        let shown_to = Decimal::parse(&rule.shown_to);
        let shown_to = shown_to.ok_or_else(|| unreadable(&format!("`{}` has no place it is shown to", rule.name)))?;
        Ok(Self { unit, shown_to })
    }

    /// What is taken as right, in words.
    fn range(&self, part: &OwnPart, printer: Printer) -> String {
        if part.half_width <= 0.0 {
            return say!("quiz.this-alone");
        }
        let (low, high) = inside(part.intervals.right, self.shown_to.finer());
        say!("quiz.to", first = number(low, printer.mark), last = printer.quantity(high, self.unit, false))
    }
}

/// The ends of an interval on a grid, rounded inwards: whoever reads them must
/// not take for right what is not.
fn inside(right: Interval, grid: Decimal) -> (Decimal, Decimal) {
    let step = grid.value();
    let pulled = |end: f64, by: f64| {
        let nearest = grid.nearest(end);
        if right.holds(nearest.value()) { nearest } else { grid.nearest(end + by) }
    };
    (pulled(right.lo, step), pulled(right.hi, -step))
}

/// The number under which a move is shown.
pub(super) fn number_of(own: &OwnKey, index: usize) -> usize {
    own.shown.iter().position(|shown| *shown == index).map_or(0, |place| place + 1)
}

/// The numbers of what is right, question by question; where one is picked and several are right, the first stands out.
fn put_right(rules: &ChooseRules, own: &OwnKey, page: &mut String) {
    let only = [own.shown.len()];
    let counts = if own.counts.is_empty() { &only[..] } else { &own.counts };
    let mut from = 0;
    for (place, count) in counts.iter().enumerate() {
        if let Some(label) = rules.questions.get(place) {
            put_escaped(if place > 0 { "; " } else { "" }, page);
            put_escaped(&label.to_lowercase(), page);
            page.push(' ');
        }
        let right: Vec<usize> =
            (0..*count).filter(|option| is_right(rules, own, from + option)).map(|option| option + 1).collect();
        let first = if rules.pick == Pick::One { right.len().min(1) } else { right.len() };
        // Writing to a string cannot fail.
        let _ = write!(page, "<b data-key=\"{}\">", place + 1);
        put_numbers(right[..first].iter().copied(), ", ", page);
        page.push_str("</b>");
        for more in &right[first..] {
            let _ = write!(page, " {} <b>{more}</b>", say!("quiz.or"));
        }
        from += count;
    }
}

fn is_right(rules: &ChooseRules, own: &OwnKey, place: usize) -> bool {
    own.shown.get(place).and_then(|index| rules.options.get(*index)).is_some_and(|option| option.right)
}

/// What comes before what, as list entries: pairs that have a reason of their
/// own, then those that follow from them, which would only say it all again.
fn put_pairs(rules: &OrderRules, own: &OwnKey, page: &mut String) {
    let (follow, own_reason): (Vec<&Pair>, Vec<&Pair>) = own.pairs.iter().partition(|pair| follows(pair, own));
    own_reason.into_iter().for_each(|pair| put_pair(pair, rules, own, page));
    for (place, index) in own.shown.iter().enumerate() {
        let then: Vec<&Pair> = follow.iter().copied().filter(|pair| pair.first == *index).collect();
        if then.is_empty() {
            continue;
        }
        // Writing to a string cannot fail.
        let _ = write!(page, "<li>{} ", say!("quiz.and-so-before", first = format_args!("<b>{}</b>", place + 1)));
        for (count, pair) in then.iter().enumerate() {
            let comma = if count > 0 { ", " } else { "" };
            let _ = write!(page, "{comma}<b>{}</b>{}", number_of(own, pair.then), safety(pair));
        }
        page.push_str(".</li>");
    }
}

/// Whether a pair has no reason of its own, but follows from two others.
fn follows(pair: &Pair, own: &OwnKey) -> bool {
    let is_pair = |first: usize, then: usize| own.pairs.iter().any(|one| one.first == first && one.then == then);
    let between = |one: &usize| is_pair(pair.first, *one) && is_pair(*one, pair.then);
    pair.because.len() > 1 && own.shown.iter().any(between)
}

fn safety(pair: &Pair) -> String {
    if pair.safety { format!(" <b class=\"safety\">({})</b>", say!("quiz.safety")) } else { String::new() }
}

/// A pair as a list entry, with the reasons along the way from one to the other.
fn put_pair(pair: &Pair, rules: &OrderRules, own: &OwnKey, page: &mut String) {
    let (first, then) = (number_of(own, pair.first), number_of(own, pair.then));
    let _ = write!(page, "<li><b>{first}</b> {} <b>{then}</b>{}:", say!("key.before"), safety(pair));
    for edge in &pair.because {
        page.push(' ');
        put_said(own.reasons.get(edge).or_else(|| rules.because.get(*edge)), page);
    }
    page.push_str("</li>");
}

pub(super) fn put_said(said: Option<&Said>, page: &mut String) {
    page.push_str(said.map_or("", |said| said.html.trim()));
}

fn put_numbers(numbers: impl Iterator<Item = usize>, joint: &str, page: &mut String) {
    for (place, number) in numbers.enumerate() {
        let _ = write!(page, "{}{number}", if place > 0 { joint } else { "" });
    }
}

fn put_escaped(text: &str, page: &mut String) {
    if text.contains(['<', '>', '&', '"', '\'']) { page.push_str(&escape(text)) } else { page.push_str(text) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ends_of_what_is_right_are_rounded_inwards() {
        // lower end, upper end, grid, the two ends as printed
        let table = [
            (0.7938, 0.8262, "0.001", "0.794", "0.826"),
            (0.7932, 0.8268, "0.001", "0.794", "0.826"),
            (0.79, 0.83, "0.001", "0.790", "0.830"),
            (-0.5, 0.5, "0.1", "-0.5", "0.5"),
            (-1.26, -1.14, "0.1", "-1.2", "-1.2"),
            (1249.5, 1250.5, "0.1", "1249.5", "1250.5"),
        ];
        for (lo, hi, grid, low, high) in table {
            let grid = Decimal::parse(grid).expect("a grid");
            let (a, b) = inside(Interval { lo, hi }, grid);
            assert_eq!((a.to_string().as_str(), b.to_string().as_str()), (low, high), "{lo} to {hi}");
        }
    }
}
