//! The numbers of one pull: every given as printed, every step reckoned.

use super::chance::{Chance, Root};
use super::printing::Printer;
use crate::formula::{Stack, Values};
use crate::ground::{Decimal, Fault};
use crate::measure::{Quantity, Unit};
use crate::programme::{Exercise, Given, GivenSource, Reckoning, TableCell};

/// How often a pull is tried until `only_if` holds.
const MOST_TRIES: u32 = 1000;

/// The numbers of one pull.
#[derive(Debug, Clone, Default)]
pub struct Figures {
    /// SI values of givens and steps, by slot.
    pub scalars: Vec<f64>,
    /// SI readings of the series, by slot.
    pub series: Vec<Vec<f64>>,
    /// The printed texts of all names, in print order.
    pub printed: Vec<String>,
}

/// Pulls the numbers of an exercise.
///
/// # Errors
/// A fault if no try in a thousand meets `only_if`, or if a value is not finite.
pub fn figures(exercise: &Exercise, seed: &str, number: u64, printer: Printer) -> Result<Figures, Fault> {
    let mut stack = Stack::default();
    let mut figures = only_givens(exercise, seed, number, printer, &mut stack)?;
    reckon(&exercise.reckoning, &mut figures, printer, &mut stack);
    Ok(figures)
}

/// Pulls the givens of an exercise, and leaves the steps to [`reckon`].
///
/// # Errors
/// As [`figures`].
pub(super) fn only_givens(
    exercise: &Exercise,
    seed: &str,
    number: u64,
    printer: Printer,
    stack: &mut Stack,
) -> Result<Figures, Fault> {
    for try_number in 0..MOST_TRIES {
        let stem = Root { exercise: exercise.id.as_str(), seed, number, try_number }.stem();
        let mut hand = |given: &str| Hand::Chance(Box::new(stem.chance(given)));
        if let Some(figures) = one_try(&exercise.reckoning, &mut hand, printer, stack) {
            return Ok(figures);
        }
    }
    let message = format!("no pull in {MOST_TRIES} tries meets `only_if` (seed {seed}, pull {number})");
    Err(Fault::new("only-if", message, "loosen the condition, or choose givens that meet it more often")
        .at(exercise.place.clone()))
}

/// How many combinations of givens there are; `None` if a series is among
/// them, or if there are more than `most`.
#[must_use]
pub fn combinations(exercise: &Exercise, most: u64) -> Option<u64> {
    let reckoning = &exercise.reckoning;
    let mut count: u64 = 1;
    for given in &reckoning.givens {
        let ways = match &given.source {
            GivenSource::Grid { count, .. } => *count,
            GivenSource::OneOf(list) => list.len() as u64,
            GivenSource::Row(table) => reckoning.tables[*table].rows.len() as u64,
            GivenSource::Series { .. } => return None,
            GivenSource::Formula { .. } => 1,
        };
        count = count.checked_mul(ways).filter(|count| *count <= most)?;
    }
    Some(count)
}

/// The numbers of one combination of givens, counted through; `None` if it
/// does not meet `only_if`.
#[must_use]
pub fn combination(exercise: &Exercise, index: u64, printer: Printer) -> Option<Figures> {
    let counter = std::cell::Cell::new(index);
    let mut stack = Stack::default();
    let mut figures = one_try(&exercise.reckoning, &mut |_| Hand::Counted(&counter), printer, &mut stack)?;
    reckon(&exercise.reckoning, &mut figures, printer, &mut stack);
    Some(figures)
}

/// Where the choices of a given come from.
enum Hand<'a> {
    /// A stream of chance.
    Chance(Box<Chance>),
    /// A number, of which each given takes its share.
    Counted(&'a std::cell::Cell<u64>),
}

impl Hand<'_> {
    fn below(&mut self, count: u64) -> u64 {
        match self {
            Self::Chance(chance) => chance.below(count),
            Self::Counted(left) => {
                let all = left.get();
                left.set(all / count.max(1));
                all % count.max(1)
            }
        }
    }

    fn error(&mut self) -> f64 {
        match self {
            Self::Chance(chance) => chance.error(),
            Self::Counted(_) => 0.0,
        }
    }
}

/// A given as it was pulled, ready to be printed.
enum Pulled<'a> {
    One(Decimal, &'a Unit, bool),
    Several(Vec<Decimal>, &'a Unit),
    Text(&'a str),
}

impl Pulled<'_> {
    fn print(&self, printer: Printer) -> String {
        match self {
            Self::One(number, unit, as_fraction) => printer.quantity(*number, unit, *as_fraction),
            Self::Several(numbers, unit) => printer.series(numbers, unit),
            Self::Text(text) => (*text).to_owned(),
        }
    }
}

/// One try: the givens, if they meet `only_if`; nothing is printed before that is known.
fn one_try<'a>(
    reckoning: &Reckoning,
    hand: &mut dyn FnMut(&str) -> Hand<'a>,
    printer: Printer,
    stack: &mut Stack,
) -> Option<Figures> {
    let names = &reckoning.names;
    let mut figures = Figures {
        scalars: Vec::with_capacity(names.scalars()),
        series: Vec::with_capacity(names.series()),
        printed: Vec::new(),
    };
    let mut pulled = Vec::with_capacity(names.in_print_order().len());
    for given in &reckoning.givens {
        pull_given(given, reckoning, &mut hand(&given.name), &mut figures, &mut pulled, stack);
    }
    if !reckoning.only_if.iter().all(|condition| condition.evaluate(&figures.values(), stack) > 0.5) {
        return None;
    }
    figures.printed.reserve_exact(names.in_print_order().len());
    figures.printed.extend(pulled.iter().map(|one| one.print(printer)));
    Some(figures)
}

fn pull_given<'a>(
    given: &Given,
    reckoning: &'a Reckoning,
    hand: &mut Hand<'_>,
    figures: &mut Figures,
    pulled: &mut Vec<Pulled<'a>>,
    stack: &mut Stack,
) {
    let as_fraction = reckoning.names.get(&given.name).is_some_and(|name| name.as_fraction);
    let pick = |hand: &mut Hand<'_>, count: usize| usize::try_from(hand.below(count as u64)).unwrap_or(0);
    match &given.source {
        GivenSource::Grid { from, every, count, unit } => {
            pulled.push(figures.add(from.grid_at(*every, hand.below(*count)), unit, as_fraction));
        }
        GivenSource::OneOf(list) => {
            let Quantity { number, unit, .. } = list[pick(hand, list.len())];
            pulled.push(figures.add(number, unit, as_fraction));
        }
        GivenSource::Row(table) => {
            let rows = &reckoning.tables[*table].rows;
            pulled.extend(rows[pick(hand, rows.len())].iter().map(|cell| match cell {
                TableCell::Quantity(quantity) => figures.add(quantity.number, quantity.unit, false),
                TableCell::Text(text) => Pulled::Text(text),
                TableCell::Series(list) => {
                    figures.add_series(list.iter().map(|one| one.number).collect(), list[0].unit)
                }
            }));
        }
        GivenSource::Series { count, around, spread, shown_to, unit } => {
            let readings = (0..*count).map(|_| shown_to.nearest(around + spread * hand.error())).collect();
            pulled.push(figures.add_series(readings, unit));
        }
        GivenSource::Formula { formula, unit, shown_to } => {
            let si = formula.evaluate(&figures.values(), stack);
            pulled.push(figures.add(shown_to.nearest(unit.from_si(si)), unit, as_fraction));
        }
    }
}

/// Reckons all steps from the printed givens.
pub(super) fn reckon(reckoning: &Reckoning, figures: &mut Figures, printer: Printer, stack: &mut Stack) {
    for step in &reckoning.steps {
        let si = step.formula.evaluate(&figures.values(), stack);
        figures.printed.push(printer.step(step, si));
        figures.scalars.push(si);
    }
}

impl Figures {
    fn add<'a>(&mut self, number: Decimal, unit: &'a Unit, as_fraction: bool) -> Pulled<'a> {
        self.scalars.push(unit.to_si(number.value()));
        Pulled::One(number, unit, as_fraction)
    }

    fn add_series<'a>(&mut self, numbers: Vec<Decimal>, unit: &'a Unit) -> Pulled<'a> {
        self.series.push(numbers.iter().map(|number| unit.to_si(number.value())).collect());
        Pulled::Several(numbers, unit)
    }

    /// The values for a formula.
    #[must_use]
    pub fn values(&self) -> Values<'_> {
        Values { scalars: &self.scalars, series: &self.series }
    }
}

/// The SI value of a step after a wrong turn, or after an apprentice's own
/// earlier value: from step `at` on, which is replaced, the rest is followed.
///
/// `scratch` must hold the pull's scalars; it comes back with the followed values.
pub fn follow(
    reckoning: &Reckoning,
    figures: &Figures,
    at: usize,
    instead: f64,
    to: usize,
    scratch: &mut Vec<f64>,
    stack: &mut Stack,
) -> f64 {
    let first = reckoning.names.scalars() - reckoning.steps.len();
    scratch.clear();
    scratch.extend_from_slice(&figures.scalars);
    scratch[first + at] = instead;
    for step in at + 1..=to {
        let values = Values { scalars: scratch, series: &figures.series };
        scratch[first + step] = reckoning.steps[step].formula.evaluate(&values, stack);
    }
    scratch[first + to]
}
