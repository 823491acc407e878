//! The public side of a pull: all that may be shown before an answer.

use super::chance::{Chance, Root};
use super::figures::Figures;
use super::key::Key;
use super::printing::Printer;
use crate::ground::Id;
use crate::programme::{Choose, Exercise, Form, Order, Says, Table, TableCell};
use crate::prose::{Hole, Text, escape};

/// The one value that a docket, a printed page or the terminal may show of a pull.
#[derive(Debug, Clone)]
pub struct Public {
    /// The exercise.
    pub exercise: Id,
    /// The pull's number.
    pub number: u64,
    /// The exercise's title.
    pub title: String,
    /// How many minutes it should take.
    pub minutes: u32,
    /// The cautions that stand beside it wherever it is shown alone.
    pub cautions: Vec<Id>,
    /// The question as plain text.
    pub ask: String,
    /// The question as safe HTML.
    pub ask_html: String,
    /// Names and printed texts of the givens that the question shows.
    pub givens: Vec<(String, String)>,
    /// What is asked for, where numbers are.
    pub parts: Vec<Part>,
    /// The indexes of the moves or options shown, in the order shown.
    pub shown: Vec<usize>,
    /// What the shown moves or options say, as safe HTML.
    pub says_html: Vec<String>,
    /// The same as plain text.
    pub says: Vec<String>,
}

/// One number asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// What it is, in a few words.
    pub label: String,
    /// Its symbol.
    pub symbol: Option<String>,
    /// The unit asked for.
    pub unit: &'static str,
}

impl Public {
    /// Whether two pulls show the same thing.
    #[must_use]
    pub fn looks_like(&self, other: &Self) -> bool {
        self.givens == other.givens && self.says == other.says && self.shown == other.shown
    }
}

/// The public side of a pull.
#[must_use]
pub fn public(exercise: &Exercise, figures: &Figures, seed: &str, number: u64, printer: Printer, key: &Key) -> Public {
    let reckoning = &exercise.reckoning;
    let text_of = |name: &str| reckoning.names.get(name).and_then(|entry| figures.printed.get(entry.print)).cloned();
    let plain = |hole: &Hole| {
        if hole.as_table {
            reckoning.tables.iter().find(|table| table.name == hole.name).map(|table| plain_table(table, printer))
        } else {
            text_of(&hole.name)
        }
    };
    let html = |hole: &Hole| {
        if hole.as_table {
            reckoning.tables.iter().find(|table| table.name == hole.name).map(|table| html_table(table, printer))
        } else {
            text_of(&hole.name).map(|text| escape(&text))
        }
    };
    let root = Root { exercise: exercise.id.as_str(), seed, number, try_number: 0 };
    let (parts, shown) = match &exercise.form {
        Form::Numeric(numeric) => (numeric.answers.iter().map(|step| part(exercise, *step)).collect(), Vec::new()),
        Form::Order(order) => (Vec::new(), shown_moves(order, root)),
        Form::Choose(choose) => (Vec::new(), shown_options(choose, root, key)),
    };
    let texts: Vec<Option<&Text>> = shown.iter().map(|index| said(exercise, *index)).collect();
    let value = |index: usize| value_text(exercise, index, key, printer).unwrap_or_default();
    Public {
        exercise: exercise.id.clone(),
        number,
        title: exercise.title.clone(),
        minutes: exercise.minutes,
        cautions: exercise.cautions_alone.clone(),
        ask: exercise.ask.plain(&plain),
        ask_html: exercise.ask.html(&html),
        givens: shown_names(exercise).into_iter().filter_map(|name| Some((name.clone(), text_of(&name)?))).collect(),
        parts,
        says_html: shown
            .iter()
            .zip(&texts)
            .map(|(index, text)| text.map_or_else(|| escape(&value(*index)), |text| text.html(&html)))
            .collect(),
        says: shown
            .iter()
            .zip(&texts)
            .map(|(index, text)| text.map_or_else(|| value(*index), |text| text.plain(&plain)))
            .collect(),
        shown,
    }
}

/// The names whose values the question (or a shown text) holds.
#[must_use]
pub fn shown_names(exercise: &Exercise) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    let mut take = |text: &Text| {
        for hole in text.holes().filter(|hole| !hole.as_table) {
            if !names.contains(&hole.name) {
                names.push(hole.name.clone());
            }
        }
    };
    take(&exercise.ask);
    match &exercise.form {
        Form::Order(order) => order.moves.iter().for_each(|one| take(&one.text)),
        Form::Choose(choose) => choose.options.iter().for_each(|option| {
            if let Says::Text(text) = &option.says {
                take(text);
            }
        }),
        Form::Numeric(_) => {}
    }
    names
}

fn part(exercise: &Exercise, step: usize) -> Part {
    let step = &exercise.reckoning.steps[step];
    Part {
        label: step.says.clone().unwrap_or_else(|| sentence(&step.name)),
        symbol: exercise.reckoning.names.get(&step.name).and_then(|name| name.symbol.clone()),
        unit: step.unit.name,
    }
}

/// `on_the_web` as "On the web".
fn sentence(name: &str) -> String {
    let words = name.replace('_', " ");
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// The text of a move or option; `None` where it is computed.
fn said(exercise: &Exercise, index: usize) -> Option<&Text> {
    match &exercise.form {
        Form::Order(order) => Some(&order.moves[index].text),
        Form::Choose(choose) => match &choose.options[index].says {
            Says::Text(text) => Some(text),
            Says::Value { .. } => None,
        },
        Form::Numeric(_) => None,
    }
}

/// What a computed option says.
fn value_text(exercise: &Exercise, index: usize, key: &Key, printer: Printer) -> Option<String> {
    let Form::Choose(choose) = &exercise.form else { return None };
    let value = option_value(choose, index, key)?;
    let Says::Value { step, .. } = choose.options[index].says else { return None };
    let step = &exercise.reckoning.steps[step];
    Some(printer.step(step, step.to_si(value)))
}

/// The value of a computed option, in its step's unit.
fn option_value(choose: &Choose, index: usize, key: &Key) -> Option<f64> {
    match choose.options[index].says {
        Says::Text(_) => None,
        Says::Value { step, turn: None } => Some(key.steps[step].in_unit),
        Says::Value { step, turn: Some(turn) } => {
            key.turns.iter().find(|value| value.turn == turn && value.step == step).map(|value| value.in_unit)
        }
    }
}

/// Which options are shown, in which order: the right ones always; computed
/// ones stand ascending.
fn shown_options(choose: &Choose, root: Root<'_>, key: &Key) -> Vec<usize> {
    let mut chance = Chance::new(root, ":options");
    let (mut shown, mut rest): (Vec<usize>, Vec<usize>) =
        (0..choose.options.len()).partition(|index| choose.options[*index].right);
    chance.shuffle(&mut rest);
    rest.truncate(choose.show.saturating_sub(shown.len()));
    shown.extend(rest);
    shown.sort_unstable();
    if shown.iter().all(|index| option_value(choose, *index, key).is_some()) {
        let value = |index: &usize| option_value(choose, *index, key).unwrap_or(f64::NAN);
        shown.sort_by(|a, b| value(a).total_cmp(&value(b)));
    } else if !choose.keep_order {
        chance.shuffle(&mut shown);
    }
    shown
}

/// How often other moves are tried until they leave a choice.
const MOST_TRIES: u32 = 50;

/// Which moves are shown, in which order: moves that leave more than one valid
/// order, unless the author wants a single one.
fn shown_moves(order: &Order, root: Root<'_>) -> Vec<usize> {
    let tries = (0..MOST_TRIES).map(|try_number| some_moves(order, Root { try_number, ..root }));
    let mut first = None;
    for shown in tries {
        if order.strict || order.leaves_a_choice(&shown) {
            return shown;
        }
        first.get_or_insert(shown);
    }
    first.unwrap_or_default()
}

/// Some moves in some order: a shown move brings its direct safety predecessors.
fn some_moves(order: &Order, root: Root<'_>) -> Vec<usize> {
    let mut chance = Chance::new(root, ":moves");
    let mut all: Vec<usize> = (0..order.moves.len()).collect();
    chance.shuffle(&mut all);
    let (least, most) = order.show;
    let wanted = least + usize::try_from(chance.below((most - least) as u64 + 1)).unwrap_or(0);
    let mut shown: Vec<usize> = Vec::new();
    for index in all {
        let mut with = vec![index];
        let mut at = 0;
        while at < with.len() {
            let before = order.before.iter().filter(|edge| edge.safety && edge.then == with[at]).map(|edge| edge.first);
            let new: Vec<usize> = before.filter(|first| !with.contains(first)).collect();
            with.extend(new);
            at += 1;
        }
        with.retain(|one| !shown.contains(one));
        if shown.len() + with.len() <= wanted || shown.is_empty() {
            shown.extend(with);
        }
        if shown.len() >= wanted {
            break;
        }
    }
    chance.shuffle(&mut shown);
    shown
}

fn cell_text(cell: &TableCell, printer: Printer) -> String {
    match cell {
        TableCell::Quantity(quantity) => printer.quantity(quantity.number, quantity.unit, false),
        TableCell::Text(text) => text.clone(),
        TableCell::Series(list) => printer.series(&list.iter().map(|one| one.number).collect::<Vec<_>>(), list[0].unit),
    }
}

fn html_table(table: &Table, printer: Printer) -> String {
    let cells = |mark: &str, texts: Vec<String>| {
        let name = mark.split(' ').next().unwrap_or(mark);
        let list: Vec<String> = texts.iter().map(|text| format!("<{mark}>{}</{name}>", escape(text))).collect();
        format!("<tr>{}</tr>", list.concat())
    };
    let head = cells("th scope=\"col\"", table.columns.iter().map(|column| sentence(column)).collect());
    let rows: Vec<String> =
        table.rows.iter().map(|row| cells("td", row.iter().map(|cell| cell_text(cell, printer)).collect())).collect();
    format!("<table><thead>{head}</thead><tbody>{}</tbody></table>\n", rows.concat())
}

fn plain_table(table: &Table, printer: Printer) -> String {
    let row = |row: &Vec<TableCell>| row.iter().map(|cell| cell_text(cell, printer)).collect::<Vec<_>>().join("  ");
    table.rows.iter().map(row).collect::<Vec<_>>().join("\n")
}
