//! Holes in author text: `{{ name }}`, `{{ name.column }}`, `{{ name | table }}`.
//!
//! Before Markdown runs, each hole is masked by a private-use character, so
//! that no underscore of a name is taken for emphasis.

use std::ops::Range;

use super::ProseFault;

/// Opens a mask; the hole's number stands behind it in private-use digits.
const OPEN: char = '\u{F8F0}';
/// Closes a mask.
const CLOSE: char = '\u{F8F1}';
/// The private-use digit zero.
const ZERO: u32 = 0xF8E0;

/// A name to be filled in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hole {
    /// The name, perhaps `row.column`.
    pub name: String,
    /// Whether the whole table is wanted.
    pub as_table: bool,
    /// Where it stands in the source, in bytes.
    pub span: Range<usize>,
}

/// Source text with its holes masked.
pub(super) struct Masked {
    pub(super) text: String,
    /// For each hole: where its mask ends in the masked text, where it ends in the source.
    ends: Vec<(usize, usize)>,
    source_length: usize,
}

impl Masked {
    /// A fault found in the masked text, with its span in the source.
    pub(super) fn back_in_source(&self, fault: ProseFault) -> ProseFault {
        let back = |at: usize| {
            let (masked, source) = self.ends.iter().rev().find(|(masked, _)| *masked <= at).copied().unwrap_or((0, 0));
            (source + (at - masked)).min(self.source_length)
        };
        ProseFault { span: back(fault.span.start)..back(fault.span.end), ..fault }
    }
}

/// Masks the holes of a text.
pub(super) fn mask(source: &str) -> Result<(Masked, Vec<Hole>), ProseFault> {
    let fault = |message: &str, mend: &str, span: Range<usize>| ProseFault {
        message: message.to_owned(),
        mend: mend.to_owned(),
        span,
    };
    if let Some((at, c)) = source.char_indices().find(|(_, c)| ('\u{F8E0}'..='\u{F8FF}').contains(c)) {
        return Err(fault(
            "a private-use character stands in the text",
            "delete it: it has no meaning outside one font",
            at..at + c.len_utf8(),
        ));
    }
    let (mut masked, mut ends, mut holes) = (String::new(), Vec::new(), Vec::new());
    let mut at = 0;
    while let Some(start) = source[at..].find("{{").map(|found| at + found) {
        masked.push_str(&source[at..start]);
        let Some(end) = source[start..].find("}}").map(|found| start + found + 2) else {
            return Err(fault("`{{` is never closed", "write {{ name }}", start..source.len()));
        };
        let inside = source[start + 2..end - 2].trim();
        let (name, filter) =
            inside.split_once('|').map_or((inside, None), |(name, filter)| (name.trim_end(), Some(filter.trim())));
        if !is_name(name) || !matches!(filter, None | Some("table")) {
            return Err(fault(
                "between `{{` and `}}` stands something that is not a name",
                "write {{ name }}, {{ row.column }} or {{ name | table }}; sums belong in a step",
                start..end,
            ));
        }
        masked.push(OPEN);
        for digit in holes.len().to_string().bytes() {
            masked.extend(char::from_u32(ZERO + u32::from(digit - b'0')));
        }
        masked.push(CLOSE);
        ends.push((masked.len(), end));
        holes.push(Hole { name: name.to_owned(), as_table: filter.is_some(), span: start..end });
        at = end;
    }
    masked.push_str(&source[at..]);
    Ok((Masked { text: masked, ends, source_length: source.len() }, holes))
}

/// The text before the next mask, the hole's number, and the text behind it.
pub(super) fn next_mask(text: &str) -> Option<(&str, usize, &str)> {
    let (before, rest) = text.split_once(OPEN)?;
    let (digits, after) = rest.split_once(CLOSE)?;
    let index = digits
        .chars()
        .try_fold(0_usize, |sum, c| Some(sum * 10 + usize::try_from((c as u32).checked_sub(ZERO)?).ok()?))?;
    Some((before, index, after))
}

/// Names of givens and steps: a small letter, then letters, digits, underscores; perhaps a dot and a column.
fn is_name(text: &str) -> bool {
    let word = |word: &str| {
        word.starts_with(|c: char| c.is_ascii_lowercase())
            && word.chars().all(|c| c.is_ascii_alphanumeric() || c == '_')
    };
    let mut parts = text.split('.');
    parts.next().is_some_and(word) && parts.next().is_none_or(word) && parts.next().is_none()
}
