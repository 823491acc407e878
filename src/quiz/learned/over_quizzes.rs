//! Families of exercises over all quizzes on record.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::super::results::Results;
use super::answers;
use crate::ground::Fault;
use crate::marking::WrongWay;
use crate::marking::statistics::{FamilyStatistics, Sitting, family_statistics, mean};
use crate::records::{History, Kept, Marked, Seq};

/// Every go at every family, quiz after quiz.
#[derive(Debug, Clone, Default)]
pub struct OverQuizzes {
    sittings: BTreeMap<String, Vec<Sitting>>,
}

/// What is known of a family over all quizzes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FamilyLearned {
    /// The family.
    pub family: String,
    /// Whether the quiz at hand asks it.
    pub asked_here: bool,
    /// What is known of it.
    pub statistics: FamilyStatistics,
}

impl OverQuizzes {
    /// Adds the goes of a quiz.
    ///
    /// # Errors
    /// A fault if a mark is not from 0 to 1.
    pub fn add(&mut self, results: &Results<'_>) -> Result<(), Fault> {
        let answers = answers(results)?;
        for (taker, docket) in results.dockets.iter().enumerate() {
            for (place, (kept, exercise)) in results.snapshot.exercises.iter().zip(&docket.exercises).enumerate() {
                let Some(mark) = exercise.mark() else { continue };
                let sitting = Sitting {
                    quiz: results.snapshot.head.quiz.clone(),
                    taker: docket.person.to_string(),
                    mark,
                    rest: answers.rest_share(taker, place),
                    wrong_ways: exercise.wrong_ways(),
                };
                self.sittings.entry(kept.family.clone()).or_default().push(sitting);
            }
        }
        Ok(())
    }

    /// Adds the goes of all quizzes on record from their marks alone: of how an
    /// answer went wrong, only a wrong turn is known then. `leave_out` names
    /// quizzes that are added otherwise; `family` tells the family that an
    /// exercise of a quiz had, and what it does not know is passed over.
    pub fn add_marks_on_record(
        &mut self,
        history: &History,
        leave_out: &BTreeSet<&str>,
        family: impl Fn(&str, &str) -> Option<String>,
    ) {
        for ((quiz, _), docket) in dockets(history, leave_out) {
            let marks: BTreeMap<&str, f64> =
                docket.exercises.iter().filter_map(|(exercise, parts)| Some((*exercise, whole(parts)?))).collect();
            for (exercise, mark) in &marks {
                let Some(family) = family(quiz, exercise) else { continue };
                let rest: Vec<f64> =
                    marks.iter().filter(|(other, _)| *other != exercise).map(|(_, mark)| *mark).collect();
                let parts = docket.exercises.get(exercise).map(Vec::as_slice).unwrap_or_default();
                let wrong = parts.iter().filter(|part| part.is.mark < 1.0 - 1e-9);
                let turns = wrong.filter_map(|part| part.is.turn.as_deref());
                self.sittings.entry(family).or_default().push(Sitting {
                    quiz: quiz.to_owned(),
                    taker: docket.person.to_owned(),
                    mark: *mark,
                    rest: (!rest.is_empty()).then(|| mean(&rest)),
                    wrong_ways: turns.map(|turn| WrongWay::Turn(turn.to_owned())).collect(),
                });
            }
        }
    }

    /// What is known of each family, by name.
    #[must_use]
    pub fn all(&self) -> Vec<FamilyLearned> {
        self.families(&[])
    }

    /// What is known of each family; `here` are those of the quiz at hand.
    pub(super) fn families(&self, here: &[&str]) -> Vec<FamilyLearned> {
        let known = self.sittings.iter().map(|(family, sittings)| FamilyLearned {
            family: family.clone(),
            asked_here: here.contains(&family.as_str()),
            statistics: family_statistics(sittings),
        });
        known.collect()
    }
}

/// The marks of one docket, and whose they are.
struct OneDocket<'h> {
    person: &'h str,
    last: Seq,
    exercises: BTreeMap<&'h str, Vec<&'h Kept<Marked>>>,
}

/// The marks on record by quiz and docket. Where a docket was first someone
/// else's, it is of whoever was marked last.
fn dockets<'h>(history: &'h History, leave_out: &BTreeSet<&str>) -> BTreeMap<(&'h str, &'h str), OneDocket<'h>> {
    let mut found: BTreeMap<(&str, &str), OneDocket<'_>> = BTreeMap::new();
    for person in history.people.values() {
        let mut own: BTreeMap<(&str, &str), OneDocket<'_>> = BTreeMap::new();
        let marks = person.work.values().flat_map(|work| &work.marks);
        for mark in marks.filter(|mark| mark.gone.is_none() && !leave_out.contains(&*mark.is.quiz)) {
            let docket = own.entry((&mark.is.quiz, &mark.is.docket)).or_insert_with(|| OneDocket {
                person: person.code.as_str(),
                last: 0,
                exercises: BTreeMap::new(),
            });
            docket.last = docket.last.max(mark.seq);
            docket.exercises.entry(&mark.is.exercise).or_default().push(mark);
        }
        for (place, docket) in own {
            if found.get(&place).is_none_or(|known| known.last < docket.last) {
                found.insert(place, docket);
            }
        }
    }
    found
}

/// The mark of an exercise: the mean of its parts, if all of them are there.
fn whole(parts: &[&Kept<Marked>]) -> Option<f64> {
    // Of a part that was marked again under another name of its competency, the latest counts.
    let mut latest: BTreeMap<u32, &Kept<Marked>> = BTreeMap::new();
    for part in parts {
        let known = latest.entry(part.is.part).or_insert(part);
        if known.seq < part.seq {
            *known = part;
        }
    }
    let wanted = parts.first().map(|part| part.is.parts)?;
    let marks: Vec<f64> = latest.values().map(|part| part.is.mark).collect();
    (u32::try_from(marks.len()) == Ok(wanted)).then(|| mean(&marks))
}
