//! What one pull adds to the rules of its exercise: its numbers and its key.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::order::{Pair, pairs};
use super::part::{PartKey, half_width, part_key};
use super::rounds::OwnRounds;
use super::rules::Said;
use crate::ground::Fault;
use crate::programme::{Exercise, Form, Numeric};
use crate::prose::{Text, escape};
use crate::pull::Pull;

/// The key of one pull: everything of it that marking looks at.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OwnKey {
    /// The printed texts of all givens and steps, by [`super::NameRule::print`].
    pub printed: Vec<String>,
    /// The SI values of givens and steps, by slot; the steps stand last.
    pub scalars: Vec<f64>,
    /// The SI readings of the series, by slot.
    pub series: Vec<Vec<f64>>,
    /// The key of each number asked for.
    pub parts: Vec<OwnPart>,
    /// The indexes of the moves or options shown, in the order shown.
    pub shown: Vec<usize>,
    /// What they say.
    pub says: Vec<Said>,
    /// Where there are several questions: how many of them are each one's, in order.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub counts: Vec<usize>,
    /// Where rounds begin, and what their samples show.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rounds: Option<OwnRounds>,
    /// The pairs among the shown moves.
    pub pairs: Vec<Pair>,
    /// The reasons that hold numbers of this pull, by the index of the wrong
    /// turn, precedence, option or reason of rounds.
    pub reasons: BTreeMap<usize, Said>,
    /// The same for the reasons of steps.
    pub step_reasons: BTreeMap<usize, Said>,
}

/// The key of one number asked for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct OwnPart {
    /// What it is, in a few words.
    pub label: String,
    /// The key in the asked unit, unrounded.
    pub key: f64,
    /// The key as printed.
    pub printed: String,
    /// How far an answer may lie from it, in the asked unit.
    pub half_width: f64,
    /// The intervals of right answers and known wrong ones.
    pub intervals: PartKey,
}

impl OwnKey {
    /// The key of a pull of an exercise.
    ///
    /// # Errors
    /// A fault if a value is not finite: such a pull must not be issued.
    pub fn of(exercise: &Exercise, pull: &Pull) -> Result<Self, Fault> {
        let figures = &pull.figures;
        let finite = figures.scalars.iter().chain(figures.series.iter().flatten()).all(|value| value.is_finite());
        if !finite {
            let message = format!("pull {} of `{}` has a value that is not finite", pull.public.number, exercise.id);
            let mend = format!("run `gearside prove`, then `gearside show {}`", exercise.id);
            return Err(Fault::new("not-finite", message, mend).at(exercise.place.clone()));
        }
        let says = pull.public.says.iter().zip(&pull.public.says_html);
        let steps = exercise.reckoning.steps.iter().map(|step| &step.because).collect();
        Ok(Self {
            printed: figures.printed.clone(),
            scalars: figures.scalars.clone(),
            series: figures.series.clone(),
            parts: match &exercise.form {
                Form::Numeric(numeric) => own_parts(exercise, numeric, pull),
                _ => Vec::new(),
            },
            shown: pull.public.shown.clone(),
            counts: pull.public.counts.clone(),
            rounds: pull
                .public
                .samples
                .as_ref()
                .map(|samples| OwnRounds { start: samples.first_state(), states: samples.states.clone() }),
            says: says.map(|(plain, html)| Said { plain: plain.clone(), html: html.clone() }).collect(),
            pairs: match &exercise.form {
                Form::Order(order) => pairs(order, &pull.public.shown),
                _ => Vec::new(),
            },
            reasons: filled(exercise, pull, reasons(exercise)),
            step_reasons: filled(exercise, pull, steps),
        })
    }
}

impl OwnKey {
    /// The key of one of several questions, as if it were the only one.
    #[must_use]
    pub fn of_question(&self, place: usize) -> Self {
        let from: usize = self.counts.iter().take(place).sum();
        let count = self.counts.get(place).copied().unwrap_or(0);
        let shown = self.shown.iter().skip(from).take(count).copied().collect();
        let says = self.says.iter().skip(from).take(count).cloned().collect();
        Self { shown, says, counts: Vec::new(), reasons: self.reasons.clone(), ..Self::default() }
    }

    /// How many answers it takes where moves or options are shown.
    #[must_use]
    pub fn wholes(&self) -> usize {
        self.counts.len().max(1)
    }
}

fn own_parts(exercise: &Exercise, numeric: &Numeric, pull: &Pull) -> Vec<OwnPart> {
    let parts = numeric.answers.iter().zip(&pull.public.parts);
    parts
        .map(|(step, part)| {
            let value = &pull.key.steps[*step];
            OwnPart {
                label: part.label.clone(),
                key: value.in_unit,
                printed: value.printed.clone(),
                half_width: half_width(&exercise.reckoning.steps[*step], value.in_unit),
                intervals: part_key(exercise, &pull.key, *step),
            }
        })
        .collect()
}

/// The reasons of the wrong turns, precedences, options or rounds, by index.
fn reasons(exercise: &Exercise) -> Vec<&Text> {
    match &exercise.form {
        Form::Numeric(_) => exercise.reckoning.turns.iter().map(|turn| &turn.because).collect(),
        Form::Order(order) => order.before.iter().map(|edge| &edge.because).collect(),
        Form::Choose(choose) => choose.options.iter().map(|option| &option.because).collect(),
        Form::Rounds(rounds) => rounds.reasons().collect(),
    }
}

/// Those of the texts that have holes, filled with the pull's numbers.
fn filled(exercise: &Exercise, pull: &Pull, texts: Vec<&Text>) -> BTreeMap<usize, Said> {
    let value = |name: &str| pull.figures.printed.get(exercise.reckoning.names.get(name)?.print).cloned();
    let open = texts.into_iter().enumerate().filter(|(_, text)| text.holes().next().is_some());
    open.map(|(index, text)| {
        let plain = text.plain(&|hole| value(&hole.name));
        let html = text.html(&|hole| value(&hole.name).map(|text| escape(&text)));
        (index, Said { plain, html })
    })
    .collect()
}
