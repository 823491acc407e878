//! Text from outside, made fit to be shown: a file's name or what someone
//! typed must not clear a terminal, or run on for pages.

use std::fmt::Write as _;

/// Whether a character turns the direction of the text around it.
#[must_use]
pub fn turns_text(c: char) -> bool {
    matches!(c, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// The text on one line: control characters, and those that turn the direction
/// of text, are shown by their numbers.
///
/// ```
/// use gearside::ground::one_line;
/// assert_eq!(one_line("a\nb\u{1b}[2J µm"), "a\\u{a}b\\u{1b}[2J µm");
/// ```
#[must_use]
pub fn one_line(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    for c in text.chars() {
        if c.is_control() || turns_text(c) || matches!(c, '\u{2028}' | '\u{2029}') {
            // Writing into a string does not fail.
            let _ = write!(shown, "{}", c.escape_unicode());
        } else {
            shown.push(c);
        }
    }
    shown
}

/// The text on one line as [`one_line`] shows it, and no more of it than the
/// first `most` characters; `…` stands for what is left out.
///
/// ```
/// use gearside::ground::in_brief;
/// assert_eq!(in_brief("a longer text", 8), "a longer…");
/// assert_eq!(in_brief("short", 8), "short");
/// ```
#[must_use]
pub fn in_brief(text: &str, most: usize) -> String {
    match text.char_indices().nth(most) {
        Some((end, _)) => format!("{}…", one_line(&text[..end])),
        None => one_line(text),
    }
}
