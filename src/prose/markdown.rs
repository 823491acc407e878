//! Markdown and mathematics to safe HTML.

use math_core::{LatexToMathML, MathCoreConfig, MathDisplay};
use pulldown_cmark::{CowStr, Event, HeadingLevel, Options, Parser, Tag, TagEnd, html};

use super::{ProseFault, tex};

/// The Markdown that authors may use.
pub(super) const OPTIONS: Options = Options::ENABLE_MATH.union(Options::ENABLE_TABLES);

/// Renders masked text.
pub(super) fn render(text: &str) -> Result<String, ProseFault> {
    let converter = LatexToMathML::new(MathCoreConfig::default()).map_err(|_| ProseFault {
        message: "the mathematics converter did not start".to_owned(),
        mend: String::new(),
        span: 0..0,
    })?;
    let mut events = Vec::new();
    let mut headings = Headings::default();
    for (event, span) in Parser::new_ext(text, OPTIONS).into_offset_iter() {
        let fault = |message: &str, mend: &str| {
            Err(ProseFault { message: message.to_owned(), mend: mend.to_owned(), span: span.clone() })
        };
        if !headings.take(&event) {
            return fault("a table column without a heading", "say in its first row what stands below");
        }
        events.push(match event {
            Event::Html(_) | Event::InlineHtml(_) | Event::Start(Tag::HtmlBlock) => {
                return fault("raw HTML in author text", "use Markdown; write &lt; for a bare <");
            }
            Event::Start(Tag::Image { .. }) => {
                return fault("an image in author text", "describe it in words; figures are drawn by the program");
            }
            Event::Start(Tag::Link { dest_url, .. }) if is_outside(&dest_url) => {
                return fault(
                    "a link that leads outside",
                    "name the source in words: the pages work without a network",
                );
            }
            Event::InlineMath(tex) => mathematics(&converter, &tex, MathDisplay::Inline, &span)?,
            Event::DisplayMath(tex) => mathematics(&converter, &tex, MathDisplay::Block, &span)?,
            // Pages have their own h1 and h2; authors' headings stand below them.
            Event::Start(Tag::Heading { id, classes, attrs, .. }) => {
                Event::Start(Tag::Heading { level: HeadingLevel::H3, id, classes, attrs })
            }
            Event::End(TagEnd::Heading(_)) => Event::End(TagEnd::Heading(HeadingLevel::H3)),
            other => other,
        });
    }
    let mut out = String::new();
    html::push_html(&mut out, events.into_iter());
    Ok(headings.labelled(&without_styles(&out)))
}

/// The headings of all tables, as they go by.
#[derive(Default)]
struct Headings {
    /// Within a heading: whether it has words, and its mathematics as plain text.
    open: Option<(bool, String)>,
    /// For each heading: what a reader of labels is told where it has no words.
    labels: Vec<String>,
}

impl Headings {
    /// Takes one event; `false` if a heading ends with nothing in it.
    fn take(&mut self, event: &Event<'_>) -> bool {
        match (event, &mut self.open) {
            (Event::Start(Tag::TableHead), _) => self.open = Some((false, String::new())),
            (Event::End(TagEnd::TableHead), _) => self.open = None,
            (Event::End(TagEnd::TableCell), Some((words, mathematics))) => {
                let label = std::mem::take(mathematics);
                let full = *words || !label.is_empty();
                self.labels.push(if *words { String::new() } else { label });
                *words = false;
                return full;
            }
            (Event::InlineMath(text), Some((_, mathematics))) => mathematics.push_str(&tex::plain(text)),
            (Event::Text(_) | Event::Code(_), Some((words, _))) => *words = true,
            _ => {}
        }
        true
    }

    /// The rendered text; a heading of mathematics alone is also said in words,
    /// since checkers and some readers pass mathematics over.
    fn labelled(&self, html: &str) -> String {
        let mut pieces = html.split("<th ");
        let mut out = pieces.next().unwrap_or_default().to_owned();
        for (piece, label) in pieces.zip(self.labels.iter().chain(std::iter::repeat(&String::new()))) {
            out.push_str("<th ");
            match piece.split_once('>') {
                Some((attributes, cell)) if !label.is_empty() => {
                    let hidden = cell.replacen("<math", "<math aria-hidden=\"true\"", 1);
                    let said = super::escape(label);
                    out.extend([attributes, "><span class=\"spoken\">", &said, "</span>", &hidden]);
                }
                _ => out.push_str(piece),
            }
        }
        out
    }
}

/// Style attributes become classes (the pages' policy allows no inline style);
/// table headings say what they head, for a screen reader.
fn without_styles(html: &str) -> String {
    let html = html
        .replace(" style=\"text-align: right\"", " class=\"right\"")
        .replace(" style=\"text-align: center\"", " class=\"middle\"")
        .replace("<th>", "<th scope=\"col\">")
        .replace("<th class=", "<th scope=\"col\" class=");
    let mut out = String::with_capacity(html.len());
    let mut rest = html.as_str();
    while let Some((before, after)) = rest.split_once(" style=\"") {
        out.push_str(before);
        rest = after.split_once('"').map_or("", |(_, behind)| behind);
    }
    out.push_str(rest);
    out
}

/// Whether `$…$` is money rather than mathematics: an amount alone, or one with a
/// word or a dash behind it. `$2e$` and `$1/(1-w)$` are mathematics.
pub(super) fn is_money(tex: &str) -> bool {
    let behind = tex.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | ','));
    let has_word = || behind.as_bytes().windows(2).any(|pair| pair.iter().all(u8::is_ascii_alphabetic));
    let is_open = || behind.ends_with(|c: char| !c.is_alphanumeric() && c != ')');
    behind.len() < tex.len() && !tex.contains(['\\', '^', '_', '=']) && (behind.is_empty() || has_word() || is_open())
}

/// `$…$` as `MathML`; `$5$` and the like are money.
fn mathematics(
    converter: &LatexToMathML,
    tex: &str,
    display: MathDisplay,
    span: &std::ops::Range<usize>,
) -> Result<Event<'static>, ProseFault> {
    if matches!(display, MathDisplay::Inline) && is_money(tex) {
        return Ok(Event::Text(CowStr::from(format!("${tex}$"))));
    }
    match converter.convert_with_local_state(tex, display) {
        Ok(result) => Ok(Event::InlineHtml(CowStr::from(result.mathml))),
        Err(error) => Err(ProseFault {
            message: format!("the mathematics `{tex}` is not understood: {error}"),
            mend: "use plain LaTeX mathematics, or write \\$ for money".to_owned(),
            span: span.clone(),
        }),
    }
}

/// Whether a link leaves the folder of pages.
fn is_outside(link: &str) -> bool {
    link.contains(':') || link.starts_with("//") || link.starts_with('\\')
}
