//! Faults are values: what is wrong, where, and how to mend it.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::ops::Range;

use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};
use serde::Serialize;

use super::plain::one_line;

/// How much a finding weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Weight {
    /// It must be mended: the command ends with status 1.
    Fault,
    /// It is worth a look; nothing fails.
    Remark,
}

/// A piece of text and the part of it that a fault points at.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Excerpt {
    /// The text, such as a whole formula.
    pub text: String,
    /// The byte range within `text` that is meant.
    pub span: Range<usize>,
}

/// Where something stands, as exactly as is known.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Place {
    /// The file, as the user would name it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub file: Option<String>,
    /// The line, counted from 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub line: Option<usize>,
    /// The column, counted from 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub column: Option<usize>,
    /// The exercise's (or competency's) id.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub exercise: Option<String>,
    /// The field, such as `steps[1].is`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub field: Option<String>,
}

/// One thing that is wrong (or worth a remark): what, where, and the mend.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Fault {
    /// How much it weighs.
    pub weight: Weight,
    /// A short stable name of the sort of fault, such as `unknown-unit`.
    pub kind: &'static str,
    /// Where it is.
    pub place: Place,
    /// What is wrong: the thing, the value, the range allowed.
    pub message: String,
    /// What to do about it.
    pub mend: String,
    /// The text it points into, if there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub excerpt: Option<Excerpt>,
}

impl Fault {
    /// A fault without a place yet.
    #[must_use]
    pub fn new(kind: &'static str, message: impl Into<String>, mend: impl Into<String>) -> Self {
        Self {
            weight: Weight::Fault,
            kind,
            place: Place::default(),
            message: message.into(),
            mend: mend.into(),
            excerpt: None,
        }
    }

    /// The same as a remark: it fails nothing.
    #[must_use]
    pub fn as_remark(mut self) -> Self {
        self.weight = Weight::Remark;
        self
    }

    /// The same, at a place.
    #[must_use]
    pub fn at(mut self, place: Place) -> Self {
        self.place = place;
        self
    }

    /// The same, pointing at a part of a text.
    #[must_use]
    pub fn pointing(mut self, text: impl Into<String>, span: Range<usize>) -> Self {
        self.excerpt = Some(Excerpt { text: text.into(), span });
        self
    }

    /// The place in words: `banks/anilox.yaml:12:5, exercise film-on-the-web, steps[0].is`.
    #[must_use]
    pub fn place_in_words(&self) -> String {
        let mut words = self.place.file.clone().unwrap_or_default();
        if let Some(line) = self.place.line {
            let _ = write!(words, ":{line}");
            if let Some(column) = self.place.column {
                let _ = write!(words, ":{column}");
            }
        }
        for (label, value) in [("", &self.place.exercise), ("", &self.place.field)] {
            if let Some(value) = value {
                let _ = write!(words, "{}{label}{value}", if words.is_empty() { "" } else { ", " });
            }
        }
        words
    }

    /// The fault as text: weight and message, place, the excerpt with a caret, the mend.
    ///
    /// ```
    /// use gearside::ground::Fault;
    /// let fault = Fault::new("unknown-unit", "`milz` is not a unit", "did you mean `mil`?").pointing("3 milz", 2..6);
    /// let text = fault.to_text(false);
    /// assert!(text.contains("3 milz") && text.contains("^^^^") && text.contains("did you mean"));
    /// ```
    #[must_use]
    pub fn to_text(&self, colour: bool) -> String {
        let level = match self.weight {
            Weight::Fault => Level::ERROR.with_name("fault"),
            Weight::Remark => Level::WARNING.with_name("remark"),
        };
        // What is shown of a file or quoted from it may hold anything.
        let place = one_line(&self.place_in_words());
        let mend = self.mend.lines().map(one_line).collect::<Vec<_>>().join("\n");
        let mut group =
            level.primary_title(&self.message).elements(Vec::<Snippet<'_, annotate_snippets::Annotation<'_>>>::new());
        if let Some(excerpt) = &self.excerpt {
            let end = excerpt.text.len();
            let span = excerpt.span.start.min(end)..excerpt.span.end.min(end);
            group = group.element(
                Snippet::source(&excerpt.text)
                    .path(&place)
                    .line_start(self.place.line.unwrap_or(1))
                    .annotation(AnnotationKind::Primary.span(span)),
            );
        } else if !place.is_empty() {
            group = group.element(annotate_snippets::Origin::path(&place));
        }
        if !mend.is_empty() {
            group = group.element(Level::HELP.with_name("mend").message(&mend));
        }
        let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
        renderer.render(&[group])
    }
}

/// Faults gathered over a run, in the order found.
#[derive(Debug, Clone, Default)]
pub struct Faults(pub Vec<Fault>);

impl Faults {
    /// Adds one.
    pub fn push(&mut self, fault: Fault) {
        self.0.push(fault);
    }

    /// Whether any of them is more than a remark.
    #[must_use]
    pub fn any(&self) -> bool {
        self.0.iter().any(|fault| fault.weight == Weight::Fault)
    }

    /// Orders them by file, then line, then column; equal places keep their
    /// order, and what is said twice of one place (an exercise and another that
    /// is like it) is said once.
    pub fn sort(&mut self) {
        let place = |fault: &Fault| (fault.place.file.clone(), fault.place.line, fault.place.column);
        self.0.sort_by_key(place);
        let mut told = BTreeSet::new();
        self.0.retain(|fault| told.insert((place(fault), fault.place.field.clone(), fault.message.clone())));
    }
}
