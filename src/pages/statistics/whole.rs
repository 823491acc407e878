//! The quiz as a whole on the page of statistics.

use serde_json::{Value, json};

use super::super::marked::number;
use super::Made;
use super::words::{not_said, percent, two};
use crate::ground::say;
use crate::marking::statistics::{QuizStatistics, WhyNot, Z95};

/// How far the points may be trusted, or why that is not said.
pub(super) fn reliability(whole: &QuizStatistics, comma: bool) -> Value {
    let mut lines = Vec::new();
    match &whole.alpha {
        Ok(found) => {
            let (lo, hi) =
                (found.alpha - Z95 * found.standard_error, (found.alpha + Z95 * found.standard_error).min(1.0));
            lines.push(say!(
                "statistics.coefficient-alpha-is",
                alpha = two(found.alpha, comma),
                error = two(found.standard_error, comma),
                lo = two(lo, comma),
                hi = two(hi, comma),
                takers = found.takers
            ));
            if let Ok(error) = &whole.error {
                lines.push(say!(
                    "statistics.the-standard-error",
                    error = two(*error, comma),
                    exercises = whole.exercises
                ));
            }
            lines.push(match &whole.times_for_enough {
                Ok(times) if *times <= 1.0 => say!("statistics.that-is-enough"),
                Ok(times) => say!("statistics.a-pass-or", times = number((times * 10.0).ceil() / 10.0, comma)),
                Err(why) => say!("statistics.how-long-a", why = not_said(why)),
            });
        }
        Err(why) => {
            lines.push(say!("statistics.how-far-the-points", why = not_said(why)));
            if matches!(why, WhyNot::TooFew(_)) {
                lines.push(say!("statistics.one-weekly-quiz"));
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
            lines.push(say!(
                "statistics.judges-expect",
                n = cut.judges,
                cut = number(cut.cut, comma),
                of = of,
                share = percent(cut.share)
            ));
            lines.push(match (&cut.spread, &cut.standard_error) {
                (Ok(spread), Ok(error)) => {
                    say!("statistics.they-differ-with", spread = two(*spread, comma), error = two(*error, comma))
                }
                _ => say!("statistics.ask-a-second"),
            });
            if let Some(reached) = pass.reached {
                lines.push(say!("statistics.of-who-came", reached = reached, came = made.learned.came));
            }
        }
        Err(_) => lines.push(say!("statistics.no-pass-mark").to_owned()),
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
