//! The public side of a pull: all that may be shown before an answer.

use super::chance::{Chance, Root};
use super::figures::Figures;
use super::key::Key;
use super::pictured::{Pictured, pictured};
use super::printing::Printer;
use super::samples::{Samples, samples, start};
use crate::ground::Id;
use crate::programme::{Choose, Exercise, Form, Order, Paths, Question, Says, Table, TableCell};
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
    /// The figure that it shows.
    pub picture: Option<Pictured>,
    /// What is asked for, where numbers are.
    pub parts: Vec<Part>,
    /// The indexes of the moves or options shown, in the order shown.
    pub shown: Vec<usize>,
    /// Where there are several questions: how many of the options shown are each one's, in order.
    pub counts: Vec<usize>,
    /// What the shown moves or options say, as safe HTML.
    pub says_html: Vec<String>,
    /// The same as plain text.
    pub says: Vec<String>,
    /// What rounds go through.
    pub samples: Option<Samples>,
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
        let same_picture = match (&self.picture, &other.picture) {
            (Some(own), Some(other)) => own.looks_like(other),
            (own, other) => own.is_none() && other.is_none(),
        };
        let start = |public: &Self| public.samples.as_ref().map(|samples| samples.start);
        let same_words = self.givens == other.givens && self.says == other.says && self.shown == other.shown;
        same_picture && same_words && start(self) == start(other)
    }
}

/// The public side of a pull.
#[must_use]
pub fn public(exercise: &Exercise, figures: &Figures, seed: &str, number: u64, printer: Printer, key: &Key) -> Public {
    let face = Face::of(exercise, printer);
    let shown = face.shown(seed, number, key);
    face.public(figures, seed, number, key, shown)
}

/// What the public sides of all pulls of an exercise have in common.
pub(super) struct Face<'a> {
    exercise: &'a Exercise,
    printer: Printer,
    /// The names shown, with the places of their printed texts.
    names: Vec<(String, usize)>,
    /// The places of the printed texts of what the figure shows.
    pictured: Vec<usize>,
    parts: Vec<Part>,
    /// What leads to what in an order.
    paths: Option<Paths>,
}

impl<'a> Face<'a> {
    pub(super) fn of(exercise: &'a Exercise, printer: Printer) -> Self {
        let print = |name: &str| exercise.reckoning.names.get(name).map(|entry| entry.print);
        let (parts, paths) = match &exercise.form {
            Form::Numeric(numeric) => (numeric.answers.iter().map(|step| part(exercise, *step)).collect(), None),
            Form::Order(order) => (Vec::new(), Some(order.paths())),
            Form::Choose(_) | Form::Rounds(_) => (Vec::new(), None),
        };
        let names = shown_names(exercise).into_iter();
        let names = names.filter_map(|name| print(&name).map(|print| (name, print))).collect();
        let pictured = exercise.picture.iter().flat_map(|picture| &picture.names);
        let pictured = pictured.filter_map(|name| print(name)).collect();
        Self { exercise, printer, names, pictured, parts, paths }
    }

    /// The printed texts of the names shown, in words or in the figure.
    pub(super) fn texts<'b>(&'b self, figures: &'b Figures) -> impl Iterator<Item = &'b str> {
        let shown = self.names.iter().map(|(_, print)| print).chain(&self.pictured);
        shown.filter_map(|print| figures.printed.get(*print)).map(String::as_str)
    }

    /// The indexes of the moves or options that a pull shows, in the order shown.
    pub(super) fn shown(&self, seed: &str, number: u64, key: &Key) -> Vec<usize> {
        let root = Root { exercise: self.exercise.id.as_str(), seed, number, try_number: 0 };
        match (&self.exercise.form, &self.paths) {
            (Form::Order(order), Some(paths)) => shown_moves(order, paths, root),
            (Form::Choose(choose), _) => shown_options(choose, root, key),
            (Form::Rounds(rounds), _) => {
                let mut shown = (0..rounds.moves.len()).collect::<Vec<_>>();
                mix(&mut shown, root);
                shown
            }
            _ => Vec::new(),
        }
    }

    /// The state that a pull in rounds begins with.
    pub(super) fn start(&self, seed: &str, number: u64) -> Option<usize> {
        start(self.exercise, seed, number)
    }

    /// What the moves or options shown say, as plain text.
    pub(super) fn says(&self, figures: &Figures, key: &Key, shown: &[usize]) -> Vec<String> {
        let says = |index: &usize| match said(self.exercise, *index) {
            Some(text) => text.plain(&|hole| self.plain(figures, hole)),
            None => self.value(*index, key),
        };
        shown.iter().map(says).collect()
    }

    /// The whole public side.
    pub(super) fn public(&self, figures: &Figures, seed: &str, number: u64, key: &Key, shown: Vec<usize>) -> Public {
        let exercise = self.exercise;
        let html = |hole: &Hole| self.html(figures, hole);
        let says_html = |index: &usize| match said(exercise, *index) {
            Some(text) => text.html(&html),
            None => escape(&self.value(*index, key)),
        };
        let given = |(name, print): &(String, usize)| Some((name.clone(), figures.printed.get(*print)?.clone()));
        Public {
            exercise: exercise.id.clone(),
            number,
            title: exercise.title.clone(),
            minutes: exercise.minutes,
            cautions: exercise.cautions_alone.clone(),
            ask: exercise.ask.plain(&|hole| self.plain(figures, hole)),
            ask_html: exercise.ask.html(&html),
            givens: self.names.iter().filter_map(given).collect(),
            picture: pictured(exercise, figures, seed, number),
            parts: self.parts.clone(),
            says_html: shown.iter().map(says_html).collect(),
            says: self.says(figures, key, &shown),
            counts: counts(exercise, &shown),
            samples: samples(exercise, figures, seed, number, &shown),
            shown,
        }
    }

    fn text_of<'b>(&self, figures: &'b Figures, name: &str) -> Option<&'b String> {
        figures.printed.get(self.exercise.reckoning.names.get(name)?.print)
    }

    fn table(&self, name: &str) -> Option<&Table> {
        self.exercise.reckoning.tables.iter().find(|table| table.name == name)
    }

    fn plain(&self, figures: &Figures, hole: &Hole) -> Option<String> {
        if hole.as_table {
            self.table(&hole.name).map(|table| plain_table(table, self.printer))
        } else {
            self.text_of(figures, &hole.name).cloned()
        }
    }

    fn html(&self, figures: &Figures, hole: &Hole) -> Option<String> {
        if hole.as_table {
            self.table(&hole.name).map(|table| html_table(table, self.printer))
        } else {
            self.text_of(figures, &hole.name).map(|text| escape(text))
        }
    }

    /// What a computed option says.
    fn value(&self, index: usize, key: &Key) -> String {
        value_text(self.exercise, index, key, self.printer).unwrap_or_default()
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
        Form::Rounds(rounds) => {
            rounds.moves.iter().for_each(|one| take(&one.text));
            rounds.states.iter().for_each(|state| take(&state.says));
        }
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
        Form::Rounds(rounds) => Some(&rounds.moves[index].text),
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

/// How many of the options shown belong to each of several questions.
fn counts(exercise: &Exercise, shown: &[usize]) -> Vec<usize> {
    let Form::Choose(choose) = &exercise.form else { return Vec::new() };
    let several = choose.questions.iter().filter(|_| choose.diagnoses());
    several.map(|question| shown.iter().filter(|index| question.options.contains(index)).count()).collect()
}

/// Which options are shown, in which order: the right ones always; computed
/// ones stand ascending.
fn shown_options(choose: &Choose, root: Root<'_>, key: &Key) -> Vec<usize> {
    choose.questions.iter().flat_map(|question| shown_of(choose, question, root, key)).collect()
}

fn shown_of(choose: &Choose, question: &Question, root: Root<'_>, key: &Key) -> Vec<usize> {
    let mut chance = Chance::new(root, &format!(":options{}", question.label));
    let (mut shown, mut rest): (Vec<usize>, Vec<usize>) =
        question.options.clone().partition(|index| choose.options[*index].right);
    chance.shuffle(&mut rest);
    rest.truncate(question.show.saturating_sub(shown.len()));
    shown.extend(rest);
    shown.sort_unstable();
    if shown.iter().all(|index| option_value(choose, *index, key).is_some()) {
        let value = |index: &usize| option_value(choose, *index, key).unwrap_or(f64::NAN);
        shown.sort_by(|a, b| value(a).total_cmp(&value(b)));
    } else if !choose.keep_order {
        mix(&mut shown, root);
    }
    shown
}

/// Puts what is shown in an order of its own stream of chance: it depends on
/// what is shown, and not on what is right about it.
fn mix(shown: &mut [usize], root: Root<'_>) {
    shown.sort_unstable();
    Chance::new(root, ":mixed").shuffle(shown);
}

/// How often other moves are tried until they leave a choice.
const MOST_TRIES: u32 = 50;

/// Which moves are shown, in which order: moves that leave more than one valid
/// order, unless the author wants a single one.
fn shown_moves(order: &Order, paths: &Paths, root: Root<'_>) -> Vec<usize> {
    let tries = (0..MOST_TRIES).map(|try_number| some_moves(order, Root { try_number, ..root }));
    let mut first = None;
    let mut fit = None;
    for shown in tries {
        if order.strict || paths.leave_a_choice(&shown) {
            fit = Some(shown);
            break;
        }
        first.get_or_insert(shown);
    }
    let mut shown = fit.or(first).unwrap_or_default();
    mix(&mut shown, root);
    shown
}

/// Some moves: a shown move brings its direct safety predecessors.
fn some_moves(order: &Order, root: Root<'_>) -> Vec<usize> {
    let mut chance = Chance::new(root, ":moves");
    let mut all: Vec<usize> = (0..order.moves.len()).collect();
    chance.shuffle(&mut all);
    let (least, most) = order.show;
    let wanted = least + usize::try_from(chance.below((most - least) as u64 + 1)).unwrap_or(0);
    let (mut shown, mut with): (Vec<usize>, Vec<usize>) = (Vec::new(), Vec::new());
    for index in all {
        with.clear();
        with.push(index);
        let mut at = 0;
        while let Some(&then) = with.get(at) {
            for edge in order.before.iter().filter(|edge| edge.safety && edge.then == then) {
                if !with.contains(&edge.first) {
                    with.push(edge.first);
                }
            }
            at += 1;
        }
        with.retain(|one| !shown.contains(one));
        if shown.len() + with.len() <= wanted || shown.is_empty() {
            shown.append(&mut with);
        }
        if shown.len() >= wanted {
            break;
        }
    }
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
