//! What the texts use, and what each competency has.

use std::collections::BTreeSet;

use super::report::CompetencyReport;
use crate::ground::{Fault, Faults, Place};
use crate::programme::{Exercise, Form, GivenSource, Programme};
use crate::pull::shown_names;

/// How many exercises, families and levels a competency needs at least.
const LEAST_EXERCISES: usize = 4;
const LEAST_FAMILIES: usize = 2;
const LEAST_LEVELS: usize = 2;
/// How many of its numeric exercises must have wrong turns.
const LEAST_WITH_TURNS: usize = 2;

/// Check 5: every given is used in the text, and what the steps use is shown.
pub(super) fn names_used(exercise: &Exercise, faults: &mut Vec<Fault>) {
    let shown = shown_names(exercise);
    let tables: BTreeSet<&str> =
        exercise.ask.holes().filter(|hole| hole.as_table).map(|hole| hole.name.as_str()).collect();
    let reckoning = &exercise.reckoning;
    let used: BTreeSet<String> = reckoning.steps.iter().flat_map(|step| step.expression.names()).collect();
    let pictured: BTreeSet<&str> =
        exercise.picture.iter().flat_map(|picture| &picture.names).map(String::as_str).collect();
    for given in &reckoning.givens {
        let hidden: Vec<String> = match &given.source {
            GivenSource::Row(table) => {
                let table = &reckoning.tables[*table];
                let columns = table.columns.iter().map(|column| format!("{}.{column}", given.name));
                let none_shown = !columns.clone().any(|name| shown.contains(&name));
                columns
                    .filter(|name| (none_shown || used.contains(name)) && !shown.contains(name))
                    .filter(|name| !pictured.contains(name.as_str()))
                    .filter(|_| !tables.contains(table.name.as_str()) || none_shown)
                    .collect()
            }
            _ if given.hidden || shown.contains(&given.name) || pictured.contains(given.name.as_str()) => Vec::new(),
            _ => vec![given.name.clone()],
        };
        for name in hidden {
            let fault = Fault::new(
                "not-shown",
                format!("the given `{name}` is nowhere in the text"),
                format!("put {{{{ {name} }}}} into `ask:`, or take it out"),
            );
            faults.push(fault.at(exercise.place.clone()));
        }
    }
}

/// Check 5: every competency has exercises enough.
pub(super) fn competencies(programme: &Programme, faults: &mut Faults) -> Vec<CompetencyReport> {
    let mut reports = Vec::new();
    for competency in programme.competencies() {
        let exercises: Vec<&Exercise> = programme.exercises_of(&competency.id).collect();
        let families: BTreeSet<_> = exercises.iter().map(|one| &one.family).collect();
        let levels: BTreeSet<_> = exercises.iter().map(|one| one.level).collect();
        let numeric = exercises.iter().filter(|one| matches!(one.form, Form::Numeric(_))).count();
        let with_turns = exercises
            .iter()
            .filter(|one| matches!(one.form, Form::Numeric(_)) && !one.reckoning.turns.is_empty())
            .count();
        let mut lacks = Vec::new();
        for (what, has, needs) in [
            ("exercises", exercises.len(), LEAST_EXERCISES),
            ("families", families.len(), LEAST_FAMILIES),
            ("levels", levels.len(), LEAST_LEVELS),
        ] {
            if has < needs {
                lacks.push(format!("{has} {what} where {needs} are needed"));
            }
        }
        if numeric > 0 && with_turns < LEAST_WITH_TURNS {
            lacks.push(format!("{with_turns} numeric exercises with wrong turns where {LEAST_WITH_TURNS} are needed"));
        }
        if !lacks.is_empty() {
            let place = Place { exercise: Some(competency.id.to_string()), ..Place::default() };
            let message = format!("the competency `{}` has {}", competency.id, lacks.join(", "));
            faults.push(
                Fault::new("coverage", message, "write more exercises for it: another family, another level").at(place),
            );
        }
        reports.push(CompetencyReport {
            id: competency.id.to_string(),
            exercises: exercises.len(),
            families: families.len(),
            levels: levels.len(),
            with_wrong_turns: with_turns,
        });
    }
    reports
}
