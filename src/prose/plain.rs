//! Author text for the terminal.

use pulldown_cmark::{Event, Parser, Tag, TagEnd};

use super::holes::{self, Hole};
use super::markdown::{self, OPTIONS};
use super::tex;

/// The text without Markdown's marks; blocks are parted by blank lines.
pub(super) fn plain(source: &str, fill: &dyn Fn(&Hole) -> Option<String>) -> String {
    let Ok((masked, found)) = holes::mask(source) else { return source.to_owned() };
    let mut out = String::new();
    for event in Parser::new_ext(&masked.text, OPTIONS) {
        match event {
            Event::Text(text) | Event::Code(text) => out.push_str(&text),
            Event::InlineMath(text) if markdown::is_money(&text) => out.extend(["$", &text, "$"]),
            Event::InlineMath(text) | Event::DisplayMath(text) => out.push_str(&tex::plain(&text)),
            Event::SoftBreak => out.push(' '),
            Event::HardBreak | Event::Start(Tag::List(_)) if !out.ends_with('\n') && !out.is_empty() => out.push('\n'),
            Event::Start(Tag::Item) => out.push_str("- "),
            Event::End(TagEnd::Item | TagEnd::TableRow | TagEnd::TableHead | TagEnd::List(_) | TagEnd::Table) => {
                out.push('\n');
            }
            Event::End(TagEnd::TableCell) => out.push_str("  "),
            Event::End(TagEnd::Paragraph | TagEnd::Heading(_)) => out.push_str("\n\n"),
            _ => {}
        }
    }
    let mut filled = String::new();
    let mut rest = out.as_str();
    while let Some((before, index, after)) = holes::next_mask(rest) {
        filled.push_str(before);
        let hole = &found[index];
        filled.push_str(&fill(hole).unwrap_or_else(|| hole.name.clone()));
        rest = after;
    }
    filled.push_str(rest);
    filled.trim_end().to_owned()
}
