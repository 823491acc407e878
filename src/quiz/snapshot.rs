//! What is kept of a quiz when it is issued: everything its pages are made of
//! and its returns are marked by. Nothing else is ever looked at again.

use std::collections::BTreeMap;
use std::io::{Read as _, Write as _};

use flate2::Compression;
use flate2::bufread::ZlibDecoder;
use flate2::write::ZlibEncoder;
use serde::{Deserialize, Serialize};

use super::composition::Composition;
use super::shown::{Docket, Head, ShownAsk, ShownExercise};
use crate::ground::Fault;
use crate::marking::{OwnKey, Rules};
use crate::records::{Code, Digest};

/// The way of keeping a quiz; a change of the fields changes it.
pub(super) const WAY: u32 = 1;
/// The most bytes that a kept docket unpacks to.
const LONGEST: u64 = 50_000_000;
/// About how many times longer than packed it is.
const USUALLY_PACKED: usize = 3;

/// A quiz as issued.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Snapshot {
    /// The way it is kept.
    pub way: u32,
    /// What its dockets say at their head.
    pub head: Head,
    /// The edition of the curriculum.
    pub edition: String,
    /// The seed of the composition.
    pub seed: String,
    /// What was composed, and why.
    pub composition: Composition,
    /// Where pulls could not be matched in everything, in words.
    pub gave_way: Vec<String>,
    /// The exercises with their marking rules.
    pub exercises: Vec<KeptExercise>,
    /// The dockets: those of people first, then the blank ones.
    pub dockets: Vec<Seat>,
    /// The banks and the curriculum as they were: file and digest.
    pub sources: BTreeMap<String, Digest>,
}

/// An exercise of a quiz as issued.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeptExercise {
    /// The exercise.
    pub exercise: String,
    /// Its family.
    pub family: String,
    /// Its competency.
    pub competency: String,
    /// What all dockets show of it.
    pub shown: ShownExercise,
    /// How it is marked.
    pub rules: Rules,
}

/// A docket of a quiz as issued: whose it is, and where the rest of it is kept.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Seat {
    /// Its code.
    pub docket: String,
    /// Whose it is; `None` for a blank one.
    pub person: Option<Code>,
    /// The minutes allowed.
    pub minutes: u32,
    /// The digest of the [`KeptDocket`].
    pub kept: Digest,
    /// The digest of what it shows.
    pub shown: Digest,
}

/// What is kept of one docket: what it asks, and its key.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeptDocket {
    /// Its code.
    pub docket: String,
    /// Its exercises, in order.
    pub exercises: Vec<KeptPull>,
}

/// One exercise of one docket.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeptPull {
    /// What it asks.
    pub ask: ShownAsk,
    /// Its key.
    pub own: OwnKey,
}

fn unreadable(what: &str, why: &str) -> Fault {
    Fault::new(
        "kept-quiz",
        format!("{what} as issued cannot be read: {why}"),
        "use the version of the program that issued it; `gearside audit` tells whether the records are sound",
    )
}

impl Snapshot {
    /// Reads what is kept of a quiz.
    ///
    /// # Errors
    /// A fault if this version of the program cannot.
    pub fn read(text: &str) -> Result<Self, Fault> {
        let read: Self = serde_json::from_str(text).map_err(|error| unreadable("the quiz", &error.to_string()))?;
        if read.way != WAY {
            return Err(unreadable("the quiz", &format!("it is kept in way {}, and {WAY} is known here", read.way)));
        }
        Ok(read)
    }

    /// As it is kept.
    #[must_use]
    pub fn to_text(&self) -> String {
        serde_json::to_string(self).unwrap_or_default()
    }

    /// The docket of that code, and its place.
    #[must_use]
    pub fn seat(&self, docket: &str) -> Option<(usize, &Seat)> {
        self.dockets.iter().enumerate().find(|(_, seat)| seat.docket == docket)
    }

    /// The name of a docket's file without its ending, the same for docket, key and marked docket.
    #[must_use]
    pub fn file_name(&self, place: usize) -> String {
        match self.dockets.get(place).and_then(|seat| seat.person.as_ref()) {
            Some(person) => person.in_file_names(),
            None => format!("blank-{:03}", place + 1 - self.dockets.partition_point(|seat| seat.person.is_some())),
        }
    }

    /// A docket as it is shown.
    #[must_use]
    pub fn docket<'a>(&'a self, seat: &'a Seat, kept: &'a KeptDocket) -> Docket<'a> {
        Docket {
            head: &self.head,
            docket: &seat.docket,
            person: seat.person.as_ref().map(Code::as_str),
            minutes: seat.minutes,
            exercises: self.exercises.iter().map(|one| &one.shown).collect(),
            asks: kept.exercises.iter().map(|one| &one.ask).collect(),
        }
    }
}

impl KeptDocket {
    /// Unpacks a kept docket.
    ///
    /// # Errors
    /// A fault if it is not what was packed.
    pub fn unpack(bytes: &[u8]) -> Result<Self, Fault> {
        let mut text = String::with_capacity(USUALLY_PACKED * bytes.len());
        let read = ZlibDecoder::new(bytes).take(LONGEST).read_to_string(&mut text);
        read.map_err(|error| unreadable("a docket", &error.to_string()))?;
        serde_json::from_str(&text).map_err(|error| unreadable("a docket", &error.to_string()))
    }
}

/// Packs text in the zlib format (RFC 1950).
pub(super) fn pack(text: &[u8]) -> Vec<u8> {
    let mut encoder = ZlibEncoder::new(Vec::with_capacity(text.len() / 3), Compression::fast());
    // Writing to memory cannot fail.
    let _ = encoder.write_all(text);
    let mut packed = encoder.finish().unwrap_or_default();
    // All dockets of a quiz are held until they are on record.
    packed.shrink_to_fit();
    packed
}
