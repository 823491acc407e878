//! The curriculum, checked: stages, competencies, cautions, the plan.

use std::collections::{BTreeMap, BTreeSet};

use super::choices::{InkSystem, Paper, Worlds};
use super::raw::Observed;
use crate::ground::Id;
use crate::prose::Text;

/// What `programme.yaml` says.
#[derive(Debug)]
pub struct About {
    /// The programme's title.
    pub title: String,
    /// The edition's label.
    pub edition: String,
    /// A few sentences about it.
    pub about: Text,
    /// The unit worlds it works in.
    pub units: Worlds,
    /// The language of its pages, by the name of its file: `english`.
    pub language: String,
    /// Whether a comma is the decimal mark.
    pub decimal_comma: bool,
    /// The paper it prints on.
    pub paper: Paper,
    /// The ink systems it prints with.
    pub ink_systems: Vec<InkSystem>,
    /// What one printing unit is called: deck, station, unit.
    pub unit_word: String,
    /// The pass mark as a share, and what it rests on.
    pub pass_mark: Option<(f64, String)>,
    /// How long records are kept, in words.
    pub retention: String,
    /// The kinds of event that the programme records.
    pub events: Vec<String>,
    /// The time zone whose dates count; the machine's own if the file names none.
    pub time_zone: jiff::tz::TimeZone,
}

/// A stage of the programme.
#[derive(Debug)]
pub struct Stage {
    /// Its id.
    pub id: Id,
    /// Its number, 1 to 12.
    pub number: u32,
    /// Its title.
    pub title: String,
    /// What it is about.
    pub about: Text,
    /// Its competencies, in order.
    pub competencies: Vec<Competency>,
}

/// A competency.
#[derive(Debug)]
pub struct Competency {
    /// Its id.
    pub id: Id,
    /// Its title.
    pub title: String,
    /// What it was called, or was a part of, in earlier editions.
    pub was: Vec<Id>,
    /// What must be signed before.
    pub needs: Vec<Id>,
    /// Whether a sign-off can never be made despite missing evidence.
    pub safety: bool,
    /// What an observer sees.
    pub criteria: Vec<Criterion>,
    /// Half a page of lesson.
    pub lesson: Text,
    /// Planned hours on the job.
    pub hours: Option<f64>,
    /// Cautions that stand before it.
    pub cautions: Vec<Id>,
    /// What a sign-off rests on.
    pub rests_on: Option<RestsOn>,
    /// After how many months a sign-off lapses.
    pub lapses_after: Option<u32>,
    /// What renews it.
    pub renewed_by: Option<RestsOn>,
}

/// One observable criterion.
#[derive(Debug)]
pub struct Criterion {
    /// What is seen.
    pub text: Text,
    /// Whether an observation ends without it.
    pub critical: bool,
}

/// What a sign-off, or its renewal, rests on.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct RestsOn {
    /// Marked work.
    pub marked: Option<Marked>,
    /// Observations.
    pub observed: Option<Observed>,
    /// Hours on the job.
    pub hours: Option<f64>,
}

/// Marked work that a sign-off rests on.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Marked {
    /// How many exercises at least.
    pub at_least: u32,
    /// The share of them that is right.
    pub right: f64,
    /// On how many days.
    pub days: u32,
    /// How sure one must be that the true rate exceeds the pass mark.
    pub sureness: Option<f64>,
}

/// A caution that stands before what it belongs to.
#[derive(Debug)]
pub struct Caution {
    /// Its id.
    pub id: Id,
    /// The plain word of what can hurt.
    pub word: String,
    /// The usual measure.
    pub says: Text,
    /// Both in other languages, by the name of the language.
    pub other: BTreeMap<String, (String, Text)>,
}

impl Caution {
    /// The caution as a programme in that language says it: in its words where they are given, else as it is written.
    pub(super) fn speak(&mut self, language: &str) {
        if let Some((word, says)) = self.other.remove(language) {
            (self.word, self.says) = (word, says);
        }
    }
}

/// When things are taught.
#[derive(Debug)]
pub struct Plan {
    /// The file, as a user would name it.
    pub file: String,
    /// The first day, `2026-09-07`.
    pub starts: String,
    /// What is taught in each week.
    pub weeks: BTreeMap<u32, Vec<Id>>,
    /// Weeks or dates without teaching, as written.
    pub breaks: Vec<String>,
    /// How much of the quizzes each stage should have.
    pub shares: Vec<(Id, f64)>,
    /// Taught weeks between two looks at the same thing.
    pub gap: u32,
    /// Weeks in which an exercise does not come again.
    pub not_again_for: u32,
    /// How long a weekly quiz is, in minutes.
    pub minutes: u32,
    /// The classes.
    pub classes: Vec<String>,
}

/// All competencies in an order in which everything needed comes first; within
/// that, stage by stage. Competencies of a cycle come last.
#[must_use]
pub fn teaching_order(stages: &[Stage]) -> Vec<&Competency> {
    let mut waiting: Vec<&Competency> = stages.iter().flat_map(|stage| &stage.competencies).collect();
    let mut taught: BTreeSet<&Id> = BTreeSet::new();
    let mut order = Vec::new();
    while let Some(next) =
        waiting.iter().position(|competency| competency.needs.iter().all(|need| taught.contains(need)))
    {
        let competency = waiting.remove(next);
        taught.insert(&competency.id);
        order.push(competency);
    }
    order.extend(waiting);
    order
}

/// The competencies that need this one directly.
#[must_use]
pub fn opened_by<'a>(stages: &'a [Stage], id: &Id) -> Vec<&'a Competency> {
    stages.iter().flat_map(|stage| &stage.competencies).filter(|competency| competency.needs.contains(id)).collect()
}

/// The longest chain of needs, first to last.
#[must_use]
pub fn longest_chain(stages: &[Stage]) -> Vec<&Competency> {
    let mut chains: BTreeMap<&Id, Vec<&Competency>> = BTreeMap::new();
    let mut longest = Vec::new();
    for competency in teaching_order(stages) {
        let mut chain = competency
            .needs
            .iter()
            .filter_map(|need| chains.get(need))
            .max_by_key(|chain| chain.len())
            .cloned()
            .unwrap_or_default();
        chain.push(competency);
        if chain.len() > longest.len() {
            longest.clone_from(&chain);
        }
        chains.insert(&competency.id, chain);
    }
    longest
}
