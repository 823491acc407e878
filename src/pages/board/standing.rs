//! The standing list: what asks for someone, shortest time left first.

use jiff::civil::Date;
use serde_json::{Value, json};
use std::fmt::Write as _;

use super::plan_days::taught_on;
use super::record_facts::late;
use super::words::{bdi, capital, day, said, sentence};
use super::{Board, BoardPage, record_of};
use crate::ground::Fault;
use crate::ground::say;
use crate::pages::frame::{head_box, link};
use crate::records::{History, Person, Role, Rule, Signed, Standing, Standings, State, Word, day_in_words};

/// How many rows a list has at most; the stage tables have them all.
const MOST_ROWS: usize = 400;
/// After how many days without new evidence an open competency is listed.
const QUIET_DAYS: i32 = 42;

/// A row: what it is sorted by, and its cells as safe HTML.
type Row = (Option<Date>, String);

/// The page.
pub(super) fn page(board: &Board<'_>) -> Result<String, Box<Fault>> {
    let edition = board.overview.programme.about.edition.clone();
    let despite = |signed: &Signed| signed.despite.is_some();
    let other = |signed: &Signed| signed.edition.as_ref().is_some_and(|label| *label != edition);
    let lists = [
        list(
            "ready",
            &say!("board.ready-to-sign"),
            &[say!("label.apprentice"), say!("label.competency"), say!("label.until"), say!("board.rests-on")],
            ready(board),
        ),
        list(
            "lapsing",
            &say!("board.about-to-lapse"),
            &[say!("label.apprentice"), say!("label.competency"), say!("board.valid-to"), say!("board.for-renewal")],
            lapsing(board),
        ),
        list(
            "held",
            &say!("label.held"),
            &[say!("label.apprentice"), say!("label.competency"), say!("label.since"), say!("board.why")],
            held(board),
        ),
        list(
            "quiet",
            &say!("board.open-for-long"),
            &[say!("label.apprentice"), say!("label.competency"), say!("board.quiet-since"), say!("board.so-far")],
            quiet(board),
        ),
        list(
            "despite",
            &say!("board.signed-despite-missing-evidence"),
            &[say!("label.apprentice"), say!("label.competency"), say!("label.signed"), say!("board.by")],
            signed(board, &despite),
        ),
        list(
            "editions",
            &say!("board.signed-under-another"),
            &[say!("label.apprentice"), say!("label.competency"), say!("label.signed"), say!("board.by")],
            signed(board, &other),
        ),
        list(
            "late",
            &say!("board.with-facts-entered"),
            &[say!("label.apprentice"), say!("board.facts"), say!("board.longest"), say!("board.the-latest-of")],
            entered_late(board),
        ),
    ];
    let view = json!({ "lists": lists });
    let page = BoardPage {
        title: say!("board.standing-list"),
        kind: "standing-page",
        accent: String::new(),
        crumbs: vec![link(&say!("label.sign-off-board"), "index.html")],
        head: vec![head_box(&say!("label.programme"), &said(&board.overview.programme.about.title))],
        with_script: false,
        data_json: String::new(),
    };
    board.render("standing.html", "standing", view, page)
}

/// A list as the template takes it, the earliest day first.
fn list(id: &str, title: &str, columns: &[String; 4], mut rows: Vec<Row>) -> Value {
    rows.sort_by_key(|(day, _)| (day.is_none(), *day));
    let more = rows.len().saturating_sub(MOST_ROWS);
    json!({
        "id": id,
        "title": title,
        "count": rows.len().to_string(),
        "columns": columns,
        "rows_html": rows.iter().take(MOST_ROWS).map(|(_, html)| html.as_str()).collect::<String>(),
        "more": if more == 0 { String::new() } else { say!("board.and-more-the", more = more) },
    })
}

/// Everyone's states that are wanted, as rows with two more cells.
fn rows(
    board: &Board<'_>,
    cells: impl Fn(&Standings<'_>, &Rule, usize, &State) -> Option<(Option<Date>, String, String)>,
) -> Vec<Row> {
    let mut rows = Vec::new();
    for row in &board.overview.rows {
        for (place, (rule, state)) in board.overview.rules.competencies.iter().zip(&row.states).enumerate() {
            let Some((by, third, fourth)) = cells(row, rule, place, state) else { continue };
            let html = format!(
                "<tr>{}<td><a href=\"{}#competency-{}\">{}</a></td><td>{third}</td><td>{fourth}</td></tr>\n",
                who(board, row.person),
                record_of(&row.person.code),
                rule.id,
                board.title(&rule.id)
            );
            rows.push((by, html));
        }
    }
    rows
}

fn who(board: &Board<'_>, person: &Person) -> String {
    let class = person.class().map(|class| format!(" · {}", said(class))).unwrap_or_default();
    format!(
        "<th scope=\"row\"><a href=\"{}\">{}</a> <span class=\"small\">{}{class}</span></th>",
        record_of(&person.code),
        board.name(&person.code),
        said(person.code.as_str())
    )
}

fn evidence(board: &Board<'_>, state: &State) -> String {
    sentence(&capital(&board.words(|wording| wording.evidence(&state.evidence))))
}

fn ready(board: &Board<'_>) -> Vec<Row> {
    rows(board, |_, _, _, state| {
        if !state.may_sign {
            return None;
        }
        let until = state.ready_until();
        let tag = |words: String| format!(" <span class=\"tag\">{words}</span>");
        let asked = if state.frozen.is_some() { tag(say!("board.asked-for")) } else { String::new() };
        let renews = if state.standing == Standing::Ready { String::new() } else { tag(say!("board.renewal")) };
        // A renewal of what is valid for long yet is no news.
        if state.standing == Standing::Signed && state.lapses_within(board.overview.on).is_none() {
            return None;
        }
        let until_words = until.map_or_else(|| say!("board.no-end"), day);
        Some((until, format!("{until_words}{asked}{renews}"), evidence(board, state)))
    })
}

fn lapsing(board: &Board<'_>) -> Vec<Row> {
    let on = board.overview.on;
    rows(board, |_, _, _, state| {
        let until = state.signed.as_ref()?.until?;
        let left = on.until(until).ok()?.get_days();
        let words = match (state.lapses_within(on), left) {
            (Some(0), _) => "today".to_owned(),
            (Some(1), _) => "tomorrow".to_owned(),
            (Some(days), _) => say!("board.days-left", days = days),
            (None, left) if left < 0 => "lapsed".to_owned(),
            (None, _) => return None,
        };
        Some((Some(until), format!("{} <span class=\"tag\">{words}</span>", day(until)), evidence(board, state)))
    })
}

fn held(board: &Board<'_>) -> Vec<Row> {
    rows(board, |row, _, place, state| {
        if state.standing != Standing::Held {
            return None;
        }
        let open = state.held.iter().find_map(|held| match held {
            crate::records::Held::Open { seq, since, .. } => Some((*seq, *since)),
            _ => None,
        });
        let note = open.and_then(|(seq, _)| {
            let work = row.person.work_in(board.names.get(place)?);
            let hold = work.flat_map(|work| &work.holds).find(|hold| hold.seq == seq)?;
            board.note(hold.claim.note.as_ref())
        });
        let note = note.map(|note| format!(" <bdi>{}</bdi>", said(&note))).unwrap_or_default();
        let why = sentence(&capital(&board.words(|wording| wording.why_held(state))));
        let since = open.map(|(_, since)| since);
        Some((since, since.map_or_else(|| "–".to_owned(), day), format!("{why}.{note}")))
    })
}

fn quiet(board: &Board<'_>) -> Vec<Row> {
    let overview = board.overview;
    rows(board, |row, rule, place, state| {
        let away = row.person.away_since(overview.on, History::NOW).is_some();
        if state.standing != Standing::Open
            || away
            || row.person.grant(Role::Apprentice, overview.on, History::NOW).is_none()
        {
            return None;
        }
        let heard = last_heard(board, row, rule, board.names.get(place)?, state)?;
        let days = heard.until(overview.on).ok()?.get_days();
        let words = format!(
            "{} <span class=\"tag\">{}</span>",
            day(heard),
            say!("count.weeks", n = usize::try_from(days / 7).unwrap_or(0))
        );
        (days >= QUIET_DAYS).then(|| (Some(heard), words, evidence(board, state)))
    })
}

/// The last day on which anything happened that someone could have built on:
/// evidence, a need signed, a withdrawal, the first day, a return, the
/// teaching. `None` if it was not taught yet.
fn last_heard(board: &Board<'_>, row: &Standings<'_>, rule: &Rule, names: &[Word], state: &State) -> Option<Date> {
    let (overview, person) = (board.overview, row.person);
    let mut days: Vec<Date> = Vec::new();
    for work in person.work_in(names) {
        days.extend(work.hours.iter().filter(|one| one.gone.is_none()).map(|one| one.claim.seen_on));
        days.extend(work.observations.iter().filter(|one| one.gone.is_none()).map(|one| one.claim.seen_on));
        days.extend(work.marks.iter().filter(|one| one.gone.is_none()).map(|one| one.claim.seen_on));
    }
    if days.is_empty() {
        days.push(taught_on(overview, &rule.id, person.class()).filter(|day| *day <= overview.on)?);
    }
    days.extend(person.grant(Role::Apprentice, overview.on, History::NOW).map(|grant| grant.is.from));
    days.extend(person.moves.iter().filter(|one| one.gone.is_none() && !one.is.away).map(|one| one.is.from));
    days.extend(state.withdrawn.map(|(_, day)| day));
    let needs = overview.rules.competencies.iter().zip(&row.states).filter(|(other, _)| rule.needs.contains(&other.id));
    days.extend(needs.filter_map(|(_, state)| state.signed.as_ref()).map(|signed| signed.on));
    days.into_iter().filter(|day| *day <= overview.on).max()
}

fn signed(board: &Board<'_>, wanted: &dyn Fn(&Signed) -> bool) -> Vec<Row> {
    rows(board, |row, _, place, state| {
        let signed = state.signed.as_ref().filter(|signed| wanted(signed))?;
        let mut words = board.name(&signed.by);
        if let Some(second) = &signed.despite {
            let _ = write!(words, ", {}", say!("board.standing-by-it", who = board.name(second)));
            let work = row.person.work_in(board.names.get(place)?);
            let fact = work.flat_map(|work| &work.signoffs).find(|one| one.seq == signed.seq);
            let note = fact.and_then(|fact| board.note(fact.claim.note.as_ref()));
            words += &note.map(|note| format!(": <bdi>{}</bdi>", said(&note))).unwrap_or_default();
        }
        let edition = &board.overview.programme.about.edition;
        if let Some(label) = signed.edition.as_ref().filter(|label| *label != edition) {
            let _ = write!(words, " <span class=\"tag\">{}</span>", say!("board.edition", label = said(label)));
        }
        Some((Some(signed.on), day(signed.on), words))
    })
}

fn entered_late(board: &Board<'_>) -> Vec<Row> {
    let history = board.overview.history;
    let mut rows = Vec::new();
    for row in &board.overview.rows {
        let late = late(history, row.person);
        let days =
            |one: &super::record_facts::Late| one.seen_on.until(one.entered_on).map_or(0, |span| span.get_days());
        let (Some(longest), Some(last)) = (late.iter().map(days).max(), late.last()) else { continue };
        let on = board.overview.on;
        let last_words = say!(
            "board.fact-of-entered",
            seq = last.seq,
            on = day_in_words(last.seen_on, on),
            entered = day_in_words(last.entered_on, on)
        );
        let html = format!(
            "<tr>{}<td>{}</td><td>{}</td><td>{}</td></tr>\n",
            who(board, row.person),
            say!("count.facts", n = late.len()),
            say!("board.days-after", n = usize::try_from(longest).unwrap_or(0)),
            bdi(&last_words)
        );
        rows.push((None, html));
    }
    rows
}
