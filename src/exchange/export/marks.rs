//! The marks of a quiz as a table: one row for each part of each docket that came back.

use super::super::table::write;
use super::tables::{decimal, stored_word};
use crate::quiz::Results;

/// The columns of the table.
const COLUMNS: [&str; 10] =
    ["quiz", "docket", "person", "exercise", "competency", "part", "typed", "verdict", "mark", "fact"];

/// The marks of a quiz as CSV, corrections included. It speaks of codes; the
/// answers are as typed, and empty where their text was erased.
#[must_use]
pub fn marks_csv(results: &Results<'_>) -> Vec<u8> {
    let head = &results.snapshot.head;
    let mut rows = Vec::new();
    for docket in &results.dockets {
        for (kept, exercise) in results.snapshot.exercises.iter().zip(&docket.exercises) {
            for (number, part) in (1..).zip(&exercise.parts) {
                let number: u32 = number;
                rows.push(vec![
                    head.quiz.clone(),
                    results.snapshot.dockets[docket.place].docket.clone(),
                    docket.person.to_string(),
                    kept.exercise.clone(),
                    kept.competency.clone(),
                    number.to_string(),
                    part.marked.as_ref().map_or_else(String::new, |one| one.typed.clone()),
                    part.verdict().map(stored_word).unwrap_or_default(),
                    part.mark().map(|mark| decimal(mark, head.decimal_comma)).unwrap_or_default(),
                    part.recorded.as_ref().map_or_else(String::new, |one| one.seq.to_string()),
                ]);
            }
        }
    }
    write(&COLUMNS, &rows)
}
