//! Marking a quiz: kept rules, kept keys, and the answers that came back.

use jiff::civil::Date;

use super::snapshot::{KeptDocket, Snapshot};
use super::taking::Taken;
use crate::ground::Fault;
use crate::marking::{Marker, PartMark, Verdict};
use crate::records::{
    Code, Digest, Draft, History, Hold, HoldCause, Mark, Matter, PartMarked, Person, ReturnTaken, Rules, Word,
};

/// A quiz whose returns can be marked.
#[derive(Debug)]
pub struct Marking<'a> {
    snapshot: &'a Snapshot,
    markers: Vec<Marker<'a>>,
}

/// Who marks, and when.
#[derive(Debug, Clone, Copy)]
pub struct MarkedBy<'a> {
    /// Who enters it.
    pub entered_by: &'a Code,
    /// The day the quiz was sat.
    pub on: Date,
    /// The rules in force: they know what a competency is called now.
    pub rules: &'a Rules,
    /// What is on record.
    pub history: &'a History,
}

impl<'a> Marking<'a> {
    /// Makes the kept rules of a quiz ready.
    ///
    /// # Errors
    /// A fault if this version of the program cannot read them.
    pub fn open(snapshot: &'a Snapshot) -> Result<Self, Fault> {
        let markers = snapshot.exercises.iter().map(|one| Marker::open(&one.rules)).collect::<Result<_, Fault>>()?;
        Ok(Self { snapshot, markers })
    }

    /// The marks of a docket, exercise by exercise and part by part.
    ///
    /// # Errors
    /// A fault if the key is not one of these rules, or the answers do not fit.
    pub fn mark(&self, kept: &KeptDocket, answers: &[Vec<String>]) -> Result<Vec<Vec<PartMark>>, Fault> {
        let exercises = self.markers.iter().zip(&kept.exercises).zip(answers);
        exercises.map(|((marker, pull), typed)| marker.mark(&pull.own, typed)).collect()
    }

    /// What goes on record of a return that was taken: that it was, the mark of
    /// each part, and a hold for each safety pair that was broken.
    #[must_use]
    pub fn drafts(&self, taken: &Taken, text: Digest, marks: &[Vec<PartMark>], by: MarkedBy<'_>) -> Vec<Draft> {
        let quiz: Word = self.snapshot.head.quiz.as_str().into();
        let docket: Word = self.snapshot.dockets[taken.place].docket.as_str().into();
        let draft = |matter, note| Draft {
            person: Some(taken.person.clone()),
            seen_by: by.entered_by.clone(),
            seen_on: by.on,
            entered_by: by.entered_by.clone(),
            paper: None,
            note,
            name: None,
            from_is_open: false,
            matter,
            place: crate::ground::Place { file: Some(taken.from.clone()), ..Default::default() },
        };
        let returned = ReturnTaken { quiz: quiz.clone(), docket: docket.clone(), digest: text };
        let mut drafts = vec![draft(Matter::ReturnTaken(returned), None)];
        let person = by.history.person(&taken.person);
        let mut held: Vec<Word> = Vec::new();
        for (exercise, parts) in self.snapshot.exercises.iter().zip(marks) {
            let competency = called_now(by.rules, &exercise.competency);
            let count = u32::try_from(parts.len()).unwrap_or(u32::MAX);
            for (part, mark) in (1..).zip(parts) {
                let is = PartMarked {
                    quiz: quiz.clone(),
                    docket: docket.clone(),
                    exercise: exercise.exercise.as_str().into(),
                    competency: competency.clone(),
                    part,
                    parts: count,
                    verdict: verdict_of(&mark.verdict),
                    mark: mark.mark,
                    turn: mark.turns.first().map(|turn| turn.as_str().into()),
                };
                drafts.push(draft(Matter::PartMarked(is), None));
                if let Some(why) = broken_safety(mark)
                    && !held.contains(&competency)
                    && !person.is_some_and(|person| is_held(person, &competency))
                {
                    held.push(competency.clone());
                    let is = Hold { competency: competency.clone(), cause: HoldCause::SafetyOrder, of: None };
                    drafts.push(draft(Matter::Hold(is), Some(why)));
                }
            }
        }
        drafts
    }
}

/// The name a competency has in the rules in force.
fn called_now(rules: &Rules, competency: &str) -> Word {
    let heir = || rules.competencies.iter().find(|rule| rule.was.iter().any(|was| **was == *competency));
    rules.of_competency(competency).or_else(heir).map_or_else(|| competency.into(), |rule| rule.id.clone())
}

/// Whether an order already holds a competency.
fn is_held(person: &Person, competency: &Word) -> bool {
    person.work.get(competency).is_some_and(|work| {
        work.holds.iter().any(|hold| {
            hold.is.cause == HoldCause::SafetyOrder && !work.releases.iter().any(|release| release.is.hold == hold.seq)
        })
    })
}

/// The first thing that was not safe, in words.
fn broken_safety(mark: &PartMark) -> Option<String> {
    mark.not_safe().into_iter().next().filter(|_| mark.holds())
}

/// The verdict as the records keep it.
#[must_use]
pub fn verdict_of(verdict: &Verdict) -> Mark {
    match verdict {
        Verdict::Right => Mark::Right,
        Verdict::Carried => Mark::Carried,
        Verdict::WrongTurn(_) => Mark::WrongTurn,
        Verdict::Blank => Mark::Blank,
        // What could not be read is no answer that counts.
        Verdict::Unreadable | Verdict::UnknownUnit | Verdict::WrongKind | Verdict::General(_) | Verdict::Wrong => {
            Mark::Wrong
        }
    }
}
