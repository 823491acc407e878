//! Three things to practise: where the most is to be gained next.

use serde_json::{Value, json};

use super::MarkOrder;
use crate::ground::say;
use crate::marking::PartMark;
use crate::marking::Verdict;
use crate::prose::escape;
use crate::quiz::{DocketResult, ExerciseResult, Snapshot};
use crate::records::Mark;

/// How many things are named at most.
const MOST: usize = 3;

/// What to practise, most pressing first: one thing for each competency.
pub(super) fn view(snapshot: &Snapshot, docket: &DocketResult, order: &MarkOrder<'_>) -> Value {
    let mut open: Vec<(usize, &ExerciseResult)> =
        docket.exercises.iter().enumerate().filter(|(_, one)| one.mark().is_some() && !one.is_right()).collect();
    open.sort_by(|(a, one), (b, other)| {
        let marks = one.mark().unwrap_or(0.0).total_cmp(&other.mark().unwrap_or(0.0));
        (!broke_safety(one)).cmp(&!broke_safety(other)).then(marks).then(a.cmp(b))
    });
    let mut competencies: Vec<&str> = Vec::new();
    let mut given: Vec<String> = Vec::new();
    let mut things = Vec::new();
    let mut linked = true;
    for (place, result) in open {
        let kept = &snapshot.exercises[place];
        if competencies.contains(&kept.competency.as_str()) || things.len() >= MOST {
            continue;
        }
        competencies.push(&kept.competency);
        let why = why(result, &kept.shown.kind);
        // The same advice is given once.
        let is_new = !given.contains(&why);
        given.push(why.clone());
        let page = (order.competency)(&kept.competency);
        let title = page.as_ref().map_or_else(|| kept.competency.replace('-', " "), |page| page.title.clone());
        let href = page.and_then(|page| page.href).map(|href| escape(&format!("{href}#own-title")));
        linked &= href.is_some();
        things.push(json!({
            "title": title,
            "href_html": href.as_deref().unwrap_or_default(),
            "exercise": kept.shown.number.to_string(),
            "name": kept.shown.title,
            "why": if is_new { why } else { String::new() },
        }));
    }
    let heading = match things.len() {
        0 => say!("marked.nothing-to-practise"),
        1 => say!("marked.one-thing-to"),
        2 => say!("marked.two-things-to"),
        _ => say!("marked.three-things-to"),
    };
    json!({ "heading": heading, "things": things, "unlinked": if linked { "" } else { "yes" } })
}

fn broke_safety(result: &ExerciseResult) -> bool {
    result.parts.iter().any(|part| part.hold.is_some())
}

/// What to look for when practising, in one sentence.
fn why(result: &ExerciseResult, kind: &str) -> String {
    let read = |test: fn(&PartMark) -> bool| result.parts.iter().filter_map(|part| part.marked.as_ref()).any(test);
    if broke_safety(result) {
        return match kind {
            "rounds" => say!("marked.go-over-the"),
            _ => say!("marked.go-over-the-order"),
        };
    }
    if read(|one| one.order.is_some()) {
        return say!("marked.say-aloud-what");
    }
    if kind == "rounds" {
        return say!("marked.say-before-each");
    }
    if kind == "choose" {
        return say!("marked.say-in-your");
    }
    match result.verdict() {
        Some(Mark::WrongTurn) => say!("marked.take-it-line"),
        Some(Mark::Blank) => say!("marked.begin-with-the"),
        _ if read(|one| one.verdict == Verdict::Unreadable || one.typed.is_empty()) => {
            say!("marked.write-the-number")
        }
        _ => say!("marked.work-one-with"),
    }
}
