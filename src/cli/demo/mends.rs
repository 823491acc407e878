//! What is set right on a Monday: a hold released, a wrong job number, a shift
//! that was entered for the wrong person.

use super::Told;
use super::calendar::day;
use super::cast::{AHEAD, RELEASED};
use super::clerk::about;
use super::run::Run;
use super::year::Year;
use crate::records::{Draft, History, Matter, Observation, Release, Seq, Word};

/// The week in which the hold is talked through and released.
const RELEASED_IN: u32 = 6;
/// The Monday of the week on which a shift is struck out.
const STRUCK_OUT_IN: u32 = 7;
/// The same for the wrong job number.
const CORRECTED_IN: u32 = 9;

/// What is set right on the Monday of a week.
pub(super) fn monday(run: &mut Run<'_>, year: &Year<'_>, week: u32) -> Told {
    match week {
        RELEASED_IN => release(run, year, week),
        STRUCK_OUT_IN => strike_out(run, year, week),
        CORRECTED_IN => correct_job(run, year, week),
        _ => Ok(()),
    }
}

fn release(run: &mut Run<'_>, year: &Year<'_>, week: u32) -> Told {
    let history: History = run.clerk.store.read().history(run.calendar.zone())?;
    let Some(person) = run.cast.apprentice(RELEASED).and_then(|one| history.person(&one.code)) else { return Ok(()) };
    let on = day(year.starts, week, 0);
    let by = &run.cast.assessors[1].code;
    let holds = person.work.iter().flat_map(|(name, work)| work.holds.iter().map(move |hold| (name, hold.seq)));
    let drafts = holds.map(|(name, hold): (&Word, Seq)| {
        let matter = Matter::Release(Release { competency: name.clone(), hold });
        let mut draft = about(&person.code, by, on, by, matter);
        draft.note = Some(
            "Walked through it at the press together, move by move. The start was tried before the guard was opened, three times out of three.".to_owned(),
        );
        draft
    });
    let drafts: Vec<Draft> = drafts.collect();
    run.clerk.enter(year.programme, run.calendar.at(on, 9, 0)?, drafts)?;
    Ok(())
}

/// The first fact of last Friday about a person that fits.
fn entered(run: &Run<'_>, who: &str, fits: impl Fn(&Draft) -> bool) -> Option<Seq> {
    let own = |one: &Draft| one.person.as_ref().is_some_and(|code| code.as_str() == who);
    run.entered.iter().find(|(_, one)| own(one) && fits(one)).map(|(seq, _)| *seq)
}

fn strike_out(run: &mut Run<'_>, year: &Year<'_>, week: u32) -> Told {
    let wednesday = day(year.starts, week - 1, 2);
    let is_it = |one: &Draft| one.seen_on == wednesday && matches!(one.matter, Matter::Hours(_));
    let Some(seq) = entered(run, RELEASED, is_it) else { return Ok(()) };
    let now = run.calendar.at(day(year.starts, week, 0), 9, 10)?;
    let office = &run.cast.coordinator.0;
    let why = "Was at the medical that morning; the sheet of the shift had the wrong name on it.";
    run.clerk.correct(year.programme, now, seq, office, why, |_| None)
}

fn correct_job(run: &mut Run<'_>, year: &Year<'_>, week: u32) -> Told {
    let Some(seq) = entered(run, AHEAD, |one| matches!(one.matter, Matter::Observation(_))) else { return Ok(()) };
    let now = run.calendar.at(day(year.starts, week, 0), 9, 10)?;
    let office = &run.cast.coordinator.0;
    let why = "The sheet had the number of the job before; the run log has this one.";
    run.clerk.correct(year.programme, now, seq, office, why, |old| match old {
        Matter::Observation(is) => {
            let job = format!("{}-B", is.job).into();
            Some(Matter::Observation(Observation { job, ..is.clone() }))
        }
        _ => None,
    })
}
