//! Taking returns: which of them count, and which do not and why.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;

use super::returns::Return;
use super::snapshot::Snapshot;
use crate::ground::{Fault, Place, nearest_name};
use crate::records::{Code, Digest, History, Role, Seq};

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
/// names its file; nor is one of somebody who was no apprentice, or away, `on`
/// the day that the quiz was sat.
#[must_use]
pub fn sort_out(
    snapshot: &Snapshot,
    history: &History,
    came: Vec<Came>,
    on_record: &BTreeMap<usize, OnRecord>,
    count: &BTreeSet<String>,
    on: Date,
) -> SortedOut {
    let mut out = SortedOut::default();
    let mut by_docket: BTreeMap<usize, Vec<(Came, Code)>> = BTreeMap::new();
    for one in came {
        match one.returned.seat(snapshot).and_then(|(place, code)| known(history, &code).map(|code| (place, code))) {
            Ok((place, code)) => by_docket.entry(place).or_default().push((one, code)),
            Err(fault) => out.faults.push(fault.at(one.from)),
        }
    }
    for (place, list) in by_docket {
        let known = on_record.get(&place);
        let (named, others): (Vec<_>, Vec<_>) = list.into_iter().partition(|(one, _)| is_named(one, count));
        let by_name = !named.is_empty();
        let list = if by_name { named } else { others };
        let (same, new): (Vec<_>, Vec<_>) = list.into_iter().partition(|(one, _)| known.is_some_and(|old| old.is(one)));
        if !same.is_empty() && (new.is_empty() || !by_name) {
            out.already.push(place);
        }
        match known {
            Some(known) if !by_name => {
                out.faults.extend(new.iter().map(|(one, _)| differs_from(known, one, snapshot, place)));
                continue;
            }
            _ if differ(&new) || (!same.is_empty() && !new.is_empty()) => {
                out.faults.extend(two_returns(snapshot, place, same.iter().chain(&new)));
                continue;
            }
            _ => {}
        }
        let Some((came, person)) = new.into_iter().next() else { continue };
        let against = not_there(history, &person, on);
        if let Some(fault) = against.or_else(|| sat_twice(snapshot, place, &person, on_record, &out.taken)) {
            out.faults.push(fault.at(came.from));
            continue;
        }
        let from = came.from.file.unwrap_or_default();
        out.taken.push(Taken { place, person, returned: came.returned, from });
    }
    out
}

impl OnRecord {
    /// Whether what came says just that.
    fn is(&self, came: &Came) -> bool {
        self.returned.as_ref().is_some_and(|old| old.says_the_same(&came.returned))
    }
}

/// Someone on record.
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

/// Why someone could not have sat a quiz on a day: no apprentice then, or away.
fn not_there(history: &History, code: &Code, on: Date) -> Option<Fault> {
    let person = history.person(code)?;
    if person.grant(Role::Apprentice, on, History::NOW).is_none() {
        let mend = format!(
            "look at the code, and say with --on when it was sat; or enter the role: \
             `gearside record person {code} --role apprentice --from …`"
        );
        return Some(Fault::new("not-an-apprentice", format!("{code} is not an apprentice on {on}"), mend));
    }
    let since = person.away_since(on, History::NOW)?;
    let mend = format!(
        "say with --on when it was sat, or enter that {code} is back: `gearside record return {code} --from …`"
    );
    Some(Fault::new("away", format!("{code} is away since {since}, so nothing was sat on {on}"), mend))
}

/// Whether a file was named to count: its whole path, or its name.
fn is_named(came: &Came, count: &BTreeSet<String>) -> bool {
    let Some(file) = &came.from.file else { return false };
    let name = file.rsplit(['/', '\\']).next().unwrap_or(file);
    count.contains(file) || count.contains(name)
}

fn differ(list: &[(Came, Code)]) -> bool {
    list.windows(2).any(|two| !two[0].0.returned.says_the_same(&two[1].0.returned))
}

/// What to do about a return that does not count by itself.
fn say_which(snapshot: &Snapshot) -> String {
    format!("find out which one counts, and say so: `gearside mark {} FILE… --count FILE`", snapshot.head.quiz)
}

/// Why none of several returns of a docket can be taken by itself.
fn two_returns<'a>(
    snapshot: &Snapshot,
    place: usize,
    list: impl Iterator<Item = &'a (Came, Code)> + Clone,
) -> Option<Fault> {
    let (first, _) = list.clone().next()?;
    let named = |(came, _): &(Came, Code)| {
        let line = came.from.line.map(|line| format!(", line {line}")).unwrap_or_default();
        format!("{}{line}", came.from.file.as_deref().unwrap_or("one"))
    };
    let files: Vec<String> = list.map(named).collect();
    let docket = &snapshot.dockets[place].docket;
    let message =
        format!("{} returns of docket {docket} differ, so none is taken: {}", files.len(), files.join(" and "));
    Some(Fault::new("two-returns", message, say_which(snapshot)).at(first.from.clone()))
}

/// Why a return does not take the place of the one on record.
fn differs_from(known: &OnRecord, came: &Came, snapshot: &Snapshot, place: usize) -> Fault {
    let docket = &snapshot.dockets[place].docket;
    let message =
        format!("it differs from the return of docket {docket} that is on record (fact {}), which stays", known.seq);
    Fault::new("two-returns", message, say_which(snapshot)).at(came.from.clone())
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
