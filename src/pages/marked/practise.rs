//! Three things to practise: where the most is to be gained next.

use serde_json::{Value, json};

use super::MarkOrder;
use crate::marking::PartMark;
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
    let mut given: Vec<&str> = Vec::new();
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
        given.push(why);
        let page = (order.competency)(&kept.competency);
        let title = page.as_ref().map_or_else(|| kept.competency.replace('-', " "), |page| page.title.clone());
        let href = page.and_then(|page| page.href).map(|href| escape(&format!("{href}#own-title")));
        linked &= href.is_some();
        things.push(json!({
            "title": title,
            "href_html": href.as_deref().unwrap_or_default(),
            "exercise": kept.shown.number.to_string(),
            "name": kept.shown.title,
            "why": if is_new { why } else { "" },
        }));
    }
    let heading = match things.len() {
        0 => "Nothing to practise from this one",
        1 => "One thing to practise",
        2 => "Two things to practise",
        _ => "Three things to practise",
    };
    json!({ "heading": heading, "things": things, "unlinked": if linked { "" } else { "yes" } })
}

fn broke_safety(result: &ExerciseResult) -> bool {
    result.parts.iter().any(|part| part.hold.is_some())
}

/// What to look for when practising, in one sentence.
fn why(result: &ExerciseResult, kind: &str) -> &'static str {
    let read = |test: fn(&PartMark) -> bool| result.parts.iter().filter_map(|part| part.marked.as_ref()).any(test);
    if broke_safety(result) {
        return match kind {
            "rounds" => "Go over the moves until you can say of each what can hurt, and when.",
            _ => "Go over the order until you can say why each move comes where it does.",
        };
    }
    if read(|one| one.order.is_some()) {
        return "Say aloud what must come before what, and why, before you put the moves in order.";
    }
    if kind == "rounds" {
        return "Say before each move what you see, what it comes of, and what the move will change.";
    }
    if kind == "choose" {
        return "Say in your own words why the right answer is right, and what is wrong with each of the others.";
    }
    match result.verdict() {
        Some(Mark::WrongTurn) => "Take it line by line, and watch for the wrong turn that is told there.",
        Some(Mark::Blank) => "Begin with the half worked one; it gives you the first line.",
        _ if read(|one| one.read.starts_with("not read") || one.typed.is_empty()) => {
            "Write the number with its unit, and mark one part at a time."
        }
        _ => "Work one with every line written down, and compare line by line.",
    }
}
