//! A rehearsed quiz, for the unit tests of all rooms.

use std::collections::BTreeMap;

use super::{Drawn, Issuing, KeptDocket, Place, Request, Snapshot, compose, issue};
use crate::programme::{Origin, load};
use crate::records::Code;

/// A rehearsed quiz of week 12 of the shipped programme that asks `with` and
/// whatever else fits into the minutes; a docket for each code and its minutes,
/// or a blank one.
pub(crate) fn rehearsed(with: &[&str], minutes: u32, places: &[(Option<&str>, u32)]) -> (Snapshot, Vec<KeptDocket>) {
    let programme = load(&Origin::Shipped).expect("it is read").programme.expect("a programme");
    let day = jiff::civil::date(2026, 11, 23);
    let with: Vec<String> = with.iter().map(|one| (*one).to_owned()).collect();
    let request = Request {
        programme: &programme,
        history: None,
        asked: &BTreeMap::new(),
        week: 12,
        day,
        minutes,
        with: &with,
        without: &[],
        only: None,
        seed: "1",
    };
    let composition = compose(&request).expect("a quiz");
    let code = |code: &str| Code::parse(code).expect("a code");
    let places: Vec<Place> =
        places.iter().map(|(person, minutes)| Place { person: person.map(code), minutes: *minutes }).collect();
    let issuing = Issuing {
        programme: &programme,
        composition: &composition,
        quiz: "week-12",
        day,
        places: &places,
        seed: "1",
        rehearsal: true,
    };
    let issued = issue(&issuing, &mut Drawn::rehearsed("7")).expect("it is issued");
    let kept = issued.dockets.iter().map(|packed| KeptDocket::unpack(packed).expect("a docket")).collect();
    (issued.snapshot, kept)
}
