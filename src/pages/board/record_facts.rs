//! The evidence of a training record: every fact about a competency, with its
//! number. It stands on the screen only.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use jiff::civil::Date;

use super::record::Sheet;
use super::words::{bdi, day, mark_and_word, said, sentence, seqs_in_words};
use crate::ground::say;
use crate::pages::tongue::word;
use crate::records::{
    Code, History, HoldCause, Kept, Look, Marked, Observation, Person, Seq, Signoff, Sort, Spent, Word, Work,
    hours_in_words,
};

/// A row of the evidence.
struct Row {
    seq: Seq,
    on: Date,
    what: String,
    by: Code,
    late: bool,
    gone: Option<Seq>,
    note: Option<String>,
}

/// Evidence by competency, then by stage for hours on a whole stage.
pub(super) fn evidence(sheet: &Sheet<'_>) -> String {
    let overview = sheet.board.overview;
    let mut html = String::new();
    for stage in &overview.programme.stages {
        let _ = writeln!(html, "<h3 class=\"stage-{}\">{} {}</h3>", stage.number, stage.number, said(&stage.title));
        for (place, rule) in overview.stage(stage.id.as_str()) {
            let Some(state) = sheet.row.states.get(place) else { continue };
            let title = sheet.board.title(&rule.id);
            let names = sheet.names(place);
            let about =
                format!("<p>{}{}.</p>", mark_and_word(state.standing), sentence(&sheet.board.behind_the_word(state)));
            html += &section(&format!("competency-{}", rule.id), &title, &about, &rows(sheet, names));
        }
        let line: Word = stage.id.as_str().into();
        let hours = rows(sheet, std::slice::from_ref(&line));
        if !hours.is_empty() {
            let title = say!("board.as-a-whole", title = said(&stage.title));
            html += &section(&format!("line-{line}"), &title, "", &hours);
        }
    }
    for name in no_longer_taught(sheet) {
        let rows = rows(sheet, std::slice::from_ref(&name));
        let about = format!("<p>{}</p>", say!("board.no-longer-taught"));
        html += &section(&format!("competency-{}", said(&name)), &sheet.board.title(&name), &about, &rows);
    }
    html
}

/// Competencies on record that are in the curriculum under no name: a row each.
pub(super) fn retired(sheet: &Sheet<'_>) -> String {
    let person = sheet.person();
    let mut html = String::new();
    for name in no_longer_taught(sheet) {
        let Some(work) = person.work.get(&name) else { continue };
        let last = work.signoffs.iter().filter(|one| one.gone.is_none()).max_by_key(|one| (one.claim.seen_on, one.seq));
        let withdrawn = last.and_then(|last| work.withdrawals.iter().find(|one| one.is.signoff == last.seq));
        let (word, when, by, on) = match (last, withdrawn) {
            (Some(_), Some(gone)) => {
                (say!("board.withdrawn"), day(gone.claim.seen_on), sheet.board.name(&gone.claim.seen_by), String::new())
            }
            (Some(last), None) => {
                let edition = sheet.board.overview.history.edition_at(last.seq).map(|one| said(&one.label));
                let under = edition
                    .map(|label| format!(", {}", say!("board.under-edition", label = label)))
                    .unwrap_or_default();
                let on = format!("{}{under}", seqs_in_words(&last.is.rests_on));
                (say!("board.was-signed"), day(last.claim.seen_on), sheet.board.name(&last.claim.seen_by), on)
            }
            (None, _) => (say!("board.never-signed"), String::new(), String::new(), String::new()),
        };
        let _ = writeln!(
            html,
            "<tr class=\"said\"><th scope=\"row\"><a href=\"#competency-{0}\">{1}</a></th><td>{word}</td><td>{when}</td><td>{by}</td><td colspan=\"3\">{on}</td></tr>",
            said(&name),
            sheet.board.title(&name)
        );
    }
    html
}

fn no_longer_taught(sheet: &Sheet<'_>) -> Vec<Word> {
    let overview = sheet.board.overview;
    let known: BTreeSet<&str> = sheet.board.names.iter().flatten().map(|name| &**name).collect();
    let is_stage = |name: &str| overview.programme.stages.iter().any(|stage| stage.id.as_str() == name);
    sheet.person().work.keys().filter(|name| !known.contains(&***name) && !is_stage(name)).cloned().collect()
}

fn section(id: &str, title: &str, about: &str, rows: &[Row]) -> String {
    let mut html = format!("<section class=\"evidence\" id=\"{id}\"><h4>{title}</h4>{about}");
    if rows.is_empty() {
        return html + &format!("<p class=\"small\">{}</p></section>\n", say!("board.nothing-on-record"));
    }
    let _ = writeln!(
        html,
        "<table class=\"facts\"><caption class=\"spoken\">{}</caption><thead><tr><th scope=\"col\">{}</th><th scope=\"col\">{}</th><th scope=\"col\">{}</th><th scope=\"col\">{}</th></tr></thead><tbody>",
        say!("board.facts-about", title = title),
        say!("marked.fact"),
        say!("label.day"),
        say!("board.what"),
        say!("board.by"),
    );
    for row in rows {
        let late = if row.late { format!(" <b>{}</b>", say!("board.late")) } else { String::new() };
        let note = row.note.as_ref().map(|note| format!(": <bdi>{}</bdi>", said(note))).unwrap_or_default();
        let what = match row.gone {
            Some(gone) => say!("board.no-longer-counts", what = format_args!("<s>{}</s>", row.what), fact = gone),
            None => row.what.clone(),
        };
        let _ = writeln!(
            html,
            "<tr><td>{}</td><td>{}{late}</td><td>{what}{note}</td><td>{}</td></tr>",
            row.seq,
            day(row.on),
            bdi(row.by.as_str())
        );
    }
    html + "</tbody></table></section>\n"
}

/// All facts about a competency, under all its names, in order.
fn rows(sheet: &Sheet<'_>, names: &[Word]) -> Vec<Row> {
    let person = sheet.person();
    let mut rows = Vec::new();
    for (index, name) in names.iter().enumerate() {
        let Some(work) = person.work.get(name) else { continue };
        let before = rows.len();
        take(sheet, work, &mut rows);
        if index > 0 {
            for row in rows.iter_mut().skip(before) {
                let _ = write!(row.what, " {}", say!("board.then-called", name = said(name)));
            }
        }
    }
    rows.sort_by_key(|row| row.seq);
    rows
}

fn take(sheet: &Sheet<'_>, work: &Work, rows: &mut Vec<Row>) {
    fn row<T>(sheet: &Sheet<'_>, kept: &Kept<T>, what: String) -> Row {
        Row {
            seq: kept.seq,
            on: kept.claim.seen_on,
            what,
            by: kept.claim.seen_by.clone(),
            late: sheet.board.overview.history.is_late(kept),
            gone: kept.gone,
            note: sheet.board.note(kept.claim.note.as_ref()),
        }
    }
    rows.extend(work.hours.iter().map(|one| row(sheet, one, spent(&one.is))));
    rows.extend(work.observations.iter().map(|one| row(sheet, one, observed(&one.is))));
    rows.extend(work.marks.iter().map(|one| row(sheet, one, marked(&one.is))));
    rows.extend(work.requests.iter().map(|one| row(sheet, one, say!("board.asked-to-be"))));
    rows.extend(work.signoffs.iter().map(|one| row(sheet, one, signed(sheet, one))));
    let withdrawn = |one: &Kept<crate::records::Withdrawal>| say!("board.sign-off-withdrawn", signoff = one.is.signoff);
    rows.extend(work.withdrawals.iter().map(|one| row(sheet, one, withdrawn(one))));
    rows.extend(work.holds.iter().map(|one| {
        let why = if one.is.cause == HoldCause::SafetyOrder {
            say!("board.held-a-safety")
        } else {
            say!("board.held-plainly")
        };
        let of = one.is.of.map(|of| say!("board.of-fact", of = of)).unwrap_or_default();
        row(sheet, one, format!("{why}{of}"))
    }));
    rows.extend(work.releases.iter().map(|one| row(sheet, one, say!("board.hold-released", hold = one.is.hold))));
}

fn spent(is: &Spent) -> String {
    let sort = match is.sort {
        Sort::OnTheJob => say!("board.on-the-job"),
        Sort::Instruction => say!("board.of-instruction"),
        Sort::Prior => say!("board.credited-from-before"),
    };
    let clock = |written: &Word| written.get(11..16).unwrap_or_default().to_owned();
    let times = is
        .written
        .as_ref()
        .map(|(from, to)| say!("board.from-to", from = clock(from), to = clock(to)))
        .unwrap_or_default();
    say!(
        "board.h-supervising",
        hours = hours_in_words(u64::from(is.minutes)),
        sort = sort,
        times = said(&times),
        supervisor = bdi(is.supervisor.as_str())
    )
}

fn observed(is: &Observation) -> String {
    let list = |wanted: Look| -> Vec<String> {
        (1..).zip(&is.criteria).filter(|(_, look)| **look == wanted).map(|(n, _): (usize, _)| n.to_string()).collect()
    };
    let seen = list(Look::Seen).len();
    let mut words = say!("board.observed-of-criteria", seen = seen, criteria = is.criteria.len());
    for look in [Look::NotYet, Look::NotSeen] {
        let numbers = list(look);
        if !numbers.is_empty() {
            let _ = write!(words, ", {} {}", numbers.join(" "), word("look", look.words()));
        }
    }
    let material = is.material.as_deref().map(|one| format!(", {one}")).unwrap_or_default();
    let ink = is.ink.map(|ink| say!("board.ink", ink = word("ink", ink.words()))).unwrap_or_default();
    let aided = if is.aided { say!("board.with-help") } else { String::new() };
    said(&say!(
        "board.press-job",
        seen = words,
        press = is.press,
        job = is.job,
        material = material,
        ink = ink,
        aided = aided
    ))
}

fn marked(is: &Marked) -> String {
    let part = if is.parts > 1 { say!("board.part-of", part = is.part, parts = is.parts) } else { String::new() };
    said(&format!("{}, {}{part}: {}", is.quiz, is.exercise, word("mark", is.verdict.words())))
}

fn signed(sheet: &Sheet<'_>, one: &Kept<Signoff>) -> String {
    let facts = if one.is.rests_on.is_empty() { say!("board.no-fact") } else { seqs_in_words(&one.is.rests_on) };
    let signed_off = format!("<b>{}</b>", say!("board.signed-off"));
    let mut html = say!("board.acknowledged", signed = signed_off, day = day(one.is.acknowledged_on), facts = facts);
    if let Some(second) = &one.is.despite {
        let _ = write!(html, "; {}", say!("board.despite-missing-evidence", who = sheet.board.name(second)));
    }
    let edition = &sheet.board.overview.programme.about.edition;
    if let Some(other) = sheet.board.overview.history.edition_at(one.seq).filter(|other| other.label != *edition) {
        let _ = write!(html, "; {}", say!("board.under-edition", label = said(&other.label)));
    }
    html
}

/// A fact that was entered late.
pub(super) struct Late {
    pub(super) seq: Seq,
    pub(super) seen_on: Date,
    pub(super) entered_on: Date,
}

/// The facts about a person that were entered late, in order.
pub(super) fn late(history: &History, person: &Person) -> Vec<Late> {
    fn take<T>(history: &History, list: &[Kept<T>], into: &mut Vec<Late>) {
        into.extend(list.iter().filter(|one| history.is_late(one)).map(|one| Late {
            seq: one.seq,
            seen_on: one.claim.seen_on,
            entered_on: history.entered_on(one),
        }));
    }
    let mut found = Vec::new();
    take(history, &person.grants, &mut found);
    take(history, &person.moves, &mut found);
    take(history, &person.events, &mut found);
    for work in person.work.values() {
        take(history, &work.hours, &mut found);
        take(history, &work.observations, &mut found);
        take(history, &work.marks, &mut found);
        take(history, &work.requests, &mut found);
        take(history, &work.signoffs, &mut found);
        take(history, &work.withdrawals, &mut found);
        take(history, &work.holds, &mut found);
        take(history, &work.releases, &mut found);
    }
    found.sort_by_key(|one| one.seq);
    found
}
