//! An exercise of a key as its template takes it: what all dockets share, and
//! marks where they differ.

use serde_json::{Value, json};

use super::super::mathematics::{symbol, symbolic, with_numbers};
use super::super::stencil::{Blanks, unmarked};
use super::Blank;
use super::own::{Marked, Own};
use crate::formula::parse;
use crate::ground::Fault;
use crate::ground::say;
use crate::marking::{Asks, NumericRules};
use crate::prose::escape;
use crate::quiz::ShownQuestion;

/// An exercise; `place` is its place in the quiz.
pub(super) fn exercise(one: &Marked<'_>, place: usize, blanks: &mut Blanks<Blank>) -> Result<Value, Fault> {
    let shown = &one.kept.shown;
    let mut own = |what| blanks.mark(Blank::Of(place, what));
    let mut view = json!({
        "number": shown.number.to_string(),
        "title": unmarked(&shown.title),
        "minutes": say!("count.minutes", minutes = shown.minutes),
        "kind": shown.kind,
        "ask_html": own(Own::Ask),
        "parts": [], "lines": [], "turns": [], "moves": [], "questions": [],
        "pairs_html": "", "order_html": "", "right_html": "",
    });
    match &one.kept.rules.asks {
        Asks::Numeric(rules) => {
            view["parts"] = parts(one, &mut own);
            view["lines"] = lines(rules, &mut own)?;
            view["turns"] = turns(rules, &mut own);
        }
        Asks::Order(_) => {
            view["moves"] = (0..shown.says).map(|place| json!({ "html": own(Own::Says(place)) })).collect();
            view["pairs_html"] = own(Own::Pairs).into();
            view["order_html"] = own(Own::Order).into();
        }
        Asks::Rounds(_) => {
            view["moves"] = (0..shown.says).map(|place| json!({ "html": own(Own::Says(place)) })).collect();
            view["pairs_html"] = own(Own::Leads).into();
            view["order_html"] = own(Own::Fewest).into();
        }
        Asks::Choose(_) => {
            view["right_html"] = own(Own::Right).into();
            let option = |place| {
                json!({
                    "html": own(Own::Says(place)),
                    "right_html": own(Own::IsRight(place)),
                    "because_html": own(Own::OptionReason(place)),
                })
            };
            let mut options = (0..shown.says).map(option);
            let only = [ShownQuestion { label: String::new(), says: shown.says }];
            let questions = if shown.questions.is_empty() { &only[..] } else { &shown.questions };
            view["questions"] = questions
                .iter()
                .map(|one| json!({ "label": unmarked(&one.label), "options": options.by_ref().take(one.says).collect::<Vec<_>>() }))
                .collect();
        }
    }
    Ok(view)
}

fn parts(one: &Marked<'_>, own: &mut dyn FnMut(Own) -> String) -> Value {
    let parts = one.kept.shown.parts.iter().enumerate();
    parts
        .map(|(place, part)| {
            json!({
                "number": (place + 1).to_string(),
                "label": unmarked(&part.label),
                "symbol_html": part.symbol.as_deref().map(symbol).unwrap_or_default(),
                "key_html": own(Own::Key(place)),
                "range_html": own(Own::Range(place)),
            })
        })
        .collect()
}

/// The working: each step symbolic, with this docket's numbers, its value, and why.
fn lines(rules: &NumericRules, own: &mut dyn FnMut(Own) -> String) -> Result<Value, Fault> {
    let steps = rules.steps.iter().enumerate();
    let lines = steps.map(|(index, step)| {
        let expression = parse(&step.is).map_err(|fault| {
            let message = format!("the kept rules cannot be read: the step `{}`: {}", step.name, fault.message);
            Fault::new("kept-rules", message, "use the version of the program that issued the quiz")
        })?;
        let print = rules.names.iter().find(|one| one.name == step.name).map_or(usize::MAX, |one| one.print);
        Ok(json!({
            "symbolic_html": symbolic(&expression, &step.name, rules),
            "numbers_html": with_numbers(&expression, rules, &mut |print| format!("<mn>{}</mn>", own(Own::Printed(print)))),
            "value_html": own(Own::Printed(print)),
            "answered": "",
            "because_html": own(Own::StepReason(index)),
        }))
    });
    lines.collect()
}

fn turns(rules: &NumericRules, own: &mut dyn FnMut(Own) -> String) -> Value {
    let turns = rules.turns.iter().enumerate();
    turns
        .map(|(index, turn)| {
            json!({
                "id": turn.name,
                "name": escape(&turn.name.replace('_', " ")),
                "leads_html": own(Own::Turn(index)),
                "because_html": own(Own::TurnReason(index)),
            })
        })
        .collect()
}
