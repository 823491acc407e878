//! What a proof reports.

use serde::Serialize;

use super::plan::PlanReport;
use crate::ground::Faults;

/// The report of a proof.
#[derive(Debug)]
pub struct Report {
    /// One entry per exercise, in bank order.
    pub exercises: Vec<ExerciseReport>,
    /// One entry per competency, stage by stage.
    pub competencies: Vec<CompetencyReport>,
    /// What the plan can yield.
    pub plan: PlanReport,
    /// Everything found.
    pub faults: Faults,
}

/// What was seen of one exercise.
#[derive(Debug, Clone, Default, Serialize)]
pub struct ExerciseReport {
    /// Its bank's file.
    pub bank: String,
    /// Its id.
    pub id: String,
    /// Its kind.
    pub kind: &'static str,
    /// How many pulls were checked.
    pub pulls: u64,
    /// Whether these are all there are.
    pub all: bool,
    /// How many of them differ in what is printed.
    pub distinct: u64,
    /// In which share of the pulls the least distinct wrong turn stands apart from the key.
    pub separation: Option<f64>,
    /// The largest share of the allowed deviation that rounding every step uses up.
    pub margin: Option<f64>,
    /// For an order: the least number of valid orders shown.
    pub orders: Option<u64>,
    /// The range in which every key must lie, as written.
    pub sane: Option<String>,
    /// The least and the greatest key, as printed.
    pub keys: Option<(String, String)>,
    /// How many faults it has.
    pub faults: usize,
}

/// What was seen of one competency.
#[derive(Debug, Clone, Serialize)]
pub struct CompetencyReport {
    /// Its id.
    pub id: String,
    /// How many exercises it has.
    pub exercises: usize,
    /// In how many families.
    pub families: usize,
    /// On how many levels.
    pub levels: usize,
    /// How many of them are numeric with wrong turns.
    pub with_wrong_turns: usize,
}
