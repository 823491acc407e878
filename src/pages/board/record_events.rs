//! The timeline of a training record: what happened, apart from the evidence.

use jiff::civil::Date;
use std::fmt::Write as _;

use super::record::Sheet;
use super::words::{bdi, capital, day, said};
use crate::ground::say;
use crate::pages::tongue::word;
use crate::records::{Claim, HoldCause, Kept, Seq};

/// How long a text may be that stands on the printed page.
const NOTE_LETTERS: usize = 80;
/// How many events stand on paper at least, and at most.
const FEWEST: usize = 8;
const MOST: usize = 40;

/// Something that happened.
struct Happened {
    on: Date,
    seq: Seq,
    html: String,
    note: Option<String>,
}

/// The timeline, earliest first. On paper stand the latest of it.
pub(super) fn timeline(sheet: &Sheet<'_>, printed_rows: usize) -> String {
    let mut list = about_the_person(sheet);
    list.extend(about_the_work(sheet));
    list.sort_by_key(|one| (one.on, one.seq));
    // Two pages have about 140 lines. A third of them is head, stages, hours and signatures; a row wraps now
    // and then; an event has up to three lines in one of two columns.
    let left = 96_usize.saturating_sub(printed_rows * 27 / 20);
    let on_paper = (left * 4 / 5).clamp(FEWEST, MOST);
    let earlier = list.len().saturating_sub(on_paper);
    let mut html = String::new();
    for (place, one) in list.iter().enumerate() {
        let class = if place < earlier { " class=\"on-screen\"" } else { "" };
        let _ = writeln!(
            html,
            "<li{class}><time datetime=\"{}\">{}</time> <span>{}{}</span> <span class=\"fact\">{}</span></li>",
            one.on,
            day(one.on),
            one.html,
            note_html(one.note.as_deref()),
            one.seq
        );
    }
    if earlier > 0 {
        let _ = write!(html, "<li class=\"on-paper\">{}</li>", say!("board.earlier", n = earlier));
    }
    html
}

fn note_html(note: Option<&str>) -> String {
    let Some(note) = note else { return String::new() };
    let short: String = note.chars().take(NOTE_LETTERS).collect();
    if short.len() == note.len() {
        return format!(": <bdi>{}</bdi>", said(note));
    }
    format!(": <bdi class=\"on-screen\">{}</bdi><bdi class=\"on-paper\">{} …</bdi>", said(note), said(short.trim_end()))
}

fn happened<T>(sheet: &Sheet<'_>, kept: &Kept<T>, on: Date, html: String) -> Happened {
    let note = sheet.board.note(kept.claim.note.as_ref());
    let html = match kept.gone {
        Some(gone) => say!("board.corrected-by", what = format_args!("<s>{html}</s>"), fact = gone),
        None => html,
    };
    Happened { on, seq: kept.seq, html, note }
}

fn by(sheet: &Sheet<'_>, claim: &Claim) -> String {
    sheet.board.name(&claim.seen_by)
}

fn about_the_person(sheet: &Sheet<'_>) -> Vec<Happened> {
    let person = sheet.person();
    let mut list = Vec::new();
    for grant in &person.grants {
        let class =
            grant.is.class.as_deref().map(|class| say!("board.of-class", class = bdi(class))).unwrap_or_default();
        let until = grant.is.until.map(|until| say!("board.until-then", until = day(until))).unwrap_or_default();
        let html = format!("{}{class}{until}", word("from-now-on", grant.is.role.word()));
        list.push(happened(sheet, grant, grant.is.from, html));
    }
    for one in &person.moves {
        let html = if one.is.away { say!("board.goes-away") } else { say!("board.is-back") };
        list.push(happened(sheet, one, one.is.from, html));
    }
    for event in &person.events {
        list.push(happened(sheet, event, event.claim.seen_on, said(&capital(&event.is.event))));
    }
    for one in &person.corrections {
        let what = if one.is.struck_out { say!("board.is-struck-out") } else { say!("board.is-corrected") };
        let html = say!("board.fact", seq = one.is.seq, kind = said(&one.is.kind), what = what);
        list.push(happened(sheet, one, one.claim.seen_on, html));
    }
    list
}

fn about_the_work(sheet: &Sheet<'_>) -> Vec<Happened> {
    let mut list = Vec::new();
    for (name, work) in &sheet.person().work {
        let title = sheet.board.title(name);
        for one in &work.holds {
            let why = match one.is.cause {
                HoldCause::SafetyOrder => say!("board.a-safety-order"),
                HoldCause::Other => String::new(),
            };
            list.push(happened(sheet, one, one.claim.seen_on, say!("board.held", title = title, why = why)));
        }
        for one in &work.releases {
            let html = say!("board.released-by-hold", who = by(sheet, &one.claim), title = title, hold = one.is.hold);
            list.push(happened(sheet, one, one.claim.seen_on, html));
        }
        for one in &work.withdrawals {
            let html =
                say!("board.withdrawn-by-sign", who = by(sheet, &one.claim), title = title, signoff = one.is.signoff);
            list.push(happened(sheet, one, one.claim.seen_on, html));
        }
        for one in work.signoffs.iter().filter(|one| one.is.despite.is_some()) {
            let html = say!("board.signed-despite-missing", title = title);
            list.push(happened(sheet, one, one.claim.seen_on, html));
        }
    }
    list
}
