//! The fields that narrow a page of the board down. Without script everything is shown.

use std::collections::BTreeSet;

use super::Board;
use super::words::{letter, said};
use crate::ground::say;
use crate::pages::tongue::word;
use crate::records::Standing;

/// The fields: whom, which class, which stage (where a page has several), which standing.
pub(super) fn fields(board: &Board<'_>, with_stages: bool) -> String {
    let overview = board.overview;
    let classes: BTreeSet<&str> = overview.rows.iter().filter_map(|row| row.person.class()).collect();
    let mut html = format!(
        "<p><label for=\"who\">{}</label><input id=\"who\" type=\"search\" autocomplete=\"off\" spellcheck=\"false\"></p>",
        say!("board.name-or-code")
    );
    if classes.len() > 1 {
        html += &choice(
            "class",
            &say!("label.class"),
            &say!("board.all-classes"),
            classes.iter().map(|class| (said(class), said(class))),
        );
    }
    if with_stages {
        let stages = overview.programme.stages.iter();
        html += &choice(
            "stage",
            &say!("label.stage"),
            &say!("board.all-stages"),
            stages.map(|stage| (stage.id.to_string(), said(&stage.title))),
        );
    }
    let standings = Standing::ALL.into_iter().map(|one| (letter(one).to_owned(), word("standing", one.word())));
    html += &choice("state", &say!("label.state"), &say!("board.any-state"), standings);
    html
}

fn choice(id: &str, label: &str, all: &str, options: impl Iterator<Item = (String, String)>) -> String {
    let options = options.map(|(value, words)| format!("<option value=\"{value}\">{words}</option>"));
    let options = options.collect::<Vec<_>>().concat();
    format!(
        "<p><label for=\"{id}\">{label}</label><select id=\"{id}\"><option value=\"\">{all}</option>{options}</select></p>"
    )
}
