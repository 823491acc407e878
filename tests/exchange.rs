//! Tables as spreadsheets write them, taken in and put on record twice; what goes out, read back and checked by others.

#![expect(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use gearside::exchange::export::{Export, Wanted, board_csv, board_json, export};
use gearside::exchange::imports::{self, Batch, Defaults};
use gearside::exchange::table::{Table, Unread, write};
use gearside::programme::{Origin, Programme, load_without_banks};
use gearside::records::{
    Code, Desk, Draft, Grant, MachineSalts, Matter, Outcome, Overview, Redaction, Role, Rules, Store, hex,
};
use jiff::civil::{Date, date};
use sha2::{Digest as _, Sha256};
use tempfile::TempDir;

const HERE: &str = "tests/exchange";
const TODAY: Date = date(2026, 11, 25);

type Read = fn(&Table, &Defaults<'_>) -> Batch;

/// What is taken in, in this order, and how many drafts that makes.
const GOOD: &[(&str, Read, usize)] = &[
    ("people.csv", imports::people, 4),
    ("users-1.1.csv", imports::people, 1),
    ("hours.csv", imports::hours, 3),
    ("observed.tsv", imports::observed, 2),
    ("signoffs.csv", imports::signoffs, 1),
    ("leave.csv", imports::leave, 1),
    ("return.csv", imports::returns, 1),
    ("events.csv", imports::events, 1),
    ("taught.csv", imports::taught, 1),
    ("judged.csv", imports::judged, 1),
];

/// Faulty files, and all that is said of them.
const FAULTY: &[(&str, Read, &[&str])] = &[
    ("faulty-utf-16.csv", imports::people, &[":1: the file is not UTF-8: byte 0xFF here is no part of any character"]),
    (
        "faulty-utf-16-no-mark.csv",
        imports::people,
        &[":1: there are zero bytes in the text, as in a file saved as UTF-16"],
    ),
    ("faulty-latin-1.csv", imports::people, &[":3: the file is not UTF-8: byte 0xD6 here is no part of any character"]),
    (
        "faulty-columns.csv",
        imports::people,
        &[
            ":1: there is no column `nmae` in such a table (did you mean `name`?)",
            ":1: there is no column `birthday` in such a table (the columns are: code, name, role, from, until, stages, class, date, seen_by, paper, note)",
        ],
    ),
    (
        "faulty-missing.csv",
        imports::people,
        &[":1: the column `code` is missing (name it in the first line; needed are: code)"],
    ),
    (
        "faulty-cells.csv",
        imports::people,
        &[
            ":2: this row has 4 cells, the header has 3",
            ":3: this row has 1 cell, the header has 3",
            ":4: this row has 2 cells, the header has 3",
            ":4: a quotation mark opens here and is never closed",
        ],
    ),
    ("faulty-empty.csv", imports::people, &[": there is nothing in this file"]),
    (
        "faulty-hours.csv",
        imports::hours,
        &[
            ":2, date: `8.9.2026` is not a date that can be read without doubt: day and month are written in both orders (write year, month and day as in 2026-09-08)",
            ":3, date: `9/8/2026` is not a date that can be read without doubt: day and month are written in both orders (write year, month and day as in 2026-09-08)",
            ":5, person: `a 1` is not a code",
            ":5, date: there is no day 2026-02-29",
            ":6, start: the clocks skipped 03:30 on 2026-03-29; write the time they showed",
            ":7, hours: `1,250` is not a number as this programme writes them (write it as in 7.5, without a unit and without grouping)",
            ":8, line: `line` is empty",
            ":8, sort: `weekend` is no word for `sort` (write one of: on-the-job, instruction, prior)",
        ],
    ),
    (
        "faulty-observed.csv",
        imports::observed,
        &[
            ":2, criteria: criterion 7 of 7 is not answered",
            ":3, criteria: there is no criterion 8: they are numbered from 1 to 7",
            ":4, press: `press` is empty",
            ":4, competency: there is no competency `make-the-pres-safe` (did you mean `make-the-press-safe`?)",
        ],
    ),
];

fn code(text: &str) -> Code {
    Code::parse(text).expect("a code")
}

/// The built-in programme, in Helsinki, its first competency resting on one observation.
fn programme(decimal_comma: bool) -> Programme {
    let mut programme = load_without_banks(&Origin::Shipped).expect("it loads").programme.expect("a programme");
    programme.about.time_zone = jiff::tz::TimeZone::get("Europe/Helsinki").expect("a zone");
    programme.about.decimal_comma = decimal_comma;
    programme.stages[0].competencies[0].rests_on = None;
    programme
}

fn defaults(programme: &Programme) -> Defaults<'_> {
    Defaults { programme, entered_by: code("c-1"), today: TODAY, role: None }
}

fn path(name: &str) -> PathBuf {
    Path::new(HERE).join(name)
}

fn draft(person: &str, name: Option<&str>, matter: Matter) -> Draft {
    Draft {
        person: Some(code(person)),
        seen_by: code("c-1"),
        seen_on: date(2026, 9, 1),
        entered_by: code("c-1"),
        paper: None,
        note: None,
        name: name.map(str::to_owned),
        from_is_open: false,
        matter,
        place: gearside::ground::Place::default(),
    }
}

/// Records with a coordinator, and what is put into them.
struct Office {
    folder: TempDir,
    store: Store,
    programme: Programme,
}

impl Office {
    fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let store = Store::open_or_start(&folder.path().join("records.db")).expect("records");
        let mut office = Self { folder, store, programme: programme(true) };
        let (from, role) = (date(2026, 9, 1), Role::Coordinator);
        let grant = Grant { role, from, until: None, stages: None, class: None, name: None };
        office.record(vec![draft("c-1", Some("Cora Invented"), Matter::Grant(grant))]);
        office
    }

    fn desk<T>(&mut self, day: Date, work: impl FnOnce(&mut Desk<'_>, &mut Store) -> T) -> T {
        let now = format!("{day}T12:00:00Z").parse().expect("a time");
        let mut desk = Desk { programme: &self.programme, now, salts: &mut MachineSalts, dry_run: false };
        work(&mut desk, &mut self.store)
    }

    fn record(&mut self, drafts: Vec<Draft>) -> Vec<Outcome> {
        self.record_on(TODAY, drafts)
    }

    fn record_on(&mut self, day: Date, drafts: Vec<Draft>) -> Vec<Outcome> {
        self.desk(day, |desk, store| desk.record(store, drafts)).expect("recorded")
    }

    /// Takes in every good file, as on a day.
    fn take_all(&mut self, today: Date) -> Vec<Outcome> {
        let mut outcomes = Vec::new();
        for (name, read, count) in GOOD {
            let table = Table::read(&path(name)).expect(name);
            let batch = read(&table, &Defaults { today, ..defaults(&self.programme) });
            assert!(!batch.faults.any(), "{name}: {:?}", batch.faults);
            assert_eq!(batch.drafts.len(), *count, "{name}");
            outcomes.extend(self.record_on(today, batch.drafts));
        }
        outcomes
    }

    fn full() -> Self {
        let mut office = Self::new();
        office.take_all(TODAY);
        office
    }

    fn export(&self, person: Option<&str>, names: bool, notes: bool) -> Export {
        let wanted = Wanted { person: person.map(code), on: TODAY, names, notes };
        export(self.store.read(), &self.programme, &wanted).expect("an export")
    }
}

fn file<'e>(export: &'e Export, name: &str) -> &'e str {
    let (_, bytes) = export.files.iter().find(|(own, _)| own == name).expect(name);
    std::str::from_utf8(bytes).expect("UTF-8")
}

fn rows(text: &str) -> Vec<BTreeMap<String, String>> {
    let table = Table::parse("export", text).expect("a table");
    let columns: Vec<String> = table.columns().map(str::to_owned).collect();
    table.cells().map(|cells| columns.iter().cloned().zip(cells.iter().cloned()).collect()).collect()
}

fn facts(export: &Export) -> Vec<serde_json::Value> {
    file(export, "facts.jsonl").lines().map(|line| serde_json::from_str(line).expect("JSON")).collect()
}

#[test]
fn every_faulty_file_is_refused_line_by_line() {
    let programme = programme(false);
    for (name, read, want) in FAULTY {
        let faults = match Table::read(&path(name)) {
            Ok(table) => {
                let batch = read(&table, &defaults(&programme));
                assert!(batch.drafts.is_empty() || batch.faults.any(), "{name}");
                batch.faults.0
            }
            Err(Unread::Faults(faults)) => faults.0,
            Err(Unread::Machine(fault)) => panic!("{fault}"),
        };
        let said: Vec<String> = faults
            .iter()
            .map(|fault| format!("{}: {} ({})", fault.place_in_words(), fault.message, fault.mend))
            .collect();
        assert_eq!(said.len(), want.len(), "{name}: {said:#?}");
        for (said, want) in said.iter().zip(*want) {
            let want = format!("{HERE}/{name}{want}");
            assert!(*said == want || said.starts_with(&format!("{want} (")), "\n said {said}\n want {want}");
        }
    }
}

#[test]
fn every_file_of_the_folder_is_looked_at() {
    let mut named: Vec<&str> =
        GOOD.iter().map(|(name, ..)| *name).chain(FAULTY.iter().map(|(name, ..)| *name)).collect();
    named.extend(["users.csv", "roles.csv", ".gitattributes"]);
    named.sort_unstable();
    let mut lying: Vec<String> = fs::read_dir(HERE)
        .expect("a folder")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    lying.sort();
    assert_eq!(lying, named);
}

#[test]
fn what_is_no_plain_file_is_refused_and_what_is_missing_is_the_machines() {
    let folder = tempfile::tempdir().expect("a folder");
    let refused = |path: &Path| match Table::read(path) {
        Err(Unread::Faults(faults)) => faults.0[0].kind,
        Err(Unread::Machine(_)) => "machine",
        Ok(_) => "read",
    };
    assert_eq!(refused(folder.path()), "not-a-file");
    assert_eq!(refused(&folder.path().join("none.csv")), "machine");
    let pipe = folder.path().join("pipe.csv");
    if cfg!(unix) && Command::new("mkfifo").arg(&pipe).status().is_ok_and(|status| status.success()) {
        assert_eq!(refused(&pipe), "not-a-file");
    }
    let long = folder.path().join("long.csv");
    fs::write(&long, vec![b'a'; 2_000_001]).expect("a file");
    assert_eq!(refused(&long), "too-long");
}

#[test]
fn the_same_files_taken_in_again_record_nothing_new() {
    let mut office = Office::new();
    let first = office.take_all(TODAY);
    assert!(first.iter().all(|outcome| matches!(outcome, Outcome::Recorded(_))), "{first:?}");
    let head = office.store.read().head().expect("a head");
    for day in [TODAY, date(2026, 11, 26), date(2027, 2, 1)] {
        let again = office.take_all(day);
        assert!(again.iter().all(|outcome| matches!(outcome, Outcome::Already(_))), "{day}: {again:?}");
    }
    assert_eq!(office.store.read().head().expect("a head"), head);
}

#[test]
fn a_roster_gives_codes_names_and_roles_and_nothing_else() {
    let programme = programme(false);
    let (users, roles) =
        (Table::read(&path("users.csv")).expect("users"), Table::read(&path("roles.csv")).expect("roles"));
    let batch = imports::roster(&users, Some(&roles), &defaults(&programme));
    let people: Vec<(String, Option<String>, Role)> = batch
        .drafts
        .iter()
        .map(|draft| match &draft.matter {
            Matter::Grant(grant) => {
                assert_eq!((&draft.note, &draft.paper, &grant.class), (&None, &None, &None));
                (draft.person.clone().expect("a person").to_string(), draft.name.clone(), grant.role)
            }
            other => panic!("{other:?}"),
        })
        .collect();
    assert_eq!(
        people,
        [
            ("mika.o".to_owned(), Some("Mika Öljy".to_owned()), Role::Apprentice),
            ("R-2".to_owned(), Some("Rosa Beispiel".to_owned()), Role::Instructor),
        ]
    );
    let remarks: Vec<String> =
        batch.faults.0.iter().map(|fault| format!("{}: {}", fault.place_in_words(), fault.message)).collect();
    assert_eq!(
        remarks,
        [
            "tests/exchange/users.csv:4, status: `toni` is passed over: the status is `tobedeleted`",
            "tests/exchange/users.csv:5, status: `una` is passed over: the account is not enabled",
            "tests/exchange/users.csv:6, role: `head` is passed over: `siteAdministrator` is no role here",
        ]
    );
    assert!(!batch.faults.any());
}

#[test]
fn what_came_in_goes_out_as_it_was_meant() {
    let export = Office::full().export(None, true, true);
    let hours = rows(file(&export, "hours.csv"));
    assert_eq!(hours.iter().map(|row| row["minutes"].as_str()).collect::<Vec<_>>(), ["150", "540", "450"]);
    assert_eq!(
        (hours[1]["start"].as_str(), hours[1]["end"].as_str()),
        ("2026-10-24T22:00+03:00", "2026-10-25T06:00+02:00")
    );
    let observed = rows(file(&export, "observations.csv"));
    assert_eq!(observed[1]["criteria"], "seen seen not-yet not-seen not-seen not-seen not-seen");
    assert_eq!((observed[0]["ink"].as_str(), observed[0]["paper"].as_str()), ("uv-curing", "page 12"));
    let names: Vec<String> =
        rows(file(&export, "names.csv")).into_iter().map(|mut row| row.remove("name").unwrap_or_default()).collect();
    assert_eq!(
        names,
        ["Lumi Keksitty", "Invented, Ann", "Çelik Örnek", "Cora Invented", "=Ida Invented", "Sam Invented"]
    );
    let notes: Vec<String> =
        rows(file(&export, "notes.csv")).into_iter().map(|mut row| row.remove("text").unwrap_or_default()).collect();
    assert_eq!(notes, ["first look;\nwith \"Sam\"", "from before", "well again", "=went well,\n\ton the whole"]);
    let states = rows(file(&export, "states.csv"));
    let first =
        states.iter().find(|row| row["code"] == "a-1" && row["competency"] == "make-the-press-safe").expect("a state");
    assert_eq!(
        (first["standing"].as_str(), first["signed_by"].as_str(), first["observed"].as_str()),
        ("signed", "s-1", "")
    );
    assert_eq!((first["until"].as_str(), first["edition"].as_str()), ("2027-09-10", "2026 autumn"));
    let late = rows(file(&export, "signoffs.csv"));
    assert_eq!(
        (late[0]["what"].as_str(), late[0]["acknowledged"].as_str(), late[0]["late"].as_str()),
        ("signoff", "2026-09-11", "yes")
    );
}

#[test]
fn every_table_reads_back_as_it_was_written() {
    let export = Office::full().export(None, true, true);
    let mut tables = 0;
    for (name, bytes) in export.files.iter().filter(|(name, _)| name.ends_with(".csv")) {
        let table = Table::parse(name, std::str::from_utf8(bytes).expect("UTF-8")).expect(name);
        let columns: Vec<&str> = table.columns().collect();
        let cells: Vec<Vec<String>> = table.cells().map(<[String]>::to_vec).collect();
        assert_eq!(&write(&columns, &cells), bytes, "{name}");
        tables += 1;
    }
    assert_eq!(tables, 10);
}

#[test]
fn no_name_and_no_typed_text_goes_out_unasked() {
    let office = Office::full();
    for person in [None, Some("a-1")] {
        let export = office.export(person, false, false);
        for (name, bytes) in &export.files {
            let text = String::from_utf8_lossy(bytes);
            for secret in ["Invented, Ann", "Ida", "Sam Inv", "Keksitty", "first look", "went well"] {
                assert!(!text.contains(secret), "{secret} in {name}");
            }
        }
    }
    let board = |names: bool, on: Date| {
        let history = office.store.read().history(&office.programme.about.time_zone).expect("a history");
        let known = office.store.read().names().expect("names");
        let rules = Rules::of(&office.programme);
        let overview = Overview::new(&office.programme, &rules, &history, &known, on);
        (String::from_utf8(board_csv(&overview, names)).expect("UTF-8"), board_json(&overview, names))
    };
    let (csv, json) = board(false, TODAY);
    assert!(!csv.contains("Invented") && !json.contains("Invented") && csv.contains("by s-1"), "{csv}");
    let (csv, json) = board(true, TODAY);
    assert!(csv.contains("\"Invented, Ann\"") && csv.contains("by Sam Invented"), "{csv}");
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    // Two apprentices of the people's table and one of the older roster, in each competency.
    let competencies = office.programme.competencies().count();
    assert_eq!(json["rows"].as_array().expect("rows").len(), 3 * competencies);
    assert_eq!(rows(&csv).len(), 3 * competencies);
}

#[test]
fn the_board_says_in_numbers_what_its_reasons_say_in_words() {
    let office = Office::full();
    let history = office.store.read().history(&office.programme.about.time_zone).expect("a history");
    let (rules, on) = (Rules::of(&office.programme), date(2026, 9, 9));
    let overview = Overview::new(&office.programme, &rules, &history, &BTreeMap::new(), on);
    let json: serde_json::Value = serde_json::from_str(&board_json(&overview, false)).expect("JSON");
    assert_eq!(json["on"].as_str(), Some("2026-09-09"));
    // The day before it was signed; a person without a class would stand first, but had not begun.
    let first = &json["rows"][0];
    let text = |key: &str| first[key].as_str().unwrap_or("none");
    assert_eq!((text("code"), text("class"), text("stage")), ("a-1", "north", "safety"));
    assert_eq!((text("standing"), text("reason"), text("until")), ("ready", "ready: observed once on one job", "none"));
    assert_eq!(
        (first["observed"].as_u64(), first["hours"].as_f64(), first["sureness"].as_f64()),
        (Some(1), Some(2.5), None)
    );
    assert!(first.get("name").is_none());
    let csv = String::from_utf8(board_csv(&overview, false)).expect("UTF-8");
    // The decimal mark of this programme is a comma.
    assert!(
        csv.starts_with("code,class,stage,") && csv.lines().nth(1).is_some_and(|line| line.ends_with(",1,\"2,5\"")),
        "{csv}"
    );
}

#[test]
fn an_export_about_one_person_holds_nothing_about_others() {
    let office = Office::full();
    let export = office.export(Some("a-2"), true, true);
    let about: Vec<String> = facts(&export)
        .iter()
        .map(|fact| {
            let body: serde_json::Value = serde_json::from_str(fact["body"].as_str().expect("a text")).expect("JSON");
            format!("{} {}", fact["kind"].as_str().expect("a kind"), body["person"].as_str().unwrap_or("-"))
        })
        .collect();
    assert_eq!(about, ["edition -", "person a-2", "hours a-2", "observation a-2", "leave a-2", "return a-2"]);
    for (name, _) in export.files.iter().filter(|(name, _)| name.ends_with(".csv") && name != "notes.csv") {
        for row in rows(file(&export, name)) {
            assert_eq!(row.get("person").or(row.get("code")).map(String::as_str), Some("a-2"), "{name}: {row:?}");
        }
    }
    assert_eq!(rows(file(&export, "names.csv")).len(), 1);
    let wanted = Wanted { person: Some(code("a-9")), on: TODAY, names: false, notes: false };
    let fault = self::export(office.store.read(), &office.programme, &wanted).expect_err("nobody");
    assert_eq!(fault.message, "nobody with the code `a-9` is on record");
}

#[test]
fn what_was_redacted_is_gone_from_an_export_and_the_chain_still_walks() {
    let mut office = Office::full();
    let ask = draft("a-1", None, Matter::Redaction(Redaction { digests: Vec::new() }));
    let ask = Draft { note: Some("asked for it".to_owned()), ..ask };
    office.desk(TODAY, |desk, store| desk.redact(store, &code("a-1"), ask)).expect("redacted");
    let export = office.export(None, true, true);
    let gone = |name: &str| rows(file(&export, name)).iter().filter(|row| row["state"] == "redacted").count();
    assert_eq!((gone("names.csv"), gone("notes.csv")), (1, 2));
    assert!(!file(&export, "names.csv").contains("Ann"));
    walk(&facts(&export)).expect("it walks");
}

/// The recipe of the export's README, written once more.
fn walk(facts: &[serde_json::Value]) -> Result<String, u64> {
    let mut head = "0".repeat(64);
    for (seq, fact) in (1_u64..).zip(facts) {
        let text = |key: &str| fact[key].as_str().unwrap_or_default();
        let prev: Vec<u8> =
            (0..64).step_by(2).map(|at| u8::from_str_radix(&head[at..at + 2], 16).expect("hex")).collect();
        let mut bytes = Vec::new();
        for field in [
            b"gearside-fact-1".as_slice(),
            &prev,
            &seq.to_be_bytes(),
            text("at").as_bytes(),
            text("kind").as_bytes(),
            text("body").as_bytes(),
        ] {
            bytes.extend((field.len() as u64).to_be_bytes());
            bytes.extend(field);
        }
        let own = hex(&Sha256::digest(&bytes));
        if fact["seq"].as_u64() != Some(seq) || text("prev") != head || text("hash") != own {
            return Err(seq);
        }
        head = own;
    }
    Ok(head)
}

#[test]
fn the_recipe_of_the_readme_finds_the_head_and_every_change() {
    let office = Office::full();
    let export = office.export(None, false, false);
    let good = facts(&export);
    assert_eq!(export.facts, good.len() as u64);
    let head = office.store.read().head().expect("a head");
    assert_eq!(walk(&good).expect("it walks"), hex(&head.hash));
    let readme = file(&export, "README.txt");
    assert!(readme.contains(&format!("fact {}, {}", head.seq, hex(&head.hash))), "{readme}");
    for at in 0..good.len() {
        let mut changed = good.clone();
        let body = changed[at]["body"].as_str().expect("a text").replacen("c-1", "c-2", 1);
        changed[at]["body"] = body.into();
        assert_eq!(walk(&changed), Err(at as u64 + 1));
    }
}

#[test]
fn other_programs_find_the_chain_and_the_files_whole() {
    let office = Office::full();
    let folder = office.folder.path().join("export");
    gearside::ground::files::write_folder(&folder, &office.export(None, false, false).files).expect("written");
    let part = office.folder.path().join("part");
    gearside::ground::files::write_folder(&part, &office.export(Some("a-1"), true, true).files).expect("written");
    let script = Path::new("tests/outside/walk_chain.py").canonicalize().expect("the script");
    let python = |words: &[&str], folder: &Path| {
        Command::new("python3").arg(&script).args(words).arg(folder.join("facts.jsonl")).output()
    };
    // On a machine without Python the same recipe is still walked by the test above.
    if let Ok(ran) = python(&[], &folder) {
        let head = office.store.read().head().expect("a head");
        assert_eq!(String::from_utf8_lossy(&ran.stdout).trim(), format!("head {}:{}", head.seq, hex(&head.hash)));
        assert!(ran.status.success());
        assert!(python(&["--part"], &part).expect("it ran").status.success());
        assert!(!python(&[], &part).expect("it ran").status.success());
        let text = fs::read_to_string(folder.join("facts.jsonl")).expect("facts").replacen("page 12", "page 21", 1);
        fs::write(part.join("facts.jsonl"), text).expect("written");
        let ran = python(&[], &part).expect("it ran");
        assert!(String::from_utf8_lossy(&ran.stdout).contains("is not what was entered") && !ran.status.success());
    }
    let sums =
        |folder: &Path| Command::new("sha256sum").args(["--strict", "-c", "SHA256SUMS"]).current_dir(folder).output();
    if let Ok(ran) = sums(&folder) {
        assert!(ran.status.success(), "{}", String::from_utf8_lossy(&ran.stderr));
        assert_eq!(String::from_utf8_lossy(&ran.stdout).lines().count(), 10);
        assert!(!sums(&part).expect("it ran").status.success());
    }
}

#[test]
fn what_can_still_be_read_of_a_damaged_file_goes_out() {
    let mut office = Office::full();
    let move_of = |day: i64| {
        let from = date(2026, 10, 9).saturating_add(jiff::Span::new().days(day % 40));
        let event = Matter::Event(gearside::records::Event { event: "review".into() });
        Draft { seen_on: from, paper: Some(format!("page {day}")), ..draft("a-1", None, event) }
    };
    for day in 0..40 {
        office.record(vec![move_of(day)]);
    }
    let whole = office.export(None, false, false).facts;
    let records = office.store.path().to_owned();
    let Office { folder, store, programme } = office;
    drop(store);
    let mut bytes = fs::read(&records).expect("the file");
    // The page that holds the fact of `page 20` is overwritten.
    let found = bytes.windows(9).position(|window| window == b"\"page 20\"").expect("the fact");
    let page = found / 4096 * 4096;
    bytes[page..page + 4096].fill(0xFF);
    fs::write(&records, bytes).expect("written");
    let store = Store::open(&records).expect("records");
    let wanted = Wanted { person: None, on: TODAY, names: true, notes: true };
    let export = export(store.read(), &programme, &wanted).expect("an export");
    assert!(export.trouble.is_some());
    let seqs: Vec<u64> = facts(&export).iter().filter_map(|fact| fact["seq"].as_u64()).collect();
    assert!(seqs.first() == Some(&1) && seqs.last() == Some(&whole) && export.facts < whole, "{seqs:?}");
    assert!(file(&export, "README.txt").contains("does not hold everywhere"));
    drop(folder);
}
