//! `gearside audit`: walks the chain, looks at every sign-off again.

use std::path::Path;

use serde_json::json;

use super::arguments::AuditArguments;
use super::keeping::{Keeping, trouble};
use super::out::{Ended, Out};
use crate::exchange::export::{Wanted, export};
use crate::ground::files::write_folder;
use crate::ground::{Fault, Place};
use crate::records::{Audit, ClaimedHead, Code, HeadCheck, SignoffFinding, Store};

pub(super) fn run(arguments: &AuditArguments, programme: Option<&Path>, out: &mut Out) -> Ended {
    audit(arguments, programme, out).unwrap_or_else(|ended| ended)
}

fn audit(arguments: &AuditArguments, programme: Option<&Path>, out: &mut Out) -> Result<Ended, Ended> {
    let claimed = match arguments.head.as_deref().map(ClaimedHead::parse).transpose() {
        Ok(claimed) => claimed,
        Err(message) => return Err(out.usage("the head cannot be read", &message)),
    };
    let keeping = Keeping::load(programme, false, out)?;
    let store = keeping.open(out)?;
    // What can be read is written out even where the audit then stops at damage.
    let exported =
        arguments.export.as_deref().map(|folder| write_out(&keeping, &store, arguments, folder, out)).transpose()?;
    let _moment = store.hold_still().map_err(|wrong| trouble(&wrong, out))?;
    let zone = &keeping.programme.about.time_zone;
    let found = match Audit::of(&store, zone, claimed.as_ref()) {
        Ok(found) => found,
        Err(wrong) => return Err(trouble(&wrong, out)),
    };
    let place = Place { file: Some(store.path().display().to_string()), ..Place::default() };
    for fault in faults(&found, arguments.head.as_deref().unwrap_or_default()) {
        out.fault(&fault.at(place.clone()));
    }
    let ended = if found.holds() { Ended::Done } else { Ended::Content };
    let ended = exported.map_or(ended, |exported| ended.max(exported));
    if out.json {
        let value = as_json(&found, &out.faults_json());
        out.value(&value);
    } else {
        lines(&found).iter().for_each(|line| out.line(line));
    }
    Ok(ended)
}

/// Writes everything out, or everything about one person.
fn write_out(
    keeping: &Keeping,
    store: &Store,
    arguments: &AuditArguments,
    folder: &Path,
    out: &mut Out,
) -> Result<Ended, Ended> {
    let person = match arguments.person.as_deref().map(Code::parse).transpose() {
        Ok(person) => person,
        Err(why) => return Err(out.usage("--person: this is not a code", &why)),
    };
    let wanted = Wanted { person, names: arguments.names, notes: arguments.notes, on: keeping.today };
    let export = match export(store.read(), &keeping.programme, &wanted) {
        Ok(export) => export,
        Err(fault) => {
            out.fault(&fault);
            return Err(Ended::Usage);
        }
    };
    write_folder(folder, &export.files).map_err(|fault| out.folder(&fault))?;
    out.note(&format!("{} files in {}", export.files.len(), folder.display()));
    Ok(export.trouble.as_ref().map_or(Ended::Done, |wrong| trouble(wrong, out)))
}

/// Everything that must be looked into.
fn faults(found: &Audit, head: &str) -> Vec<Fault> {
    let mut faults: Vec<Fault> = found
        .breaks
        .iter()
        .map(|one| {
            let message = format!("the chain breaks at fact {}: {}", one.seq, one.what);
            Fault::new("chain", message, "compare with a backup and with printed pages from before; what follows from this fact cannot be trusted")
        })
        .collect();
    faults.extend(found.texts.iter().map(|one| {
        let how =
            if one.altered { "is not what was entered" } else { "is missing, and no fact says that it was erased" };
        Fault::new("text", format!("the {} of fact {} {how}", one.what, one.seq), "compare with a backup")
    }));
    faults.extend(found.claimed.as_ref().and_then(|check| head_fault(check, head)));
    faults.extend(found.signoffs.iter().flat_map(signoff_faults));
    faults.extend(found.clock_back.iter().map(|seq| {
        let message = format!("fact {seq} was entered while the clock stood earlier than at the fact before it");
        Fault::new("clock", message, "find out which machine's clock was wrong").as_remark()
    }));
    faults
}

fn head_fault(check: &HeadCheck, head: &str) -> Option<Fault> {
    let message = match check {
        HeadCheck::Holds(_) => return None,
        HeadCheck::Cut => {
            "the record ends before the head that was asked about: facts were cut off, or this is an old copy"
        }
        HeadCheck::Rewritten => "the fact of that number has another hash: the record was rewritten at or before it",
        HeadCheck::Unknown => "no fact has that hash: the record was rewritten or cut, or it is another record",
    };
    Some(Fault::new(
        "head",
        format!("head {}: {message}", head.trim().trim_start_matches("head").trim()),
        "compare with a backup and with printed pages from before",
    ))
}

fn signoff_faults(one: &SignoffFinding) -> Vec<Fault> {
    let what = format!("sign-off {} ({}, {}, {})", one.seq, one.person, one.competency, one.on);
    let mut faults = Vec::new();
    if !one.then.is_empty() {
        let message = format!("{what} did not hold when it was made: {}", one.then.join("; "));
        faults.push(Fault::new("sign-off", message, "withdraw it, and sign again on what holds"));
    } else if !one.now.is_empty() && !one.withdrawn {
        let because = if one.corrected.is_empty() {
            "what has been entered since".to_owned()
        } else {
            let list: Vec<String> = one.corrected.iter().map(u64::to_string).collect();
            format!("the correction of {}", list.join(", "))
        };
        let message = format!("{what} would not hold any more, after {because}: {}", one.now.join("; "));
        let fault = Fault::new(
            "sign-off",
            message,
            "look at the evidence again: withdraw it, or gather what is missing and sign anew",
        );
        faults.push(fault);
    }
    faults
}

/// What is said when all is told.
fn lines(found: &Audit) -> Vec<String> {
    let count = |number: usize, one: &str| format!("{number} {one}{}", if number == 1 { "" } else { "s" });
    let despite: Vec<&SignoffFinding> = found.signoffs.iter().filter(|one| one.despite.is_some()).collect();
    let holding = found.signoffs.iter().filter(|one| one.then.is_empty()).count();
    let mut lines = vec![
        format!("head {}", found.head.shown()),
        format!("hash {}", found.head.digest()),
        match found.breaks.len() {
            0 => {
                format!("The chain of {} holds.", count(usize::try_from(found.head.seq).unwrap_or(usize::MAX), "fact"))
            }
            breaks => format!("The chain does not hold: {}.", count(breaks, "break")),
        },
        if found.breaks.is_empty() {
            let withdrawn = found.signoffs.iter().filter(|one| one.withdrawn).count();
            let later = if withdrawn > 0 { format!(" ({withdrawn} withdrawn since)") } else { String::new() };
            format!(
                "{}, {holding} of them hold as known when they were made{later}.",
                count(found.signoffs.len(), "sign-off")
            )
        } else {
            format!("{}; whether they hold cannot be trusted behind a break.", count(found.signoffs.len(), "sign-off"))
        },
    ];
    for one in despite {
        let second = one.despite.as_ref().map(ToString::to_string).unwrap_or_default();
        lines.push(format!(
            "Signed despite missing evidence: fact {}, {}, {}, on {} by {}, {second} standing by it, edition {}.",
            one.seq, one.person, one.competency, one.on, one.by, one.edition
        ));
    }
    if found.late > 0 {
        lines.push(format!("{} entered more than a week after being seen.", count(found.late, "fact")));
    }
    if found.erased > 0 {
        lines.push(format!("Names and notes erased, as facts say: {}.", found.erased));
    }
    if let Some(HeadCheck::Holds(since)) = found.claimed {
        lines.push(format!("The record goes on from the head asked about; {since} facts came since."));
    }
    lines
}

fn as_json(found: &Audit, faults: &serde_json::Value) -> serde_json::Value {
    let signoffs: Vec<serde_json::Value> = found
        .signoffs
        .iter()
        .map(|one| {
            json!({
                "seq": one.seq, "person": one.person, "competency": one.competency, "on": one.on, "by": one.by,
                "edition": one.edition, "despite": one.despite, "withdrawn": one.withdrawn,
                "doubts_then": one.then, "doubts_now": one.now, "corrected": one.corrected,
            })
        })
        .collect();
    json!({
        "seq": found.head.seq,
        "hash": found.head.digest(),
        "head": found.head.shown(),
        "holds": found.holds(),
        "breaks": found.breaks.iter().map(|one| json!({ "seq": one.seq, "what": one.what })).collect::<Vec<_>>(),
        "signoffs": signoffs,
        "late": found.late,
        "erased": found.erased,
        "faults": faults,
    })
}
