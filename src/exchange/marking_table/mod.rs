//! The marking table: answers from dockets on paper, by way of a spreadsheet.
//!
//! A row for each part, and for each move of an order. It goes out with the
//! answers empty and comes back with what stands on the paper. Names stay out
//! of it. What is read is a return like any other.
//!
//! ```
//! use gearside::exchange::marking_table;
//! use gearside::programme::{Origin, load};
//! use gearside::quiz::{Drawn, Issuing, KeptDocket, Place, Request, compose, issue};
//! let programme = load(&Origin::Shipped).unwrap().programme.unwrap();
//! let day = "2026-11-23".parse().unwrap();
//! let request = Request {
//!     programme: &programme, history: None, asked: &Default::default(), week: 12, day, minutes: 30,
//!     with: &[], without: &[], only: None, seed: "1",
//! };
//! let places = [Place { person: None, minutes: 30 }];
//! let issuing = Issuing {
//!     programme: &programme, composition: &compose(&request).unwrap(), quiz: "week-12", day, places: &places,
//!     seed: "1", rehearsal: true,
//! };
//! let issued = issue(&issuing, &mut Drawn::rehearsed("7")).unwrap();
//! let kept = KeptDocket::unpack(&issued.dockets[0]).unwrap();
//! let table = String::from_utf8(marking_table::write(&issued.snapshot, [&kept])).unwrap();
//! assert!(table.starts_with("\u{feff}quiz,docket,person,exercise,title,part,asks,unit,answer\r\n"));
//! // No answer is filled in: the docket did not come back.
//! let (came, faults) = marking_table::parse("marking.csv", &table, &issued.snapshot);
//! assert!(came.is_empty() && !faults.any());
//! ```

mod answers;
mod dates;
mod docket;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;
use std::path::Path;

use super::table::{Row, Shape, Table};
use super::writing::Lines;
use crate::ground::files::{MachineFault, TextFault, named, read_text};
use crate::ground::{Fault, Faults};
use crate::quiz::{Came, Head, KeptDocket, ShownExercise, Snapshot};
use docket::Paper;

/// The columns, as they are written.
const COLUMNS: [&str; 9] = ["quiz", "docket", "person", "exercise", "title", "part", "asks", "unit", "answer"];
/// What of them must come back.
const SHAPE: Shape =
    Shape { needed: &["docket", "exercise", "part", "answer"], allowed: &["quiz", "person", "title", "asks", "unit"] };
/// The longest file, in bytes: ten thousand dockets.
const LONGEST: u64 = 100_000_000;
/// The most rows below the header.
const MOST_ROWS: usize = 1_000_000;

/// How many rows an exercise has.
fn rows_of(shown: &ShownExercise) -> usize {
    match shown.kind.as_str() {
        "numeric" => shown.parts.len(),
        "order" => shown.says,
        _ => shown.questions.len().max(1),
    }
}

/// What parts the cells: where numbers have a decimal comma, spreadsheets read semicolons.
fn mark(head: &Head) -> u8 {
    if head.decimal_comma { b';' } else { b',' }
}

/// The head of the table, with the mark by which spreadsheets know UTF-8.
#[must_use]
pub fn head(snapshot: &Snapshot) -> Vec<u8> {
    let mut lines = Lines::parted_by(mark(&snapshot.head));
    lines.header(&COLUMNS);
    [b"\xef\xbb\xbf".to_vec(), lines.into_bytes()].concat()
}

/// The rows of the docket at that place, to be put behind [`head`];
/// nothing if there is no such place.
#[must_use]
pub fn rows(snapshot: &Snapshot, place: usize, kept: &KeptDocket) -> Vec<u8> {
    let Some(seat) = snapshot.dockets.get(place) else { return Vec::new() };
    let mut lines = Lines::parted_by(mark(&snapshot.head));
    let person = seat.person.as_ref().map_or("", |code| code.as_str());
    for (one, pull) in snapshot.exercises.iter().zip(&kept.exercises) {
        let shown = &one.shown;
        let number = shown.number.to_string();
        for part in 0..rows_of(shown) {
            let (asks, unit) = match shown.kind.as_str() {
                "numeric" => shown.parts.get(part).map_or(("", ""), |part| (part.label.as_str(), part.unit.as_str())),
                "order" => (pull.own.says.get(part).map_or("", |said| said.plain.trim()), "number in its box"),
                _ if !shown.questions.is_empty() => {
                    (shown.questions.get(part).map_or("", |one| one.label.as_str()), "the number that is ticked")
                }
                "rounds" => ("the numbers of the moves, in the order they were done", ""),
                _ if shown.pick == "one" => ("the number that is ticked", ""),
                _ => ("all numbers that are ticked", ""),
            };
            let part = (part + 1).to_string();
            lines.row([&snapshot.head.quiz, &seat.docket, person, &number, &shown.title, &part, asks, unit, ""]);
        }
    }
    lines.into_bytes()
}

/// The whole table, of dockets in the order of [`Snapshot::dockets`].
#[must_use]
pub fn write<'k>(snapshot: &Snapshot, kept: impl IntoIterator<Item = &'k KeptDocket>) -> Vec<u8> {
    let mut table = head(snapshot);
    for (place, kept) in kept.into_iter().enumerate() {
        table.extend(rows(snapshot, place, kept));
    }
    table
}

/// Reads a marking table: the dockets that came back, and what is wrong with
/// others. A docket with anything wrong is not among those that came.
///
/// # Errors
/// If the file cannot be read.
pub fn read(path: &Path, snapshot: &Snapshot) -> Result<(Vec<Came>, Faults), MachineFault> {
    match read_text(path, LONGEST) {
        Ok(text) => Ok(parse(&named(path), &text, snapshot)),
        Err(TextFault::Content(fault)) => Ok((Vec::new(), Faults(vec![*fault]))),
        Err(TextFault::Machine(fault)) => Err(fault),
    }
}

/// The same out of text; `file` is its name for faults.
///
/// A docket none of whose answers is filled in did not come back. A hyphen is a
/// blank on one that did. Remarks tell of what deserves a look.
#[must_use]
pub fn parse(file: &str, text: &str, snapshot: &Snapshot) -> (Vec<Came>, Faults) {
    let (table, mut faults) = match Table::salvage(file, text, MOST_ROWS) {
        Ok(read) => read,
        Err(faults) => return (Vec::new(), faults),
    };
    if let Err(wrong) = table.fits(&SHAPE) {
        return (Vec::new(), wrong);
    }
    let mut by_docket: Vec<(String, Vec<Row<'_>>)> = Vec::new();
    let mut places: BTreeMap<String, usize> = BTreeMap::new();
    for row in table.rows() {
        let Some(docket) = row.get("docket").map(str::to_uppercase) else {
            if row.get("answer").is_some() {
                let fault = Fault::new("empty-cell", "there is an answer without a docket", "write the docket's code");
                faults.push(fault.at(row.place_of("docket")));
            }
            continue;
        };
        let place = *places.entry(docket.clone()).or_insert(by_docket.len());
        match by_docket.get_mut(place) {
            Some((_, rows)) => rows.push(row),
            None => by_docket.push((docket, vec![row])),
        }
    }
    let seats = snapshot.dockets.iter().map(|seat| (seat.docket.as_str(), seat)).collect();
    let mut came = Vec::new();
    for (docket, rows) in by_docket {
        let mut paper = Paper { snapshot, seats: &seats, docket: &docket, rows: &rows, faults: Faults::default() };
        let found = paper.came();
        came.extend(found.filter(|_| !paper.faults.any()));
        faults.0.extend(paper.faults.0);
    }
    faults.sort();
    (came, faults)
}
