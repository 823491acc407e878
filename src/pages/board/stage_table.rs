//! A stage's table: people against its competencies.

use serde_json::json;

use super::filters;
use super::words::{counts_in_words, letter, mark_and_word, said};
use super::{Board, BoardPage, record_of, table_of};
use crate::ground::Fault;
use crate::ground::say;
use crate::pages::frame::{head_box, link};
use crate::programme::Stage;
use crate::records::{Evidence, Held, Standing, Standings, State, day_in_words, hours_in_words};

/// The page of a stage.
pub(super) fn page(board: &Board<'_>, stage: &Stage) -> Result<String, Box<Fault>> {
    let overview = board.overview;
    let columns: Vec<String> = overview
        .stage(stage.id.as_str())
        .map(|(place, rule)| {
            let standings: Vec<Standing> =
                overview.rows.iter().filter_map(|row| row.states.get(place)).map(|state| state.standing).collect();
            format!(
                "<th scope=\"col\">{}<span class=\"small\">{}</span></th>",
                board.title(&rule.id),
                counts_in_words(&standings)
            )
        })
        .collect();
    let rows: String = overview.rows.iter().map(|row| table_row(board, stage, row)).collect();
    let stages: Vec<String> = overview
        .programme
        .stages
        .iter()
        .map(|other| {
            let current = if other.id == stage.id { " aria-current=\"page\"" } else { "" };
            format!("<li><a href=\"{}\"{current}>{} {}</a></li>", table_of(other), other.number, said(&other.title))
        })
        .collect();
    let view = json!({
        "title": stage.title,
        "stages_html": stages.concat(),
        "filters_html": filters::fields(board, false),
        "columns_html": columns.concat(),
        "rows_html": rows,
    });
    let page = BoardPage {
        title: stage.title.clone(),
        kind: "stage-page",
        accent: stage.number.to_string(),
        crumbs: vec![link(&say!("label.sign-off-board"), "index.html")],
        head: vec![
            head_box(&say!("label.stage"), &format!("{} {}", stage.number, said(&stage.title))),
            head_box(&say!("label.competencies"), &stage.competencies.len().to_string()),
            head_box(&say!("label.apprentices"), &overview.rows.len().to_string()),
        ],
        with_script: true,
        data_json: String::new(),
    };
    board.render("board-stage.html", "stage", view, page)
}

fn table_row(board: &Board<'_>, stage: &Stage, row: &Standings<'_>) -> String {
    let overview = board.overview;
    let code = &row.person.code;
    let file = record_of(code);
    let cells: Vec<String> = overview
        .stage(stage.id.as_str())
        .filter_map(|(place, rule)| Some((rule, row.states.get(place)?)))
        .map(|(rule, state)| {
            format!(
                "<td data-s=\"{}\"><a href=\"{file}#competency-{}\">{}</a>{}</td>",
                letter(state.standing),
                rule.id,
                mark_and_word(state.standing),
                under(board, state)
            )
        })
        .collect();
    format!(
        "<tr id=\"p-{}\" data-name=\"{}\" data-class=\"{}\"><th scope=\"row\"><a href=\"{file}\">{}</a><span class=\"small\">{}</span></th>{}</tr>\n",
        code.in_file_names(),
        said(&overview.name(code).to_lowercase()),
        said(row.person.class().unwrap_or_default()),
        board.name(code),
        said(code.as_str()),
        cells.concat(),
    )
}

/// The day, or what there is so far, under a cell's word.
fn under(board: &Board<'_>, state: &State) -> String {
    let on = board.overview.on;
    let words = |day| day_in_words(day, on);
    let mut lines = Vec::new();
    match state.standing {
        Standing::Signed | Standing::Lapsed => {
            if let Some(signed) = &state.signed {
                lines.push(words(signed.on));
                if let Some(until) = signed.until {
                    let to = match (state.standing, state.lapses_within(on)) {
                        (Standing::Lapsed, _) => say!("board.was-valid-to"),
                        (_, Some(_)) => say!("board.lapses-after"),
                        _ => say!("board.valid-until"),
                    };
                    lines.push(format!("{to} {}", words(until)));
                }
            }
        }
        Standing::Ready => lines.extend(state.ready_until().map(|day| say!("board.until", until = words(day)))),
        Standing::Held => lines.push(match state.held.first() {
            Some(Held::Open { since, .. }) => say!("board.since", since = words(*since)),
            Some(Held::NeedWithdrawn(need)) => say!("board.need-withdrawn", need = board.overview.title(need)),
            Some(Held::NeedLapsed(need)) => say!("board.need-lapsed", need = board.overview.title(need)),
            Some(Held::NeedHeld(need)) => say!("board.need-held", need = board.overview.title(need)),
            None => String::new(),
        }),
        Standing::Open | Standing::Waiting => lines.extend(so_far(&state.evidence)),
    }
    if let Some(signed) = &state.signed {
        lines.extend(signed.despite.as_ref().map(|_| say!("board.despite")));
        let edition = &board.overview.programme.about.edition;
        let other = signed.edition.as_ref().filter(|label| *label != edition);
        lines.extend(other.map(|label| say!("board.edition", label = label)));
    }
    lines.iter().map(|line| format!("<span>{}</span>", said(line))).collect::<Vec<_>>().concat()
}

/// What there is of evidence, as short as it goes: `4 of 8 right, observed 1 of 2, 6 of 16 h`.
fn so_far(evidence: &Evidence) -> Option<String> {
    if !evidence.is_there() {
        return None;
    }
    let mut parts = Vec::new();
    if let Some(basis) = evidence.basis.marked.as_ref().filter(|_| !evidence.marked.trials.is_empty()) {
        parts.push(say!(
            "board.right-of-asked",
            right = evidence.marked.right,
            trials = evidence.marked.trials.len(),
            atleast = basis.at_least
        ));
    }
    if let Some(basis) = evidence.basis.observed.as_ref().filter(|_| evidence.observed.times > 0) {
        parts.push(say!("board.observed-of", times = evidence.observed.times, all = basis.times));
    }
    if let Some(hours) = evidence.basis.hours.filter(|_| evidence.hours.minutes > 0) {
        parts.push(say!("board.of-planned-hours", done = hours_in_words(evidence.hours.minutes), hours = hours));
    }
    (!parts.is_empty()).then(|| parts.join(", "))
}
