//! Author text: Markdown, mathematics, names filled in; safe HTML comes out.
//!
//! May import `ground`. Raw HTML, images and outside links are faults. A name
//! in double braces is a *hole*: it is our own filling-in, not template code.
//!
//! ```
//! use gearside::prose::Text;
//! let text = Text::parse("A *{{ roll.screen }}* roll costs $5.").unwrap();
//! let html = text.html(&|hole| Some(format!("[{}]", hole.name)));
//! assert_eq!(html, "<p>A <em>[roll.screen]</em> roll costs $5.</p>\n");
//! ```

mod holes;
mod markdown;
mod plain;
mod tex;

use std::ops::Range;
use std::sync::OnceLock;

pub use holes::Hole;

/// About as many bytes as stand in a hole.
const USUAL_FILLING: usize = 8;

/// A piece of author text, parsed once; holes stay open.
#[derive(Debug, Clone, Default)]
pub struct Text {
    source: String,
    pieces: Vec<Piece>,
    inline: bool,
    /// The same for a terminal: made when first wanted, since most texts never are.
    plain: OnceLock<Vec<Piece>>,
}

#[derive(Debug, Clone)]
enum Piece {
    Fixed(String),
    Hole(Hole),
}

/// What is wrong with an author's text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ProseFault {
    /// What is wrong.
    pub message: String,
    /// What to do about it.
    pub mend: String,
    /// Where in the text, in bytes.
    pub span: Range<usize>,
}

impl Text {
    /// Parses Markdown with holes.
    ///
    /// # Errors
    /// [`ProseFault`] for raw HTML, an image, an outside link, mathematics that
    /// is not understood, or a hole that is not `{{ name }}`, `{{ name.column }}`
    /// or `{{ name | table }}`.
    pub fn parse(source: &str) -> Result<Self, ProseFault> {
        let (masked, found) = holes::mask(source)?;
        let html = markdown::render(&masked.text).map_err(|fault| masked.back_in_source(fault))?;
        Ok(Self { source: source.to_owned(), pieces: split(&html, &found)?, inline: false, plain: OnceLock::new() })
    }

    /// The same without an enclosing paragraph: for titles, reasons, options.
    ///
    /// # Errors
    /// As [`Text::parse`]; also if there is more than one paragraph.
    pub fn parse_line(source: &str) -> Result<Self, ProseFault> {
        let mut text = Self::parse(source)?;
        let whole = ProseFault {
            message: "this text must be a single paragraph".to_owned(),
            mend: "keep it to one run of text, without lists, tables or headings".to_owned(),
            span: 0..source.len(),
        };
        let html = text.html(&|_| Some(String::new()));
        if html.trim().is_empty() && text.pieces.is_empty() {
            return Ok(Self { inline: true, ..text });
        }
        if html.matches("<p>").count() != 1 || !html.starts_with("<p>") || !html.trim_end().ends_with("</p>") {
            return Err(whole);
        }
        if let Some(Piece::Fixed(first)) = text.pieces.first_mut() {
            *first = first.strip_prefix("<p>").unwrap_or(first).to_owned();
        }
        if let Some(Piece::Fixed(last)) = text.pieces.last_mut() {
            last.truncate(last.trim_end().trim_end_matches("</p>").len());
        }
        text.inline = true;
        Ok(text)
    }

    /// The text as the author wrote it.
    #[must_use]
    pub fn source(&self) -> &str {
        &self.source
    }

    /// All holes, in order.
    pub fn holes(&self) -> impl Iterator<Item = &Hole> {
        self.pieces.iter().filter_map(|piece| match piece {
            Piece::Hole(hole) => Some(hole),
            Piece::Fixed(_) => None,
        })
    }

    /// The HTML with every hole filled by `fill`, which must return safe HTML;
    /// a hole it cannot fill keeps its name, escaped.
    #[must_use]
    pub fn html(&self, fill: &dyn Fn(&Hole) -> Option<String>) -> String {
        filled(&self.pieces, &|hole| fill(hole).unwrap_or_else(|| escape(&hole.name)))
    }

    /// The text for a terminal: Markdown marks gone, holes filled with plain text.
    #[must_use]
    pub fn plain(&self, fill: &dyn Fn(&Hole) -> Option<String>) -> String {
        let pieces = self.plain.get_or_init(|| plain::pieces(&self.source));
        let mut text = filled(pieces, &|hole| fill(hole).unwrap_or_else(|| hole.name.clone()));
        text.truncate(text.trim_end().len());
        text
    }
}

/// The pieces in a row.
fn filled(pieces: &[Piece], fill: &dyn Fn(&Hole) -> String) -> String {
    let fixed = pieces.iter().map(|piece| if let Piece::Fixed(text) = piece { text.len() } else { 0 });
    let mut text = String::with_capacity(fixed.sum::<usize>() + pieces.len() * USUAL_FILLING);
    for piece in pieces {
        match piece {
            Piece::Fixed(fixed) => text.push_str(fixed),
            Piece::Hole(hole) => text.push_str(&fill(hole)),
        }
    }
    text
}

/// Text made safe inside HTML, attributes included.
///
/// ```
/// assert_eq!(gearside::prose::escape("5 < 6 & \"x\""), "5 &lt; 6 &amp; &quot;x&quot;");
/// ```
#[must_use]
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            other => out.push(other),
        }
    }
    out
}

/// Splits rendered HTML at the holes' masks.
fn split(html: &str, found: &[Hole]) -> Result<Vec<Piece>, ProseFault> {
    let mut pieces = Vec::new();
    let mut rest = html;
    while let Some((before, index, after)) = holes::next_mask(rest) {
        let hole = found[index].clone();
        let (mut before, mut after) = (before, after);
        if hole.as_table {
            // A table cannot stand in a paragraph: it must have the paragraph for itself.
            let alone = before.strip_suffix("<p>").zip(after.strip_prefix("</p>"));
            (before, after) = alone.ok_or_else(|| ProseFault {
                message: format!("the table `{}` stands inside a line of text", hole.name),
                mend: "give it a paragraph of its own: a blank line before and after".to_owned(),
                span: hole.span.clone(),
            })?;
        }
        if !before.is_empty() {
            pieces.push(Piece::Fixed(before.to_owned()));
        }
        pieces.push(Piece::Hole(hole));
        rest = after;
    }
    if !rest.is_empty() {
        pieces.push(Piece::Fixed(rest.to_owned()));
    }
    Ok(pieces)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn html(source: &str) -> String {
        Text::parse(source).map_or_else(
            |fault| format!("FAULT {}", fault.message),
            |text| text.html(&|hole| Some(format!("[{}]", hole.name))),
        )
    }

    #[test]
    fn money_stays_money_and_mathematics_becomes_mathml() {
        assert_eq!(html("It costs $5 or $6."), "<p>It costs $5 or $6.</p>\n");
        assert_eq!(html("It costs $5$6."), "<p>It costs $5$6.</p>\n");
        assert!(html("so $x^2$ is").contains("<msup>"), "{}", html("so $x^2$ is"));
        for (money, text) in [("$5$", "$5$"), ("$5-$6", "$5-$6"), ("$4 a kilogram or US$9", "$4 a kilogram or US$9")] {
            assert!(html(money).contains(text), "{money}: {}", html(money));
        }
        for mathematics in ["$2e$", "$1/(1-w)$", "$1+w$", "$12-4$"] {
            assert!(html(mathematics).contains("<math"), "{mathematics}: {}", html(mathematics));
        }
    }

    #[test]
    fn holes_survive_markdown_unharmed() {
        assert_eq!(html("**{{ a_b }}** and {{ c.d_e }}"), "<p><strong>[a_b]</strong> and [c.d_e]</p>\n");
    }

    #[test]
    fn a_table_hole_needs_its_own_paragraph() {
        assert_eq!(html("Rolls:\n\n{{ rolls | table }}\n\nPick."), "<p>Rolls:</p>\n[rolls]\n<p>Pick.</p>\n");
        assert!(html("Rolls: {{ rolls | table }}").starts_with("FAULT"));
    }

    #[test]
    fn raw_html_images_and_outside_links_are_faults() {
        for bad in [
            "<b>x</b>",
            "a <script>alert(1)</script>",
            "![x](y.png)",
            "[x](https://example.org)",
            "<https://example.org>",
            "[x](javascript:alert)",
            "{{ }}",
            "{{ a",
            "{{ a + b }}",
            "{{ a | sum }}",
        ] {
            assert!(html(bad).starts_with("FAULT"), "{bad}: {}", html(bad));
        }
        assert_eq!(html("1 < 2 & 3"), "<p>1 &lt; 2 &amp; 3</p>\n");
    }

    #[test]
    fn a_table_column_without_a_heading_is_a_fault() {
        for table in ["| | Water |\n|---|---|\n| a | b |", "| Ink | |\n|---|---|\n| a | b |"] {
            assert!(Text::parse(table).is_err_and(|fault| fault.message.contains("without a heading")), "{table}");
        }
        assert!(Text::parse("| Ink | $A_2$ |\n|---|---|\n| a | |").is_ok());
    }

    #[test]
    fn a_line_has_no_paragraph_around_it() {
        let line = Text::parse_line("Stop at *{{ x }}*").expect("a line");
        assert_eq!(line.html(&|_| Some("1".to_owned())), "Stop at <em>1</em>");
        assert_eq!(Text::parse_line("{{ x }}").expect("a line").html(&|_| Some("1".to_owned())), "1");
        assert!(Text::parse_line("- a\n- b").is_err());
        assert!(Text::parse_line("a\n\nb").is_err());
    }

    #[test]
    fn plain_text_loses_the_marks() {
        let text = Text::parse("A *warm* {{ x }}, `v`:\n\n- one\n- two\n\nSo $a^2$.").expect("text");
        assert_eq!(text.plain(&|_| Some("roll".to_owned())), "A warm roll, v:\n\n- one\n- two\n\nSo a^2.");
    }

    #[test]
    fn a_text_is_filled_anew_each_time() {
        let text = Text::parse("Use {{ x }} or {{ y }}.").expect("text");
        for (filling, plain, html) in [
            (Some("5 < 6"), "Use 5 < 6 or 5 < 6.", "<p>Use 5 &lt; 6 or 5 &lt; 6.</p>\n"),
            (Some(""), "Use  or .", "<p>Use  or .</p>\n"),
            (None, "Use x or y.", "<p>Use x or y.</p>\n"),
        ] {
            assert_eq!(text.plain(&|_| filling.map(str::to_owned)), plain, "{filling:?}");
            assert_eq!(text.html(&|_| filling.map(escape)), html, "{filling:?}");
        }
    }

    proptest! {
        #[test]
        fn no_text_panics_or_lets_a_script_through(source in ".{0,200}") {
            if let Ok(text) = Text::parse(&source) {
                prop_assert!(!text.html(&|_| Some(String::new())).to_lowercase().contains("<script"));
                let _ = text.plain(&|_| None);
            }
        }
    }
}
