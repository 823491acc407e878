//! One text of a language, in one form or in the forms of its plural.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::{Display, Write as _};

use intl_pluralrules::PluralCategory;
use serde::{Deserialize, Serialize};

/// A text: always the same, or one for each form of the plural.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum Text {
    /// Always the same.
    One(String),
    /// By the form of the plural that the number in the hole `n` takes.
    Counted(BTreeMap<Form, String>),
}

/// The forms of a plural, as the Unicode Common Locale Data Repository names them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Form {
    Zero,
    One,
    Two,
    Few,
    Many,
    Other,
}

impl From<PluralCategory> for Form {
    fn from(category: PluralCategory) -> Self {
        match category {
            PluralCategory::ZERO => Self::Zero,
            PluralCategory::ONE => Self::One,
            PluralCategory::TWO => Self::Two,
            PluralCategory::FEW => Self::Few,
            PluralCategory::MANY => Self::Many,
            PluralCategory::OTHER => Self::Other,
        }
    }
}

/// A form of a text, with holes to fill.
#[derive(Debug, Clone, Copy)]
pub(super) struct Holed<'a>(&'a str);

impl Text {
    /// The form for a number.
    pub(super) fn form(&self, category: Option<PluralCategory>) -> Holed<'_> {
        Holed(match self {
            Self::One(text) => text,
            Self::Counted(forms) => {
                let wanted = category.map_or(Form::Other, Form::from);
                forms.get(&wanted).or_else(|| forms.get(&Form::Other)).map_or("", String::as_str)
            }
        })
    }

    /// All its forms.
    pub fn forms(&self) -> impl Iterator<Item = &str> {
        match self {
            Self::One(text) => vec![text.as_str()],
            Self::Counted(forms) => forms.values().map(String::as_str).collect(),
        }
        .into_iter()
    }

    /// The names of its holes, in all its forms together.
    #[must_use]
    pub fn holes(&self) -> BTreeSet<&str> {
        self.forms().flat_map(|form| pieces(form).filter_map(|(_, hole)| hole)).collect()
    }
}

impl Holed<'_> {
    /// The text with its holes filled; a hole that nothing fills stays.
    pub(super) fn filled(self, holes: &[(&str, &dyn Display)]) -> String {
        let mut filled = String::with_capacity(self.0.len() + 16);
        for (before, hole) in pieces(self.0) {
            filled.push_str(before);
            let Some(hole) = hole else { continue };
            // Writing to a string cannot fail.
            let _ = match holes.iter().find(|(name, _)| *name == hole) {
                Some((_, value)) => write!(filled, "{value}"),
                None => write!(filled, "{{{hole}}}"),
            };
        }
        filled
    }
}

/// A text cut at its holes: what stands before each, and its name.
fn pieces(text: &str) -> impl Iterator<Item = (&str, Option<&str>)> {
    text.split_inclusive('}').map(|piece| {
        let hole = piece.strip_suffix('}').and_then(|piece| piece.split_once('{'));
        hole.map_or((piece, None), |(before, hole)| (before, Some(hole)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holes_are_filled_by_name() {
        let text = Text::One("{a} of {b}, and {a} again".to_owned());
        assert_eq!(text.form(None).filled(&[("b", &12), ("a", &"x")]), "x of 12, and x again");
        assert_eq!(text.form(None).filled(&[("a", &1)]), "1 of {b}, and 1 again");
        assert_eq!(text.holes().into_iter().collect::<Vec<_>>(), ["a", "b"]);
    }

    #[test]
    fn what_fills_a_hole_is_never_read_as_a_hole() {
        let text = Text::One("{a}{b}".to_owned());
        assert_eq!(text.form(None).filled(&[("a", &"{b}"), ("b", &"{a}")]), "{b}{a}");
    }

    #[test]
    fn a_form_that_is_not_there_is_the_other_one() {
        let forms = BTreeMap::from([(Form::One, "a move".to_owned()), (Form::Other, "{n} moves".to_owned())]);
        let text = Text::Counted(forms);
        let said = |category, n: u32| text.form(category).filled(&[("n", &n)]);
        assert_eq!(said(Some(PluralCategory::ONE), 1), "a move");
        assert_eq!(said(Some(PluralCategory::MANY), 1_000_000), "1000000 moves");
        assert_eq!(said(None, 3), "3 moves");
    }
}
