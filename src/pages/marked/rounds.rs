//! The rounds of a marked docket: what was done, what it led to, what would have done.

use serde_json::{Value, json};

use crate::ground::say;
use crate::marking::{RoundSaid, RoundsSaid};

pub(super) fn view(rounds: &RoundsSaid) -> Value {
    let mut at = rounds.start;
    let done: Vec<Value> = rounds
        .done
        .iter()
        .map(|round| {
            let from = std::mem::replace(&mut at, round.to);
            one(round, from)
        })
        .collect();
    json!({
        "start": rounds.start.to_string(),
        "done": done,
        "end": at.to_string(),
        "right": if rounds.ends_right { "yes" } else { "" },
        "better": better(rounds),
    })
}

fn one(round: &RoundSaid, from: usize) -> Value {
    json!({
        "n": round.number.to_string(),
        "html": round.says.html,
        "to": if round.to == from { say!("marked.nothing-changed") } else { say!("marked.sample", to = round.to) },
        "unsafe": if round.not_safe { "yes" } else { "" },
        "because_html": round.because.html,
    })
}

/// The fewest moves that would have done, where it took more or did not end right.
fn better(rounds: &RoundsSaid) -> String {
    if rounds.ends_right && !rounds.hold && rounds.done.len() == rounds.fewest.len() {
        return String::new();
    }
    let to = rounds.fewest.iter().zip(&rounds.through);
    let ways: Vec<String> = to.map(|(by, to)| say!("marked.move-to-sample", by = by, to = to)).collect();
    let count = say!("marked.moves-do-it", n = rounds.fewest.len());
    format!("{count}: {}.", ways.join(&say!("marked.then")))
}
