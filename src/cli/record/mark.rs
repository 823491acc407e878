//! `record correct FACT mark=…`: one mark is overridden, with a reason.

use super::super::arguments_record::CorrectArguments;
use super::super::keeping::{Keeping, trouble};
use super::super::out::{Ended, Out};
use super::fault;
use crate::exchange::share;
use crate::ground::{Fault, Place};
use crate::records::{Code, Draft, Fact, History, MarkCorrected, Matter, Store};

/// The draft that overrides the mark of a fact; `None` if the fact is no mark.
pub(super) fn overriding(
    keeping: &Keeping,
    store: &Store,
    given: &CorrectArguments,
    entered_by: &Code,
    out: &mut Out,
) -> Result<Option<Draft>, Ended> {
    let link = store.read().link(given.fact).map_err(|wrong| trouble(&wrong, out))?;
    let fact = link.and_then(|link| Fact::read(&link.kind, &link.body).ok());
    let Some(Fact { person: Some(person), claim, matter }) = fact else { return Ok(None) };
    let (quiz, docket, exercise, part) = match matter {
        Matter::PartMarked(is) => (is.quiz, is.docket, is.exercise, is.part),
        Matter::MarkCorrected(is) => (is.quiz, is.docket, is.exercise, is.part),
        _ => return Ok(None),
    };
    let zone = &keeping.programme.about.time_zone;
    let history = store.read().history_of(zone, [&person]).map_err(|wrong| trouble(&wrong, out))?;
    let draft = still_counts(&history, &person, given.fact).and_then(|()| {
        let mark = new_mark(given, keeping.programme.about.decimal_comma)?;
        Ok(Draft {
            person: Some(person),
            seen_by: entered_by.clone(),
            seen_on: claim.seen_on,
            entered_by: entered_by.clone(),
            paper: None,
            note: Some(given.why.clone()),
            name: None,
            from_is_open: false,
            matter: Matter::MarkCorrected(MarkCorrected { quiz, docket, exercise, part, mark }),
            place: Place::default(),
        })
    });
    draft.map(Some).map_err(|fault| {
        out.fault(&fault);
        Ended::Content
    })
}

/// A mark that another has taken the place of is not the one to override.
fn still_counts(history: &History, person: &Code, seq: u64) -> Result<(), Fault> {
    let marks = history.person(person).into_iter().flat_map(|person| person.work.values()).flat_map(|work| &work.marks);
    match marks.filter(|mark| mark.seq == seq).find_map(|mark| mark.gone) {
        None => Ok(()),
        Some(later) => Err(fault(
            "corrected-already",
            format!("the mark of fact {seq} counts no more: that of fact {later} stands in its place"),
            format!("override that one: `gearside record correct {later} mark=…`"),
        )),
    }
}

/// The mark that was typed, from 0 to 1.
fn new_mark(given: &CorrectArguments, decimal_comma: bool) -> Result<f64, Fault> {
    let example = if decimal_comma { "mark=0,5" } else { "mark=0.5" };
    if given.strike {
        let message = format!("fact {} is a mark: it is overridden, not struck out", given.fact);
        return Err(fault("not-correctable", message, format!("say which mark counts, such as {example}")));
    }
    if let [value] = given.values.as_slice()
        && let Some((name, text)) = value.split_once('=')
        && name.trim() == "mark"
    {
        return share(text.trim(), decimal_comma);
    }
    let message = format!("fact {} is a mark, and nothing else of it can be otherwise", given.fact);
    Err(fault("not-correctable", message, format!("say which mark counts, such as {example}")))
}
