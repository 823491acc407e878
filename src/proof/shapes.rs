//! Orders and choices: what is shown can be told apart, and no habit gives the answer away.

use std::collections::BTreeSet;

use super::SEED;
use super::report::ExerciseReport;
use crate::ground::{Fault, Faults, Place};
use crate::marking::{pairs, valid_orders};
use crate::picture::sample_words;
use crate::programme::{Bank, Exercise, Form, Order, Pick, Rounds, Says};
use crate::pull::{Printer, pull};

/// How many pulls of an order are looked at: what is shown hardly varies more.
const MOST_ORDER_PULLS: u64 = 300;
/// The share of a bank's choices in which the right option may be the longest.
const MOST_LONGEST: f64 = 0.4;

/// Checks an order exercise.
pub(super) fn order(
    exercise: &Exercise,
    order: &Order,
    pulls: u64,
    printer: Printer,
    faults: &mut Vec<Fault>,
) -> ExerciseReport {
    let mut distinct = BTreeSet::new();
    let mut least: Option<u64> = None;
    let count = pulls.min(MOST_ORDER_PULLS);
    for number in 0..count {
        let Ok(pull) = pull(exercise, SEED, number, printer) else { continue };
        let shown = &pull.public.shown;
        let pairs = pairs(order, shown);
        let orders = valid_orders(shown, &pairs);
        if (orders < 2 && !order.strict) || pairs.is_empty() {
            let what =
                if pairs.is_empty() { "no shown move must come before another" } else { "only one order is valid" };
            let names: Vec<&str> = shown.iter().map(|index| order.moves[*index].name.as_str()).collect();
            let message = format!("{what} (pull {number} of seed {SEED}, showing {})", names.join(", "));
            faults.push(
                Fault::new("orders", message, "show more moves, change what comes before what, or say `strict: true`")
                    .at(exercise.place.clone()),
            );
            break;
        }
        least = Some(least.map_or(orders, |known| known.min(orders)));
        let mut set = shown.clone();
        set.sort_unstable();
        distinct.insert(set);
    }
    ExerciseReport {
        id: exercise.id.to_string(),
        kind: exercise.form.word(),
        pulls: count,
        distinct: distinct.len() as u64,
        orders: least,
        ..ExerciseReport::default()
    }
}

/// Checks an exercise in rounds: its beginnings, and that every sample can be drawn and told from the others.
pub(super) fn rounds(
    exercise: &Exercise,
    rounds: &Rounds,
    pulls: u64,
    printer: Printer,
    faults: &mut Vec<Fault>,
) -> ExerciseReport {
    let mut distinct = BTreeSet::new();
    let count = pulls.min(MOST_ORDER_PULLS);
    let mut tell = |what: String, mend: &str| {
        faults.push(Fault::new("rounds", what, mend).at(exercise.place.clone()));
    };
    for number in 0..count {
        let Ok(pull) = pull(exercise, SEED, number, printer) else { continue };
        let Some(samples) = &pull.public.samples else { continue };
        distinct.insert((samples.start, pull.public.shown.clone()));
        if number > 0 {
            continue;
        }
        let name = |place: usize| samples.states.get(place).map_or("", |state| rounds.states[*state].name.as_str());
        for (place, sample) in samples.seen.iter().enumerate() {
            if let Some((what, value)) = sample.picture.as_ref().and_then(|picture| picture.beyond().next()) {
                tell(
                    format!("the figure of `{}` cannot draw `{what}` at {value}", name(place)),
                    "keep to the range of the figure",
                );
            }
            let words = sample_words(sample, printer);
            if let Some(other) = samples.seen[..place].iter().position(|one| sample_words(one, printer) == words) {
                let what = format!("`{}` and `{}` say the same", name(other), name(place));
                tell(what, "whoever sees them must be able to tell them apart, by the words alone too");
            }
        }
    }
    ExerciseReport {
        id: exercise.id.to_string(),
        kind: exercise.form.word(),
        pulls: count,
        distinct: distinct.len() as u64,
        ..ExerciseReport::default()
    }
}

/// A remark where the right option is too often the longest of a bank's choices.
pub(super) fn longest_option(bank: &Bank, faults: &mut Faults) {
    let (mut all, mut longest) = (0_u32, Vec::new());
    for exercise in &bank.exercises {
        let Form::Choose(choose) = &exercise.form else { continue };
        for question in choose.questions.iter().filter(|question| question.pick == Pick::One) {
            let options = choose.options.get(question.options.clone()).unwrap_or_default();
            let lengths = options.iter().map(|option| match &option.says {
                Says::Text(text) => Some((text.source().chars().count(), option.right)),
                Says::Value { .. } => None,
            });
            let Some(lengths) = lengths.collect::<Option<Vec<(usize, bool)>>>() else { continue };
            all += 1;
            let most = |right: bool| {
                lengths.iter().filter(|(_, is_right)| *is_right == right).map(|(length, _)| *length).max().unwrap_or(0)
            };
            if most(true) > most(false) {
                longest.push(exercise.id.to_string());
            }
        }
    }
    let share = f64::from(u32::try_from(longest.len()).unwrap_or(0)) / f64::from(all.max(1));
    if longest.len() > 1 && share > MOST_LONGEST {
        let message =
            format!("the right option is the longest in {} of {all} choices: {}", longest.len(), longest.join(", "));
        let place = Place { file: Some(bank.file.clone()), ..Place::default() };
        faults.push(
            Fault::new("longest-option", message, "shorten right options, or lengthen others").at(place).as_remark(),
        );
    }
}
