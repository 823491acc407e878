//! `record correct` and `record redact`.

use super::super::arguments_record::{CorrectArguments, RedactArguments};
use super::super::keeping::{Keeping, refusal, trouble};
use super::super::out::{Ended, Out};
use super::{code, fault, mark, put, say, typed, who_enters};
use crate::exchange::imports::{self, Defaults, cells_of};
use crate::ground::{Fault, Place, nearest_name};
use crate::records::{Code, Correction, Desk, Draft, Fact, MachineSalts, Matter, Redaction, Store};

pub(super) fn correct(
    keeping: &Keeping,
    store: &mut Store,
    given: &CorrectArguments,
    out: &mut Out,
) -> Result<Ended, Ended> {
    let entered_by = who_enters(keeping, store, given.entered_by.as_deref(), None, out)?;
    if let Some(draft) = mark::overriding(keeping, store, given, &entered_by, out)? {
        return put(keeping, store, vec![draft], given.dry_run, out);
    }
    let mut changes = Vec::new();
    for value in &given.values {
        let Some((name, text)) = value.split_once('=') else {
            return Err(out.usage(&format!("`{value}` is not a name and a value"), "write it as job=J-120"));
        };
        let name = name.trim().trim_start_matches("--").replace('-', "_");
        changes.push((if name == "on" { "date".to_owned() } else { name }, text.to_owned()));
    }
    let defaults =
        Defaults { programme: &keeping.programme, entered_by: entered_by.clone(), today: keeping.today, role: None };
    let change = |old: &Fact| -> Result<Draft, Fault> {
        let draft =
            if given.strike { struck_out(old, given.fact, &entered_by) } else { changed(old, &changes, &defaults)? };
        Ok(Draft { note: Some(given.why.clone()), entered_by: entered_by.clone(), ..draft })
    };
    let mut salts = MachineSalts;
    let mut desk = Desk { programme: &keeping.programme, now: keeping.now, salts: &mut salts, dry_run: given.dry_run };
    let outcome = desk.correct(store, given.fact, &change).map_err(|wrong| refusal(&wrong, out))?;
    let what = if given.strike { "strikes out" } else { "stands in for" };
    say(store, &[(format!("{what} fact {}", given.fact), None)], &[outcome], given.dry_run, out)?;
    Ok(Ended::Done)
}

fn struck_out(old: &Fact, seq: u64, entered_by: &Code) -> Draft {
    Draft {
        person: old.person.clone(),
        seen_by: old.claim.seen_by.clone(),
        seen_on: old.claim.seen_on,
        entered_by: entered_by.clone(),
        paper: None,
        note: None,
        name: None,
        from_is_open: false,
        matter: Matter::Correction(Correction { replaces: seq, kind: String::new(), instead: None }),
        place: Place::default(),
    }
}

/// The old fact with some of its cells changed, read again.
fn changed(old: &Fact, changes: &[(String, String)], defaults: &Defaults<'_>) -> Result<Draft, Fault> {
    let (import, mut cells): (super::Import, _) = match &old.matter {
        Matter::Grant(_) => (imports::people, cells_of(old, defaults.programme.about.decimal_comma)),
        Matter::Leave(_) => (imports::leave, cells_of(old, defaults.programme.about.decimal_comma)),
        Matter::Return(_) => (imports::returns, cells_of(old, defaults.programme.about.decimal_comma)),
        Matter::Taught(_) => (imports::taught, cells_of(old, defaults.programme.about.decimal_comma)),
        Matter::Hours(_) => (imports::hours, cells_of(old, defaults.programme.about.decimal_comma)),
        Matter::Observation(_) => (imports::observed, cells_of(old, defaults.programme.about.decimal_comma)),
        Matter::Event(_) => (imports::events, cells_of(old, defaults.programme.about.decimal_comma)),
        Matter::Judged(_) => (imports::judged, cells_of(old, defaults.programme.about.decimal_comma)),
        other => {
            let message = format!("a fact of the kind `{}` is struck out, not changed", other.kind());
            return Err(fault("not-correctable", message, "use --strike, and enter what happened anew"));
        }
    };
    for (name, text) in changes {
        let Some((_, cell)) = cells.iter_mut().find(|(column, _)| column == name) else {
            let known = cells.iter().map(|(column, _)| *column);
            let mend = nearest_name(name, known.clone()).map_or_else(
                || format!("it has: {}", known.collect::<Vec<_>>().join(", ")),
                |near| format!("did you mean `{near}`?"),
            );
            return Err(fault("unknown-name", format!("this fact has no `{name}`"), mend));
        };
        cell.clone_from(text);
    }
    cells.retain(|(_, text)| !text.is_empty());
    let looks_stay = !changes.iter().any(|(name, _)| name == "criteria" || name == "competency");
    let mut batch = typed(import, &cells, defaults);
    match (batch.faults.0.into_iter().next(), batch.drafts.pop()) {
        (None, Some(draft)) if matches!(old.matter, Matter::Grant(_)) => {
            Ok(Draft { seen_by: old.claim.seen_by.clone(), seen_on: old.claim.seen_on, ..draft })
        }
        (None, Some(mut draft)) => {
            // The looks mean the criteria of their own edition; they stay as they were entered.
            if let (true, Matter::Observation(new), Matter::Observation(was)) =
                (looks_stay, &mut draft.matter, &old.matter)
            {
                new.criteria.clone_from(&was.criteria);
            }
            Ok(draft)
        }
        (wrong, _) => Err(wrong.unwrap_or_else(|| fault("empty", "there is nothing to put in its place", ""))),
    }
}

pub(super) fn redact(
    keeping: &Keeping,
    store: &mut Store,
    given: &RedactArguments,
    out: &mut Out,
) -> Result<Ended, Ended> {
    let person = code(&given.person, "the person", out)?;
    let entered_by = who_enters(keeping, store, given.entered_by.as_deref(), None, out)?;
    if !given.yes {
        return Err(out.usage(
            &format!("this erases the name and all notes of {person} for good, here; backups and exports keep theirs"),
            "say --yes if that is meant",
        ));
    }
    let draft = Draft {
        person: Some(person.clone()),
        seen_by: entered_by.clone(),
        seen_on: keeping.today,
        entered_by,
        paper: None,
        note: Some(given.why.clone()),
        name: None,
        from_is_open: false,
        matter: Matter::Redaction(Redaction { digests: Vec::new() }),
        place: Place::default(),
    };
    let mut salts = MachineSalts;
    let mut desk = Desk { programme: &keeping.programme, now: keeping.now, salts: &mut salts, dry_run: false };
    let (seq, count) = desk.redact(store, &person, draft).map_err(|wrong| refusal(&wrong, out))?;
    let head = store.read().head().map_err(|wrong| trouble(&wrong, out))?;
    if out.json {
        out.value(&serde_json::json!({ "fact": seq, "erased": count, "head": head.shown(), "hash": head.digest() }));
    } else {
        out.line(&format!("{seq}  {count} names and notes of {person} are erased"));
        out.note(&format!("head {}. Old backups, exports and printed pages still have them.", head.shown()));
    }
    Ok(Ended::Done)
}
