//! The marks of a docket as they stand on record.

use std::collections::BTreeMap;

use jiff::civil::Date;

use crate::records::{Code, Digest, History, HoldCause, Kept, Mark, Marked, Person, Seq, Work};

/// The mark of one part on record.
#[derive(Debug, Clone, PartialEq)]
pub struct Recorded {
    /// The fact that counts: what `gearside record correct` takes.
    pub seq: Seq,
    /// The verdict as it was first marked.
    pub verdict: Mark,
    /// The mark that counts, from 0 to 1.
    pub mark: f64,
    /// The wrong turn, if one was known.
    pub turn: Option<String>,
    /// What was set right, if it was.
    pub corrected: Option<Corrected>,
}

/// A mark that was set right.
#[derive(Debug, Clone, PartialEq)]
pub struct Corrected {
    /// The mark it was first given, if that is known.
    pub was: Option<f64>,
    /// Why; `None` if the reason was erased.
    pub why: Option<String>,
    /// Who set it right.
    pub by: Code,
    /// When.
    pub on: Date,
}

/// How a competency stands that a broken safety pair holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HoldNow {
    /// It is held until the instructor has talked it through.
    Held,
    /// That was done on a day.
    TalkedThrough(Date),
}

/// The marks of one docket and the work that they stand in.
pub(super) struct OnDocket<'h> {
    history: &'h History,
    parts: BTreeMap<(&'h str, u32), Found<'h>>,
}

#[derive(Clone, Copy)]
struct Found<'h> {
    work: &'h Work,
    kept: &'h Kept<Marked>,
}

impl<'h> OnDocket<'h> {
    pub(super) fn of(history: &'h History, person: Option<&'h Person>, quiz: &str, docket: &str) -> Self {
        let mut parts: BTreeMap<_, Found<'_>> = BTreeMap::new();
        for work in person.iter().flat_map(|person| person.work.values()) {
            for kept in &work.marks {
                if kept.gone.is_none() && *kept.is.quiz == *quiz && *kept.is.docket == *docket {
                    // Marked again under another name of its competency, the latest counts.
                    let found = parts.entry((&*kept.is.exercise, kept.is.part)).or_insert(Found { work, kept });
                    if found.kept.seq < kept.seq {
                        *found = Found { work, kept };
                    }
                }
            }
        }
        Self { history, parts }
    }

    /// The mark of a part, counted from 1; `note` gives the text said with a fact.
    pub(super) fn part(
        &self,
        exercise: &str,
        part: u32,
        note: &mut dyn FnMut(&Digest) -> Option<String>,
    ) -> Option<Recorded> {
        let Found { work, kept } = *self.parts.get(&(exercise, part))?;
        let corrected = (kept.seq != kept.origin).then(|| Corrected {
            was: work.marks.iter().find(|one| one.seq == kept.origin).map(|one| one.is.mark),
            why: kept.claim.note.as_ref().and_then(note),
            by: kept.claim.entered_by.clone(),
            on: self.history.entered_on(kept),
        });
        Some(Recorded {
            seq: kept.seq,
            verdict: kept.is.verdict,
            mark: kept.is.mark,
            turn: kept.is.turn.as_deref().map(str::to_owned),
            corrected,
        })
    }

    /// How the competency of a part stands after a broken safety pair. A hold
    /// that is not on record yet will be.
    pub(super) fn hold(&self, exercise: &str, part: u32) -> HoldNow {
        let Some(Found { work, .. }) = self.parts.get(&(exercise, part)) else { return HoldNow::Held };
        let mut talked = None;
        for hold in work.holds.iter().filter(|hold| hold.is.cause == HoldCause::SafetyOrder) {
            match work.releases.iter().find(|release| release.is.hold == hold.seq) {
                None => return HoldNow::Held,
                Some(release) => talked = talked.max(Some(release.claim.seen_on)),
            }
        }
        talked.map_or(HoldNow::Held, HoldNow::TalkedThrough)
    }
}
