//! Taking returns: which of them count, and which do not and why.

use std::collections::{BTreeMap, BTreeSet};

use super::returns::Return;
use super::snapshot::Snapshot;
use crate::ground::{Fault, Place, nearest_name};
use crate::records::{Code, Digest, History, Seq};

/// A return that came, and where from.
#[derive(Debug, Clone)]
pub struct Came {
    /// The file, and the line if it is one of several in it.
    pub from: Place,
    /// What it says.
    pub returned: Return,
}

/// The return that counts for a docket so far.
#[derive(Debug, Clone)]
pub struct OnRecord {
    /// The fact.
    pub seq: Seq,
    /// Whose it is.
    pub person: Code,
    /// What it says; `None` if its text was erased.
    pub returned: Option<Return>,
}

/// A return that counts from now on.
#[derive(Debug, Clone)]
pub struct Taken {
    /// The place of its docket.
    pub place: usize,
    /// Whose it is.
    pub person: Code,
    /// What it says.
    pub returned: Return,
    /// The file it came from.
    pub from: String,
}

/// The returns that came, sorted out.
#[derive(Debug, Default)]
pub struct SortedOut {
    /// What counts from now on, by docket.
    pub taken: Vec<Taken>,
    /// The dockets whose return is on record already, word for word.
    pub already: Vec<usize>,
    /// What is refused, and why.
    pub faults: Vec<Fault>,
}

/// The returns that count so far, by the place of their docket. `text` gives
/// what was kept under a digest.
///
/// # Errors
/// What `text` says.
pub fn on_record<E>(
    snapshot: &Snapshot,
    history: &History,
    mut text: impl FnMut(&Digest) -> Result<Option<String>, E>,
) -> Result<BTreeMap<usize, OnRecord>, E> {
    let mut found: BTreeMap<usize, OnRecord> = BTreeMap::new();
    for person in history.people.values() {
        for taken in person.returns.iter().filter(|one| *one.is.quiz == snapshot.head.quiz && one.gone.is_none()) {
            let Some((place, _)) = snapshot.seat(&taken.is.docket) else { continue };
            if found.get(&place).is_some_and(|known| known.seq > taken.seq) {
                continue;
            }
            let returned = text(&taken.is.digest)?.and_then(|text| Return::read(&text).ok());
            found.insert(place, OnRecord { seq: taken.seq, person: person.code.clone(), returned });
        }
    }
    Ok(found)
}

/// Sorts out what came. Of two returns of one docket that differ neither is
/// taken, and one that differs from the return on record is not, unless `count`
/// names its file.
#[must_use]
pub fn sort_out(
    snapshot: &Snapshot,
    history: &History,
    came: Vec<Came>,
    on_record: &BTreeMap<usize, OnRecord>,
    count: &BTreeSet<String>,
) -> SortedOut {
    let mut out = SortedOut::default();
    let mut by_docket: BTreeMap<usize, Vec<(Came, Code)>> = BTreeMap::new();
    for one in came {
        match one.returned.seat(snapshot).and_then(|(place, code)| known(history, &code).map(|code| (place, code))) {
            Ok((place, code)) => by_docket.entry(place).or_default().push((one, code)),
            Err(fault) => out.faults.push(fault.at(one.from)),
        }
    }
    for (place, mut list) in by_docket {
        if let Some(chosen) = list.iter().position(|(one, _)| is_named(one, count)) {
            list = vec![list.swap_remove(chosen)];
        } else if let Some(fault) = differing(snapshot, place, &list, on_record.get(&place)) {
            out.faults.push(fault);
            continue;
        }
        let Some((came, person)) = list.into_iter().next() else { continue };
        let known = on_record.get(&place);
        let same = |known: &OnRecord| known.returned.as_ref().is_some_and(|old| old.says_the_same(&came.returned));
        if known.is_some_and(same) {
            out.already.push(place);
        } else if let Some(fault) = sat_twice(snapshot, place, &person, on_record, &out.taken) {
            out.faults.push(fault.at(came.from));
        } else {
            let from = came.from.file.unwrap_or_default();
            out.taken.push(Taken { place, person, returned: came.returned, from });
        }
    }
    out
}

/// Someone on record who is or was an apprentice.
fn known(history: &History, code: &Code) -> Result<Code, Fault> {
    if let Some(person) = history.person(code).filter(|person| !person.grants.is_empty()) {
        return Ok(person.code.clone());
    }
    let near = nearest_name(code.as_str(), history.people.keys().map(Code::as_str));
    let mend = near.map_or_else(
        || format!("enter them first: `gearside record person {code} --role apprentice …`"),
        |near| format!("did you mean `{near}`?"),
    );
    Err(Fault::new("unknown-person", format!("nobody with the code `{code}` is on record"), mend))
}

/// Whether a file was named to count: its whole path, or its name.
fn is_named(came: &Came, count: &BTreeSet<String>) -> bool {
    let Some(file) = &came.from.file else { return false };
    let name = file.rsplit(['/', '\\']).next().unwrap_or(file);
    count.contains(file) || count.contains(name)
}

/// Why none of several returns of a docket can be taken by itself.
fn differing(snapshot: &Snapshot, place: usize, list: &[(Came, Code)], known: Option<&OnRecord>) -> Option<Fault> {
    let (first, _) = list.first()?;
    let docket = &snapshot.dockets[place].docket;
    let named = |came: &Came| {
        let line = came.from.line.map(|line| format!(", line {line}")).unwrap_or_default();
        format!("{}{line}", came.from.file.as_deref().unwrap_or("one"))
    };
    let mend =
        format!("find out which one counts, and say so: `gearside mark {} FILE… --count FILE`", snapshot.head.quiz);
    if list.iter().any(|(other, _)| !other.returned.says_the_same(&first.returned)) {
        let files: Vec<String> = list.iter().map(|(came, _)| named(came)).collect();
        let message = format!("two returns of docket {docket} differ, so none is taken: {}", files.join(" and "));
        return Some(Fault::new("two-returns", message, mend).at(first.from.clone()));
    }
    let known = known?;
    let differs = match &known.returned {
        Some(old) => !old.says_the_same(&first.returned),
        None => true,
    };
    differs.then(|| {
        let message = format!(
            "it differs from the return of docket {docket} that is on record (fact {}), which stays",
            known.seq
        );
        Fault::new("two-returns", message, mend).at(first.from.clone())
    })
}

/// Why a return cannot count beside another docket of the same person.
fn sat_twice(
    snapshot: &Snapshot,
    place: usize,
    person: &Code,
    on_record: &BTreeMap<usize, OnRecord>,
    taken: &[Taken],
) -> Option<Fault> {
    let before = on_record.iter().map(|(place, one)| (*place, &one.person));
    let now = taken.iter().map(|one| (one.place, &one.person));
    let (other, _) = before.chain(now).find(|(other, whose)| *other != place && *whose == person)?;
    let message = format!("{person} has already returned docket {} of this quiz", snapshot.dockets[other].docket);
    Some(Fault::new("sat-twice", message, "one docket of a quiz counts for a person; leave this one out"))
}
