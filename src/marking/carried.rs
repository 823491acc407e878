//! Follow-through: what the later steps give from an apprentice's own earlier
//! answers.

use std::collections::BTreeMap;

use super::own_key::OwnKey;
use super::part::Interval;
use super::rules::{NameRule, NumericRules, Sort, StepRule};
use crate::formula::{Allow, Compiled, Named, Stack, Type, Values, compile, parse};
use crate::ground::{Decimal, Fault};
use crate::measure::{Unit, unit};
use crate::pull::Printer;
use crate::trade::{KindOfQuantity, Leeway};

/// Relative room for the dust of binary arithmetic.
const DUST: f64 = 1e-9;

/// An earlier answer of the apprentice's own.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OwnAnswer {
    /// The index of the step that was asked for.
    pub step: usize,
    /// What was answered, in the step's unit.
    pub in_unit: f64,
}

/// A step with its formula compiled anew.
#[derive(Debug)]
struct Link {
    name: String,
    formula: Compiled,
    unit: &'static Unit,
    difference: bool,
    shown_to: Decimal,
    kind: KindOfQuantity,
    leeway: Option<Leeway>,
}

/// The steps of an exercise, ready to be reckoned again from kept rules.
#[derive(Debug)]
pub struct Chain {
    links: Vec<Link>,
    answers: Vec<usize>,
    sane: (f64, f64),
}

impl Link {
    fn in_unit(&self, si: f64) -> f64 {
        if self.difference { self.unit.difference_from_si(si) } else { self.unit.from_si(si) }
    }

    fn to_si(&self, value: f64) -> f64 {
        if self.difference { value * self.unit.factor } else { self.unit.to_si(value) }
    }

    fn half_width(&self, key: f64) -> f64 {
        self.kind.allowed(self.leeway, self.unit, self.shown_to.value(), key)
    }
}

fn unreadable(what: &str) -> Fault {
    let mend = "mark with the version of the program that issued the quiz";
    Fault::new("kept-rules", format!("the kept rules cannot be read: {what}"), mend)
}

fn known_unit(name: &str) -> Result<&'static Unit, Fault> {
    unit(name).map_err(|unknown| unreadable(&format!("there is no unit `{}`", unknown.text)))
}

fn kind_of(rule: &NameRule) -> Result<Type, Fault> {
    let dimension = known_unit(&rule.unit)?.dimension;
    Ok(match rule.sort {
        Sort::Number => Type::Number(dimension),
        Sort::Series => Type::Series(dimension),
        Sort::Point => Type::Point,
        Sort::SeriesOfPoints => Type::SeriesOfPoints,
        Sort::Truth => Type::Truth,
    })
}

fn link(rule: &StepRule, scope: &BTreeMap<String, Named>) -> Result<Link, Fault> {
    let formula = parse(&rule.is).and_then(|expression| compile(&expression, scope, Allow { bare: false }));
    let word = |what: &str| unreadable(&format!("the step `{}` has {what}", rule.name));
    Ok(Link {
        name: rule.name.clone(),
        formula: formula.map_err(|fault| word(&format!("a formula at fault: {}", fault.message)))?,
        unit: known_unit(&rule.unit)?,
        difference: rule.difference,
        shown_to: Decimal::parse(&rule.shown_to).ok_or_else(|| word("no place it is shown to"))?,
        kind: KindOfQuantity::from_word(&rule.quantity).ok_or_else(|| word("an unknown kind of quantity"))?,
        leeway: rule.leeway.map(Leeway::from),
    })
}

impl Chain {
    /// Compiles the steps of kept rules.
    ///
    /// # Errors
    /// A fault if a unit, a kind of quantity or a calculation that they name is
    /// not known to this version of the program, or if an index points nowhere.
    pub fn open(rules: &NumericRules) -> Result<Self, Fault> {
        let mut scope = BTreeMap::new();
        for rule in &rules.names {
            scope.insert(rule.name.clone(), Named { slot: rule.slot, kind: kind_of(rule)? });
        }
        let links = rules.steps.iter().map(|step| link(step, &scope)).collect::<Result<Vec<_>, _>>()?;
        if rules.answers.is_empty() || rules.answers.iter().any(|step| *step >= links.len()) {
            return Err(unreadable("an answer asks for a step that is not there"));
        }
        Ok(Self { links, answers: rules.answers.clone(), sane: rules.sane })
    }

    /// Whether this version of the program still reckons as the one that made
    /// the key: otherwise a carried answer might be marked by other arithmetic.
    ///
    /// # Errors
    /// A fault that names the step that comes out otherwise.
    pub fn agrees_with(&self, own: &OwnKey) -> Result<(), Fault> {
        if own.scalars.len() < self.links.len() || own.parts.len() != self.answers.len() {
            return Err(unreadable("the key has another number of steps or answers"));
        }
        let same = |a: f64, b: f64| (a - b).abs() <= DUST * a.abs().max(b.abs());
        let kept = &own.scalars[own.scalars.len() - self.links.len()..];
        let again = self.follow(own, &[]);
        let off = self.links.iter().zip(kept.iter().zip(&again)).find(|(_, (kept, again))| !same(**kept, **again));
        let leeway_off = self
            .answers
            .iter()
            .zip(&own.parts)
            .find(|(step, part)| !same(self.links[**step].half_width(part.key), part.half_width));
        let name = off.map(|(link, _)| &link.name).or(leeway_off.map(|(step, _)| &self.links[*step].name));
        name.map_or(Ok(()), |name| {
            let message =
                format!("this version of the program works out `{name}` otherwise than the one that issued it");
            Err(Fault::new("kept-rules", message, "mark with the version of the program that issued the quiz"))
        })
    }

    /// The SI values of all steps, the apprentice's own answers standing in for
    /// those that were reckoned.
    #[must_use]
    pub fn follow(&self, own: &OwnKey, answers: &[OwnAnswer]) -> Vec<f64> {
        let mut scalars = own.scalars.clone();
        let first = scalars.len().saturating_sub(self.links.len());
        let mut stack = Stack::default();
        for (index, link) in self.links.iter().enumerate() {
            let typed = answers.iter().find(|answer| answer.step == index);
            let value = match typed {
                Some(answer) => link.to_si(answer.in_unit),
                None => link.formula.evaluate(&Values { scalars: &scalars, series: &own.series }, &mut stack),
            };
            if let Some(slot) = scalars.get_mut(first + index) {
                *slot = value;
            }
        }
        scalars.split_off(first)
    }

    /// What is right for part `part` given the earlier answers: the SI values
    /// of all steps, and the interval in the asked unit. `None` if there is no
    /// earlier answer, or if one is a wrong number of no known origin and what
    /// they lead to is not sane: the last answer, reckoned on from them, must
    /// then lie in the exercise's range. After a wrong turn that the author has
    /// listed it need not: where that leads differs from pull to pull, and a
    /// mark must not depend on the pull.
    #[must_use]
    pub fn right_given(&self, own: &OwnKey, earlier: &[OwnAnswer], part: usize) -> Option<(Vec<f64>, Interval)> {
        let step = *self.answers.get(part)?;
        if earlier.is_empty() || earlier.iter().any(|answer| answer.step >= step || !answer.in_unit.is_finite()) {
            return None;
        }
        let values = self.follow(own, earlier);
        let last = *values.get(*self.answers.last()?)?;
        if !self.is_sane(last) && !earlier.iter().all(|answer| self.is_foreseen(own, answer)) {
            return None;
        }
        let link = self.links.get(step)?;
        let value = link.in_unit(*values.get(step)?);
        value.is_finite().then(|| (values, Interval::around(value, link.half_width(value))))
    }

    fn is_sane(&self, last: f64) -> bool {
        let room = DUST * last.abs();
        let (low, high) = self.sane;
        low - room <= last && last <= high + room
    }

    /// Whether an answer is right, or where a listed wrong turn leads.
    fn is_foreseen(&self, own: &OwnKey, answer: &OwnAnswer) -> bool {
        let place = self.answers.iter().position(|step| *step == answer.step);
        let part = place.and_then(|place| own.parts.get(place));
        part.is_some_and(|part| part.intervals.foresees(answer.in_unit))
    }

    /// A step's SI value as printed.
    #[must_use]
    pub fn printed(&self, step: usize, si: f64, printer: Printer) -> String {
        let shown = self.links.get(step).map(|link| (link.shown_to.nearest(link.in_unit(si)), link.unit));
        shown.map_or_else(String::new, |(number, unit)| printer.quantity(number, unit, false))
    }

    /// The unit of the step that part `part` asks for.
    #[must_use]
    pub fn asked(&self, part: usize) -> Option<(usize, &'static Unit)> {
        let step = *self.answers.get(part)?;
        Some((step, self.links.get(step)?.unit))
    }
}
