//! `record`, `board` and `audit` as people use them: from an empty folder, with mistakes.

#![expect(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

use std::fs;
use std::path::PathBuf;

use assert_cmd::Command;
use tempfile::TempDir;

const PROGRAMME: &str = "title: A small programme\nedition: first\ndecimal: \",\"\ntime_zone: Europe/Helsinki\nevents: [agreement, review]\n";
const STAGE: &str = "\
stage: press
number: 1
title: The press
competencies:
  - id: make-safe
    title: Make the press safe
    safety: true
    criteria: [{ says: Asks before touching, critical: true }, { says: Tries the start }]
    lesson: Words.
    rests_on: { observed: { times: 1, unaided: true } }
    lapses_after: 12 months
  - id: ink-a-deck
    title: Ink a deck
    needs: [make-safe]
    criteria: [{ says: Seats the blade }]
    lesson: Words.
    rests_on: { observed: { times: 1 }, hours: 4 }
";

/// A programme folder of its own, with the current day in Helsinki.
struct Folder(TempDir);

/// What a run printed, and how it ended.
#[derive(Debug)]
struct Ran {
    status: i32,
    out: String,
    err: String,
}

impl Folder {
    fn new() -> Self {
        let folder = Self(tempfile::tempdir().expect("a folder"));
        fs::create_dir_all(folder.path("curriculum")).expect("a folder");
        fs::write(folder.path("curriculum/programme.yaml"), PROGRAMME).expect("a file");
        fs::write(folder.path("curriculum/01-press.yaml"), STAGE).expect("a file");
        folder
    }

    /// A folder with a coordinator, an assessor and an apprentice.
    fn staffed() -> Self {
        let folder = Self::new();
        folder.fine(&["record", "person", "c-1", "--role", "coordinator", "--name", "Coordinator Invented"]);
        folder.fine(&[
            "record",
            "person",
            "s-1",
            "--role",
            "assessor",
            "--from",
            "2025-01-01",
            "--name",
            "Assessor Invented",
        ]);
        folder.fine(&[
            "record",
            "person",
            "a-1",
            "--role",
            "apprentice",
            "--from",
            "2025-01-01",
            "--name",
            "Äpprentice 名 Invented",
        ]);
        folder
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn run(&self, arguments: &[&str]) -> Ran {
        let mut command = Command::cargo_bin("gearside").expect("the binary");
        let output = command.current_dir(self.0.path()).args(arguments).output().expect("it ran");
        Ran {
            status: output.status.code().expect("a status"),
            out: String::from_utf8(output.stdout).expect("UTF-8"),
            err: String::from_utf8(output.stderr).expect("UTF-8"),
        }
    }

    fn fine(&self, arguments: &[&str]) -> String {
        let ran = self.run(arguments);
        assert_eq!(ran.status, 0, "{arguments:?}: {}", ran.err);
        ran.out
    }

    /// A run without texts that hold blanks.
    fn line(&self, line: &str) -> String {
        self.fine(&line.split(' ').collect::<Vec<_>>())
    }

    /// A run that is refused with a status, saying these words.
    fn refused(&self, arguments: &[&str], status: i32, words: &[&str]) {
        let before = fs::read(self.path("records.db")).ok();
        let ran = self.run(arguments);
        assert_eq!(ran.status, status, "{arguments:?}: {}", ran.err);
        for word in words {
            assert!(ran.err.contains(word), "{arguments:?}: no {word:?} in {}", ran.err);
        }
        assert_eq!(before, fs::read(self.path("records.db")).ok(), "{arguments:?} changed the records");
    }

    fn json(&self, arguments: &[&str]) -> serde_json::Value {
        let mut all = arguments.to_vec();
        all.push("--json");
        serde_json::from_str(&self.run(&all).out).expect("JSON")
    }

    /// Changes the file behind the program's back.
    fn alter(&self, sql: &str) {
        let connection = rusqlite::Connection::open(self.path("records.db")).expect("the file");
        connection.execute_batch(sql).expect("altered");
    }

    fn head(&self) -> String {
        self.json(&["audit"])["head"].as_str().expect("a head").to_owned()
    }

    fn observe(&self, competency: &str, job: &str) {
        self.fine(&[
            "record",
            "observed",
            "a-1",
            competency,
            "--seen-by",
            "s-1",
            "--press",
            "p",
            "--job",
            job,
            "--all-seen",
        ]);
    }

    fn sign(&self, competency: &str) -> Ran {
        let today = Self::today();
        self.run(&["record", "signoff", "a-1", competency, "--seen-by", "s-1", "--acknowledged", &today])
    }

    fn today() -> String {
        let zone = jiff::tz::TimeZone::get("Europe/Helsinki").expect("a zone");
        zone.to_datetime(jiff::Timestamp::now()).date().to_string()
    }
}

#[test]
fn without_a_programme_folder_records_are_refused_with_the_way_to_one() {
    let empty = tempfile::tempdir().expect("a folder");
    for line in ["record person c-1 --role coordinator", "board", "audit"] {
        let mut command = Command::cargo_bin("gearside").expect("the binary");
        let output = command.current_dir(empty.path()).args(line.split(' ')).output().expect("it ran");
        assert_eq!(output.status.code(), Some(2), "{line}");
        assert!(String::from_utf8_lossy(&output.stderr).contains("gearside new DIR"), "{line}");
    }
    assert_eq!(fs::read_dir(empty.path()).expect("a folder").count(), 0);
}

#[test]
fn without_records_nothing_is_made_but_by_the_first_coordinator() {
    let folder = Folder::new();
    for line in [vec!["audit"], vec!["board"], vec!["record", "event", "a-1", "review"]] {
        folder.refused(&line, 2, &["there are no records yet", "--role coordinator"]);
    }
    folder.run(&["record", "person", "a-1", "--role", "apprentice", "--entered-by", "c-1"]);
    let ran = folder.run(&["record", "person", "a-1", "--role", "apprentice", "--entered-by", "c-1"]);
    assert_eq!(ran.status, 1);
    assert!(ran.err.contains("begin with the coordinator"), "{}", ran.err);
    folder.line("record person c-1 --role coordinator");
}

#[cfg(unix)]
#[test]
fn the_records_are_their_owners_only() {
    use std::os::unix::fs::PermissionsExt as _;
    let folder = Folder::staffed();
    let mode = fs::metadata(folder.path("records.db")).expect("there").permissions().mode();
    assert_eq!(mode & 0o777, 0o600);
    let names: Vec<String> = fs::read_dir(folder.0.path())
        .expect("a folder")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    assert!(!names.iter().any(|name| name.contains("journal") || name.contains("writer")), "{names:?}");
}

#[test]
fn an_apprentice_is_signed_off_when_the_evidence_is_there_and_not_before() {
    let folder = Folder::staffed();
    let early = folder.sign("make-safe");
    assert_eq!(early.status, 1);
    assert!(early.err.contains("not yet observed") && early.err.contains("--despite"), "{}", early.err);
    folder.observe("make-safe", "J-1");
    assert_eq!(folder.sign("make-safe").status, 0);
    let again = folder.sign("make-safe");
    assert_eq!((again.status, again.out.contains("was on record already")), (0, true), "{again:?}");
    let today = Folder::today();
    folder.refused(
        &[
            "record",
            "signoff",
            "a-1",
            "ink-a-deck",
            "--seen-by",
            "s-1",
            "--acknowledged",
            &today,
            "--despite",
            "no time",
            "--second",
            "c-1",
        ],
        1,
        &["observe it first"],
    );
    folder.observe("ink-a-deck", "J-1");
    folder.refused(
        &[
            "record",
            "signoff",
            "a-1",
            "ink-a-deck",
            "--seen-by",
            "s-1",
            "--acknowledged",
            &today,
            "--despite",
            "no time",
            "--second",
            "s-1",
        ],
        1,
        &["another assessor or coordinator"],
    );
    folder.fine(&[
        "record",
        "signoff",
        "a-1",
        "ink-a-deck",
        "--seen-by",
        "s-1",
        "--acknowledged",
        &today,
        "--despite",
        "no time",
        "--second",
        "c-1",
    ]);
    let audit = folder.line("audit");
    assert!(
        audit.contains("2 sign-offs, 2 of them hold") && audit.contains("Signed despite missing evidence"),
        "{audit}"
    );
}

#[test]
fn a_matter_of_safety_is_never_signed_despite_missing_evidence() {
    let folder = Folder::staffed();
    folder.line("record observed a-1 make-safe --seen-by s-1 --press p --job J --seen 1 --not-seen 2");
    let today = Folder::today();
    folder.refused(
        &[
            "record",
            "signoff",
            "a-1",
            "make-safe",
            "--seen-by",
            "s-1",
            "--acknowledged",
            &today,
            "--despite",
            "hurry",
            "--second",
            "c-1",
        ],
        1,
        &["matter of safety"],
    );
}

#[test]
fn a_withdrawn_need_holds_what_rests_on_it_until_it_is_signed_again() {
    let folder = Folder::staffed();
    folder.observe("make-safe", "J-1");
    assert_eq!(folder.sign("make-safe").status, 0);
    folder.observe("ink-a-deck", "J-1");
    folder.line("record hours a-1 --line ink-a-deck --on 2026-11-02 --start 06:00 --end 10:00 --supervisor s-1");
    assert_eq!(folder.sign("ink-a-deck").status, 0);
    folder.refused(&["record", "withdraw", "a-1", "make-safe", "--seen-by", "s-1"], 1, &["needs a reason", "--why"]);
    folder.fine(&[
        "record",
        "withdraw",
        "a-1",
        "make-safe",
        "--seen-by",
        "s-1",
        "--why",
        "reached over a turning roll",
    ]);
    let standing = |folder: &Folder, competency: &str| {
        let board = folder.json(&["board"]);
        let rows = board["rows"].as_array().expect("rows").clone();
        let row = rows.iter().find(|row| row["competency"] == competency).expect("a row").clone();
        row["standing"].as_str().expect("a word").to_owned()
    };
    assert_eq!((standing(&folder, "make-safe"), standing(&folder, "ink-a-deck")), ("open".into(), "held".into()));
    folder.observe("make-safe", "J-2");
    assert_eq!(folder.sign("make-safe").status, 0);
    assert_eq!((standing(&folder, "make-safe"), standing(&folder, "ink-a-deck")), ("signed".into(), "signed".into()));
}

#[test]
fn a_hold_is_released_by_an_assessor_who_says_why() {
    let folder = Folder::staffed();
    folder.fine(&["record", "hold", "a-1", "make-safe", "--why", "wrong order in a drill"]);
    folder.observe("make-safe", "J-1");
    let held = folder.sign("make-safe");
    assert!(held.status == 1 && held.err.contains("held"), "{held:?}");
    folder.refused(
        &["record", "release", "a-1", "make-safe", "--seen-by", "c-1", "--why", "talked"],
        1,
        &["not an assessor"],
    );
    folder.fine(&["record", "release", "a-1", "make-safe", "--seen-by", "s-1", "--why", "talked through the order"]);
    assert_eq!(folder.sign("make-safe").status, 0);
    folder.refused(&["record", "release", "a-1", "make-safe", "--seen-by", "s-1", "--why", "again"], 1, &["no hold"]);
}

#[test]
fn the_same_hour_counts_once_and_a_day_has_sixteen_at_most() {
    let folder = Folder::staffed();
    let hours = |start: &'static str, end: &'static str, on: &'static str| {
        vec![
            "record",
            "hours",
            "a-1",
            "--line",
            "make-safe",
            "--supervisor",
            "s-1",
            "--on",
            on,
            "--start",
            start,
            "--end",
            end,
        ]
    };
    folder.fine(&hours("06:00", "14:00", "2026-11-02"));
    folder.refused(&hours("13:59", "15:00", "2026-11-02"), 1, &["overlap", "record correct"]);
    folder.fine(&hours("14:00", "22:00", "2026-11-02"));
    folder.refused(&hours("22:00", "23:00", "2026-11-02"), 1, &["at most 16 h"]);
    folder.refused(&hours("03:30", "05:00", "2026-10-25"), 1, &["twice", "03:30+03:00"]);
    folder.fine(&hours("03:30+02:00", "05:00", "2026-10-25"));
    folder.refused(&hours("06:00", "07:00", "2099-01-01"), 1, &["2099-01-01"]);
    folder.refused(&hours("6", "07:00", "2026-11-03"), 1, &["time of day", "07:00"]);
    folder.refused(&hours("06:00", "07:00", "2.11.2026"), 1, &["2026-09-08"]);
}

#[test]
fn a_correction_stands_in_for_a_fact_and_says_why() {
    let folder = Folder::staffed();
    folder.observe("make-safe", "J-1");
    assert_eq!(folder.sign("make-safe").status, 0);
    let observation = "5";
    folder.refused(&["record", "correct", observation, "jop=J-2", "--why", "typed wrong"], 1, &["did you mean `job`"]);
    folder.fine(&["record", "correct", observation, "job=J-2", "--why", "typed wrong"]);
    assert_eq!(folder.run(&["audit"]).status, 0, "the sign-off still rests on an observation");
    folder.refused(
        &["record", "correct", observation, "job=J-3", "--why", "again"],
        1,
        &["corrected already", "fact 7"],
    );
    folder.fine(&["record", "correct", "7", "--strike", "--why", "was another apprentice"]);
    let audit = folder.run(&["audit"]);
    assert_eq!(audit.status, 1);
    assert!(audit.err.contains("would not hold any more") && audit.err.contains("correction of 5"), "{}", audit.err);
    folder.refused(&["record", "correct", "6", "--strike", "--why", "no"], 1, &["withdraw it"]);
    folder.refused(&["record", "correct", "999", "--strike", "--why", "no"], 1, &["no fact 999"]);
}

#[test]
fn a_file_of_facts_goes_on_record_whole_or_not_at_all_and_only_once() {
    let folder = Folder::staffed();
    let good = "\u{feff}person;line;date;start;end;supervisor\r\na-1;make-safe;2026-11-02;06:00;07:00;s-1\r\na-1;press;2026-11-02;07:00;08:00;s-1\r\n";
    let bad = good.replace("08:00", "07:60")
        + "a-9;make-safe;2026-11-03;06:00;07:00;s-1\r\n;make-safe;2026-11-03;06:00;07:00;s-1\r\n";
    fs::write(folder.path("bad.csv"), &bad).expect("a file");
    fs::write(folder.path("good.csv"), good).expect("a file");
    folder.refused(&["record", "hours", "--csv", "bad.csv"], 1, &["bad.csv:3", "bad.csv:5"]);
    let unknown = good.replace("a-1;press", "a-9;press");
    fs::write(folder.path("unknown.csv"), unknown).expect("a file");
    folder.refused(&["record", "hours", "--csv", "unknown.csv"], 1, &["unknown.csv:3", "a-9"]);
    folder.refused(&["record", "hours", "--csv", "missing.csv"], 2, &["missing.csv"]);
    folder.line("record hours --csv good.csv --dry-run");
    let before = folder.head();
    folder.line("record hours --csv good.csv");
    let after = folder.head();
    assert_ne!(before, after);
    let again = folder.json(&["record", "hours", "--csv", "good.csv"]);
    assert!(again["facts"].as_array().expect("facts").iter().all(|fact| fact["new"] == false), "{again}");
    assert_eq!(folder.head(), after);
}

#[test]
fn a_name_is_erased_for_good_while_the_chain_still_walks() {
    let folder = Folder::staffed();
    folder.fine(&["record", "event", "a-1", "review", "--note", "spoke about a private matter"]);
    folder.refused(&["record", "redact", "a-1", "--why", "asked for it"], 2, &["--yes"]);
    folder.fine(&["record", "redact", "a-1", "--why", "asked for it", "--yes"]);
    let bytes = fs::read(folder.path("records.db")).expect("the file");
    for gone in ["Äpprentice 名 Invented", "private matter"] {
        assert!(!bytes.windows(gone.len()).any(|part| part == gone.as_bytes()), "{gone} is still in the file");
    }
    let audit = folder.run(&["audit"]);
    assert_eq!(audit.status, 0, "{}", audit.err);
    assert!(audit.out.contains("erased, as facts say: 2"), "{}", audit.out);
    assert!(bytes.windows(9).any(|part| part == b"Assessor "), "others keep their names");
}

#[test]
fn a_printed_head_tells_an_old_copy_and_a_rewritten_record() {
    let folder = Folder::staffed();
    let early = folder.head();
    folder.line("record backup old.db");
    folder.refused(&["record", "backup", "old.db"], 2, &["is there already"]);
    folder.observe("make-safe", "J-1");
    let late = folder.head();
    assert_eq!(folder.run(&["audit", "--head", &early]).status, 0);
    fs::copy(folder.path("old.db"), folder.path("records.db")).expect("put back");
    folder.refused(&["audit", "--head", &late], 1, &["ends before"]);
    let other = format!("{}:{}", early.split(':').next().expect("a number"), "0123456789abcdef");
    folder.refused(&["audit", "--head", &other], 1, &["rewritten"]);
    folder.refused(&["audit", "--head", "twelve"], 2, &["colon"]);
}

#[test]
fn one_label_never_stands_for_two_editions_and_a_new_one_unsigns_nobody() {
    let folder = Folder::staffed();
    folder.observe("make-safe", "J-1");
    assert_eq!(folder.sign("make-safe").status, 0);
    let stricter = STAGE
        .replace("{ says: Tries the start }", "{ says: Tries the start, critical: true }, { says: Locks and tags }");
    fs::write(folder.path("curriculum/01-press.yaml"), &stricter).expect("a file");
    folder.refused(&["record", "event", "a-1", "review"], 1, &["edition `first`", "new label"]);
    fs::write(folder.path("curriculum/programme.yaml"), PROGRAMME.replace("first", "second")).expect("a file");
    folder.line("record event a-1 review");
    let board = folder.json(&["board"]);
    let row = board["rows"]
        .as_array()
        .expect("rows")
        .iter()
        .find(|row| row["competency"] == "make-safe")
        .expect("a row")
        .clone();
    assert_eq!(row["standing"], "signed");
    assert!(row["reason"].as_str().expect("words").contains("under edition first"), "{row}");
    assert_eq!(folder.run(&["audit"]).status, 0);
}

#[test]
fn the_board_and_its_files_name_nobody_in_tables_unless_asked() {
    let folder = Folder::staffed();
    folder.observe("make-safe", "J-1");
    folder.line("board");
    let text = |name: &str| fs::read_to_string(folder.path("out/board").join(name)).expect(name);
    assert!(text("index.html").contains("Äpprentice 名 Invented"));
    assert!(!text("board.csv").contains("Invented") && !text("board.json").contains("Invented"));
    folder.line("board --names");
    assert!(text("board.csv").contains("Äpprentice 名 Invented"));
    let head = folder.head();
    for page in ["index.html", "person-a-1.html", "standing.html", "programme.html", "stage-press.html"] {
        assert!(text(page).contains(&head), "{page} does not print the head");
    }
}

#[test]
fn an_altered_record_is_shown_with_its_place_by_board_and_audit() {
    let folder = Folder::staffed();
    folder.observe("make-safe", "J-1");
    folder.alter("DROP TRIGGER fact_stays; UPDATE fact SET body = replace(body, 'J-1', 'J-9') WHERE seq = 5;");
    for command in ["audit", "board"] {
        folder.refused(&[command], 1, &["chain breaks at fact 5"]);
    }
    let page = fs::read_to_string(folder.path("out/board/index.html")).expect("the board");
    assert!(page.contains("altered"), "the board says so on the page");
}

#[test]
fn a_curriculum_at_fault_records_nothing() {
    let folder = Folder::staffed();
    fs::write(folder.path("curriculum/01-press.yaml"), STAGE.replace("needs: [make-safe]", "needs: [make-sage]"))
        .expect("a file");
    folder.refused(&["record", "event", "a-1", "review"], 1, &["did you mean `make-safe`"]);
}

#[test]
fn a_correction_keeps_name_note_and_person_and_takes_a_coordinator_for_a_role() {
    let folder = Folder::staffed();
    folder.fine(&["record", "correct", "4", "class=north", "--why", "forgot the class"]);
    let board = || folder.json(&["board", "--names"])["rows"][0]["name"].clone();
    assert_eq!(board(), "Äpprentice 名 Invented");
    folder.fine(&["record", "correct", "5", "name=Ann Invented", "--why", "spelt wrong"]);
    assert_eq!(board(), "Ann Invented");
    folder.refused(
        &["record", "correct", "3", "--strike", "--why", "no", "--entered-by", "s-1"],
        1,
        &["it takes a coordinator"],
    );
    folder.refused(&["record", "correct", "2", "--strike", "--why", "no"], 1, &["nobody would be left"]);
    folder.fine(&["record", "correct", "2", "from=2026-09-01", "--why", "began earlier"]);
    folder.line("record person a-2 --role apprentice --from 2025-01-01");
    folder.observe("make-safe", "J-1");
    let observation = folder.json(&["audit"])["seq"].to_string();
    folder.refused(&["record", "correct", &observation, "person=a-2", "--why", "no"], 1, &["stays with its person"]);
    folder.refused(&["record", "correct", &observation, "job=J-2", "--why", " "], 1, &["needs a reason"]);
}

#[test]
fn what_differs_in_its_note_or_paper_is_another_fact() {
    let folder = Folder::staffed();
    let event = |note: &'static str| vec!["record", "event", "a-1", "review", "--on", "2026-11-02", "--note", note];
    folder.fine(&event("first talk"));
    assert!(!folder.fine(&event("second talk")).contains("already"));
    assert!(folder.fine(&event("second talk")).contains("already"));
}

#[test]
fn nothing_is_added_about_people_whose_facts_were_altered() {
    let folder = Folder::staffed();
    folder.observe("make-safe", "J-1");
    folder.alter("DROP TRIGGER fact_stays; UPDATE fact SET body = replace(body, 'J-1', 'J-9') WHERE seq = 5;");
    folder.refused(&["record", "event", "a-1", "review"], 1, &["fact 5", "gearside audit"]);
}

#[test]
fn a_fact_before_the_first_is_found() {
    let folder = Folder::staffed();
    folder.alter(
        "DROP TRIGGER fact_follows; INSERT INTO fact SELECT -3, at, kind, body, prev, hash FROM fact WHERE seq = 4;",
    );
    folder.refused(&["audit"], 1, &["the chain breaks at fact 0"]);
}

#[test]
fn a_sign_off_of_an_earlier_day_does_not_pass_by_what_happened_since() {
    let folder = Folder::staffed();
    folder.line("record observed a-1 make-safe --seen-by s-1 --press p --job J --all-seen --on 2026-11-02");
    folder.fine(&["record", "hold", "a-1", "make-safe", "--why", "reached towards a nip"]);
    let sign = [
        "record",
        "signoff",
        "a-1",
        "make-safe",
        "--seen-by",
        "s-1",
        "--on",
        "2026-11-03",
        "--acknowledged",
        "2026-11-03",
    ];
    folder.refused(&sign, 1, &["held since"]);
    folder.refused(&["record", "return", "a-1", "--from", "2026-11-04"], 1, &["not away"]);
    folder.line("record hours a-1 --line press --on 2026-11-03 --start 06:00 --end 07:00 --seen-by s-1");
    folder.refused(
        &[
            "record",
            "hours",
            "a-1",
            "--line",
            "press",
            "--on",
            "2026-11-04",
            "--start",
            "06:00",
            "--end",
            "07:00",
            "--supervisor",
            "a-1",
        ],
        1,
        &["supervises themselves"],
    );
}
