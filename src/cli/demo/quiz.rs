//! The weekly quizzes of the story: which exercises, and how they went.

use std::collections::BTreeMap;

use super::cast::Apprentice;
use super::chance::Chance;
use crate::ground::Id;
use crate::programme::{Competency, Exercise, Form, Plan, Programme, Use};
use crate::records::{Mark, PartMarked, Word};

/// The most exercises of a quiz.
const MOST: usize = 12;
/// The most exercises about something in the week in which it is taught.
const MOST_NEW: usize = 2;
/// The most about something taught before.
const MOST_OLD: usize = 3;
/// The most about anything, where there is room left.
const MOST_OF_ONE: usize = 5;

/// A weekly quiz.
#[derive(Debug)]
pub(super) struct Quiz<'p> {
    pub(super) week: u32,
    pub(super) exercises: Vec<&'p Exercise>,
}

impl Quiz<'_> {
    /// What is kept of it: the exercises, in order.
    pub(super) fn snapshot(&self, id: &str, edition: &str) -> String {
        let exercises: Vec<_> = self
            .exercises
            .iter()
            .map(|one| serde_json::json!({ "exercise": one.id.as_str(), "competency": one.competency.as_str(), "parts": parts(one) }))
            .collect();
        serde_json::json!({ "quiz": id, "week": self.week, "edition": edition, "exercises": exercises }).to_string()
    }
}

/// How many answers an exercise asks for.
fn parts(exercise: &Exercise) -> usize {
    match &exercise.form {
        Form::Numeric(numeric) => numeric.answers.len(),
        Form::Order(_) | Form::Choose(_) => 1,
    }
}

/// Composes the quizzes of a year: what was taught that week first, then what
/// was taught before, oldest first; no family twice, and none before it has rested.
pub(super) fn compose<'p>(
    programme: &'p Programme,
    plan: &Plan,
    taught: &BTreeMap<u32, Vec<Id>>,
    tag: &str,
) -> Vec<Quiz<'p>> {
    let mut composer = Composer {
        programme,
        rest: plan.not_again_for,
        taught: Vec::new(),
        used: BTreeMap::new(),
        asked: BTreeMap::new(),
    };
    let quizzes = taught.iter().map(|(week, ids)| {
        composer.teach(*week, ids);
        let mut quiz = Quiz { week: *week, exercises: Vec::new() };
        let mut left = plan.minutes;
        for (competency, most) in composer.turns(*week) {
            composer.take(competency, most, &mut quiz, &mut left);
        }
        Chance::of(&["order", tag, &week.to_string()]).shuffle(&mut quiz.exercises);
        quiz
    });
    quizzes.collect()
}

/// What has been taught and asked so far in a year.
struct Composer<'p> {
    programme: &'p Programme,
    /// How many weeks a family rests.
    rest: u32,
    /// Competencies in the order they were taught, with their first week.
    taught: Vec<(&'p Competency, u32)>,
    /// When a family was last asked.
    used: BTreeMap<&'p Id, u32>,
    /// How many exercises of a competency were asked.
    asked: BTreeMap<&'p Id, usize>,
}

impl<'p> Composer<'p> {
    fn teach(&mut self, week: u32, ids: &[Id]) {
        for competency in ids.iter().filter_map(|id| self.programme.competency(id)) {
            if !self.taught.iter().any(|(known, _)| known.id == competency.id) {
                self.taught.push((competency, week));
            }
        }
    }

    /// Whether more was asked of a competency than its sign-off rests on.
    fn is_enough(&self, competency: &Competency) -> bool {
        let marked = competency.rests_on.as_ref().and_then(|rests| rests.marked.as_ref());
        self.asked.get(&competency.id).copied().unwrap_or(0) > marked.map_or(8, |marked| marked.at_least as usize)
    }

    /// Whose turn it is, and how many exercises at most; then once more, where there is room left.
    fn turns(&self, week: u32) -> Vec<(&'p Competency, usize)> {
        let mut list: Vec<(&Competency, u32)> = self.taught.clone();
        list.sort_by_key(|(one, first)| (self.is_enough(one), *first != week));
        let first = list.iter().map(|(one, first)| (*one, if *first == week { MOST_NEW } else { MOST_OLD }));
        let second = list.iter().map(|(one, _)| (*one, MOST_OF_ONE));
        first.chain(second).collect()
    }

    /// Takes exercises of a competency into a quiz; what rested longest comes first.
    fn take(&mut self, competency: &'p Competency, most: usize, quiz: &mut Quiz<'p>, left: &mut u32) {
        let mut taken = quiz.exercises.iter().filter(|one| one.competency == competency.id).count();
        let has_rested = |last: &u32| quiz.week - last > self.rest;
        let mut usable: Vec<&Exercise> = self
            .programme
            .exercises_of(&competency.id)
            .filter(|one| one.used_in != Use::Practice && self.used.get(&one.family).is_none_or(has_rested))
            .collect();
        usable.sort_by_key(|one| self.used.get(&one.family).copied());
        for exercise in usable {
            let again = quiz.exercises.iter().any(|one| one.family == exercise.family);
            if again || taken >= most || quiz.exercises.len() == MOST || exercise.minutes > *left {
                continue;
            }
            *left -= exercise.minutes;
            taken += 1;
            self.used.insert(&exercise.family, quiz.week);
            *self.asked.entry(&exercise.competency).or_default() += 1;
            quiz.exercises.push(exercise);
        }
    }
}

/// How an apprentice's exercise ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Course {
    /// As chance has it.
    Usual,
    /// A safety pair is broken.
    SafetyBroken,
}

/// Whether an exercise is about an order in which someone can be hurt.
pub(super) fn is_about_safety(exercise: &Exercise) -> bool {
    matches!(&exercise.form, Form::Order(order) if order.before.iter().any(|edge| edge.safety))
}

/// The marks of one exercise of an apprentice's docket.
pub(super) fn sit(
    exercise: &Exercise,
    person: &Apprentice,
    (quiz, docket): (&Word, &Word),
    tag: &str,
    course: Course,
) -> Vec<PartMarked> {
    let mut chance = Chance::of(&["sit", tag, person.code.as_str(), exercise.id.as_str()]);
    let right = course == Course::Usual && chance.happens(person.strength_in(exercise.competency.as_str()));
    let verdicts = if right { all_right(parts(exercise)) } else { gone_wrong(exercise, course, &mut chance) };
    let parts = u32::try_from(verdicts.len()).unwrap_or(u32::MAX);
    (1..)
        .zip(verdicts)
        .map(|(part, (verdict, mark, turn))| PartMarked {
            quiz: quiz.clone(),
            docket: docket.clone(),
            exercise: exercise.id.as_str().into(),
            competency: exercise.competency.as_str().into(),
            part,
            parts,
            verdict,
            mark,
            turn,
        })
        .collect()
}

type Verdict = (Mark, f64, Option<Word>);

fn all_right(parts: usize) -> Vec<Verdict> {
    vec![(Mark::Right, 1.0, None); parts]
}

fn gone_wrong(exercise: &Exercise, course: Course, chance: &mut Chance) -> Vec<Verdict> {
    match &exercise.form {
        Form::Choose(_) => vec![(Mark::Wrong, 0.0, None)],
        // A broken safety pair takes the whole mark; otherwise the pairs that were kept count.
        Form::Order(_) if course == Course::SafetyBroken => vec![(Mark::Wrong, 0.0, None)],
        Form::Order(_) => vec![(Mark::Wrong, 0.6, None)],
        Form::Numeric(numeric) => {
            let (verdict, turn) = match chance.below(10) {
                0 => (Mark::Blank, None),
                1 | 2 => (Mark::Wrong, None),
                _ => (Mark::WrongTurn, chance.one_of(&exercise.reckoning.turns)),
            };
            // A wrong turn shows at the first answer behind it.
            let at = turn.map_or_else(
                || chance.below(numeric.answers.len()),
                |turn| numeric.answers.iter().position(|step| *step >= turn.at).unwrap_or(0),
            );
            let verdict = if verdict == Mark::WrongTurn && turn.is_none() { Mark::Wrong } else { verdict };
            let mut verdicts = all_right(numeric.answers.len());
            for (place, part) in verdicts.iter_mut().enumerate().skip(at) {
                *part = match (place == at, verdict) {
                    (true, _) => (verdict, 0.0, turn.map(|turn| turn.name.as_str().into())),
                    (false, Mark::Blank) => (Mark::Blank, 0.0, None),
                    // Built on the own wrong answer, and right given that.
                    (false, _) => (Mark::Carried, 1.0, None),
                };
            }
            verdicts
        }
    }
}
