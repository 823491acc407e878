//! The gallery: every figure that an exercise can show, in examples, with what it takes.

use serde_json::{Value, json};

use super::frame::{Page, head_box, link};
use super::workbook::Builder;
use crate::ground::Fault;
use crate::ground::say;
use crate::picture::{Drawing, FIGURES, Figure, Style};
use crate::trade::figures::{Kind, Signature, Takes, figure};

/// How many examples there are of a figure, at the least.
const EXAMPLES: usize = 6;

/// From this on, a range is no bound that an author could meet.
const ANY_NUMBER: f64 = 1e6;

/// The files of the gallery: a front page, and a page for each figure.
pub(super) fn files(builder: &Builder<'_>) -> Result<Vec<(String, Vec<u8>)>, Box<Fault>> {
    let known = FIGURES.iter().filter_map(|drawn| Some((drawn, figure(drawn.name)?)));
    let known: Vec<(&Figure, &Signature)> = known.collect();
    let mut files = vec![("index.html".to_owned(), front(builder, &known)?)];
    for (drawn, signature) in &known {
        files.push((page_of(signature), page(builder, drawn, signature)?));
    }
    Ok(files)
}

fn page_of(signature: &Signature) -> String {
    format!("{}.html", signature.name)
}

fn example(builder: &Builder<'_>, drawn: &Figure, number: u32) -> Drawing {
    (drawn.draw)(&(drawn.example)(number), Style::of(builder.printer))
}

fn front(builder: &Builder<'_>, known: &[(&Figure, &Signature)]) -> Result<Vec<u8>, Box<Fault>> {
    let figures = known.iter().map(|(drawn, signature)| {
        json!({
            "name": signature.name,
            "href": page_of(signature),
            "says": signature.says,
            "html": example(builder, drawn, 0).html(),
        })
    });
    let view =
        json!({ "title": say!("label.figures"), "figures": figures.collect::<Vec<_>>(), "takes": [], "examples": [] });
    render(builder, &say!("label.figures"), Vec::new(), &view)
}

/// How many examples of a figure are shown: as many as its longest choice of words, so that each is seen.
fn examples(signature: &Signature) -> u32 {
    let choices = signature.takes.iter().map(|takes| if let Kind::Word(words) = takes.kind { words.len() } else { 0 });
    u32::try_from(choices.fold(EXAMPLES, usize::max)).unwrap_or_default()
}

fn page(builder: &Builder<'_>, drawn: &Figure, signature: &Signature) -> Result<Vec<u8>, Box<Fault>> {
    let examples = (0..examples(signature)).map(|number| {
        let drawing = example(builder, drawn, number);
        json!({ "number": (number + 1).to_string(), "html": drawing.html(), "words": drawing.words })
    });
    let takes = signature.takes.iter().map(|takes| taken(builder, takes));
    let view = json!({
        "title": signature.name,
        "says": signature.says,
        "figures": [],
        "takes": takes.collect::<Vec<_>>(),
        "examples": examples.collect::<Vec<_>>(),
    });
    render(builder, signature.name, vec![link(&say!("label.figures"), "index.html")], &view)
}

/// A row of the table of what a figure takes.
fn taken(builder: &Builder<'_>, takes: &Takes) -> Value {
    let style = Style::of(builder.printer);
    let range = |unit: &str, least: f64, most: f64| {
        if most >= ANY_NUMBER {
            return say!("gallery.any-number");
        }
        say!("gallery.to", least = style.short(least), most = style.short(most), unit = unit).trim_end().to_owned()
    };
    let what = match takes.kind {
        Kind::Number { unit, least, most } => range(unit, least, most),
        Kind::Series { unit, least, most } => say!("gallery.several-each", range = range(unit, least, most)),
        Kind::Word(words) => words.join(", "),
    };
    json!({
        "name": takes.name,
        "what": what,
        "says": takes.says,
        "optional": if takes.optional { say!("gallery.may-be-left") } else { String::new() },
    })
}

fn render(builder: &Builder<'_>, title: &str, crumbs: Vec<Value>, view: &Value) -> Result<Vec<u8>, Box<Fault>> {
    let page = Page {
        title,
        kind: "gallery",
        accent: String::new(),
        crumbs,
        head: vec![head_box(&say!("label.programme"), &crate::prose::escape(&builder.programme.about.title))],
        with_script: false,
        name: "gallery",
    };
    builder.render("gallery.html", page, "gallery", view).map(String::into_bytes)
}
