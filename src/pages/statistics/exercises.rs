//! Exercises and families on the page of statistics.

use serde_json::{Value, json};

use super::words::{correlation, not_said, with_interval};
use crate::ground::say;
use crate::marking::Commonest;
use crate::marking::statistics::{Advice, ENOUGH, Notice, WhyNot};
use crate::pages::tongue::word;
use crate::quiz::{Counts, ExerciseLearned, FamilyLearned, PartLearned};
use crate::records::Mark;

/// From so many takers on the last piece of advice is how well an exercise tells them apart.
const A_FEW: usize = 3;

/// An exercise.
pub(super) fn view(one: &ExerciseLearned, comma: bool) -> Value {
    let statistics = &one.statistics;
    let few = matches!(statistics.tells_apart, Err(WhyNot::TooFew(_)));
    let difficulty = match statistics.difficulty {
        Some(share) if statistics.common >= ENOUGH => with_interval(share, statistics.interval),
        Some(_) => not_said(&WhyNot::TooFew(statistics.common)),
        None => not_said(&WhyNot::NoTakers),
    };
    json!({
        "number": one.number.to_string(),
        "title": one.title,
        "id": one.exercise,
        "family": in_words(&one.family),
        "competency": in_words(&one.competency),
        "takers": statistics.takers.to_string(),
        "counts": counts(one.counts),
        "difficulty": difficulty,
        "tells_apart": correlation(&statistics.tells_apart, statistics.common, comma),
        "commonest": commonest(statistics.commonest.as_ref()),
        "few": if few { "yes" } else { "" },
        "advice": advice(one, few),
        "parts": one.parts.iter().map(part).collect::<Vec<_>>(),
    })
}

/// The advice in words. That so few cannot tell, the page says once and not at every exercise.
fn advice(one: &ExerciseLearned, few: bool) -> Vec<String> {
    let said_once = |advice: &Advice| few && advice.notice == Notice::NotSaid && one.statistics.takers >= A_FEW;
    let (last, rest) = one.advice.split_last().map_or((None, &[][..]), |(last, rest)| (Some(last), rest));
    rest.iter()
        .chain(last.filter(|last| !said_once(last)))
        .map(|advice| advice.words.replace(" -", " −").replace("(-", "(−"))
        .collect()
}

fn part(one: &PartLearned) -> Value {
    json!({ "label": one.label, "counts": counts(one.counts), "commonest": commonest(one.commonest.as_ref()) })
}

fn counts(counts: Counts) -> Vec<Value> {
    Mark::ALL
        .iter()
        .map(|verdict| json!({ "word": word("mark", verdict.words()), "count": counts.get(*verdict).to_string() }))
        .collect()
}

/// The commonest way to go wrong, with its count.
fn commonest(found: Option<&Commonest>) -> String {
    found.map_or_else(|| say!("statistics.nobody-gave-a"), |one| format!("{} ({})", one.way.words(), one.takers))
}

/// A family over all quizzes.
pub(super) fn family(one: &FamilyLearned, comma: bool) -> Value {
    let statistics = &one.statistics;
    let difficulty = match statistics.difficulty {
        Some(share) if statistics.sittings >= ENOUGH => with_interval(share, statistics.interval),
        _ => say!("statistics.not-said-yet"),
    };
    let tells_apart = match &statistics.tells_apart {
        Err(WhyNot::TooFew(_)) => say!("statistics.not-said-yet"),
        found => correlation(found, statistics.sittings, comma),
    };
    json!({
        "family": in_words(&one.family),
        "here": if one.asked_here { "yes" } else { "" },
        "quizzes": statistics.quizzes.to_string(),
        "people": statistics.people.to_string(),
        "sittings": statistics.sittings.to_string(),
        "right": statistics.right.to_string(),
        "difficulty": difficulty,
        "tells_apart": tells_apart,
        "commonest": commonest(statistics.commonest.as_ref()),
    })
}

/// An id as words.
fn in_words(id: &str) -> String {
    id.replace('-', " ")
}
