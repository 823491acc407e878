//! A quiz that is killed while it is issued or marked: no half folder, nothing
//! lost or doubled on record, and the next run mends what is left.

#![cfg(unix)]
#![expect(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

mod sitting;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use sitting::{Class, facts};
use tempfile::TempDir;

/// How often a run is killed.
const KILLS: u32 = 50;
/// How many of those must come before it has ended.
const LEAST_IN_TIME: u32 = 25;

/// A place for many short-lived files: in memory, where the system has one.
fn a_place() -> TempDir {
    let memory = Path::new("/dev/shm");
    if memory.is_dir() { tempfile::tempdir_in(memory) } else { tempfile::tempdir() }.expect("a folder")
}

/// Copies the programme, its records and what came back, and nothing that was built.
fn copied(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("a folder");
    for entry in fs::read_dir(from).expect("a folder").map(|entry| entry.expect("an entry")) {
        let target = to.join(entry.file_name());
        match entry.file_type().expect("a type") {
            kind if kind.is_dir() && entry.file_name() == "out" => {}
            kind if kind.is_dir() => copied(&entry.path(), &target),
            _ => drop(fs::copy(entry.path(), target).expect("copied")),
        }
    }
}

/// The names of a folder's entries; none if there is no folder.
fn names(folder: &Path) -> Vec<String> {
    let Ok(entries) = fs::read_dir(folder) else { return Vec::new() };
    let name = |entry: fs::DirEntry| entry.file_name().into_string().expect("text");
    let mut names: Vec<String> = entries.map(|entry| name(entry.expect("an entry"))).collect();
    names.sort();
    names
}

/// Starts the command, and kills it at a moment. Whether it was still running.
fn killed(folder: &Path, arguments: &[&str], moment: Duration) -> bool {
    let mut command = Command::new(assert_cmd::cargo::cargo_bin("gearside"));
    command.current_dir(folder).args(arguments).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    let mut child = command.spawn().expect("it starts");
    std::thread::sleep(moment);
    child.kill().expect("killed");
    !child.wait().expect("it ended").success()
}

/// Runs the command to its end: status, time, and what was said.
fn run(folder: &Path, arguments: &[&str]) -> (i32, Duration, String) {
    let begun = Instant::now();
    let mut command = Command::new(assert_cmd::cargo::cargo_bin("gearside"));
    let out = command.current_dir(folder).args(arguments).output().expect("it runs");
    (out.status.code().unwrap_or(-1), begun.elapsed(), String::from_utf8_lossy(&out.stderr).into_owned())
}

/// How many facts there are of each kind, in a file that is sound.
fn kinds(folder: &Path) -> BTreeMap<String, usize> {
    let mut kinds = BTreeMap::new();
    facts(&folder.join("records.db")).into_iter().for_each(|link| *kinds.entry(link.kind).or_default() += 1);
    kinds
}

/// Kills a command at moments spread over a run of it; `look` sees each place
/// after the kill, `mended` after the next run.
fn spread(
    class: &Class,
    arguments: &[&str],
    may_end: &[i32],
    look: impl Fn(&Path),
    mended: impl Fn(&Path, &Path),
) -> String {
    let undisturbed = a_place();
    copied(&class.folder, undisturbed.path());
    let (status, first, err) = run(undisturbed.path(), arguments);
    assert_eq!(status, 0, "{err}");
    // The first one is slow: what it reads is not in memory yet.
    let again = (0..2).map(|_| {
        let place = a_place();
        copied(&class.folder, place.path());
        run(place.path(), arguments).1
    });
    let whole = again.fold(first, Duration::min);
    let mut in_time = 0;
    for number in 0..KILLS {
        let place = a_place();
        copied(&class.folder, place.path());
        let moment = whole.mul_f64((f64::from(number) + 0.5) / f64::from(KILLS));
        in_time += u32::from(killed(place.path(), arguments, moment));
        look(place.path());
        let (status, _, err) = run(place.path(), arguments);
        assert!(may_end.contains(&status), "after kill {number} at {moment:?}: {status} {err}");
        mended(place.path(), undisturbed.path());
        let (status, _, err) = run(place.path(), &["audit"]);
        assert_eq!(status, 0, "after kill {number}: {err}");
    }
    assert!(in_time >= LEAST_IN_TIME, "only {in_time} of {KILLS} kills came in time");
    format!("{in_time} of {KILLS} kills came within a run of {whole:?}")
}

#[test]
fn a_quiz_of_a_thousand_dockets_is_issued_once_whenever_it_is_killed() {
    const DOCKETS: usize = 1000;
    let class = Class::of(1);
    let whole = |folder: &Path, more: usize| {
        let names = names(folder);
        names.is_empty() || names.len() == DOCKETS + 1 + more
    };
    let look = |place: &Path| {
        // The dockets and the mark of the folder; the keys with the front page and the table.
        for (folder, more) in [("week-12", 1), ("week-12-key", 3)] {
            assert!(whole(&place.join("out/quiz").join(folder), more), "{folder} is half there");
        }
        assert!(kinds(place).get("quiz-issued").is_none_or(|count| *count == 1));
    };
    let mended = |place: &Path, _: &Path| {
        look(place);
        assert_eq!(names(&place.join("out/quiz")), ["week-12", "week-12-key"], "nothing is left over");
        assert_eq!(kinds(place)["quiz-issued"], 1);
    };
    let blank = DOCKETS.to_string();
    let arguments = ["quiz", "--week", "12", "--minutes", "6", "--blank", &blank];
    // It says 2 where all was done before the kill.
    let told = spread(&class, &arguments, &[0, 2], look, mended);
    assert!(told.contains("kills"), "{told}");
}

#[test]
fn returns_are_marked_once_whenever_the_marking_is_killed() {
    const PEOPLE: usize = 60;
    let class = Class::of(PEOPLE);
    class.issue_with(&["--minutes", "10"]);
    for number in 1..=PEOPLE {
        let answer = |row: &sitting::Row| if row.is_order { String::new() } else { (row.part + number).to_string() };
        let returned = class.return_with(&format!("docket-a-{number:02}.html"), answer);
        class.save(&format!("a-{number:02}.json"), &returned.to_string());
    }
    // Statistics, table and the mark of the folder.
    let whole = |place: &Path| names(&place.join("out/mark/week-12")).len() == PEOPLE + 3;
    let look = |place: &Path| {
        let kinds = kinds(place);
        let taken = kinds.get("return-taken").copied().unwrap_or(0);
        assert!(taken == 0 || taken == PEOPLE, "{taken} returns are taken");
        assert!(whole(place) || names(&place.join("out/mark/week-12")).is_empty(), "the folder is half there");
    };
    let marks = |place: &Path| -> Vec<(String, String)> {
        // The digests of texts are salted; the marks are not.
        let marked = facts(&place.join("records.db")).into_iter().filter(|link| link.kind == "part-marked");
        let mut marks: Vec<_> = marked.map(|link| (link.kind, link.body)).collect();
        marks.sort();
        marks
    };
    let mended = |place: &Path, undisturbed: &Path| {
        look(place);
        assert!(whole(place));
        assert_eq!(names(&place.join("out/mark")), ["week-12"], "nothing is left over");
        assert_eq!(kinds(place), kinds(undisturbed));
        assert!(marks(place) == marks(undisturbed), "the marks are the same");
    };
    let told = spread(&class, &["mark", "week-12", "returns"], &[0], look, mended);
    assert!(told.contains("kills"), "{told}");
}
