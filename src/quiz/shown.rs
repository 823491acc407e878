//! What a docket shows: everything an apprentice must see, and nothing else.
//!
//! A docket's page is made of a [`Docket`] alone. No type of the key side can
//! be reached from here, so the bytes of a docket are a function of what it shows.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::ground::language;
use crate::picture::{draw, samples_html};
use crate::programme::{Exercise, Form, Paper, Pick, Programme};
use crate::pull::{Printer, Public};
use crate::records::Digest;

/// What all dockets of a quiz say at their head.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Head {
    /// The quiz, such as `week-12`.
    pub quiz: String,
    /// The week of the plan.
    pub week: u32,
    /// The day it was issued.
    pub day: Date,
    /// The programme's title.
    pub programme: String,
    /// The language of its pages, by the name of its file.
    #[serde(default = "english", skip_serializing_if = "is_english")]
    pub language: String,
    /// Whether a comma is the decimal mark.
    pub decimal_comma: bool,
    /// The paper it is set for.
    pub paper: Paper,
    /// Whether it is a rehearsal, which is never recorded.
    pub rehearsal: bool,
}

fn english() -> String {
    language::DEFAULT.to_owned()
}

fn is_english(name: &str) -> bool {
    name == language::DEFAULT
}

/// An exercise as all dockets of a quiz show it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShownExercise {
    /// Its place in the quiz, from 1.
    pub number: u32,
    /// Its title.
    pub title: String,
    /// What is asked for: `numeric`, `order`, `choose` or `rounds`.
    pub kind: String,
    /// How many options are picked: `one` or `some`; empty where there are none.
    pub pick: String,
    /// How many minutes it should take.
    pub minutes: u32,
    /// The cautions that stand beside it.
    pub cautions: Vec<ShownCaution>,
    /// The numbers asked for.
    pub parts: Vec<ShownPart>,
    /// How many moves or options it shows.
    pub says: usize,
    /// Where there are several questions: what each asks for, and how many of the options are its own.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub questions: Vec<ShownQuestion>,
}

/// One of several questions with options, as a docket shows it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShownQuestion {
    /// What is asked for, in a few words.
    pub label: String,
    /// How many options it has.
    pub says: usize,
}

/// A caution as a docket shows it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShownCaution {
    /// The plain word of what can hurt.
    pub word: String,
    /// The usual measure, as safe HTML.
    pub html: String,
}

/// A number asked for, as a docket shows it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShownPart {
    /// What it is, in a few words.
    pub label: String,
    /// Its symbol.
    pub symbol: Option<String>,
    /// The unit asked for; empty for a plain number.
    pub unit: String,
}

/// What one docket asks in one exercise.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShownAsk {
    /// The question as safe HTML, with its figure, and with the samples of rounds.
    pub ask_html: String,
    /// The moves or options in the order shown, as safe HTML.
    pub says_html: Vec<String>,
}

/// One docket as it is shown; a name that is printed on it comes from outside.
#[derive(Debug, Clone)]
pub struct Docket<'a> {
    /// What all dockets of the quiz say.
    pub head: &'a Head,
    /// Its own code.
    pub docket: &'a str,
    /// The code of whom it is for; `None` for a blank one.
    pub person: Option<&'a str>,
    /// The minutes allowed.
    pub minutes: u32,
    /// The exercises.
    pub exercises: Vec<&'a ShownExercise>,
    /// What it asks in each of them.
    pub asks: Vec<&'a ShownAsk>,
}

impl ShownExercise {
    /// An exercise as all dockets show it; `public` is any of its pulls.
    #[must_use]
    pub fn of(programme: &Programme, exercise: &Exercise, public: &Public, number: u32) -> Self {
        let caution = |id| programme.caution(id);
        let cautions = public.cautions.iter().filter_map(caution);
        Self {
            number,
            title: public.title.clone(),
            kind: exercise.form.word().to_owned(),
            pick: match &exercise.form {
                Form::Choose(choose) if choose.questions.iter().any(|one| one.pick == Pick::Some) => "some".to_owned(),
                Form::Choose(_) => "one".to_owned(),
                _ => String::new(),
            },
            minutes: public.minutes,
            cautions: cautions
                .map(|caution| ShownCaution { word: caution.word.clone(), html: caution.says.html(&|_| None) })
                .collect(),
            parts: public
                .parts
                .iter()
                .map(|part| ShownPart {
                    label: part.label.clone(),
                    symbol: part.symbol.clone(),
                    unit: part.unit.to_owned(),
                })
                .collect(),
            says: public.says.len(),
            questions: match &exercise.form {
                Form::Choose(choose) => {
                    let counted = choose.questions.iter().zip(&public.counts);
                    counted.map(|(one, says)| ShownQuestion { label: one.label.clone(), says: *says }).collect()
                }
                _ => Vec::new(),
            },
        }
    }

    /// How many answers it takes: one per number or question with options, or one for the whole.
    #[must_use]
    pub fn answers(&self) -> usize {
        if self.kind == "numeric" { self.parts.len() } else { self.questions.len().max(1) }
    }
}

impl ShownAsk {
    /// What a pull asks, its figure and its samples included.
    #[must_use]
    pub fn of(public: &Public, printer: Printer) -> Self {
        let figure = public.picture.as_ref().map_or_else(String::new, |pictured| draw(pictured, printer).html());
        let samples = public.samples.as_ref().map_or_else(String::new, |samples| samples_html(samples, printer));
        Self { ask_html: format!("{}{figure}{samples}", public.ask_html), says_html: public.says_html.clone() }
    }
}

impl Docket<'_> {
    /// The digest of all that is shown. A return names it, so that what was
    /// answered is known to be what was asked.
    #[must_use]
    pub fn digest(&self) -> Digest {
        let common = Common::of(self.head, self.exercises.iter().copied());
        common.digest(self.docket, self.person, self.minutes, &self.asks)
    }
}

/// What all dockets of a quiz show, written once for the digests of them all.
pub(super) struct Common {
    head: String,
    exercises: String,
}

impl Common {
    pub(super) fn of<'a>(head: &Head, exercises: impl Iterator<Item = &'a ShownExercise>) -> Self {
        Self { head: text(head), exercises: text(&exercises.collect::<Vec<_>>()) }
    }

    /// The digest of a docket; `asks` are its [`ShownAsk`]s, or the same as text.
    pub(super) fn digest(&self, docket: &str, person: Option<&str>, minutes: u32, asks: &impl Serialize) -> Digest {
        Digest::of(&[
            self.head.as_bytes(),
            docket.as_bytes(),
            person.unwrap_or_default().as_bytes(),
            &minutes.to_be_bytes(),
            self.exercises.as_bytes(),
            text(asks).as_bytes(),
        ])
    }
}

fn text(value: &impl Serialize) -> String {
    serde_json::to_string(value).unwrap_or_default()
}
