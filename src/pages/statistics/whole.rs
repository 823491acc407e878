//! The quiz as a whole on the page of statistics.

use serde_json::{Value, json};

use super::super::marked::number;
use super::Made;
use super::words::{not_said, percent, two};
use crate::marking::statistics::{QuizStatistics, WhyNot, Z95};

/// How far the points may be trusted, or why that is not said.
pub(super) fn reliability(whole: &QuizStatistics, comma: bool) -> Value {
    let mut lines = Vec::new();
    match &whole.alpha {
        Ok(found) => {
            let (lo, hi) =
                (found.alpha - Z95 * found.standard_error, (found.alpha + Z95 * found.standard_error).min(1.0));
            lines.push(format!(
                "Coefficient alpha is {}, with a standard error of {} (probably {} to {}), over {} who took all of it.",
                two(found.alpha, comma),
                two(found.standard_error, comma),
                two(lo, comma),
                two(hi, comma),
                found.takers
            ));
            if let Ok(error) = &whole.error {
                lines.push(format!(
                    "The standard error of measurement is {} points of {}: two totals that are nearer than that may well be the same.",
                    two(*error, comma),
                    whole.exercises
                ));
            }
            lines.push(match &whole.times_for_enough {
                Ok(times) if *times <= 1.0 => "That is enough for a pass or fail to rest on (0.8 or more is usual).".to_owned(),
                Ok(times) => format!(
                    "A pass or fail should rest on 0.8 or more (usual practice): that takes about {} times as many such exercises, so rest it on several weeks.",
                    number((times * 10.0).ceil() / 10.0, comma)
                ),
                Err(why) => format!("How long a quiz would have to be for 0.8 is {}.", not_said(why)),
            });
        }
        Err(why) => {
            lines.push(format!("How far the points of this quiz tell people apart is {}.", not_said(why)));
            if matches!(why, WhyNot::TooFew(_)) {
                lines.push("One weekly quiz of a small class carries little by itself. Rest a decision on several weeks; the training record does.".to_owned());
            }
        }
    }
    json!({ "lines": lines })
}

/// The pass mark that judges expect, or how to get one.
pub(super) fn pass_mark(made: &Made<'_>) -> Value {
    let (pass, comma) = (&made.learned.pass_mark, made.comma());
    let of = made.results.out_of();
    let mut lines = Vec::new();
    match &pass.cut {
        Ok(cut) => {
            let by = if cut.judges == 1 { "one judge".to_owned() } else { format!("{} judges", cut.judges) };
            lines.push(format!(
                "{by} expect {} of {of} points ({}) of an apprentice who is just competent.",
                number(cut.cut, comma),
                percent(cut.share)
            ).replacen("one judge expect", "One judge expects", 1));
            lines.push(match (&cut.spread, &cut.standard_error) {
                (Ok(spread), Ok(error)) => format!(
                    "They differ with a standard deviation of {} points; the standard error of the pass mark is {}.",
                    two(*spread, comma),
                    two(*error, comma)
                ),
                _ => "Ask a second judge: one alone has no spread.".to_owned(),
            });
            if let Some(reached) = pass.reached {
                lines.push(format!("{reached} of {} who came back reach it.", made.learned.came));
            }
        }
        Err(_) => lines.push(
            "No pass mark yet: it takes judges who say for every exercise which share of just-competent apprentices would get it right."
                .to_owned(),
        ),
    }
    let missing =
        |one: &crate::quiz::PartlyJudged| json!({ "judge": one.judge.as_str(), "missing": one.missing.join(", ") });
    let example = pass.unjudged.first().or_else(|| pass.partly.first().and_then(|one| one.missing.first()));
    json!({
        "lines": lines,
        "partly": pass.partly.iter().map(missing).collect::<Vec<_>>(),
        "unjudged": pass.unjudged.join(", "),
        "command": example.map_or_else(String::new, |exercise| format!("gearside record judged {exercise} --expect \"70 %\" --seen-by CODE")),
    })
}
