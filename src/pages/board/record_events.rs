//! The timeline of a training record: what happened, apart from the evidence.

use jiff::civil::Date;
use std::fmt::Write as _;

use super::record::Sheet;
use super::words::{bdi, capital, day, said};
use crate::records::{Claim, HoldCause, Kept, Role, Seq};

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
        let _ = write!(html, "<li class=\"on-paper\">and {earlier} earlier, in the records</li>");
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
        Some(gone) => format!("<s>{html}</s> (corrected by {gone})"),
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
        let class = grant.is.class.as_deref().map(|class| format!(", class {}", bdi(class))).unwrap_or_default();
        let until = grant.is.until.map(|until| format!(" until {}", day(until))).unwrap_or_default();
        let an = if matches!(grant.is.role, Role::Apprentice | Role::Assessor | Role::Instructor) { "an" } else { "a" };
        let html = format!("From now on {an} {}{class}{until}", grant.is.role.word());
        list.push(happened(sheet, grant, grant.is.from, html));
    }
    for one in &person.moves {
        let html = if one.is.away { "Goes away" } else { "Is back" };
        list.push(happened(sheet, one, one.is.from, html.to_owned()));
    }
    for event in &person.events {
        list.push(happened(sheet, event, event.claim.seen_on, said(&capital(&event.is.event))));
    }
    for one in &person.corrections {
        let what = if one.is.struck_out { "is struck out" } else { "is corrected" };
        let html = format!("Fact {} ({}) {what}", one.is.seq, said(&one.is.kind));
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
                HoldCause::SafetyOrder => ": a safety order was broken in a quiz",
                HoldCause::Other => "",
            };
            list.push(happened(sheet, one, one.claim.seen_on, format!("Held: {title}{why}")));
        }
        for one in &work.releases {
            let html = format!("Released by {}: {title} (hold {})", by(sheet, &one.claim), one.is.hold);
            list.push(happened(sheet, one, one.claim.seen_on, html));
        }
        for one in &work.withdrawals {
            let html = format!("Withdrawn by {}: {title} (sign-off {})", by(sheet, &one.claim), one.is.signoff);
            list.push(happened(sheet, one, one.claim.seen_on, html));
        }
        for one in work.signoffs.iter().filter(|one| one.is.despite.is_some()) {
            let html = format!("Signed despite missing evidence: {title}");
            list.push(happened(sheet, one, one.claim.seen_on, html));
        }
    }
    list
}
