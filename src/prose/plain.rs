//! Author text for the terminal.

use pulldown_cmark::{Event, Parser, Tag, TagEnd};

use super::markdown::{self, OPTIONS};
use super::{Piece, holes, tex};

/// The text without Markdown's marks; blocks are parted by blank lines.
pub(super) fn pieces(source: &str) -> Vec<Piece> {
    let Ok((masked, found)) = holes::mask(source) else { return vec![Piece::Fixed(source.to_owned())] };
    let mut out = String::new();
    // The numbers of the lists that are open; `None` where they have none.
    let mut lists: Vec<Option<u64>> = Vec::new();
    for event in Parser::new_ext(&masked.text, OPTIONS) {
        match event {
            Event::Text(text) | Event::Code(text) => out.push_str(&text),
            Event::InlineMath(text) if markdown::is_money(&text) => out.extend(["$", &text, "$"]),
            Event::InlineMath(text) | Event::DisplayMath(text) => out.push_str(&tex::plain(&text)),
            Event::SoftBreak => out.push(' '),
            Event::HardBreak if !out.ends_with('\n') && !out.is_empty() => out.push('\n'),
            Event::Start(Tag::List(first)) => {
                if !out.ends_with('\n') && !out.is_empty() {
                    out.push('\n');
                }
                lists.push(first);
            }
            Event::Start(Tag::Item) => match lists.last_mut() {
                Some(Some(number)) => {
                    out.push_str(&number.to_string());
                    out.push_str(". ");
                    *number += 1;
                }
                _ => out.push_str("- "),
            },
            Event::End(
                end @ (TagEnd::Item | TagEnd::TableRow | TagEnd::TableHead | TagEnd::List(_) | TagEnd::Table),
            ) => {
                if matches!(end, TagEnd::List(_)) {
                    lists.pop();
                }
                out.push('\n');
            }
            Event::End(TagEnd::TableCell) => out.push_str("  "),
            Event::End(TagEnd::Paragraph | TagEnd::Heading(_)) => out.push_str("\n\n"),
            _ => {}
        }
    }
    let mut pieces = Vec::new();
    let mut rest = out.as_str();
    while let Some((before, index, after)) = holes::next_mask(rest) {
        pieces.extend([Piece::Fixed(before.to_owned()), Piece::Hole(found[index].clone())]);
        rest = after;
    }
    pieces.push(Piece::Fixed(rest.to_owned()));
    pieces
}
