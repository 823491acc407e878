//! What the instructor asked for, checked: everything wrong with it is told, each with its mend.

use std::collections::BTreeMap;

use super::candidate::{Bar, Judge};
use super::compose::Request;
use crate::ground::{Fault, Id, nearest_name};
use crate::programme::Exercise;

/// The longest quiz, in minutes.
const LONGEST: u32 = 480;
/// The last week that can be meant.
const LAST_WEEK: u32 = 999;

fn fault(message: impl Into<String>, mend: impl Into<String>) -> Fault {
    Fault::new("quiz", message, mend)
}

/// Checks week and minutes.
pub(super) fn numbers(request: &Request<'_>, faults: &mut Vec<Fault>) {
    if !(1..=LAST_WEEK).contains(&request.week) {
        let mend = format!("weeks of the plan are counted from 1 to {LAST_WEEK}");
        faults.push(fault(format!("there is no week {}", request.week), mend));
    }
    if !(1..=LONGEST).contains(&request.minutes) {
        faults.push(fault(
            format!("a quiz of {} minutes", request.minutes),
            format!("a quiz has 1 to {LONGEST} minutes"),
        ));
    }
}

/// The competency that alone is asked for.
pub(super) fn only(request: &Request<'_>, judge: &Judge<'_>, faults: &mut Vec<Fault>) -> Option<Id> {
    let wanted = request.only?;
    let known = request.programme.competencies().map(|competency| &competency.id).find(|id| id.as_str() == wanted);
    match known {
        None => {
            let ids = request.programme.competencies().map(|competency| competency.id.as_str());
            faults.push(fault(format!("there is no competency `{wanted}`"), did_you_mean(wanted, ids)));
        }
        Some(id) if !judge.taught.contains_key(id) => {
            faults.push(fault(format!("`{id}` was not taught by week {}", request.week), teach(id, request.week)));
        }
        Some(_) => {}
    }
    known.cloned()
}

/// The exercises asked for, each allowed to come.
pub(super) fn with<'a>(
    request: &Request<'a>,
    judge: &Judge<'_>,
    exercises: &BTreeMap<&str, &'a Exercise>,
    faults: &mut Vec<Fault>,
) -> Vec<&'a Exercise> {
    let find = |id: &String, faults: &mut Vec<Fault>| {
        let found = exercises.get(id.as_str()).copied();
        if found.is_none() {
            let mend = did_you_mean(id, exercises.keys().copied());
            faults.push(fault(format!("there is no exercise `{id}`"), mend));
        }
        found
    };
    for id in request.without {
        find(id, faults);
    }
    let mut wanted: Vec<&Exercise> = Vec::new();
    for id in request.with {
        let Some(exercise) = find(id, faults) else { continue };
        if wanted.iter().any(|own| own.id == exercise.id) {
            continue;
        }
        faults.extend(refusal(request, judge, exercise, &wanted));
        wanted.push(exercise);
    }
    let minutes: u32 = wanted.iter().map(|exercise| exercise.minutes.max(1)).sum();
    if minutes > request.minutes {
        faults.push(fault(
            format!("what is asked for takes {minutes} minutes; the quiz has {}", request.minutes),
            "ask for less, or for more `--minutes`",
        ));
    }
    wanted
}

/// Why an exercise that was asked for cannot come.
fn refusal(request: &Request<'_>, judge: &Judge<'_>, exercise: &Exercise, before: &[&Exercise]) -> Option<Fault> {
    let (id, family) = (&exercise.id, &exercise.family);
    if request.without.iter().any(|other| other == id.as_str()) {
        return Some(fault(format!("`{id}` is both wanted and not"), "leave it out of `--with` or of `--without`"));
    }
    if request.only.is_some_and(|only| only != exercise.competency.as_str()) {
        return Some(fault(
            format!("`{id}` belongs to `{}`, and only `{}` is asked for", exercise.competency, request.only?),
            "leave it out, or leave `--only` out",
        ));
    }
    if let Some(other) = before.iter().find(|other| other.family == *family) {
        return Some(fault(
            format!("`{}` and `{id}` are of one family", other.id),
            "a quiz has one exercise of a family: leave one out",
        ));
    }
    let (message, mend) = match judge.bar(exercise)? {
        Bar::Practice => (
            format!("`{id}` is for practice only: the workbook shows its answer"),
            "ask for another, or set `use: both` or `quiz` in its bank".to_owned(),
        ),
        Bar::Untaught => (
            format!("`{id}` belongs to `{}`, which was not taught by week {}", exercise.competency, request.week),
            teach(&exercise.competency, request.week),
        ),
        Bar::TooLong => (
            format!("`{id}` takes {} minutes; the quiz has {}", exercise.minutes, request.minutes),
            "ask for more `--minutes`".to_owned(),
        ),
        Bar::Rests(week) => {
            let rest = judge.plan.not_again_for;
            let again = i64::from(week) + i64::from(rest) + 1;
            (
                format!("`{id}` was asked in {}, and nothing comes again within {rest} weeks", judge.weeks.words(week)),
                format!("it may come from week {again} on; `not_again_for:` in the plan says so"),
            )
        }
    };
    Some(fault(message, mend))
}

fn teach(competency: &Id, week: u32) -> String {
    format!("if it was, say so: `gearside record taught --week {week} {competency}`")
}

fn did_you_mean<'a>(wanted: &str, known: impl Iterator<Item = &'a str>) -> String {
    nearest_name(wanted, known)
        .map_or_else(|| "name one by its id".to_owned(), |near| format!("did you mean `{near}`?"))
}
