//! Markdown and mathematics to safe HTML.

use math_core::{LatexToMathML, MathCoreConfig, MathDisplay};
use pulldown_cmark::{CowStr, Event, HeadingLevel, Options, Parser, Tag, TagEnd, html};

use super::ProseFault;

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
    let mut heading_is_empty = None;
    for (event, span) in Parser::new_ext(text, OPTIONS).into_offset_iter() {
        let fault = |message: &str, mend: &str| {
            Err(ProseFault { message: message.to_owned(), mend: mend.to_owned(), span: span.clone() })
        };
        heading_is_empty = match (&event, heading_is_empty) {
            (Event::Start(Tag::TableHead), _) | (Event::End(TagEnd::TableCell), Some(false)) => Some(true),
            (Event::End(TagEnd::TableHead), _) => None,
            (Event::End(TagEnd::TableCell), Some(true)) => {
                return fault("a table column without a heading", "say in its first row what stands below");
            }
            (Event::Start(Tag::TableCell), within) => within,
            (_, within) => within.map(|_| false),
        };
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
    Ok(without_styles(&out))
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

/// `$…$` as `MathML`; `$5$` and the like are money.
fn mathematics(
    converter: &LatexToMathML,
    tex: &str,
    display: MathDisplay,
    span: &std::ops::Range<usize>,
) -> Result<Event<'static>, ProseFault> {
    if matches!(display, MathDisplay::Inline)
        && tex.starts_with(|c: char| c.is_ascii_digit())
        && !tex.contains(['\\', '^', '_', '='])
    {
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
