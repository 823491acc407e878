//! What came of a quiz: the answers as typed, their marks as worked out again
//! from what was kept, and the marks on record, corrections included.

mod docket;
mod gather;
mod on_record;

pub use docket::{DocketResult, ExerciseResult, HoldNow, PartResult};
pub use gather::Gathering;
pub use on_record::{Corrected, Recorded};

use super::snapshot::Snapshot;
use crate::ground::Fault;

/// A quiz with all that came of it so far.
#[derive(Debug)]
pub struct Results<'a> {
    /// The quiz as issued.
    pub snapshot: &'a Snapshot,
    /// The dockets that came back, by place.
    pub dockets: Vec<DocketResult>,
    /// The places of the dockets that did not.
    pub missing: Vec<usize>,
    /// Where the records and the marks as worked out again disagree.
    pub faults: Vec<Fault>,
}

impl Results<'_> {
    /// Of how many points the quiz is: one for each exercise.
    #[must_use]
    pub fn out_of(&self) -> usize {
        self.snapshot.exercises.len()
    }

    /// Those of the missing dockets that are someone's: a blank one that was not used is not missed.
    pub fn missed(&self) -> impl Iterator<Item = usize> {
        self.missing.iter().copied().filter(|place| self.snapshot.dockets[*place].person.is_some())
    }
}
