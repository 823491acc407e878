//! What earlier quizzes asked, and how the class did.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::taught::Names;
use crate::ground::Id;
use crate::programme::Exercise;
use crate::programme::Weeks;
use crate::records::{Code, History, Word};

/// One exercise that a quiz asked: the part of an issued quiz's snapshot that
/// composing later quizzes needs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Asked {
    /// The exercise.
    pub exercise: String,
    /// Its family then.
    pub family: String,
    /// Its competency then.
    pub competency: String,
}

/// The exercises of a snapshot: what stands under its key `exercises`. All else
/// in it is passed over.
///
/// # Errors
/// What `serde_json` says of a snapshot without them.
///
/// ```
/// let snapshot = r#"{ "quiz": "week-7", "exercises": [
///     { "exercise": "a-blue", "family": "a-red", "competency": "compare-colours", "key": "4.2" } ] }"#;
/// assert_eq!(gearside::quiz::asked_in(snapshot).unwrap()[0].family, "a-red");
/// ```
pub fn asked_in(snapshot: &str) -> serde_json::Result<Vec<Asked>> {
    #[derive(Deserialize)]
    struct Part {
        exercises: Vec<Asked>,
    }
    serde_json::from_str::<Part>(snapshot).map(|part| part.exercises)
}

/// When something was last asked, and how the class did.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Outcome {
    pub(super) week: i32,
    /// How many had it right, of how many who were marked.
    pub(super) right: u32,
    pub(super) of: u32,
}

impl Outcome {
    /// Fewer than half of those who were marked had it right. What is not
    /// marked yet has not failed.
    pub(super) fn failed(self) -> bool {
        2 * self.right < self.of
    }

    fn add(&mut self, right: u32, of: u32) {
        self.right += right;
        self.of += of;
    }
}

/// Everything earlier quizzes tell.
#[derive(Debug, Default)]
pub(super) struct Past {
    /// Every week in which a family was asked, later ones than this included.
    pub(super) issues: BTreeMap<String, BTreeSet<i32>>,
    /// The last week in which an exercise was asked.
    pub(super) exercises: BTreeMap<String, i32>,
    pub(super) families: BTreeMap<String, Outcome>,
    pub(super) competencies: BTreeMap<Id, Outcome>,
    /// How many exercises about a competency were asked in this year of the plan.
    pub(super) asked: BTreeMap<Id, u32>,
}

/// One quiz: its week, and per exercise how many had it right of how many.
struct Quiz<'a> {
    week: i32,
    exercises: BTreeMap<&'a str, (u32, u32)>,
}

impl Past {
    /// What is known on a day to which a quiz of a week looks back.
    pub(super) fn of(
        exercises: &BTreeMap<&str, &Exercise>,
        history: &History,
        asked: &BTreeMap<Word, Vec<Asked>>,
        (weeks, names): (&Weeks, &Names),
        (week, day): (u32, Date),
    ) -> Self {
        let mut quizzes: BTreeMap<&str, Quiz<'_>> = BTreeMap::new();
        for issued in history.quizzes.iter().filter(|quiz| quiz.counts_on(day, History::NOW)) {
            let seen_on = issued.claim.seen_on;
            let named = issued.is.week.and_then(|week| weeks.named(week, seen_on));
            let at = named.unwrap_or_else(|| weeks.of_day(seen_on));
            quizzes.insert(&issued.is.quiz, Quiz { week: at, exercises: BTreeMap::new() });
        }
        // What the snapshots say was asked, by exercise.
        let mut then: BTreeMap<&str, BTreeSet<(&str, &str)>> = BTreeMap::new();
        for (quiz, one) in asked.iter().flat_map(|(quiz, list)| list.iter().map(move |one| (quiz, one))) {
            if let Some(quiz) = quizzes.get_mut(&**quiz) {
                quiz.exercises.entry(&one.exercise).or_default();
                then.entry(&one.exercise).or_default().insert((&one.family, &one.competency));
            }
        }
        for (quiz, exercise, competency, seen_on, right) in trials(history, day) {
            let quiz =
                quizzes.entry(quiz).or_insert_with(|| Quiz { week: weeks.of_day(seen_on), exercises: BTreeMap::new() });
            let (rights, all) = quiz.exercises.entry(exercise).or_default();
            *rights += u32::from(right);
            *all += 1;
            if !exercises.contains_key(exercise) && !then.contains_key(exercise) {
                then.entry(exercise).or_default().insert((exercise, competency));
            }
        }
        let mut past = Self::default();
        let mut in_order: Vec<(&str, Quiz<'_>)> = quizzes.into_iter().collect();
        in_order.sort_by_key(|(name, quiz)| (quiz.week, *name));
        for (_, quiz) in in_order {
            past.take(exercises, names, &then, &quiz, i32::try_from(week).unwrap_or(i32::MAX));
        }
        past
    }

    fn take(
        &mut self,
        exercises: &BTreeMap<&str, &Exercise>,
        names: &Names,
        then: &BTreeMap<&str, BTreeSet<(&str, &str)>>,
        quiz: &Quiz<'_>,
        week: i32,
    ) {
        let mut families: BTreeMap<&str, Outcome> = BTreeMap::new();
        let mut competencies: BTreeMap<&Id, Outcome> = BTreeMap::new();
        let fresh = Outcome { week: quiz.week, ..Outcome::default() };
        for (exercise, (right, of)) in &quiz.exercises {
            let now = exercises.get(exercise);
            let was = then.get(exercise);
            let of_now = now.map(|now| now.family.as_str());
            // Where a bank was changed since, both families have been seen.
            let kin: BTreeSet<&str> = was.into_iter().flatten().map(|(family, _)| *family).chain(of_now).collect();
            for family in kin {
                families.entry(family).or_insert(fresh).add(*right, *of);
            }
            let heirs = was.into_iter().flatten().flat_map(|(_, competency)| names.today(competency));
            let own: BTreeSet<&Id> = now.map_or_else(|| heirs.collect(), |now| [&now.competency].into());
            for competency in own {
                competencies.entry(competency).or_insert(fresh).add(*right, *of);
                if (1..=week).contains(&quiz.week) {
                    *self.asked.entry(competency.clone()).or_default() += 1;
                }
            }
            if quiz.week <= week {
                self.exercises.insert((*exercise).to_owned(), quiz.week);
            }
        }
        for (family, outcome) in families {
            self.issues.entry(family.to_owned()).or_default().insert(quiz.week);
            if quiz.week <= week {
                self.families.insert(family.to_owned(), outcome);
            }
        }
        if quiz.week <= week {
            self.competencies.extend(competencies.into_iter().map(|(id, outcome)| (id.clone(), outcome)));
        }
    }
}

/// Who did what: quiz, exercise, competency, day, and whether every part was
/// right or carried. One exercise of one docket is one trial.
fn trials(history: &History, day: Date) -> impl Iterator<Item = (&str, &str, &str, Date, bool)> {
    type Place<'a> = (&'a str, &'a str, &'a str, &'a Code);
    let mut sums: BTreeMap<Place<'_>, (&str, Date, f64, u32)> = BTreeMap::new();
    for person in history.people.values() {
        for (competency, work) in &person.work {
            for mark in work.marks.iter().filter(|mark| mark.counts_on(day, History::NOW)) {
                let place = (&*mark.is.quiz, &*mark.is.exercise, &*mark.is.docket, &person.code);
                let sum = sums.entry(place).or_insert((competency, mark.claim.seen_on, 0.0, mark.is.parts));
                sum.2 += mark.is.mark;
            }
        }
    }
    sums.into_iter().map(|((quiz, exercise, ..), (competency, seen_on, sum, parts))| {
        (quiz, exercise, competency, seen_on, sum >= f64::from(parts) - 1e-9)
    })
}
