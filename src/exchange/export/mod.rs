//! What goes out: every fact, readable tables, and how to check them.
//!
//! ```
//! use gearside::exchange::export::{Wanted, export};
//! use gearside::programme::{Origin, load_without_banks};
//! use gearside::records::Store;
//! let folder = tempfile::tempdir().unwrap();
//! let store = Store::open_or_start(&folder.path().join("records.db")).unwrap();
//! let programme = load_without_banks(&Origin::Shipped).unwrap().programme.unwrap();
//! let wanted = Wanted { person: None, on: jiff::civil::date(2026, 11, 25), names: false, notes: false };
//! let export = export(store.read(), &programme, &wanted).unwrap();
//! assert!(export.trouble.is_none());
//! assert!(export.files.iter().any(|(name, _)| name == "facts.jsonl"));
//! ```

mod board;
mod marks;
mod readme;
mod tables;

use std::collections::BTreeMap;

use jiff::civil::Date;
use serde::Serialize;
use sha2::{Digest as _, Sha256};

use super::table::write;
use crate::ground::{Fault, nearest_name};
use crate::programme::Programme;
use crate::records::{Code, Digest, Fact, History, Link, Matter, Overview, Reading, Rules, Trouble, hex};

pub use board::{board_csv, board_json};
pub use marks::marks_csv;
use tables::Tables;

/// What is wanted of the records.
#[derive(Debug, Clone)]
pub struct Wanted {
    /// Whom it is about; everyone if nobody is named.
    pub person: Option<Code>,
    /// The day on which states are derived.
    pub on: Date,
    /// Whether names go out.
    pub names: bool,
    /// Whether the texts said with facts go out.
    pub notes: bool,
}

/// Files of an export, and what could not be read for it.
#[derive(Debug)]
pub struct Export {
    /// The files by name, for [`crate::ground::files::write_folder`].
    pub files: Vec<(String, Vec<u8>)>,
    /// How many facts there are in it.
    pub facts: u64,
    /// The first trouble, if the records are damaged; what can be read is in the files.
    pub trouble: Option<Trouble>,
}

/// Everything on record, or everything about one person.
///
/// Bodies and tables speak of codes. Names and the texts said with facts go
/// out only where they are wanted, in files of their own.
///
/// # Errors
/// A fault if nobody of the wanted code is on record. Damage is no error: see
/// [`Export::trouble`].
pub fn export(reading: Reading<'_>, programme: &Programme, wanted: &Wanted) -> Result<Export, Fault> {
    let mut facts = Facts { wanted, lines: Vec::new(), count: 0, notes: Vec::new() };
    let (history, mut trouble) = reading.salvage(&programme.about.time_zone, |link| facts.take(link));
    if let Some(code) = &wanted.person {
        known(code, &history)?;
    }
    let names = if wanted.names { read(reading.names(), &mut trouble).unwrap_or_default() } else { BTreeMap::new() };
    let names = of_person(names, &history, wanted);
    let rules = Rules::of(programme);
    let overview = Overview::new(programme, &rules, &history, &names, wanted.on);
    let tables = Tables { history: &history, person: wanted.person.as_ref(), comma: programme.about.decimal_comma };
    let count = facts.count;
    let mut files = vec![("facts.jsonl".to_owned(), std::mem::take(&mut facts.lines))];
    files.extend(tables.all());
    files.push(("states.csv".to_owned(), board::states_csv(&overview, wanted.person.as_ref())));
    if wanted.names {
        files.push(("names.csv".to_owned(), tables.names(&names)));
    }
    if wanted.notes {
        files.push(("notes.csv".to_owned(), notes(&facts.notes, reading, &history, &mut trouble)));
    }
    files.push(("README.txt".to_owned(), readme::text(programme, wanted, &history, count).into_bytes()));
    files.push(("SHA256SUMS".to_owned(), sums(&files)));
    Ok(Export { files, facts: count, trouble })
}

/// The facts that go out, a line each.
struct Facts<'w> {
    wanted: &'w Wanted,
    lines: Vec<u8>,
    count: u64,
    /// Facts with a text: number, person, digest.
    notes: Vec<(u64, Option<Code>, Digest)>,
}

/// A fact as a line of JSON. The body is a text, so that its bytes can be hashed again.
#[derive(Serialize)]
struct FactLine<'l> {
    seq: u64,
    at: &'l str,
    kind: &'l str,
    body: &'l str,
    prev: String,
    hash: String,
}

impl Facts<'_> {
    fn take(&mut self, link: &Link) {
        let fact = Fact::read(&link.kind, &link.body).ok();
        if let Some(code) = &self.wanted.person {
            // An edition is about nobody, but nothing can be understood without it.
            let belongs = fact
                .as_ref()
                .is_some_and(|fact| fact.person.as_ref() == Some(code) || matches!(fact.matter, Matter::Edition(_)));
            if !belongs {
                return;
            }
        }
        let line = FactLine {
            seq: link.seq,
            at: &link.at,
            kind: &link.kind,
            body: &link.body,
            prev: hex(&link.prev),
            hash: hex(&link.hash),
        };
        self.count += 1;
        // Writing to memory does not fail.
        let _ = serde_json::to_writer(&mut self.lines, &line);
        self.lines.push(b'\n');
        if let Some(fact) = fact
            && let Some(note) = fact.claim.note
        {
            self.notes.push((link.seq, fact.person, note));
        }
    }
}

fn known(code: &Code, history: &History) -> Result<(), Fault> {
    if history.person(code).is_some() {
        return Ok(());
    }
    let mend = nearest_name(code.as_str(), history.people.keys().map(Code::as_str))
        .map_or_else(|| "look at the board for the codes".to_owned(), |near| format!("did you mean `{near}`?"));
    Err(Fault::new("unknown-person", format!("nobody with the code `{code}` is on record"), mend))
}

/// What was read; the first trouble is noted.
fn read<T>(read: Result<T, Trouble>, trouble: &mut Option<Trouble>) -> Option<T> {
    match read {
        Ok(read) => Some(read),
        Err(error) => {
            trouble.get_or_insert(error);
            None
        }
    }
}

/// Of the names on record those of the person who is wanted.
fn of_person(names: BTreeMap<Digest, String>, history: &History, wanted: &Wanted) -> BTreeMap<Digest, String> {
    let Some(person) = wanted.person.as_ref().and_then(|code| history.person(code)) else { return names };
    let own: Vec<&Digest> = person.grants.iter().filter_map(|grant| grant.is.name.as_ref()).collect();
    names.into_iter().filter(|(digest, _)| own.contains(&digest)).collect()
}

/// The texts said with facts; of one that was erased, that it was.
fn notes(
    notes: &[(u64, Option<Code>, Digest)],
    reading: Reading<'_>,
    history: &History,
    trouble: &mut Option<Trouble>,
) -> Vec<u8> {
    let mut rows = Vec::new();
    for (seq, person, digest) in notes {
        let kept = read(reading.kept(digest), trouble).flatten();
        let (state, text) = match kept {
            Some(Ok(bytes)) => ("kept", String::from_utf8_lossy(&bytes).into_owned()),
            Some(Err(_)) => ("altered", String::new()),
            None if history.erased.contains(digest) => ("redacted", String::new()),
            None => ("missing", String::new()),
        };
        let person = person.as_ref().map(Code::to_string).unwrap_or_default();
        rows.push(vec![seq.to_string(), person, state.to_owned(), text, digest.to_string()]);
    }
    write(&["seq", "person", "state", "text", "digest"], &rows)
}

/// The digests of the files as `sha256sum -c` of GNU coreutils reads them.
fn sums(files: &[(String, Vec<u8>)]) -> Vec<u8> {
    files.iter().flat_map(|(name, bytes)| format!("{}  {name}\n", hex(&Sha256::digest(bytes))).into_bytes()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_are_those_of_sha256sum() {
        // printf abc | sha256sum (GNU coreutils 9.1), and FIPS 180-4's example
        let want = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad  a.txt\n";
        assert_eq!(String::from_utf8(sums(&[("a.txt".to_owned(), b"abc".to_vec())])).expect("UTF-8"), want);
    }
}
