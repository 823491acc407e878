//! The lines of an exercise's working, as text.

use crate::formula::{plain_text, plain_text_with, symbol_plain};
use crate::picture::draw;
use crate::programme::{Exercise, Form};
use crate::prose::{Hole, Text};
use crate::pull::{Printer, Public, Pull};

/// The question of a pull, with the words of its figure.
pub(super) fn asked(public: &Public, printer: Printer) -> String {
    let words = public.picture.as_ref().map(|pictured| draw(pictured, printer).words);
    words.map_or_else(|| public.ask.clone(), |words| format!("{}\n\nIn the figure: {words}", public.ask))
}

/// The moves or options of a pull with their numbers; where there are several
/// questions, each is headed by what it asks for.
pub(super) fn options(exercise: &Exercise, public: &Public) -> Vec<String> {
    let mut says = public.says.iter();
    let numbered = |(number, text): (usize, &String)| format!("{number}  {text}");
    let Form::Choose(choose) = &exercise.form else { return (1..).zip(says).map(numbered).collect() };
    if public.counts.is_empty() {
        return (1..).zip(says).map(numbered).collect();
    }
    let mut lines = Vec::new();
    for (question, count) in choose.questions.iter().zip(&public.counts) {
        lines.push(format!("{}:", question.label));
        lines.extend((1..).zip(says.by_ref().take(*count)).map(numbered));
    }
    lines
}

/// An exercise with the numbers of one pull.
#[derive(Clone, Copy)]
pub(super) struct Working<'a> {
    pub(super) exercise: &'a Exercise,
    pub(super) pull: &'a Pull,
}

impl Working<'_> {
    /// A text of the exercise with its numbers.
    pub(super) fn text(self, text: &Text) -> String {
        text.plain(&|hole: &Hole| self.printed(&hole.name))
    }

    /// The printed value of a given or a step.
    pub(super) fn printed(self, name: &str) -> Option<String> {
        let entry = self.exercise.reckoning.names.get(name)?;
        self.pull.figures.printed.get(entry.print).cloned()
    }

    /// A step: in symbols, in numbers, what comes out of it.
    pub(super) fn step(self, index: usize) -> String {
        let reckoning = &self.exercise.reckoning;
        let step = &reckoning.steps[index];
        let own = reckoning.names.get(&step.name).and_then(|entry| entry.symbol.as_deref());
        let symbol = own.map_or_else(|| step.name.clone(), symbol_plain);
        let symbolic = plain_text(&step.expression, &reckoning.names);
        let numbers = plain_text_with(&step.expression, &|name| self.printed(name).unwrap_or_else(|| name.to_owned()));
        let printed = &self.pull.key.steps[index].printed;
        // A step that only takes a number over has none to put in.
        let numbers = if numbers == *printed { String::new() } else { format!(" = {numbers}") };
        format!("{symbol} = {symbolic}{numbers} = {printed}")
    }

    /// Why a step is taken; empty where nothing is said.
    pub(super) fn because(self, index: usize) -> String {
        self.text(&self.exercise.reckoning.steps[index].because)
    }
}
