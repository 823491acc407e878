//! `gearside record`: puts facts on record, one or a CSV file of them.

mod cells;
mod change;
mod drafts;
mod mark;

use std::path::Path;

use serde_json::json;

use self::cells::Cells;
use super::arguments_record::{FromFile, RecordCommand, Said, SignoffArguments};
use super::keeping::{Keeping, refusal, trouble};
use super::out::{Ended, Out};
use crate::exchange::imports::{self, Batch, Defaults};
use crate::exchange::table::{self, Table, Unread};
use crate::ground::{Fault, Place, nearest_name};
use crate::records::{
    Ask, Code, Derivation, Desk, Draft, History, MachineSalts, Matter, Outcome, Role, Rules, Store, Wording,
};

/// Reads a table into drafts of one kind.
type Import = fn(&Table, &Defaults<'_>) -> Batch;

/// A command line that can also come as a file.
struct Entry<'a> {
    import: Import,
    cells: Cells,
    said: &'a Said,
    file: Option<&'a FromFile>,
    /// The role of people whose row gives none.
    role: Option<&'a str>,
}

pub(super) fn run(command: &RecordCommand, programme: Option<&Path>, out: &mut Out) -> Ended {
    record(command, programme, out).unwrap_or_else(|ended| ended)
}

fn record(command: &RecordCommand, programme: Option<&Path>, out: &mut Out) -> Result<Ended, Ended> {
    let with_banks = matches!(command, RecordCommand::Judged(_));
    let keeping = Keeping::load(programme, with_banks, out)?;
    let starts = matches!(command, RecordCommand::Person(_));
    let mut store = if starts { keeping.open_or_start(out)? } else { keeping.open(out)? };
    let ended = match command {
        RecordCommand::Signoff(given) => signoff(&keeping, &mut store, given, out),
        RecordCommand::Request(given) => {
            let draft = drafts::request(&keeping, &store, given, out)?;
            put(&keeping, &mut store, vec![draft], given.said.dry_run, out)
        }
        RecordCommand::Withdraw(given) => {
            let draft = drafts::withdrawal(&keeping, &store, given, out)?;
            put(&keeping, &mut store, vec![draft], given.said.dry_run, out)
        }
        RecordCommand::Hold(given) => {
            let draft = drafts::hold(&keeping, &store, given, out)?;
            put(&keeping, &mut store, vec![draft], given.said.dry_run, out)
        }
        RecordCommand::Release(given) => {
            let drafts = drafts::releases(&keeping, &store, given, out)?;
            put(&keeping, &mut store, drafts, given.said.dry_run, out)
        }
        RecordCommand::Correct(given) => change::correct(&keeping, &mut store, given, out),
        RecordCommand::Redact(given) => change::redact(&keeping, &mut store, given, out),
        RecordCommand::Backup { target } => back_up(&store, target, out),
        other => {
            if let RecordCommand::Judged(given) = other
                && let Some(exercise) = &given.exercise
            {
                known_exercise(&keeping, exercise, out)?;
            }
            entry(other).map_or(Ok(Ended::Done), |entry| enter(&keeping, &mut store, &entry, out))
        }
    };
    Ok(ended.unwrap_or_else(|ended| ended))
}

/// What is typed, or comes as a file, of the kinds that can be both.
fn entry(command: &RecordCommand) -> Option<Entry<'_>> {
    let entry = |import: Import, cells, said, file| Entry { import, cells, said, file: Some(file), role: None };
    Some(match command {
        RecordCommand::Person(given) => {
            Entry { role: given.role.as_deref(), ..entry(imports::people, given.cells(), &given.said, &given.file) }
        }
        RecordCommand::Leave(given) => entry(imports::leave, given.cells(), &given.said, &given.file),
        RecordCommand::Return(given) => entry(imports::returns, given.cells(), &given.said, &given.file),
        RecordCommand::Taught(given) => entry(imports::taught, given.cells(), &given.said, &given.file),
        RecordCommand::Hours(given) => entry(imports::hours, given.cells(), &given.said, &given.file),
        RecordCommand::Observed(given) => entry(imports::observed, given.cells(), &given.said, &given.file),
        RecordCommand::Event(given) => entry(imports::events, given.cells(), &given.said, &given.file),
        RecordCommand::Judged(given) => entry(imports::judged, given.cells(), &given.said, &given.file),
        _ => return None,
    })
}

/// Signs off; by hand also despite missing evidence, with a second person.
fn signoff(keeping: &Keeping, store: &mut Store, given: &SignoffArguments, out: &mut Out) -> Result<Ended, Ended> {
    let entry = Entry {
        import: imports::signoffs,
        cells: given.cells(),
        said: &given.said,
        file: Some(&given.file),
        role: None,
    };
    let second = given.second.as_deref().map(|code| self::code(code, "--second", out)).transpose()?;
    let mut drafts = read(keeping, store, &entry, out)?;
    for draft in &mut drafts {
        if let Matter::Signoff(is) = &mut draft.matter {
            is.despite.clone_from(&second);
        }
    }
    put(keeping, store, drafts, given.said.dry_run, out)
}

/// Reads the command line or its file, and puts it on record.
fn enter(keeping: &Keeping, store: &mut Store, entry: &Entry<'_>, out: &mut Out) -> Result<Ended, Ended> {
    let drafts = read(keeping, store, entry, out)?;
    put(keeping, store, drafts, entry.said.dry_run, out)
}

fn read(keeping: &Keeping, store: &Store, entry: &Entry<'_>, out: &mut Out) -> Result<Vec<Draft>, Ended> {
    let file = entry.file.and_then(|file| file.csv.as_deref());
    let own = entry.cells.iter().find(|(column, _)| *column == "code").and_then(|(_, code)| Code::parse(code).ok());
    let entered_by = who_enters(keeping, store, entry.said.entered_by.as_deref(), own, out)?;
    let role = match entry.role.map(|text| Role::ALL.into_iter().find(|role| role.word() == text.to_lowercase())) {
        Some(None) if file.is_some() => {
            return Err(out.usage("--role: this is no role", "write apprentice, assessor, coordinator or instructor"));
        }
        found => found.flatten().filter(|_| file.is_some()),
    };
    let defaults = Defaults { programme: &keeping.programme, entered_by, today: keeping.today, role };
    let batch = match file {
        Some(path) => match Table::read(path) {
            Ok(table) => (entry.import)(&table, &defaults),
            Err(Unread::Machine(fault)) => {
                return Err(if path.exists() { out.machine(&fault) } else { missing(path, out) });
            }
            Err(Unread::Faults(faults)) => Batch { drafts: Vec::new(), faults },
        },
        None => typed(entry.import, &entry.cells, &defaults),
    };
    batch.faults.0.iter().for_each(|fault| out.fault(fault));
    if batch.faults.any() {
        if file.is_some() {
            out.note("Nothing of this file was recorded. Mend it and give it again: what is on record already is passed over.");
        }
        return Err(Ended::Content);
    }
    Ok(batch.drafts)
}

fn missing(path: &Path, out: &mut Out) -> Ended {
    out.usage(&format!("there is no file {}", path.display()), "look at the name and the folder")
}

/// What was typed, read by the rules of a file; faults speak of options instead of lines.
pub(super) fn typed(import: Import, cells: &Cells, defaults: &Defaults<'_>) -> Batch {
    let today = defaults.today.to_string();
    let mut cells = cells.clone();
    let dated = |import: Import| {
        ![imports::people as Import, imports::leave, imports::returns]
            .iter()
            .any(|one| std::ptr::fn_addr_eq(*one, import))
    };
    if dated(import) && !cells.iter().any(|(column, _)| *column == "date") {
        cells.push(("date", today.clone()));
    }
    let moves = [imports::leave as Import, imports::returns].iter().any(|one| std::ptr::fn_addr_eq(*one, import));
    if moves && !cells.iter().any(|(column, _)| *column == "from") {
        cells.push(("from", today));
    }
    let header: Vec<&str> = cells.iter().map(|(column, _)| *column).collect();
    let row: Vec<String> = cells.iter().map(|(_, text)| text.clone()).collect();
    let mut batch = match Table::parse("", &String::from_utf8_lossy(&table::write(&header, &[row]))) {
        Ok(table) => import(&table, defaults),
        Err(faults) => Batch { drafts: Vec::new(), faults },
    };
    for fault in &mut batch.faults.0 {
        let option = fault.place.field.take().map(|column| match column.as_str() {
            "date" => "--on".to_owned(),
            column => format!("--{}", column.replace('_', "-")),
        });
        fault.place = Place { field: option, ..Place::default() };
        for (column, option) in [("column", "option"), ("the first line", "the command line")] {
            fault.message = fault.message.replace(column, option);
            fault.mend = fault.mend.replace(column, option);
        }
    }
    for draft in &mut batch.drafts {
        draft.place = Place::default();
    }
    batch
}

/// A code as typed.
pub(super) fn code(text: &str, option: &str, out: &mut Out) -> Result<Code, Ended> {
    Code::parse(text).map_err(|why| out.usage(&format!("{option}: `{text}` is not a code"), &why))
}

/// Who enters it: as said, else the one coordinator on record, else who starts the records.
pub(super) fn who_enters(
    keeping: &Keeping,
    store: &Store,
    said: Option<&str>,
    own: Option<Code>,
    out: &mut Out,
) -> Result<Code, Ended> {
    if let Some(said) = said {
        return code(said, "--entered-by", out);
    }
    let codes = store.read().codes().map_err(|wrong| trouble(&wrong, out))?;
    if let (true, Some(own)) = (codes.is_empty(), own) {
        return Ok(own);
    }
    let history = store.read().history_of(&keeping.programme.about.time_zone, &codes_of_roles(store, out)?);
    let history = history.map_err(|wrong| trouble(&wrong, out))?;
    let coordinators: Vec<&Code> = history
        .people
        .values()
        .filter(|person| person.is(Role::Coordinator, keeping.today, History::NOW))
        .map(|person| &person.code)
        .collect();
    match coordinators.as_slice() {
        [only] => Ok((*only).clone()),
        [] => Err(out.usage("nobody is a coordinator today", "say who enters it with --entered-by CODE")),
        several => {
            let list: Vec<&str> = several.iter().map(|code| code.as_str()).collect();
            Err(out.usage(
                &format!("there are several coordinators: {}", list.join(", ")),
                "say who enters it with --entered-by CODE",
            ))
        }
    }
}

/// The codes of everyone who was ever a coordinator.
fn codes_of_roles(store: &Store, out: &mut Out) -> Result<Vec<Code>, Ended> {
    store.read().codes_with_role(Role::Coordinator).map_err(|wrong| trouble(&wrong, out))
}

fn known_exercise(keeping: &Keeping, exercise: &str, out: &mut Out) -> Result<(), Ended> {
    if keeping.programme.exercise(exercise).is_some() {
        return Ok(());
    }
    let known = keeping.programme.exercises().map(|one| one.id.as_str());
    let mend = nearest_name(exercise, known)
        .map_or_else(|| "`gearside prove` lists them".to_owned(), |near| format!("did you mean `{near}`?"));
    Err(out.usage(&format!("there is no exercise `{exercise}`"), &mend))
}

/// Puts drafts on record and says what became of them.
fn put(keeping: &Keeping, store: &mut Store, drafts: Vec<Draft>, dry_run: bool, out: &mut Out) -> Result<Ended, Ended> {
    let shown: Vec<(String, Option<Code>)> =
        drafts.iter().map(|draft| (in_short(draft), draft.person.clone())).collect();
    let touched = touched(&drafts);
    let marked = drafts.first().and_then(|draft| match &draft.matter {
        Matter::MarkCorrected(is) => Some(is.quiz.clone()),
        _ => None,
    });
    let mut salts = MachineSalts;
    let mut desk = Desk { programme: &keeping.programme, now: keeping.now, salts: &mut salts, dry_run };
    let outcomes = desk.record(store, drafts).map_err(|wrong| refusal(&wrong, out))?;
    say(store, &shown, &outcomes, dry_run, out)?;
    if !dry_run && let Some((person, competency)) = touched {
        say_state(keeping, store, &person, &competency, out)?;
    }
    if !dry_run
        && !out.json
        && let Some(quiz) = marked
    {
        out.note(&format!("`gearside mark {quiz}` gives the quiz back with it."));
    }
    Ok(Ended::Done)
}

/// The one competency of one person that all drafts are about.
fn touched(drafts: &[Draft]) -> Option<(Code, String)> {
    let [draft] = drafts else { return None };
    let competency = match &draft.matter {
        Matter::Hours(is) => &is.line,
        Matter::Observation(is) => &is.competency,
        Matter::Request(is) => &is.competency,
        Matter::Signoff(is) => &is.competency,
        Matter::Withdrawal(is) => &is.competency,
        Matter::Hold(is) => &is.competency,
        Matter::Release(is) => &is.competency,
        _ => return None,
    };
    Some((draft.person.clone()?, competency.to_string()))
}

fn in_short(draft: &Draft) -> String {
    let person = draft.person.as_ref().map(|code| format!(" {code}")).unwrap_or_default();
    format!("{}{person} {}", draft.matter.kind(), draft.seen_on)
}

pub(super) fn say(
    store: &Store,
    shown: &[(String, Option<Code>)],
    outcomes: &[Outcome],
    dry_run: bool,
    out: &mut Out,
) -> Result<(), Ended> {
    let head = store.read().head().map_err(|wrong| trouble(&wrong, out))?;
    let already = outcomes.iter().filter(|outcome| matches!(outcome, Outcome::Already(_))).count();
    if out.json {
        let facts: Vec<serde_json::Value> = outcomes
            .iter()
            .map(|outcome| match outcome {
                Outcome::Recorded(seq) => json!({ "fact": seq, "new": !dry_run }),
                Outcome::Already(seq) => json!({ "fact": seq, "new": false }),
            })
            .collect();
        out.value(&json!({ "facts": facts, "dry_run": dry_run, "head": head.shown(), "hash": head.digest() }));
        return Ok(());
    }
    for (outcome, (short, _)) in outcomes.iter().zip(shown) {
        match outcome {
            Outcome::Recorded(_) if dry_run => out.line(&format!("could go on record: {short}")),
            Outcome::Recorded(seq) => out.line(&format!("{seq}  {short}")),
            Outcome::Already(seq) => out.line(&format!("{seq}  {short} (was on record already)")),
        }
    }
    let new = outcomes.len() - already;
    match (dry_run, outcomes.len()) {
        (true, _) => out.note("Nothing was recorded: this was only a look."),
        (false, 0..=1) => out.note(&format!("head {}", head.shown())),
        (false, _) => out.note(&format!("{new} recorded, {already} on record already; head {}", head.shown())),
    }
    Ok(())
}

/// Says how the person stands now, where the fact bears on a competency.
fn say_state(keeping: &Keeping, store: &Store, person: &Code, competency: &str, out: &mut Out) -> Result<(), Ended> {
    let history = store.read().history_of(&keeping.programme.about.time_zone, [person]);
    let history = history.map_err(|wrong| trouble(&wrong, out))?;
    let rules = Rules::of(&keeping.programme);
    let state = history
        .person(person)
        .and_then(|person| Derivation::new(&history, &rules).state(person, competency, Ask::on(keeping.today)));
    if let Some(state) = state {
        let words = with_wording(keeping, |wording| wording.reason(&state));
        out.note(&format!("{competency}: {words}"));
    }
    Ok(())
}

/// Words with titles from the programme and codes for names.
pub(super) fn with_wording<T>(keeping: &Keeping, say: impl FnOnce(&Wording<'_>) -> T) -> T {
    let title = |id: &str| {
        let known = keeping.programme.competencies().find(|one| one.id.as_str() == id);
        known.map_or_else(|| id.to_owned(), |one| one.title.clone())
    };
    let name = |code: &Code| code.to_string();
    say(&Wording { title: &title, name: &name, today: keeping.today, edition: &keeping.programme.about.edition })
}

fn back_up(store: &Store, target: &Path, out: &mut Out) -> Result<Ended, Ended> {
    store.back_up(target).map_err(|wrong| trouble(&wrong, out))?;
    let head = store.read().head().map_err(|wrong| trouble(&wrong, out))?;
    if out.json {
        out.value(&json!({ "backup": target.display().to_string(), "head": head.shown(), "hash": head.digest() }));
    } else {
        out.line(&target.display().to_string());
        out.note(&format!("head {}", head.shown()));
    }
    Ok(Ended::Done)
}

/// A fault of the command line.
pub(super) fn fault(kind: &'static str, message: impl Into<String>, mend: impl Into<String>) -> Fault {
    Fault::new(kind, message, mend)
}
