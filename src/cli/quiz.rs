//! `gearside quiz --plan`: proposes the week's quiz.

use std::collections::BTreeMap;
use std::path::Path;

use super::arguments::QuizArguments;
use super::keeping::{Keeping, trouble};
use super::out::{Ended, Out};
use crate::programme::Weeks;
use crate::quiz::{Asked, Composition, Request, asked_in, compose};
use crate::records::{Digest, History, Store, Word};

pub(super) fn run(arguments: &QuizArguments, programme: Option<&Path>, out: &mut Out) -> Ended {
    quiz(arguments, programme, out).unwrap_or_else(|ended| ended)
}

fn quiz(arguments: &QuizArguments, programme: Option<&Path>, out: &mut Out) -> Result<Ended, Ended> {
    let keeping = Keeping::load(programme, true, out)?;
    let (history, asked) = if keeping.path().exists() {
        let store = keeping.open(out)?;
        let history = store.read().history(&keeping.programme.about.time_zone);
        let history = history.map_err(|wrong| trouble(&store.explain(wrong), out))?;
        let asked = asked(&store, &history, out)?;
        (Some(history), asked)
    } else {
        (None, BTreeMap::new())
    };
    let week = match arguments.week {
        Some(week) => week,
        None => this_week(&keeping, out)?,
    };
    let minutes = arguments.minutes.or_else(|| keeping.programme.plan.as_ref().map(|plan| plan.minutes)).unwrap_or(30);
    let request = Request {
        programme: &keeping.programme,
        history: history.as_ref(),
        asked: &asked,
        week,
        day: keeping.today,
        minutes,
        with: &arguments.with,
        without: &arguments.without,
        only: arguments.only.as_deref(),
        seed: &arguments.seed,
    };
    let composition = compose(&request).map_err(|faults| {
        faults.0.iter().for_each(|fault| out.fault(fault));
        Ended::Content
    })?;
    if out.json {
        let value = serde_json::to_value(&composition).unwrap_or_default();
        out.value(&value);
    } else {
        lines(&composition).iter().for_each(|line| out.line(line));
    }
    Ok(Ended::Done)
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
fn asked(store: &Store, history: &History, out: &mut Out) -> Result<BTreeMap<Word, Vec<Asked>>, Ended> {
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

/// The composition as a table, with what it holds to and what gave way.
fn lines(composition: &Composition) -> Vec<String> {
    let percent = |share: f64| format!("{:.0} %", share * 100.0);
    let width = composition.picks.iter().map(|pick| pick.exercise.len()).max().unwrap_or_default();
    let broad = composition.picks.iter().map(|pick| pick.competency.len()).max().unwrap_or_default();
    let mut lines = vec![
        format!("Week {}: {} of {} minutes", composition.week, composition.minutes, composition.wanted),
        String::new(),
    ];
    for (number, pick) in (1..).zip(&composition.picks) {
        lines.push(format!(
            "{number:>3}  {:width$}  {:>2} min  {:6}  {:broad$}  {}",
            pick.exercise,
            pick.minutes,
            pick.level.word(),
            pick.competency,
            pick.reason
        ));
    }
    lines.push(String::new());
    for share in &composition.shares {
        let planned = share.planned.map(|planned| format!(", planned {}", percent(planned))).unwrap_or_default();
        lines.push(format!("{}: {} min, {}{planned}", share.title, share.minutes, percent(share.share)));
    }
    let groups: Vec<String> =
        composition.groups.iter().map(|(group, minutes)| format!("{} {minutes} min", group.words())).collect();
    lines.push(format!("By when it was taught: {}", groups.join(", ")));
    for one in &composition.gave_way {
        lines.push(format!("Gave way: {} ({})", one.constraint.word(), one.words));
    }
    lines.extend(composition.short.clone());
    lines
}
