//! `gearside quiz`: proposes the week's quiz, and issues it.

mod build;
mod issue;
mod plan;

use std::collections::BTreeMap;
use std::path::Path;

use super::arguments::QuizArguments;
use super::keeping::{Keeping, trouble};
use super::out::{Ended, Out};
use crate::ground::{Fault, in_brief, nearest_name};
use crate::programme::Weeks;
use crate::quiz::{Asked, Composition, Request, Snapshot, asked_in, compose};
use crate::records::{Digest, History, Store, Word};

pub(super) use build::kept;

pub(super) fn run(arguments: &QuizArguments, programme: Option<&Path>, out: &mut Out) -> Ended {
    quiz(arguments, programme, out).unwrap_or_else(|ended| ended)
}

fn quiz(arguments: &QuizArguments, programme: Option<&Path>, out: &mut Out) -> Result<Ended, Ended> {
    let keeping = Keeping::load(programme, true, out)?;
    if let Some(quiz) = &arguments.again {
        return issue::again(&keeping, quiz, &arguments.output, out);
    }
    if arguments.plan {
        let known = Known::read(&keeping, out)?;
        let composition = composed(arguments, &keeping, &known, out)?;
        if out.json {
            out.value(&serde_json::to_value(&composition).unwrap_or_default());
        } else {
            plan::lines(&composition).iter().for_each(|line| out.line(line));
        }
        return Ok(Ended::Done);
    }
    match &arguments.rehearse {
        Some(seed) => issue::rehearse(arguments, &keeping, seed, out),
        None => issue::issue(arguments, &keeping, out),
    }
}

/// What is on record, as far as composing and issuing need it.
struct Known {
    /// The records; `None` where there are none yet.
    store: Option<Store>,
    history: Option<History>,
    /// What each issued quiz asked.
    asked: BTreeMap<Word, Vec<Asked>>,
}

impl Known {
    fn read(keeping: &Keeping, out: &mut Out) -> Result<Self, Ended> {
        if !keeping.path().exists() {
            return Ok(Self { store: None, history: None, asked: BTreeMap::new() });
        }
        let store = keeping.open(out)?;
        let history = history(keeping, &store, out)?;
        let asked = asked(&store, &history, out)?;
        Ok(Self { store: Some(store), history: Some(history), asked })
    }
}

/// The whole history.
pub(super) fn history(keeping: &Keeping, store: &Store, out: &mut Out) -> Result<History, Ended> {
    let history = store.read().history(&keeping.programme.about.time_zone);
    history.map_err(|wrong| trouble(&store.explain(wrong), out))
}

/// Composes the quiz that was asked for.
fn composed(arguments: &QuizArguments, keeping: &Keeping, known: &Known, out: &mut Out) -> Result<Composition, Ended> {
    let week = match arguments.week {
        Some(week) => week,
        None => this_week(keeping, out)?,
    };
    let minutes = arguments.minutes.or_else(|| keeping.programme.plan.as_ref().map(|plan| plan.minutes)).unwrap_or(30);
    let request = Request {
        programme: &keeping.programme,
        history: known.history.as_ref(),
        asked: &known.asked,
        week,
        day: keeping.today,
        minutes,
        with: &arguments.with,
        without: &arguments.without,
        only: arguments.only.as_deref(),
        seed: &arguments.seed,
    };
    compose(&request).map_err(|faults| {
        faults.0.iter().for_each(|fault| out.fault(fault));
        Ended::Content
    })
}

/// The week of the plan whose quiz is due today.
fn this_week(keeping: &Keeping, out: &mut Out) -> Result<u32, Ended> {
    let Some(plan) = &keeping.programme.plan else {
        return Err(out.usage("the programme has no plan", "write `curriculum/plan.yaml`: when is what taught?"));
    };
    Weeks::of(plan).and_then(|weeks| weeks.for_quiz(keeping.today)).map_err(|fault| {
        out.fault(&fault);
        Ended::Usage
    })
}

/// What each issued quiz asked, from what was kept of it.
pub(super) fn asked(store: &Store, history: &History, out: &mut Out) -> Result<BTreeMap<Word, Vec<Asked>>, Ended> {
    let read = |digest: &Digest| store.read().text(digest);
    let mut asked = BTreeMap::new();
    for issued in &history.quizzes {
        let kept = read(&issued.is.snapshot).map_err(|wrong| trouble(&wrong, out))?;
        if let Some(exercises) = kept.and_then(|text| asked_in(&text).ok()) {
            asked.insert(issued.is.quiz.clone(), exercises);
        }
    }
    Ok(asked)
}

/// What was kept of an issued quiz.
pub(super) fn snapshot(store: &Store, history: &History, quiz: &str, out: &mut Out) -> Result<Snapshot, Ended> {
    let Some(issued) = history.quizzes.iter().find(|issued| &*issued.is.quiz == quiz) else {
        let known: Vec<&str> = history.quizzes.iter().map(|issued| &*issued.is.quiz).collect();
        let mend = match nearest_name(quiz, known.iter().copied()) {
            Some(near) => format!("did you mean `{near}`? A quiz is there once `gearside quiz` has issued it"),
            None if known.is_empty() => "none was issued yet: `gearside quiz` issues one".to_owned(),
            None => {
                format!(
                    "`gearside quiz` issues one; the last ones are: {}",
                    known.iter().rev().take(5).copied().collect::<Vec<_>>().join(", ")
                )
            }
        };
        return Err(out.usage(&format!("no quiz `{}` was issued", in_brief(quiz, 60)), &mend));
    };
    let text = store.read().text(&issued.is.snapshot).map_err(|wrong| trouble(&wrong, out))?;
    let read = match text {
        Some(text) => Snapshot::read(&text),
        None => Err(Fault::new(
            "kept-quiz",
            format!("what was kept of `{quiz}` is missing or altered"),
            "run `gearside audit`, and put a backup in the place of the records",
        )),
    };
    read.map_err(|fault| {
        out.fault(&fault);
        Ended::Content
    })
}
