//! The instructor's answer key of a competency.

use serde_json::{Value, json};

use super::exercise::{Deck, LineView, Mode};
use super::frame::{Page, head_box, link};
use super::workbook::{Builder, page_of};
use crate::ground::Fault;
use crate::ground::say;
use crate::marking::{one_valid_order, pairs, part_key, valid_orders};
use crate::measure::number;
use crate::programme::{Competency, Form, Rounds, Stage};
use crate::prose::{Text, escape};
use crate::pull::{Pull, shown_names};

/// The key page of a competency.
pub(super) fn page(
    builder: &Builder<'_>,
    stage: &Stage,
    competency: &Competency,
    decks: &[Deck<'_>],
) -> Result<String, Box<Fault>> {
    let exercises: Vec<Value> =
        decks.iter().enumerate().map(|(index, deck)| key_of(builder, deck, index + 1)).collect();
    let view = json!({ "title": competency.title, "exercises": exercises });
    let page = Page {
        title: &say!("key.key", title = competency.title),
        kind: "key",
        accent: stage.number.to_string(),
        crumbs: vec![link(&say!("key.key", title = competency.title), &page_of(competency))],
        head: vec![
            head_box(&say!("label.stage"), &escape(&stage.title)),
            head_box(&say!("label.competency"), &escape(&competency.title)),
            head_box(&say!("label.for"), &say!("key.the-instructor")),
        ],
        with_script: false,
        name: competency.id.as_str(),
    };
    builder.render("key.html", page, "key", &view)
}

fn key_of(builder: &Builder<'_>, deck: &Deck<'_>, place: usize) -> Value {
    let exercise = deck.exercise;
    let view = deck.view(Mode::Worked, place, false);
    let names = |name: &str| format!("<i>{}</i>", escape(name));
    let html = |text: &Text| text.html(&|hole| Some(names(&hole.name)));
    let (columns, rows) = table(builder, deck);
    let turns = exercise
        .reckoning
        .turns
        .iter()
        .map(|turn| json!({ "id": "", "name": turn.name.replace('_', " "), "leads_html": "", "because_html": html(&turn.because) }))
        .collect::<Vec<_>>();
    let (pairs, options) = match &exercise.form {
        Form::Numeric(_) => (Vec::new(), Vec::new()),
        Form::Order(order) => (
            order.before.iter().map(|edge| {
                let safety = if edge.safety { format!(" <b>{}</b>", say!("key.safety")) } else { String::new() };
                json!({ "html": format!("{} <b>{}</b> {}. {}{safety}", html(&order.moves[edge.first].text), say!("key.before"), html(&order.moves[edge.then].text), html(&edge.because)) })
            }).collect(),
            Vec::new(),
        ),
        Form::Rounds(rounds) => (of_rounds(rounds, &html), Vec::new()),
        Form::Choose(choose) => (
            Vec::new(),
            view.options.iter().filter_map(|shown| Some((choose.options.get(shown.n.parse::<usize>().ok()?)?, shown))).map(|(option, shown)| json!({ "html": shown.html, "right": if option.right { "yes" } else { "" }, "because_html": html(&option.because) })).collect(),
        ),
    };
    json!({
        "number": place.to_string(),
        "id": exercise.id.as_str(),
        "title": exercise.title,
        "kind": exercise.form.word(),
        "ask_html": format!("{}{}", view.ask_html, view.samples_html),
        "answer_label": deck.pulls[0].public.parts.last().map_or_else(String::new, |part| part.label.clone()),
        "columns": columns,
        "rows": rows,
        "lines": view.lines.iter().map(symbolic).collect::<Vec<_>>(),
        "turns": turns,
        "pairs": pairs,
        "options": options,
    })
}

/// What each move does, and which ones are unsafe.
fn of_rounds(rounds: &Rounds, html: &dyn Fn(&Text) -> String) -> Vec<Value> {
    let seen = |state: usize| html(&rounds.states[state].says);
    let leads = rounds.leads.iter().map(|lead| {
        let (by, why) = (html(&rounds.moves[lead.by].text), html(&lead.because));
        format!("“{}” <b>{by}</b> “{}”. {why}", seen(lead.from), seen(lead.to))
    });
    let not_safe = rounds.not_safe.iter().map(|(by, because)| {
        format!("<b>{}</b> {}. {}", say!("key.unsafe"), html(&rounds.moves[*by].text), html(because))
    });
    let ends = rounds.states.iter().filter(|state| state.right);
    let ends = ends.map(|state| format!("<b>{}</b> “{}”", say!("key.right-to-end"), html(&state.says)));
    ends.chain(leads).chain(not_safe).map(|html| json!({ "html": html })).collect()
}

/// A line of the working without numbers: a key is of all pulls.
fn symbolic(line: &LineView) -> Value {
    json!({
        "symbolic_html": line.symbolic_html, "numbers_html": "", "value_html": "", "answered": "",
        "because_html": line.because_html,
    })
}

/// The numbers of every pull: givens, answers with what is taken as right, wrong turns.
fn table(builder: &Builder<'_>, deck: &Deck<'_>) -> (Vec<String>, Vec<Value>) {
    let exercise = deck.exercise;
    match &exercise.form {
        Form::Numeric(numeric) => {
            let mut shown = shown_names(exercise);
            shown.extend(exercise.picture.iter().flat_map(|picture| picture.names.clone()));
            shown.sort_by_key(|name| exercise.reckoning.names.get(name).map(|entry| entry.print));
            shown.dedup();
            let print = |name: &String| exercise.reckoning.names.get(name).map(|entry| entry.print);
            let mut columns = vec!["No.".to_owned()];
            columns.extend(shown.iter().map(|name| name.replace(['_', '.'], " ")));
            columns.extend(
                deck.pulls[0].public.parts.iter().flat_map(|part| [part.label.clone(), say!("key.taken-as-right")]),
            );
            columns.push(say!("key.wrong-turns-column"));
            let rows = deck.pulls.iter().map(|pull| {
                let mut cells = vec![(pull.public.number + 1).to_string()];
                cells.extend(shown.iter().filter_map(|name| pull.figures.printed.get(print(name)?).cloned()));
                for step in &numeric.answers {
                    let key = part_key(exercise, &pull.key, *step);
                    let asked = &exercise.reckoning.steps[*step];
                    let bound = |value: f64| number(asked.shown_to.finer().nearest(value), builder.printer.mark);
                    cells.push(pull.key.steps[*step].printed.clone());
                    cells.push(say!("key.to", lo = bound(key.right.lo), hi = bound(key.right.hi)));
                }
                let last = numeric.answers.last().copied().unwrap_or_default();
                let asked = &exercise.reckoning.steps[last];
                let turns = pull.key.turns.iter().filter(|turn| turn.step == last && turn.in_unit.is_finite());
                cells.push(
                    turns
                        .map(|turn| {
                            format!(
                                "{}: {}",
                                exercise.reckoning.turns[turn.turn].name.replace('_', " "),
                                builder.printer.step(asked, asked.to_si(turn.in_unit))
                            )
                        })
                        .collect::<Vec<_>>()
                        .join("; "),
                );
                json!({ "cells": cells })
            });
            (columns, rows.collect())
        }
        Form::Order(order) => {
            let columns = vec![say!("quiz.no"), say!("key.valid-orders"), say!("key.one-of-them")];
            let rows = deck.pulls.iter().map(|pull| {
                let shown = &pull.public.shown;
                let pairs = pairs(order, shown);
                let says = |index: &usize| {
                    shown
                        .iter()
                        .position(|one| one == index)
                        .map_or_else(String::new, |place| pull.public.says[place].clone())
                };
                let one = one_valid_order(shown, &pairs).iter().map(says).collect::<Vec<_>>().join(" → ");
                json!({ "cells": [(pull.public.number + 1).to_string(), valid_orders(shown, &pairs).to_string(), one] })
            });
            (columns, rows.collect())
        }
        Form::Rounds(rounds) => {
            let columns = vec![say!("quiz.no"), say!("key.begins-with"), say!("key.fewest-moves"), say!("key.such-as")];
            let ways = rounds.ways();
            let rows = deck.pulls.iter().filter_map(|pull| {
                let samples = pull.public.samples.as_ref()?;
                let way = ways.shortest(samples.first_state())?;
                let says = |by: &usize| rounds.moves[*by].text.plain(&|_| None);
                let such_as = way.iter().map(says).collect::<Vec<_>>().join(" → ");
                let seen = format!("{}. {}", samples.start + 1, samples.seen[samples.start].says);
                json!({ "cells": [(pull.public.number + 1).to_string(), seen, way.len().to_string(), such_as] }).into()
            });
            (columns, rows.collect())
        }
        Form::Choose(choose) => {
            let right = |pull: &Pull| {
                let both = pull.public.shown.iter().zip(&pull.public.says);
                let mut right: Vec<_> = both.filter(|(index, _)| choose.options[**index].right).collect();
                right.sort_by_key(|(index, _)| **index);
                right.into_iter().map(|(_, says)| says.as_str()).collect::<Vec<_>>().join("; ")
            };
            let rights: Vec<String> = deck.pulls.iter().map(right).collect();
            if rights.windows(2).all(|pair| pair[0] == pair[1]) {
                return (vec![say!("key.right-in-every-pull")], vec![json!({ "cells": [rights.first()] })]);
            }
            let columns = vec![say!("quiz.no"), say!("key.right-column")];
            let numbered = deck.pulls.iter().zip(rights);
            let rows = numbered.map(|(pull, right)| json!({ "cells": [(pull.public.number + 1).to_string(), right] }));
            (columns, rows.collect())
        }
    }
}
