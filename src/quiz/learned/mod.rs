//! What is learnt from a quiz: how its exercises did, what its families have
//! done over all quizzes, and what mark a just-competent apprentice gets.

mod over_quizzes;
mod pass_mark;

pub use over_quizzes::{FamilyLearned, OverQuizzes};
pub use pass_mark::{PartlyJudged, PassMark};

use serde::Serialize;

use super::results::{ExerciseResult, PartResult, Results};
use super::snapshot::KeptExercise;
use crate::ground::Fault;
use crate::marking::statistics::{
    Advice, Answers, ExerciseStatistics, QuizStatistics, advice, exercise_statistics, quiz_statistics,
};
use crate::marking::{Commonest, WrongWay, commonest};
use crate::records::{Code, History, Mark};

/// What is learnt from a quiz.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Learned {
    /// The quiz.
    pub quiz: String,
    /// How many dockets were issued.
    pub issued: usize,
    /// How many came back.
    pub came: usize,
    /// Everyone who came back, by the place of their docket.
    pub people: Vec<PersonLearned>,
    /// The quiz as a whole.
    pub whole: QuizStatistics,
    /// Its exercises, in order.
    pub exercises: Vec<ExerciseLearned>,
    /// All families over all quizzes on record, by name.
    pub families: Vec<FamilyLearned>,
    /// What a just-competent apprentice is expected to get.
    pub pass_mark: PassMark,
}

/// One person's marks.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PersonLearned {
    /// Who.
    pub person: Code,
    /// The docket.
    pub docket: String,
    /// The points; `None` if a mark is not known.
    pub points: Option<f64>,
    /// The mark of each exercise.
    pub marks: Vec<Option<f64>>,
    /// The verdict on each exercise.
    pub verdicts: Vec<Option<Mark>>,
}

/// How one exercise did.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ExerciseLearned {
    /// Its place in the quiz, from 1.
    pub number: u32,
    /// The exercise.
    pub exercise: String,
    /// Its title.
    pub title: String,
    /// Its family.
    pub family: String,
    /// Its competency.
    pub competency: String,
    /// How many had which verdict on the whole of it.
    pub counts: Counts,
    /// Its parts, where there are several.
    pub parts: Vec<PartLearned>,
    /// The statistics.
    pub statistics: ExerciseStatistics,
    /// What they ask for.
    pub advice: Vec<Advice>,
}

/// How one part did.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PartLearned {
    /// What it asks for.
    pub label: String,
    /// How many had which verdict.
    pub counts: Counts,
    /// The commonest way to go wrong.
    pub commonest: Option<Commonest>,
}

/// How many had which verdict.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize)]
pub struct Counts {
    /// Right.
    pub right: usize,
    /// Carried.
    pub carried: usize,
    /// A wrong turn.
    pub wrong_turn: usize,
    /// Wrong.
    pub wrong: usize,
    /// Blank.
    pub blank: usize,
}

impl Counts {
    fn of(verdicts: impl Iterator<Item = Option<Mark>>) -> Self {
        let mut counts = Self::default();
        for verdict in verdicts.flatten() {
            *counts.place(verdict) += 1;
        }
        counts
    }

    fn place(&mut self, verdict: Mark) -> &mut usize {
        match verdict {
            Mark::Right => &mut self.right,
            Mark::Carried => &mut self.carried,
            Mark::WrongTurn => &mut self.wrong_turn,
            Mark::Wrong => &mut self.wrong,
            Mark::Blank => &mut self.blank,
        }
    }

    /// How many had a verdict.
    #[must_use]
    pub fn get(mut self, verdict: Mark) -> usize {
        *self.place(verdict)
    }
}

/// The marks of a quiz, a row for each docket that came back.
pub(super) fn answers(results: &Results<'_>) -> Result<Answers, Fault> {
    let rows = results.dockets.iter().map(|docket| docket.exercises.iter().map(ExerciseResult::mark).collect());
    Answers::new(results.out_of(), rows.collect())
}

impl Learned {
    /// What is learnt from a quiz. `others` are the other quizzes on record.
    ///
    /// # Errors
    /// A fault if a mark is not from 0 to 1.
    pub fn of(results: &Results<'_>, history: &History, mut others: OverQuizzes) -> Result<Self, Fault> {
        others.add(results)?;
        let answers = answers(results)?;
        let people: Vec<PersonLearned> = results
            .dockets
            .iter()
            .map(|docket| PersonLearned {
                person: docket.person.clone(),
                docket: results.snapshot.dockets[docket.place].docket.clone(),
                points: docket.points(),
                marks: docket.exercises.iter().map(ExerciseResult::mark).collect(),
                verdicts: docket.exercises.iter().map(ExerciseResult::verdict).collect(),
            })
            .collect();
        let exercises = results.snapshot.exercises.iter().enumerate();
        let here: Vec<&str> = results.snapshot.exercises.iter().map(|one| one.family.as_str()).collect();
        let points: Vec<f64> = people.iter().filter_map(|one| one.points).collect();
        Ok(Self {
            quiz: results.snapshot.head.quiz.clone(),
            issued: results.snapshot.dockets.len(),
            came: results.dockets.len(),
            people,
            whole: quiz_statistics(&answers),
            exercises: exercises.map(|(place, kept)| exercise(results, &answers, place, kept)).collect(),
            families: others.families(&here),
            pass_mark: PassMark::of(results.snapshot, history, &points),
        })
    }
}

fn exercise(results: &Results<'_>, answers: &Answers, place: usize, kept: &KeptExercise) -> ExerciseLearned {
    let taken: Vec<&ExerciseResult> = results.dockets.iter().filter_map(|docket| docket.exercises.get(place)).collect();
    let ways: Vec<Vec<WrongWay>> = taken.iter().map(|one| one.wrong_ways()).collect();
    let statistics = exercise_statistics(answers, place, &ways);
    let labels = kept.shown.parts.iter().enumerate().filter(|_| kept.shown.parts.len() > 1);
    ExerciseLearned {
        number: kept.shown.number,
        exercise: kept.exercise.clone(),
        title: kept.shown.title.clone(),
        family: kept.family.clone(),
        competency: kept.competency.clone(),
        counts: Counts::of(taken.iter().map(|one| one.verdict())),
        parts: labels.map(|(number, part)| part_learned(&taken, number, &part.label)).collect(),
        advice: advice(&statistics),
        statistics,
    }
}

fn part_learned(taken: &[&ExerciseResult], number: usize, label: &str) -> PartLearned {
    let parts: Vec<&PartResult> = taken.iter().filter_map(|one| one.parts.get(number)).collect();
    let ways: Vec<Vec<WrongWay>> = parts.iter().map(|part| part.wrong_ways()).collect();
    PartLearned {
        label: label.to_owned(),
        counts: Counts::of(parts.iter().map(|part| part.verdict())),
        commonest: commonest(ways.iter().map(Vec::as_slice)),
    }
}
