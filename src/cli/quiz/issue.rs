//! Issuing a quiz, building it again, rehearsing one.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use jiff::ToSpan;
use serde_json::json;

use super::super::arguments::QuizArguments;
use super::super::keeping::{Keeping, names_by_code, refusal, trouble};
use super::super::out::{Ended, Out};
use super::super::record::who_enters;
use super::build::{Dockets, build};
use super::{Known, composed, history, snapshot};
use crate::ground::Faults;
use crate::measure::{DecimalMark, Reading, read, unit};
use crate::programme::{Plan, Weeks};
use crate::quiz::{Composition, Drawn, Issued, Issuing, Place, Snapshot, issue as pull};
use crate::records::{Code, Desk, History, MachineSalts, Role, Store};

/// The most that an allowance adds to the time, as a share of it.
const MOST_MORE: f64 = 3.0;

/// Composes, puts on record, and builds.
pub(super) fn issue(arguments: &QuizArguments, keeping: &Keeping, out: &mut Out) -> Result<Ended, Ended> {
    // Opening says how records are started where there are none.
    let mut store = keeping.open(out)?;
    let known = Known::read(keeping, out)?;
    let Some(past) = &known.history else { return Err(Ended::Usage) };
    let week = match arguments.week {
        Some(week) => week,
        None => super::this_week(keeping, out)?,
    };
    let id = match name_of_next(past, keeping.programme.plan.as_ref(), week) {
        (id, None) => id,
        (id, Some(_)) if arguments.another => id,
        (_, Some(last)) => return issued_already(keeping, &store, past, &last, &arguments.output, out),
    };
    let composition = composed(arguments, keeping, &known, out)?;
    let entered_by = who_enters(keeping, &store, arguments.entered_by.as_deref(), None, out)?;
    let places = places(arguments, keeping, Some(past), &composition, out)?;
    let issued = pulled(arguments, keeping, &composition, &id, &places, &mut Drawn::Fresh, out)?;
    let mut salts = MachineSalts;
    let mut desk = Desk { programme: &keeping.programme, now: keeping.now, salts: &mut salts, dry_run: false };
    let kept = desk.record_with(&mut store, |writer, _| issued.keep(&keeping.programme, &entered_by, writer));
    kept.map_err(|wrong| refusal(&wrong, out))?;
    built(keeping, &store, past, &issued.snapshot, &arguments.output, out)
}

/// How many days before the plan's first day a quiz of its first weeks may be issued.
const AHEAD: i64 = 28;

/// The name of the next quiz of a week, and the last one of it this year if
/// there is any. Where a quiz of an earlier year has the name, the year in which
/// this one's plan begins stands with it.
fn name_of_next(history: &History, plan: Option<&Plan>, week: u32) -> (String, Option<String>) {
    let begins = plan.and_then(|plan| Weeks::of(plan).ok()?.first_day(1));
    let issued_on =
        |name: &str| history.quizzes.iter().find(|issued| *issued.is.quiz == *name).map(|issued| issued.claim.seen_on);
    let plain = format!("week-{week}");
    let first = match (issued_on(&plain), begins) {
        (Some(then), Some(begins)) if then < begins.saturating_sub(AHEAD.days()) => {
            format!("{plain}-{}", begins.year())
        }
        _ => plain,
    };
    let mut last = None;
    let mut next = first.clone();
    let mut number = 1;
    while issued_on(&next).is_some() {
        number += 1;
        last = Some(std::mem::replace(&mut next, format!("{first}-{number}")));
    }
    (next, last)
}

/// A week that has a quiz: what is missing of it is built again; nothing else happens.
fn issued_already(
    keeping: &Keeping,
    store: &Store,
    history: &History,
    quiz: &str,
    output: &Path,
    out: &mut Out,
) -> Result<Ended, Ended> {
    let kept = snapshot(store, history, quiz, out)?;
    let [dockets, key] = folders(output, quiz);
    if dockets.is_dir() && key.is_dir() {
        let mend = format!("`--again {quiz}` builds its files again, `--another` issues a second one");
        return Err(out.usage(&format!("the quiz `{quiz}` is issued already, in {}", dockets.display()), &mend));
    }
    out.note(&format!("The quiz `{quiz}` is on record already; its files were missing and are built again."));
    built(keeping, store, history, &kept, output, out)
}

/// Builds the files of an issued quiz again.
pub(super) fn again(keeping: &Keeping, quiz: &str, output: &Path, out: &mut Out) -> Result<Ended, Ended> {
    let store = keeping.open(out)?;
    let history = history(keeping, &store, out)?;
    let kept = snapshot(&store, &history, quiz, out)?;
    built(keeping, &store, &history, &kept, output, out)
}

/// Builds a quiz that is never recorded.
pub(super) fn rehearse(
    arguments: &QuizArguments,
    keeping: &Keeping,
    seed: &str,
    out: &mut Out,
) -> Result<Ended, Ended> {
    let known = Known::read(keeping, out)?;
    let composition = composed(arguments, keeping, &known, out)?;
    let places = places(arguments, keeping, known.history.as_ref(), &composition, out)?;
    let id = format!("rehearsal-week-{}", composition.week);
    let issued = pulled(arguments, keeping, &composition, &id, &places, &mut Drawn::rehearsed(seed), out)?;
    let names = match known.store.as_ref().zip(known.history.as_ref()) {
        Some((store, history)) => names_by_code(history, store).map_err(|wrong| trouble(&wrong, out))?,
        None => BTreeMap::new(),
    };
    build(keeping, &issued.snapshot, Dockets::InHand(&issued.dockets), &names, &arguments.output, out)?;
    out.note("A rehearsal: it is not on record, and cannot be marked.");
    Ok(list(&issued.snapshot, &arguments.output, None, out))
}

fn pulled(
    arguments: &QuizArguments,
    keeping: &Keeping,
    composition: &Composition,
    id: &str,
    places: &[Place],
    drawn: &mut Drawn,
    out: &mut Out,
) -> Result<Issued, Ended> {
    let issuing = Issuing {
        programme: &keeping.programme,
        composition,
        quiz: id,
        day: keeping.today,
        places,
        seed: &arguments.seed,
        rehearsal: arguments.rehearse.is_some(),
    };
    pull(&issuing, drawn).map_err(|Faults(faults)| {
        let machine = faults.iter().any(|fault| fault.kind == "machine");
        faults.iter().for_each(|fault| out.fault(fault));
        if machine { Ended::Machine } else { Ended::Content }
    })
}

/// A docket for each apprentice who is there today, then the blank ones.
fn places(
    arguments: &QuizArguments,
    keeping: &Keeping,
    history: Option<&History>,
    composition: &Composition,
    out: &mut Out,
) -> Result<Vec<Place>, Ended> {
    let more = more_time(&arguments.more_time, out)?;
    let present = history.into_iter().flat_map(|history| history.people.values());
    let present: Vec<&Code> = present
        .filter(|person| person.is(Role::Apprentice, keeping.today, History::NOW))
        .map(|person| &person.code)
        .collect();
    if let Some(code) = more.keys().find(|code| !present.contains(code)) {
        let mend = "give the code of an apprentice who is there today";
        return Err(out.usage(&format!("{code} gets no docket today, so there is no time to add to"), mend));
    }
    // What was composed fits into the time; where little may come, little time is given.
    let usual = if composition.short.is_some() { composition.minutes } else { composition.wanted };
    let allowed = |code: &Code| more.get(code).map_or(usual, |share| longer(usual, *share));
    let named = present.into_iter().map(|code| Place { person: Some(code.clone()), minutes: allowed(code) });
    let blank = (0..arguments.blank).map(|_| Place { person: None, minutes: usual });
    let places: Vec<Place> = named.chain(blank).collect();
    if places.is_empty() {
        let mend = "enter the class (`gearside record person CODE --role apprentice …`), or say --blank N";
        return Err(out.usage("there is nobody to issue a quiz to: no apprentice is there today", mend));
    }
    Ok(places)
}

/// Minutes with an allowance, rounded up.
fn longer(minutes: u32, share: f64) -> u32 {
    let tenths = (share * 1000.0).round().max(0.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of at most 300 %")]
    let permille = tenths as u32;
    minutes + (minutes * permille).div_ceil(1000)
}

/// The allowances, as `a-3=25%`.
fn more_time(given: &[String], out: &mut Out) -> Result<BTreeMap<Code, f64>, Ended> {
    let mut more = BTreeMap::new();
    for text in given {
        let parts = text.split_once('=').and_then(|(code, share)| Some((Code::parse(code.trim()).ok()?, share)));
        let share = parts.and_then(|(code, share)| Some((code, share_of(share)?)));
        let Some((code, share)) = share else {
            let mend = "write the code and the share of the time to add, such as --more-time a-3=25%";
            return Err(out.usage(&format!("`{text}` is no allowance of up to 300 %"), mend));
        };
        more.insert(code, share);
    }
    Ok(more)
}

fn share_of(text: &str) -> Option<f64> {
    let percent = unit("%").ok()?;
    match read(text, percent, DecimalMark::Point) {
        Reading::Value { value, .. } if (0.0..=100.0 * MOST_MORE).contains(&value) => Some(value / 100.0),
        _ => None,
    }
}

/// The folders of a quiz: its dockets, and the instructor's.
pub(super) fn folders(output: &Path, quiz: &str) -> [PathBuf; 2] {
    [output.join(quiz), output.join(format!("{quiz}-key"))]
}

/// Builds a quiz that is on record, and says so.
fn built(
    keeping: &Keeping,
    store: &Store,
    history: &History,
    quiz: &Snapshot,
    output: &Path,
    out: &mut Out,
) -> Result<Ended, Ended> {
    let names = names_by_code(history, store).map_err(|wrong| trouble(&wrong, out))?;
    build(keeping, quiz, Dockets::Kept(store), &names, output, out)?;
    let head = store.read().head().map_err(|wrong| trouble(&wrong, out))?;
    Ok(list(quiz, output, Some(&head), out))
}

/// Says what was built.
fn list(quiz: &Snapshot, output: &Path, head: Option<&crate::records::Head>, out: &mut Out) -> Ended {
    let [dockets, key] = folders(output, &quiz.head.quiz);
    if out.json {
        let codes = quiz.dockets.iter().enumerate().map(|(place, seat)| {
            json!({ "docket": seat.docket, "person": seat.person, "minutes": seat.minutes,
                    "file": format!("docket-{}.html", quiz.file_name(place)) })
        });
        out.value(&json!({
            "quiz": quiz.head.quiz, "dockets": dockets.display().to_string(), "key": key.display().to_string(),
            "composition": quiz.composition, "gave_way": quiz.gave_way, "issued": codes.collect::<Vec<_>>(),
            "head": head.map(crate::records::Head::shown), "faults": out.faults_json(),
        }));
        return Ended::Done;
    }
    out.line(&dockets.display().to_string());
    out.line(&key.display().to_string());
    let composition = &quiz.composition;
    out.note(&format!(
        "{}: {} dockets, {} exercises, {} minutes. The second folder is yours alone: keys, marking.csv, the plan.",
        quiz.head.quiz,
        quiz.dockets.len(),
        composition.picks.len(),
        composition.minutes
    ));
    for one in &composition.gave_way {
        out.note(&format!("Gave way: {} ({})", one.constraint.word(), one.words));
    }
    composition.short.iter().chain(&quiz.gave_way).for_each(|words| out.note(words));
    if let Some(head) = head {
        out.note(&format!("head {}", head.shown()));
    }
    Ended::Done
}
