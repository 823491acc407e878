//! What every page has: head, policy, style, script.

use serde_json::{Value, json};

use super::Order;
use super::templates::{Templates, json_for_script, policy};
use super::tongue::words_of;
use crate::ground::say;
use crate::measure::{DecimalMark, reading_table_json};
use crate::programme::{Paper, Programme};
use crate::prose::escape;

/// A box of the docket head.
pub(super) fn head_box(label: &str, value_html: &str) -> Value {
    json!({ "label": label, "value_html": value_html })
}

/// A link.
pub(super) fn link(title: &str, href: &str) -> Value {
    json!({ "title": title, "href": href })
}

/// Links as safe HTML, one after the other; a dash for none.
pub(super) fn links_html(links: &[(String, String)]) -> String {
    if links.is_empty() {
        return "–".to_owned();
    }
    links
        .iter()
        .map(|(title, href)| format!("<a href=\"{}\">{}</a>", escape(href), escape(title)))
        .collect::<Vec<_>>()
        .join(", ")
}

/// What differs from page to page.
pub(super) struct Page<'a> {
    pub(super) title: &'a str,
    pub(super) kind: &'a str,
    pub(super) accent: String,
    pub(super) crumbs: Vec<Value>,
    pub(super) head: Vec<Value>,
    pub(super) with_script: bool,
    pub(super) name: &'a str,
}

/// The frame of a page as the templates take it.
pub(super) fn frame(programme: &Programme, order: &Order, templates: &Templates, page: Page<'_>) -> Value {
    let about = &programme.about;
    let script = if page.with_script { templates.script.as_str() } else { "" };
    let mark = if about.decimal_comma { DecimalMark::Comma } else { DecimalMark::Point };
    let mut head = page.head;
    head.push(head_box(&say!("label.edition"), &escape(&about.edition)));
    head.push(head_box(&say!("label.seed"), &escape(&order.seed)));
    json!({
        "title": page.title,
        "kind": page.kind,
        "programme": about.title,
        "edition": about.edition,
        "seed": order.seed,
        "policy": policy(&templates.style, script),
        "style": templates.style,
        "script": script,
        "units_json": if page.with_script { reading_table_json(mark).replace('<', "\\u003c") } else { String::new() },
        "words_json": if page.with_script { json_for_script(&words_of(script)) } else { String::new() },
        "accent": page.accent,
        "paper": match about.paper { Paper::A4 => "a4", Paper::Letter => "letter", Paper::Both => "both" },
        "crumbs": page.crumbs,
        "storage": format!("gearside:{}:{}:{}", about.edition, order.seed, page.name),
        "invented": say!("page.the-co-operative"),
        "head": head,
        "first_line": say!("page.open-me-in"),
    })
}
