//! Putting a quiz's results together.

use std::collections::BTreeMap;

use super::super::marks::{Marking, verdict_of};
use super::super::snapshot::{KeptDocket, Snapshot};
use super::super::taking::OnRecord;
use super::docket::{DocketResult, ExerciseResult, PartResult};
use super::on_record::OnDocket;
use super::{Recorded, Results};
use crate::ground::Fault;
use crate::marking::PartMark;
use crate::records::{Code, Digest, History};

/// Two marks of the same answer may differ by the dust of binary arithmetic only.
const DUST: f64 = 1e-9;

/// What results are put together from.
pub struct Gathering<'s, 'a> {
    /// The quiz as issued.
    pub snapshot: &'s Snapshot,
    /// Everything on record.
    pub history: &'a History,
    /// The returns that count, by the place of their docket.
    pub on_record: &'a BTreeMap<usize, OnRecord>,
}

impl std::fmt::Debug for Gathering<'_, '_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Gathering").field("quiz", &self.snapshot.head.quiz).finish_non_exhaustive()
    }
}

impl<'s> Gathering<'s, '_> {
    /// The results. `kept` gives what was kept of the docket at a place; where
    /// it gives nothing, the docket's marks alone are taken, as for one whose
    /// text was erased. `note` gives the text said with a fact.
    ///
    /// # Errors
    /// What `kept` says, and a fault if what was kept cannot be marked by this
    /// version of the program.
    pub fn gather<E: From<Fault>>(
        &self,
        mut kept: impl FnMut(usize) -> Result<Option<KeptDocket>, E>,
        mut note: impl FnMut(&Digest) -> Option<String>,
    ) -> Result<Results<'s>, E> {
        let marking = Marking::open(self.snapshot)?;
        let mut results =
            Results { snapshot: self.snapshot, dockets: Vec::new(), missing: Vec::new(), faults: Vec::new() };
        for place in 0..self.snapshot.dockets.len() {
            let Some(came) = self.on_record.get(&place) else {
                results.missing.push(place);
                continue;
            };
            let again = match &came.returned {
                Some(returned) => match kept(place)? {
                    Some(kept) => Some(marking.mark(&kept, &returned.answers)?),
                    None => None,
                },
                None => None,
            };
            let docket = self.docket(place, came, again, &mut note);
            self.compare(&docket, &mut results.faults);
            results.dockets.push(docket);
        }
        Ok(results)
    }

    fn docket(
        &self,
        place: usize,
        came: &OnRecord,
        again: Option<Vec<Vec<PartMark>>>,
        note: &mut dyn FnMut(&Digest) -> Option<String>,
    ) -> DocketResult {
        let person = self.history.person(&came.person);
        let (quiz, docket) = (&self.snapshot.head.quiz, &self.snapshot.dockets[place].docket);
        let on_docket = OnDocket::of(self.history, person, quiz, docket);
        let mut again = again.map(Vec::into_iter);
        let exercises = self.snapshot.exercises.iter().map(|exercise| {
            let mut marks = again.as_mut().and_then(Iterator::next).map(Vec::into_iter);
            let parts = (1..).take(exercise.shown.answers()).map(|part: u32| {
                let marked = marks.as_mut().and_then(Iterator::next);
                let broken = marked.as_ref().is_some_and(PartMark::holds);
                PartResult {
                    hold: broken.then(|| on_docket.hold(&exercise.exercise, part)),
                    recorded: on_docket.part(&exercise.exercise, part, note),
                    marked,
                }
            });
            ExerciseResult { parts: parts.collect() }
        });
        let exercises = exercises.collect();
        let taken = person.and_then(|person| person.returns.iter().find(|one| one.seq == came.seq));
        DocketResult {
            place,
            person: came.person.clone(),
            taken: came.seq,
            marked_on: taken.map(|kept| self.history.entered_on(kept)),
            erased: came.returned.is_none(),
            exercises,
        }
    }

    /// Says where a mark on record is missing, or is neither what comes out now nor a correction.
    fn compare(&self, docket: &DocketResult, faults: &mut Vec<Fault>) {
        let code = &self.snapshot.dockets[docket.place].docket;
        for (kept, exercise) in self.snapshot.exercises.iter().zip(&docket.exercises) {
            for (number, part) in (1..).zip(&exercise.parts) {
                let what = What { code, person: &docket.person, exercise: &kept.exercise, part: number };
                faults.extend(what.differs(part));
            }
        }
    }
}

/// The part that a fault is about.
struct What<'a> {
    code: &'a str,
    person: &'a Code,
    exercise: &'a str,
    part: u32,
}

impl What<'_> {
    fn differs(&self, part: &PartResult) -> Option<Fault> {
        let whose = format!("part {} of `{}` in docket {} ({})", self.part, self.exercise, self.code, self.person);
        match (&part.marked, &part.recorded) {
            (_, None) => Some(Fault::new(
                "mark-missing",
                format!("there is no mark on record of {whose}, though its return is"),
                "run `gearside audit`; if the records are sound, take the return again with --count",
            )),
            (Some(again), Some(recorded)) => first_mark(recorded)
                .filter(|_| !agrees(again, recorded))
                .map(|on_record| {
                    let message = format!(
                        "the mark on record of {whose} is {on_record} ({}), and marked again it comes out as {} ({})",
                        recorded.verdict.words(),
                        again.mark,
                        again.verdict.words().trim_end_matches('.').to_lowercase()
                    );
                    let mend = format!(
                        "the mark on record counts; find out which is right, and if it is not: `gearside record correct {} mark=… --why …`",
                        recorded.seq
                    );
                    Fault::new("mark-differs", message, mend)
                }),
            (None, Some(_)) => None,
        }
    }
}

/// The mark as it was first given; `None` if that is not known any more.
fn first_mark(recorded: &Recorded) -> Option<f64> {
    match &recorded.corrected {
        None => Some(recorded.mark),
        Some(corrected) => corrected.was,
    }
}

fn agrees(again: &PartMark, recorded: &Recorded) -> bool {
    let same_mark = first_mark(recorded).is_none_or(|mark| (mark - again.mark).abs() <= DUST);
    same_mark && verdict_of(&again.verdict) == recorded.verdict
}
