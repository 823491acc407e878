//! What the page script is given of each exercise: printed texts and closed
//! intervals. It works nothing out that could drift.

use serde_json::{Value, json};

use crate::marking::{one_valid_order, pairs, part_key};
use crate::programme::{Exercise, Form, Rounds};
use crate::pull::Pull;

/// The data block of an exercise with its pulls.
pub(super) fn block(exercise: &Exercise, pulls: &[Pull]) -> Value {
    match &exercise.form {
        Form::Numeric(numeric) => json!({
            "kind": "numeric",
            "parts": numeric.answers.iter().map(|step| json!({ "unit": exercise.reckoning.steps[*step].unit.name })).collect::<Vec<_>>(),
            "pulls": pulls.iter().map(|pull| json!({
                "fill": with_remarks(pulls, pull),
                "parts": numeric.answers.iter().map(|step| part_key(exercise, &pull.key, *step)).collect::<Vec<_>>(),
            })).collect::<Vec<_>>(),
        }),
        Form::Order(order) => json!({
            "kind": "order",
            "pulls": pulls.iter().map(|pull| {
                let shown = &pull.public.shown;
                let pairs = pairs(order, shown);
                json!({ "fill": pull.figures.printed, "show": shown, "valid": one_valid_order(shown, &pairs), "pairs": pairs })
            }).collect::<Vec<_>>(),
        }),
        Form::Rounds(rounds) => of_rounds(rounds, pulls),
        Form::Choose(choose) => {
            let has_values =
                choose.options.iter().any(|option| matches!(option.says, crate::programme::Says::Value { .. }));
            json!({
                "kind": "choose",
                "options": choose.options.iter().enumerate().map(|(index, option)| json!({ "right": option.right, "because": index })).collect::<Vec<_>>(),
                "pulls": pulls.iter().map(|pull| {
                    let mut fill = pull.figures.printed.clone();
                    if has_values {
                        fill.extend(option_texts(choose.options.len(), pull));
                    }
                    json!({ "fill": fill, "show": pull.public.shown })
                }).collect::<Vec<_>>(),
            })
        }
    }
}

/// The table of rounds by numbers of samples, which are alike in all pulls, and
/// by the indexes of moves; a number beside which nothing stands is `null`.
fn of_rounds(rounds: &Rounds, pulls: &[Pull]) -> Value {
    let (ways, moves) = (rounds.ways(), 0..rounds.moves.len());
    let states = pulls.first().and_then(|pull| pull.public.samples.as_ref()).map_or(&[][..], |samples| &samples.states);
    let number = |state: usize| states.iter().position(|one| *one == state).map_or(0, |place| place + 1);
    let reason_of = |state: usize, by: usize| {
        let not_safe = rounds.not_safe.iter().position(|(index, _)| *index == by);
        not_safe.map(|place| rounds.leads.len() + place).or_else(|| rounds.lead(state, by))
    };
    let leads = |state: &usize| -> Vec<usize> { moves.clone().map(|by| number(ways.after(*state, by))).collect() };
    let because = |state: &usize| -> Vec<Option<usize>> { moves.clone().map(|by| reason_of(*state, by)).collect() };
    json!({
        "kind": "rounds",
        "leads": states.iter().map(leads).collect::<Vec<_>>(),
        "because": states.iter().map(because).collect::<Vec<_>>(),
        "right": states.iter().map(|state| rounds.states[*state].right).collect::<Vec<_>>(),
        "unsafe": ways.not_safe,
        "fewest": states.iter().map(|state| ways.shortest(*state)).collect::<Vec<_>>(),
        "most": rounds.most,
        "pulls": pulls.iter().map(|pull| json!({
            "fill": pull.figures.printed,
            "show": pull.public.shown,
            "start": pull.public.samples.as_ref().map_or(1, |samples| samples.start + 1),
        })).collect::<Vec<_>>(),
    })
}

/// Whether the working of some pull carries a remark.
pub(super) fn have_remarks(pulls: &[Pull]) -> bool {
    pulls.iter().any(|pull| pull.key.steps.iter().any(|step| !step.remarks.is_empty()))
}

/// What is printed and, where some pull carries remarks, those of each step.
fn with_remarks(pulls: &[Pull], pull: &Pull) -> Vec<String> {
    let remarks = pull.key.steps.iter().map(|step| step.remarks.join(" ")).filter(|_| have_remarks(pulls));
    pull.figures.printed.iter().cloned().chain(remarks).collect()
}

/// The texts of all options by index, as far as this pull shows them.
fn option_texts(count: usize, pull: &Pull) -> Vec<String> {
    let mut texts = vec![String::new(); count];
    for (index, says) in pull.public.shown.iter().zip(&pull.public.says) {
        texts[*index].clone_from(says);
    }
    texts
}
