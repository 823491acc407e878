//! All that may come in a quiz: the hard constraints on one exercise applied.

use std::collections::{BTreeMap, BTreeSet};

use super::candidate::{Bar, Candidate, Judge};
use super::chance::rank;
use super::compose::Request;
use crate::ground::Id;
use crate::ground::say;
use crate::programme::{Exercise, Plan};

/// All that may come.
pub(super) struct Pool<'a> {
    pub(super) candidates: Vec<Candidate<'a>>,
    pub(super) formulas: Vec<String>,
    /// The candidates that must come.
    pub(super) start: Vec<usize>,
    /// How many families rest.
    resting: usize,
}

impl<'a> Pool<'a> {
    pub(super) fn of(
        request: &Request<'a>,
        judge: &Judge<'_>,
        only: Option<&Id>,
        exercises: impl Iterator<Item = &'a Exercise>,
        with: &[&Exercise],
    ) -> Self {
        let stage_of: BTreeMap<&Id, usize> = request
            .programme
            .stages
            .iter()
            .enumerate()
            .flat_map(|(index, stage)| stage.competencies.iter().map(move |competency| (&competency.id, index)))
            .collect();
        let mut pool = Self { candidates: Vec::new(), formulas: Vec::new(), start: Vec::new(), resting: 0 };
        let mut resting = BTreeSet::new();
        for exercise in exercises {
            let Some(stage) = stage_of.get(&exercise.competency).copied() else { continue };
            let unwanted = request.without.iter().any(|id| id == exercise.id.as_str());
            if unwanted || only.is_some_and(|only| *only != exercise.competency) {
                continue;
            }
            match judge.bar(exercise) {
                Some(Bar::Rests(_)) => {
                    resting.insert(&exercise.family);
                    continue;
                }
                Some(_) => continue,
                None => {}
            }
            let mut candidate =
                judge.candidate(exercise, stage, rank(request.seed, request.week, exercise.id.as_str()));
            candidate.formula = pool.formula(exercise);
            if with.iter().any(|own| own.id == exercise.id) {
                candidate.asked_for = true;
                candidate.reason = say!("plan.asked-for", reason = candidate.reason);
                pool.start.push(pool.candidates.len());
            }
            pool.candidates.push(candidate);
        }
        pool.resting = resting.len();
        pool
    }

    /// The index of the set of functions that an exercise's steps use.
    fn formula(&mut self, exercise: &Exercise) -> Option<usize> {
        let calls = exercise.reckoning.steps.iter().flat_map(|step| step.expression.calls());
        let names: BTreeSet<&str> = calls.map(|calculation| calculation.name).collect();
        if names.is_empty() {
            return None;
        }
        let name = names.into_iter().collect::<Vec<_>>().join(" + ");
        self.formulas.iter().position(|known| *known == name).or_else(|| {
            self.formulas.push(name);
            Some(self.formulas.len() - 1)
        })
    }

    pub(super) fn resting_in_words(&self, plan: &Plan) -> String {
        match self.resting {
            0 => String::new(),
            count => say!("plan.families-were-asked", n = count, weeks = plan.not_again_for),
        }
    }
}
