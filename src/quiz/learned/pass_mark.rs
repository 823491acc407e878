//! What judges expect of a just-competent apprentice, for one quiz.

use std::collections::BTreeMap;

use serde::Serialize;

use super::super::snapshot::Snapshot;
use crate::marking::statistics::{Cut, WhyNot, expected_cut};
use crate::records::{Code, History};

/// A point count that misses the cut by less than this has reached it.
const DUST: f64 = 1e-9;

/// The pass mark that judges expect, or what is missing for one.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PassMark {
    /// The pass mark with its spread, from those who judged every exercise.
    pub cut: Result<Cut, WhyNot>,
    /// Who judged every exercise.
    pub judges: Vec<Code>,
    /// Who judged some of them only.
    pub partly: Vec<PartlyJudged>,
    /// Exercises that nobody judged.
    pub unjudged: Vec<String>,
    /// How many of those who came back reach it; `None` without a pass mark.
    pub reached: Option<usize>,
}

/// A judge who left exercises out.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PartlyJudged {
    /// Who.
    pub judge: Code,
    /// What was left out.
    pub missing: Vec<String>,
}

impl PassMark {
    /// The pass mark of a quiz, from what was judged of its exercises. Of two
    /// judgements of one exercise by the same judge the later one counts.
    #[must_use]
    pub fn of(snapshot: &Snapshot, history: &History, points: &[f64]) -> Self {
        let mut by_judge: BTreeMap<&Code, BTreeMap<&str, f64>> = BTreeMap::new();
        let asked: Vec<&str> = snapshot.exercises.iter().map(|one| one.exercise.as_str()).collect();
        for judged in history.judged.iter().filter(|one| one.gone.is_none() && asked.contains(&&*one.is.exercise)) {
            by_judge.entry(&judged.claim.seen_by).or_default().insert(&judged.is.exercise, judged.is.expect);
        }
        let unjudged = asked.iter().filter(|one| !by_judge.values().any(|own| own.contains_key(*one)));
        let unjudged = unjudged.map(|one| (*one).to_owned()).collect();
        let (mut judges, mut partly, mut expected) = (Vec::new(), Vec::new(), Vec::new());
        for (judge, own) in by_judge {
            let missing: Vec<String> =
                asked.iter().filter(|one| !own.contains_key(*one)).map(|one| (*one).to_owned()).collect();
            if missing.is_empty() {
                judges.push(judge.clone());
                expected.push(asked.iter().filter_map(|one| own.get(one).copied()).collect());
            } else {
                partly.push(PartlyJudged { judge: judge.clone(), missing });
            }
        }
        let cut = expected_cut(&expected);
        let reached = cut.as_ref().ok().map(|cut| points.iter().filter(|one| **one >= cut.cut - DUST).count());
        Self { cut, judges, partly, unjudged, reached }
    }
}
