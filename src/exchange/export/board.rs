//! The board as a table and as JSON: a row for each apprentice and competency.

use jiff::civil::Date;
use serde::Serialize;

use super::super::table::write;
use super::tables::decimal;
use crate::records::{Code, Overview, Rule, Standing, Standings, State, Wording};

const HEADER: [&str; 18] = [
    "code",
    "name",
    "class",
    "stage",
    "competency",
    "standing",
    "reason",
    "until",
    "signed_on",
    "signed_by",
    "edition",
    "signed_as",
    "right",
    "of",
    "days",
    "sureness",
    "observed",
    "hours",
];

/// One apprentice's standing in one competency.
#[derive(Debug, Serialize)]
struct BoardRow {
    code: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    name: Option<String>,
    class: Option<String>,
    stage: String,
    competency: String,
    standing: &'static str,
    reason: String,
    until: Option<Date>,
    signed_on: Option<Date>,
    signed_by: Option<String>,
    edition: Option<String>,
    signed_as: Option<u64>,
    right: Option<usize>,
    of: Option<usize>,
    days: Option<usize>,
    sureness: Option<f64>,
    observed: Option<usize>,
    hours: Option<f64>,
}

/// The board as JSON.
#[derive(Debug, Serialize)]
struct Board<'o> {
    on: Date,
    edition: &'o str,
    head: String,
    rows: Vec<BoardRow>,
}

/// The board as CSV: a row for each apprentice and competency, with the reason
/// in words and the evidence in numbers. Names only if they are asked for;
/// else people are called by their codes, in reasons as well.
///
/// `right` of `of` sealed exercises on `days` days, with the `sureness` they
/// give (empty without any); how often `observed`; `hours` on the job. Where
/// something is signed they are empty: `signed_as` is the fact that tells what it rests on.
#[must_use]
pub fn board_csv(overview: &Overview<'_>, names: bool) -> Vec<u8> {
    let columns: Vec<&str> = HEADER.into_iter().filter(|column| names || *column != "name").collect();
    table(&columns, &rows(overview, names, None), overview.programme.about.decimal_comma)
}

/// The same as JSON: day, edition and head of the chain, then `rows` with the
/// keys of [`board_csv`]'s columns.
#[must_use]
pub fn board_json(overview: &Overview<'_>, names: bool) -> String {
    let board = Board {
        on: overview.on,
        edition: &overview.programme.about.edition,
        head: overview.history.head.shown(),
        rows: rows(overview, names, None),
    };
    serde_json::to_string_pretty(&board).unwrap_or_default()
}

/// The states of everyone, or of one person. No names: those have a file of their own.
pub(super) fn states_csv(overview: &Overview<'_>, person: Option<&Code>) -> Vec<u8> {
    let columns: Vec<&str> = HEADER.into_iter().filter(|column| *column != "name").collect();
    table(&columns, &rows(overview, false, person), overview.programme.about.decimal_comma)
}

fn rows(overview: &Overview<'_>, names: bool, person: Option<&Code>) -> Vec<BoardRow> {
    let title = |id: &str| overview.title(id);
    let name = |code: &Code| if names { overview.name(code) } else { code.to_string() };
    let edition = &overview.programme.about.edition;
    let wording = Wording { title: &title, name: &name, today: overview.on, edition };
    let wanted = overview.rows.iter().filter(|one| person.is_none_or(|code| *code == one.person.code));
    wanted
        .flat_map(|standings| {
            let places = overview.rules.competencies.iter().zip(&standings.states);
            places.map(|(rule, state)| row(standings, rule, state, &wording, names)).collect::<Vec<_>>()
        })
        .collect()
}

fn row(standings: &Standings<'_>, rule: &Rule, state: &State, wording: &Wording<'_>, names: bool) -> BoardRow {
    let code = &standings.person.code;
    let signed = state.signed.as_ref();
    // Of what is signed, the numbers would be those since then, for its renewal: the fact tells more.
    let evidence = Some(&state.evidence).filter(|_| signed.is_none());
    BoardRow {
        code: code.to_string(),
        name: names.then(|| (wording.name)(code)),
        class: standings.person.class().map(str::to_owned),
        stage: rule.stage.to_string(),
        competency: rule.id.to_string(),
        standing: state.standing.word(),
        reason: wording.reason(state),
        until: match state.standing {
            Standing::Ready => state.ready_until(),
            _ => signed.and_then(|signed| signed.until),
        },
        signed_on: signed.map(|signed| signed.on),
        signed_by: signed.map(|signed| (wording.name)(&signed.by)),
        edition: signed.and_then(|signed| signed.edition.clone()),
        signed_as: signed.map(|signed| signed.seq),
        right: evidence.map(|evidence| evidence.marked.right),
        of: evidence.map(|evidence| evidence.marked.trials.len()),
        days: evidence.map(|evidence| evidence.marked.days),
        sureness: evidence
            .filter(|evidence| !evidence.marked.trials.is_empty())
            .map(|evidence| rounded(evidence.marked.sureness, 1000.0)),
        observed: evidence.map(|evidence| evidence.observed.times),
        hours: evidence.map(|evidence| hours(evidence.hours.minutes)),
    }
}

#[expect(clippy::cast_precision_loss, reason = "nobody works 2^52 minutes")]
fn hours(minutes: u64) -> f64 {
    rounded(minutes as f64 / 60.0, 100.0)
}

fn rounded(value: f64, places: f64) -> f64 {
    (value * places).round() / places
}

fn table(columns: &[&str], rows: &[BoardRow], comma: bool) -> Vec<u8> {
    let cells = |row: &BoardRow| {
        let text = |value: &Option<String>| value.clone().unwrap_or_default();
        let count = |value: Option<usize>| value.map(|count| count.to_string()).unwrap_or_default();
        let day = |value: Option<Date>| value.map(|day| day.to_string()).unwrap_or_default();
        let all = [
            row.code.clone(),
            text(&row.name),
            text(&row.class),
            row.stage.clone(),
            row.competency.clone(),
            row.standing.to_owned(),
            row.reason.clone(),
            day(row.until),
            day(row.signed_on),
            text(&row.signed_by),
            text(&row.edition),
            row.signed_as.map(|seq| seq.to_string()).unwrap_or_default(),
            count(row.right),
            count(row.of),
            count(row.days),
            row.sureness.map(|sureness| decimal(sureness, comma)).unwrap_or_default(),
            count(row.observed),
            row.hours.map(|hours| decimal(hours, comma)).unwrap_or_default(),
        ];
        HEADER.iter().zip(all).filter(|(column, _)| columns.contains(column)).map(|(_, cell)| cell).collect()
    };
    write(columns, &rows.iter().map(cells).collect::<Vec<Vec<String>>>())
}
