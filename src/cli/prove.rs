//! `gearside prove`: proves curriculum and banks fit for use.

use std::path::Path;

use super::arguments::ProveArguments;
use super::loading;
use super::out::{Ended, Out};
use crate::programme::Origin;
use crate::proof::{ExerciseReport, PlanReport, Yield, prove};

pub(super) fn run(arguments: &ProveArguments, programme: Option<&Path>, out: &mut Out) -> Ended {
    let mut origin = loading::origin(programme);
    if let Some(missing) = arguments.files.iter().find(|file| !file.exists()) {
        return out.usage(
            &format!("there is no file {}", missing.display()),
            "name a bank file, or leave it out to prove everything",
        );
    }
    let whole = arguments.files.is_empty();
    if !whole {
        origin = Origin::Banks(Box::new(origin), arguments.files.clone());
    }
    let (programme, ended) = match loading::programme(&origin, out) {
        Ok(loaded) => loaded,
        Err(ended) => return ended,
    };
    // With faults in the files, what an exercise seems to lack may only have gone unread.
    let report = prove(&programme, arguments.pulls, whole && ended == Ended::Done);
    for fault in &report.faults.0 {
        out.fault(fault);
    }
    let ended = if report.faults.any() { Ended::Content } else { ended };
    if out.json {
        let value = serde_json::json!({ "exercises": report.exercises, "competencies": report.competencies, "plan": report.plan, "faults": out.faults_json() });
        out.value(&value);
        return ended;
    }
    let mut bank = "";
    for exercise in &report.exercises {
        if exercise.bank != bank {
            out.line(&exercise.bank);
            bank = &exercise.bank;
        }
        out.line(&line(exercise));
    }
    for competency in &report.competencies {
        let planned = report.plan.competencies.iter().find(|planned| planned.id == competency.id);
        out.line(&format!(
            "{}: {} exercises, {} families, {} levels{}",
            competency.id,
            competency.exercises,
            competency.families,
            competency.levels,
            planned.map(in_the_plan).unwrap_or_default()
        ));
    }
    quizzes(&report.plan, out);
    out.line(if ended == Ended::Done { "Fit for use." } else { "Not fit for use: see the faults." });
    ended
}

/// What the plan can yield for a competency, behind its line.
fn in_the_plan(planned: &Yield) -> String {
    let Some(week) = planned.taught else { return String::new() };
    let marked = if planned.rests_on == 0 { String::new() } else { format!(" of {} wanted", planned.rests_on) };
    format!(
        "; taught in week {week}, {} quizzes can yield {} marked exercises{marked}",
        planned.quizzes, planned.can_yield
    )
}

/// Whether the year's quizzes can be filled.
fn quizzes(plan: &PlanReport, out: &mut Out) {
    if plan.competencies.is_empty() {
        return;
    }
    let weeks: Vec<String> = plan.short.iter().map(ToString::to_string).collect();
    let short =
        if weeks.is_empty() { String::new() } else { format!("; those of week {} stay shorter", weeks.join(", ")) };
    out.line(&format!(
        "Quizzes of {} minutes can be filled so that a family rests {} weeks in between{short}.",
        plan.minutes, plan.rest
    ));
}

/// One line per exercise.
fn line(report: &ExerciseReport) -> String {
    let mut parts = vec![format!("{}{} pulls", if report.all { "all " } else { "" }, report.pulls)];
    parts.push(format!("{} distinct", report.distinct));
    parts.extend(report.keys.as_ref().map(|(least, most)| format!("keys {least} to {most}")));
    parts.extend(report.sane.as_ref().map(|sane| format!("sane {sane}")));
    parts.extend(report.separation.map(|share| format!("wrong turns apart in {:.0} %", share * 100.0)));
    parts.extend(report.margin.map(|margin| format!("calculator uses {:.0} % of its room", margin * 100.0)));
    parts.extend(report.orders.map(|orders| format!("at least {orders} valid orders")));
    let verdict = if report.faults == 0 { "fit" } else { "NOT FIT" };
    format!("  {:<36} {verdict:<8} {}", report.id, parts.join(", "))
}
