//! Orders, choices and rounds of a marked docket.

use serde_json::{Value, json};

use super::super::board::{day, said};
use super::exercise::Made;
use super::part::common;
use crate::ground::say;
use crate::marking::{Asks, BrokenPair, OrderSaid, PartMark};
use crate::prose::escape;
use crate::quiz::{HoldNow, PartResult};

/// The most broken pairs that are told.
const MOST_PAIRS: usize = 5;

/// An order or a choice.
pub(super) fn view(made: &Made<'_>, place: usize, result: &PartResult) -> Value {
    let mut view = common(made, result);
    if let Some(question) = made.kept.shown.questions.get(place) {
        view["label"] = question.label.as_str().into();
    }
    let Some(marked) = &result.marked else { return view };
    if made.kept.shown.kind == "order" {
        view["put"] = said_of(made, &numbers(&marked.read), marked.order.as_ref());
        if let Some(order) = &marked.order {
            view["pairs"] = pairs(order).into();
            let (told, more) = worth_telling(order);
            view["broken"] = told.into_iter().map(|pair| broken(made, pair)).collect();
            view["more"] = and_more(more).into();
            view["reason_html"] = "".into();
        }
        // A right order needs no other beside it.
        if marked.order.as_ref().is_none_or(|order| !order.broken.is_empty()) {
            view["nearest"] = said_of(made, &nearest(marked), None);
        }
    } else if let Some(rounds) = &marked.rounds {
        view["rounds"] = super::rounds::view(rounds);
    } else if made.kept.shown.kind == "choose" {
        view["options"] = options(made, place, &numbers(&marked.read));
    }
    view["hold_html"] = hold(made, result, marked).into();
    // The lists tell the key.
    view["key_html"] = "".into();
    if marked.read == marked.typed.trim() {
        view["read_html"] = "".into();
    }
    view
}

/// The options in the order shown: which were picked, and which are right.
fn options(made: &Made<'_>, place: usize, picked: &[usize]) -> Value {
    let (Some(pull), Asks::Choose(rules)) = (made.pull, &made.kept.rules.asks) else { return json!([]) };
    let own = if pull.own.counts.is_empty() { pull.own.clone() } else { pull.own.of_question(place) };
    let options = (1..).zip(own.shown.iter().zip(&own.says));
    options
        .map(|(number, (index, says)): (usize, _)| {
            json!({
                "n": number.to_string(),
                "html": says.html,
                "picked": if picked.contains(&number) { "yes" } else { "" },
                "right": if rules.options.get(*index).is_some_and(|one| one.right) { "yes" } else { "" },
            })
        })
        .collect()
}

/// The numbers of moves or options in a reading; none if it was not read.
fn numbers(read: &str) -> Vec<usize> {
    read.split(' ').map(str::parse).collect::<Result<_, _>>().unwrap_or_default()
}

/// The valid order that is told: the nearest, or some order where nothing was put.
fn nearest(marked: &PartMark) -> Vec<usize> {
    marked.order.as_ref().map_or_else(|| numbers(&marked.key.plain), |order| order.nearest.clone())
}

/// Moves or options by their numbers; those that stand in a broken pair are told apart.
fn said_of(made: &Made<'_>, numbers: &[usize], order: Option<&OrderSaid>) -> Value {
    let Some(pull) = made.pull else { return json!([]) };
    let is_broken = |number: usize| {
        let says = pull.own.says.get(number - 1).map_or("", |says| says.plain.as_str());
        order.is_some_and(|order| order.broken.iter().any(|pair| pair.first.plain == says || pair.then.plain == says))
    };
    let known = numbers.iter().filter(|number| (1..=pull.own.says.len()).contains(*number));
    known
        .map(|number| {
            json!({
                "n": number.to_string(),
                "html": pull.own.says[number - 1].html,
                "broken": if is_broken(*number) { "yes" } else { "" },
            })
        })
        .collect()
}

/// How many pairs were kept, in words.
fn pairs(order: &OrderSaid) -> String {
    match (order.pairs, order.broken.len()) {
        (_, 0) => say!("marked.everything-that-must"),
        (all, _) => say!("marked.of-pairs-that", kept = order.kept, all = all),
    }
}

/// The broken pairs that are told, and how many more there are of that sort.
///
/// What follows from other broken pairs is left out: an order the wrong way
/// round breaks dozens, and nobody learns from dozens. Safety comes first.
fn worth_telling(order: &OrderSaid) -> (Vec<&BrokenPair>, usize) {
    let direct = |pair: &&BrokenPair| pair.because.len() <= 1;
    let mut told: Vec<&BrokenPair> = order.broken.iter().filter(direct).collect();
    if told.is_empty() {
        told = order.broken.iter().collect();
    }
    told.sort_by_key(|pair| !pair.safety);
    let more = told.len().saturating_sub(MOST_PAIRS);
    told.truncate(MOST_PAIRS);
    (told, more)
}

/// How many more there are, in words.
fn and_more(more: usize) -> String {
    match more {
        0 => String::new(),
        more => say!("marked.and-more-the", n = more),
    }
}

/// A broken pair; on paper its moves are told by their numbers alone.
fn broken(made: &Made<'_>, pair: &BrokenPair) -> Value {
    let because: Vec<&str> = pair.because.iter().map(|one| one.html.trim()).collect();
    let number = |plain: &str| {
        let place = made.pull.and_then(|pull| pull.own.says.iter().position(|says| says.plain == plain));
        place.map_or_else(String::new, |place| (place + 1).to_string())
    };
    json!({
        "first_html": pair.first.html,
        "first_n": number(&pair.first.plain),
        "then_html": pair.then.html,
        "then_n": number(&pair.then.plain),
        "safety": if pair.safety { "yes" } else { "" },
        "because_html": because.join(" "),
    })
}

/// What follows from what was not safe.
fn hold(made: &Made<'_>, result: &PartResult, marked: &PartMark) -> String {
    let Some(first) = marked.not_safe().into_iter().next().filter(|_| marked.holds()) else {
        return String::new();
    };
    let title = said(&made.competency());
    let what = match &marked.rounds {
        Some(_) => say!("marked.hurt-by-it", what = escape(&first)),
        None => say!("marked.hurt-otherwise", what = escape(&first)),
    };
    let then = match result.hold {
        Some(HoldNow::TalkedThrough(on)) => {
            say!("marked.talked-through", day = day(on))
        }
        _ => say!("marked.is-held", title = format_args!("<b>{title}</b>")),
    };
    format!("<p>{what}</p><p>{then}</p>")
}
