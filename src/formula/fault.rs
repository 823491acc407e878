//! What is wrong with a formula, where in its text, and how to mend it.

use std::fmt;
use std::ops::Range;

use crate::ground::Fault;

/// A formula that cannot be used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FormulaFault {
    /// What is wrong; a clash of dimensions names both in words.
    pub message: String,
    /// What to do about it.
    pub mend: String,
    /// The bytes of `text` that are meant; empty at the very end if something is missing there.
    pub span: Range<usize>,
    /// The whole formula.
    pub text: String,
}

impl FormulaFault {
    pub(super) fn new(text: &str, span: &Range<usize>, message: impl Into<String>, mend: impl Into<String>) -> Self {
        Self { message: message.into(), mend: mend.into(), span: span.clone(), text: text.to_owned() }
    }

    /// The same as a fault of the whole program, with the formula as its excerpt.
    ///
    /// ```
    /// use gearside::formula::parse;
    /// let fault = parse("(length + 2").unwrap_err().into_fault("formula");
    /// assert!(fault.to_text(false).contains("(length + 2"));
    /// ```
    #[must_use]
    pub fn into_fault(self, kind: &'static str) -> Fault {
        Fault::new(kind, self.message, self.mend).pointing(self.text, self.span)
    }
}

impl fmt::Display for FormulaFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} ({})", self.message, self.mend)
    }
}

impl std::error::Error for FormulaFault {}

#[cfg(test)]
mod tests {
    use super::super::parse;

    #[test]
    fn the_excerpt_carries_a_caret_under_the_place() {
        // An operand, a two-byte sign before the place, and the empty place at the end.
        for (formula, caret) in [("2 + milz(3)", "    ^^^^"), ("2 × = 3", "    ^"), ("(2 + 3", "      ^")] {
            let Err(fault) = parse(formula) else { panic!("{formula} is taken") };
            let text = fault.into_fault("formula").to_text(false);
            let lines: Vec<&str> = text.lines().collect();
            let at = lines.iter().position(|line| line.contains(formula)).unwrap_or_default();
            let margin = lines[at].find(formula).unwrap_or_default();
            let under = lines[at + 1].get(margin..).unwrap_or_default();
            assert_eq!(under.trim_end(), caret, "{formula}\n{text}");
        }
    }
}
