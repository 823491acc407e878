//! The shipped banks with other keys: every reason, and what is right wherever
//! that does not decide what is shown.

use std::fs;
use std::path::Path;

use serde_yaml::{Mapping, Value};

/// What stands in every changed reason.
pub(crate) const SIGN: &str = "Quite another reason stands here.";

/// The most moves that a page shows.
const MOST_SHOWN: usize = 12;

/// How much was changed.
#[derive(Debug, Default)]
pub(crate) struct Changed {
    pub(crate) reasons: usize,
    pub(crate) choices: usize,
    pub(crate) orders: usize,
}

/// Lets every order exercise of a folder show all of its moves, if a page may
/// show as many, so that none is shown for standing before another.
pub(crate) fn show_all_moves(banks: &Path) {
    rewrite(banks, |bank| {
        for exercise in exercises(bank).filter(|exercise| exercise.contains_key("before")) {
            let count = exercise.get("moves").and_then(Value::as_mapping).map_or(0, Mapping::len);
            if (1..=MOST_SHOWN).contains(&count) {
                exercise.insert("show".into(), count.into());
            }
        }
    });
}

/// Changes all banks of a folder.
pub(crate) fn change_all(banks: &Path) -> Changed {
    let mut changed = Changed::default();
    rewrite(banks, |bank| {
        reasons(bank, &mut changed);
        for exercise in exercises(bank) {
            choice(exercise, &mut changed);
            order(exercise, &mut changed);
        }
    });
    changed
}

fn rewrite(banks: &Path, mut change: impl FnMut(&mut Value)) {
    for entry in fs::read_dir(banks).expect("a folder") {
        let path = entry.expect("an entry").path();
        let mut bank: Value = serde_yaml::from_str(&fs::read_to_string(&path).expect("a bank")).expect("YAML");
        change(&mut bank);
        fs::write(&path, serde_yaml::to_string(&bank).expect("YAML")).expect("written");
    }
}

fn exercises(bank: &mut Value) -> impl Iterator<Item = &mut Mapping> {
    // The file of defects has none.
    let list = bank.get_mut("exercises").and_then(Value::as_sequence_mut);
    list.into_iter().flatten().map(|one| one.as_mapping_mut().expect("an exercise"))
}

/// Puts the sign before every reason.
fn reasons(value: &mut Value, changed: &mut Changed) {
    match value {
        Value::Sequence(list) => list.iter_mut().for_each(|one| reasons(one, changed)),
        Value::Mapping(map) => {
            for (key, one) in map.iter_mut() {
                match one {
                    Value::String(text) if key.as_str() == Some("because") => {
                        *text = format!("{SIGN} {text}");
                        changed.reasons += 1;
                    }
                    other => reasons(other, changed),
                }
            }
        }
        _ => {}
    }
}

/// Whether an exercise shows all of its moves or options, so that none is shown for being right.
fn shows_all(exercise: &Mapping, count: usize) -> bool {
    exercise.get("show").is_none_or(|show| show.as_u64() == Some(count as u64))
}

/// Makes the next option right, for each that is.
fn choice(exercise: &mut Mapping, changed: &mut Changed) {
    let Some(count) = exercise.get("options").and_then(Value::as_sequence).map(Vec::len) else { return };
    if !shows_all(exercise, count) {
        return;
    }
    let options = exercise.get_mut("options").and_then(Value::as_sequence_mut).expect("options");
    if options.iter().any(|option| option.get("says").is_none()) {
        return;
    }
    let mut right: Vec<Option<Value>> =
        options.iter_mut().map(|one| one.as_mapping_mut().expect("an option").remove("right")).collect();
    right.rotate_right(1);
    for (option, right) in options.iter_mut().zip(right) {
        if let Some(right) = right {
            option.as_mapping_mut().expect("an option").insert("right".into(), right);
        }
    }
    changed.choices += 1;
}

/// Turns every precedence round.
fn order(exercise: &mut Mapping, changed: &mut Changed) {
    let Some(count) = exercise.get("moves").and_then(Value::as_mapping).map(Mapping::len) else { return };
    if !shows_all(exercise, count) || exercise.get("before").is_none() {
        return;
    }
    for edge in exercise.get_mut("before").and_then(Value::as_sequence_mut).expect("precedences") {
        let edge = edge.as_mapping_mut().expect("a precedence");
        let (first, then) = (edge.remove("first").expect("first"), edge.remove("then").expect("then"));
        edge.insert("first".into(), then);
        edge.insert("then".into(), first);
    }
    changed.orders += 1;
}
