//! The weekly quizzes of the story: composed, issued and marked as any quiz is.

use std::collections::BTreeMap;

use jiff::Timestamp;

use super::Told;
use super::calendar::day;
use super::cast::{Apprentice, HELD, RELEASED};
use super::hand::answers;
use super::run::Run;
use super::story::Story;
use super::year::Year;
use crate::programme::{Exercise, Form, Programme, Use};
use crate::quiz::{
    Asked, Composition, Drawn, Issued, Issuing, KeptDocket, MarkedBy, Marking, Place, Request, Return, Taken, compose,
    issue,
};
use crate::records::{Code, Refusal, Rules, Word};

/// Who broke a safety pair, in which competency, in which week.
const BROKEN: &[(&str, &str, u32)] = &[(RELEASED, "make-the-press-safe", 5), (HELD, "act-in-an-emergency", 9)];

/// What the quizzes of the story asked.
pub(super) type AskedSoFar = BTreeMap<Word, Vec<Asked>>;

/// Thursday: the quiz is issued, sat, and marked; who broke a safety pair is held.
pub(super) fn thursday(run: &mut Run<'_>, year: &Year<'_>, week: u32) -> Told {
    let on = day(year.starts, week, 3);
    if year.is_now {
        let taught = Story { cast: run.cast }.taught(year, week);
        run.clerk.enter(year.programme, run.calendar.at(on, 11, 50)?, vec![taught])?;
    }
    let composition = composed(run, year, week)?;
    let id = year.quiz_id(week);
    let minutes = composition.wanted;
    let places: Vec<Place> =
        run.cast.there(year.is_now, week).map(|one| Place { person: Some(one.code.clone()), minutes }).collect();
    let issuing = Issuing {
        programme: year.programme,
        composition: &composition,
        quiz: &id,
        day: on,
        places: &places,
        seed: year.tag,
        rehearsal: false,
    };
    let issued = issue(&issuing, &mut Drawn::rehearsed(&format!("{} {week}", year.tag))).map_err(Refusal::Faults)?;
    let noon = run.calendar.at(on, 12, 30)?;
    let teacher = &run.cast.instructors[0].0;
    run.clerk.enter_with(year.programme, noon, |writer, _| issued.keep(year.programme, teacher, writer))?;
    let asked = composition.picks.into_iter().map(|pick| Asked {
        exercise: pick.exercise,
        family: pick.family,
        competency: pick.competency,
    });
    run.asked.insert(id, asked.collect());
    let after = run.calendar.at(on, 15, 40)?;
    mark(run, year, week, &issued, after)
}

fn composed(run: &Run<'_>, year: &Year<'_>, week: u32) -> Result<Composition, Refusal> {
    let history = run.clerk.store.read().history(run.calendar.zone())?;
    let with: Vec<String> = BROKEN
        .iter()
        .filter(|(.., when)| year.is_now && *when == week)
        .filter_map(|(_, competency, _)| about_safety(year.programme, competency))
        .collect();
    let request = Request {
        programme: year.programme,
        history: Some(&history),
        asked: &run.asked,
        week,
        day: day(year.starts, week, 3),
        minutes: year.programme.plan.as_ref().map_or(45, |plan| plan.minutes),
        with: &with,
        without: &[],
        only: None,
        seed: year.tag,
    };
    compose(&request).map_err(Refusal::Faults)
}

/// An exercise about an order in which someone can be hurt.
fn about_safety(programme: &Programme, competency: &str) -> Option<String> {
    let is_one = |exercise: &&Exercise| {
        exercise.competency.as_str() == competency
            && exercise.used_in != Use::Practice
            && matches!(&exercise.form, Form::Order(order) if order.before.iter().any(|edge| edge.safety))
    };
    programme.exercises().find(is_one).map(|exercise| exercise.id.to_string())
}

fn mark(run: &mut Run<'_>, year: &Year<'_>, week: u32, issued: &Issued, now: Timestamp) -> Told {
    let history = run.clerk.store.read().history(run.calendar.zone())?;
    let rules = Rules::of(year.programme);
    let entered_by: &Code = &run.cast.instructors[0].0;
    let by = MarkedBy { entered_by, on: day(year.starts, week, 3), rules: &rules, history: &history };
    let marking = Marking::open(&issued.snapshot)?;
    let tag = format!("{}-{week}", year.tag);
    let mut marked = Vec::new();
    for (place, packed) in issued.dockets.iter().enumerate() {
        let seat = &issued.snapshot.dockets[place];
        let Some(person) = seat.person.as_ref().and_then(|code| run.cast.apprentice(code.as_str())) else { continue };
        let kept = KeptDocket::unpack(packed)?;
        let written = answers(&issued.snapshot, &kept, person, &tag, breaks(year, week, person))?;
        let mut returned = Return::from_paper(&issued.snapshot.head.quiz, &seat.docket, person.code.as_str(), written);
        returned.shown = seat.shown.to_string();
        let marks = marking.mark(&kept, &returned.answers)?;
        let from = format!("{}.json", person.code);
        marked.push((Taken { place, person: person.code.clone(), returned, from }, marks));
    }
    run.clerk.enter_with(year.programme, now, |writer, salts| {
        let mut drafts = Vec::new();
        for (taken, marks) in &marked {
            let text = writer.keep_text(&taken.returned.to_text(), salts)?;
            drafts.extend(marking.drafts(taken, text, marks, by));
        }
        Ok(drafts)
    })
}

/// The competency in which someone breaks a safety pair that week.
fn breaks(year: &Year<'_>, week: u32, person: &Apprentice) -> Option<&'static str> {
    let is_it = |(who, _, when): &&(&str, &str, u32)| year.is_now && *who == person.code.as_str() && *when == week;
    BROKEN.iter().find(is_it).map(|(_, competency, _)| *competency)
}
