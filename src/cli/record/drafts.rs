//! Drafts that are entered by hand only: requests, withdrawals, holds, releases.

use super::super::arguments_record::{CompetencyArguments, Said, WhyArguments};
use super::super::keeping::{Keeping, date, trouble};
use super::super::out::{Ended, Out};
use super::{code, who_enters};
use crate::ground::Place;
use crate::records::{
    Ask, Code, Derivation, Draft, Held, History, Hold, HoldCause, Matter, Release, Request, Rules, State, Store,
    Withdrawal, Word,
};

/// What was typed about a person and a competency.
struct Typed {
    person: Code,
    competency: Word,
    draft: Draft,
}

fn typed(
    keeping: &Keeping,
    store: &Store,
    (person, competency, said): (&str, &str, &Said),
    why: Option<&String>,
    out: &mut Out,
) -> Result<Typed, Ended> {
    let person = code(person, "the apprentice", out)?;
    let entered_by = who_enters(keeping, store, said.entered_by.as_deref(), None, out)?;
    let seen_by = said.seen_by.as_deref().map(|text| code(text, "--seen-by", out)).transpose()?;
    let seen_on = match said.on.as_deref().map(date).transpose() {
        Ok(day) => day.unwrap_or(keeping.today),
        Err(message) => return Err(out.usage(&message, "give the day with --on")),
    };
    let competency = Word::from(competency);
    let draft = Draft {
        person: Some(person.clone()),
        seen_by: seen_by.unwrap_or_else(|| entered_by.clone()),
        seen_on,
        entered_by,
        paper: said.paper.clone(),
        note: why.or(said.note.as_ref()).cloned(),
        name: None,
        from_is_open: false,
        matter: Matter::Request(Request { competency: competency.clone() }),
        place: Place::default(),
    };
    Ok(Typed { person, competency, draft })
}

pub(super) fn request(
    keeping: &Keeping,
    store: &Store,
    given: &CompetencyArguments,
    out: &mut Out,
) -> Result<Draft, Ended> {
    typed(keeping, store, (&given.person, &given.competency, &given.said), None, out).map(|typed| typed.draft)
}

fn why(keeping: &Keeping, store: &Store, given: &WhyArguments, out: &mut Out) -> Result<Typed, Ended> {
    typed(keeping, store, (&given.person, &given.competency, &given.said), given.why.as_ref(), out)
}

/// How the person stands on the day that is spoken of.
fn state(keeping: &Keeping, store: &Store, typed: &Typed, out: &mut Out) -> Result<Option<State>, Ended> {
    let history: History = store
        .read()
        .history_of(&keeping.programme.about.time_zone, [&typed.person])
        .map_err(|wrong| trouble(&wrong, out))?;
    let rules = Rules::of(&keeping.programme);
    let derivation = Derivation::new(&history, &rules);
    let person = history.person(&typed.person);
    Ok(person.and_then(|person| derivation.state(person, &typed.competency, Ask::on(typed.draft.seen_on))))
}

pub(super) fn withdrawal(
    keeping: &Keeping,
    store: &Store,
    given: &WhyArguments,
    out: &mut Out,
) -> Result<Draft, Ended> {
    let mut typed = why(keeping, store, given, out)?;
    let signoff = state(keeping, store, &typed, out)?.and_then(|state| state.signed).map_or(0, |signed| signed.seq);
    typed.draft.matter = Matter::Withdrawal(Withdrawal { competency: typed.competency, signoff });
    Ok(typed.draft)
}

pub(super) fn hold(keeping: &Keeping, store: &Store, given: &WhyArguments, out: &mut Out) -> Result<Draft, Ended> {
    let mut typed = why(keeping, store, given, out)?;
    typed.draft.matter = Matter::Hold(Hold { competency: typed.competency, cause: HoldCause::Other, of: None });
    Ok(typed.draft)
}

/// Every hold that is open on the competency is released.
pub(super) fn releases(
    keeping: &Keeping,
    store: &Store,
    given: &WhyArguments,
    out: &mut Out,
) -> Result<Vec<Draft>, Ended> {
    let typed = why(keeping, store, given, out)?;
    let held = state(keeping, store, &typed, out)?.map(|state| state.held).unwrap_or_default();
    let mut holds: Vec<u64> = held
        .iter()
        .filter_map(|held| match held {
            Held::Open { seq, .. } => Some(*seq),
            Held::NeedWithdrawn(_) | Held::NeedLapsed(_) | Held::NeedHeld(_) => None,
        })
        .collect();
    if holds.is_empty() {
        holds.push(0); // the desk says that there is nothing to release
    }
    let release = |hold| Draft {
        matter: Matter::Release(Release { competency: typed.competency.clone(), hold }),
        ..typed.draft.clone()
    };
    Ok(holds.into_iter().map(release).collect())
}
