//! One number of a marked docket, and what all parts have in common.

use serde_json::{Value, json};

use super::super::board::{day, said};
use super::super::mathematics::symbol;
use super::exercise::Made;
use super::{number, state, verdict};
use crate::ground::say;
use crate::quiz::PartResult;
use crate::records::Mark;

/// A number that was asked for.
pub(super) fn view(made: &Made<'_>, place: usize, result: &PartResult) -> Value {
    let mut view = common(made, result);
    if let Some(part) = made.kept.shown.parts.get(place) {
        view["label"] = part.label.as_str().into();
        view["symbol_html"] = part.symbol.as_deref().map(symbol).unwrap_or_default().into();
    }
    view
}

/// What is said of every part: as typed, as read, the verdict, the key, the
/// reason, a correction, and the fact that an instructor can override.
pub(super) fn common(made: &Made<'_>, result: &PartResult) -> Value {
    let word = result.verdict();
    let marked = result.marked.as_ref();
    let reason = marked.map_or("", |one| one.reason.html.as_str());
    json!({
        "label": "",
        "symbol_html": "",
        "state": state(word),
        "verdict": verdict(word),
        "known": if marked.is_some() { "yes" } else { "" },
        "typed_html": marked.map_or_else(String::new, |one| said(&one.typed)),
        "read_html": marked.map_or_else(String::new, |one| said(&one.read)),
        "key_html": marked.map_or("", |one| one.key.html.as_str()),
        "reason_html": if reason.is_empty() { without_reason(word, marked.is_some() && made.kept.shown.kind == "numeric") } else { reason.to_owned() },
        "general": if reason.is_empty() { "yes" } else { "" },
        "mark": partly(result, made.comma),
        "fact": result.recorded.as_ref().map_or_else(String::new, |one| one.seq.to_string()),
        "corrected_html": corrected(result, made.comma),
        "broken": [], "put": [], "nearest": [], "options": [], "hold_html": "", "pairs": "", "more": "", "rounds": "",
    })
}

/// What is said of a number where nothing is known of how it went wrong.
fn without_reason(word: Option<Mark>, is_number: bool) -> String {
    match word {
        Some(Mark::Wrong) if is_number => {
            say!("marked.no-known-wrong")
        }
        Some(Mark::Blank) if is_number => {
            say!("marked.nothing-was-answered")
        }
        _ => String::new(),
    }
}

/// A mark between nothing and all, in words.
fn partly(result: &PartResult, comma: bool) -> String {
    match result.mark() {
        Some(mark) if mark > 1e-9 && mark < 1.0 - 1e-9 => say!("marked.of", mark = number(mark, comma)),
        _ => String::new(),
    }
}

/// A mark that was set right, and why.
fn corrected(result: &PartResult, comma: bool) -> String {
    let Some((recorded, corrected)) = result.recorded.as_ref().and_then(|one| Some((one, one.corrected.as_ref()?)))
    else {
        return String::new();
    };
    let was = corrected.was.map(|was| say!("marked.instead-of", was = number(was, comma))).unwrap_or_default();
    let why = match &corrected.why {
        Some(why) => format!("<bdi>{}</bdi>", said(why.trim())),
        None => say!("marked.the-reason-given"),
    };
    let set_right = format!("<b>{}</b>", say!("marked.set-right"));
    let mark = number(recorded.mark, comma);
    format!("{} {why}", say!("marked.set-right-on", who = set_right, day = day(corrected.on), mark = mark, was = was))
}
