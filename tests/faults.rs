//! Every file under `tests/faults/` holds one fault. Its head says what is
//! expected; the line it stands on is marked with an arrow. Each is put into a
//! small sound programme and proved with the built binary.

#![expect(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;

/// What a case expects.
struct Case {
    name: String,
    goes_to: String,
    kind: String,
    message: String,
    mend: String,
    line: Option<usize>,
    bytes: Vec<u8>,
}

fn faults() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/faults")
}

fn case(path: &Path) -> Case {
    let bytes = fs::read(path).expect("a case");
    let text = String::from_utf8_lossy(&bytes).into_owned();
    let head = |key: &str| {
        let start = format!("# {key}: ");
        let found = text.lines().take(4).find_map(|line| line.strip_prefix(&start));
        found.unwrap_or_default().to_owned()
    };
    Case {
        name: path.file_stem().expect("a name").to_string_lossy().into_owned(),
        goes_to: head("goes to"),
        kind: head("kind"),
        message: head("message"),
        mend: head("mend"),
        line: text.lines().position(|line| line.contains("# <-- here")).map(|index| index + 1),
        bytes,
    }
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("a folder");
    for entry in fs::read_dir(from).expect("a folder").map(|entry| entry.expect("an entry").path()) {
        let target = to.join(entry.file_name().expect("a name"));
        if entry.is_dir() { copy(&entry, &target) } else { fs::copy(&entry, &target).map(drop).expect("copied") }
    }
}

fn prove(folder: &Path) -> (Option<i32>, serde_json::Value, String) {
    let output = Command::cargo_bin("gearside")
        .expect("the binary")
        .args(["prove", "--json", "--pulls", "300", "--programme"])
        .arg(folder)
        .output()
        .expect("it ran");
    let text = String::from_utf8(output.stdout).expect("UTF-8");
    let value = serde_json::from_str(&text)
        .unwrap_or_else(|_| panic!("no JSON: {text}\n{}", String::from_utf8_lossy(&output.stderr)));
    (output.status.code(), value, text)
}

#[test]
fn the_programme_around_the_faults_is_sound() {
    let (status, _, text) = prove(&faults().join("base"));
    assert_eq!(status, Some(0), "{text}");
}

#[test]
fn every_faulty_file_is_told_with_its_place_and_its_mend() {
    let mut paths: Vec<PathBuf> = fs::read_dir(faults())
        .expect("cases")
        .map(|entry| entry.expect("a case").path())
        .filter(|path| path.is_file())
        .collect();
    paths.sort();
    assert!(paths.len() >= 30, "only {} cases", paths.len());
    let mut wrong = Vec::new();
    for path in &paths {
        let case = case(path);
        let home = tempfile::tempdir().expect("a folder");
        copy(&faults().join("base"), home.path());
        let target = home.path().join(&case.goes_to);
        fs::write(&target, &case.bytes).expect("the faulty file");
        let (status, value, text) = prove(home.path());
        let list = value["faults"].as_array().cloned().unwrap_or_default();
        let holds = |fault: &serde_json::Value, key: &str, part: &str| {
            fault[key].as_str().is_some_and(|text| text.contains(part))
        };
        let fits = list.first().is_some_and(|fault| {
            fault["kind"] == case.kind.as_str()
                && holds(fault, "message", &case.message)
                && holds(fault, "mend", &case.mend)
                && case
                    .line
                    .is_none_or(|line| fault["place"]["line"] == line && holds(&fault["place"], "file", &case.goes_to))
        });
        if status != Some(1) || list.len() != 1 || !fits {
            wrong.push(format!(
                "{}: status {status:?}, expected {} at line {:?}: {} / {}\n{}",
                case.name,
                case.kind,
                case.line,
                case.message,
                case.mend,
                if text.len() > 3000 { serde_json::to_string_pretty(&list).unwrap_or_default() } else { text }
            ));
        }
    }
    assert!(wrong.is_empty(), "{} of {} cases:\n{}", wrong.len(), paths.len(), wrong.join("\n"));
}

#[test]
fn all_faults_of_a_run_are_told_at_once_in_file_order() {
    let home = tempfile::tempdir().expect("a folder");
    copy(&faults().join("base"), home.path());
    let bank = home.path().join("question-banks/film.yaml");
    let text = fs::read_to_string(&bank).expect("the bank");
    let text = text
        .replace("level: apply", "levle: apply")
        .replace("Its cells hold less.", "Its cells hold <b>less</b>.")
        .replace("first: stop, then: note", "first: stap, then: note");
    fs::write(&bank, text).expect("written");
    let (status, value, _) = prove(home.path());
    assert_eq!(status, Some(1));
    let lines: Vec<u64> = value["faults"]
        .as_array()
        .expect("faults")
        .iter()
        .filter_map(|fault| fault["place"]["line"].as_u64())
        .collect();
    assert_eq!(lines.len(), 3, "{value:#}");
    assert!(lines.is_sorted(), "{lines:?}");
}

#[test]
fn a_missing_folder_is_the_machines_fault_and_a_missing_file_is_wrong_usage() {
    let run = |arguments: &[&str]| {
        Command::cargo_bin("gearside").expect("the binary").args(arguments).output().expect("it ran").status.code()
    };
    assert_eq!(run(&["prove", "--programme", "no/such/folder"]), Some(3));
    assert_eq!(run(&["prove", "no-such-bank.yaml"]), Some(2));
}

#[test]
fn a_byte_order_mark_and_carriage_returns_change_nothing() {
    let home = tempfile::tempdir().expect("a folder");
    copy(&faults().join("base"), home.path());
    for name in ["question-banks/film.yaml", "curriculum/programme.yaml", "curriculum/04-anilox.yaml"] {
        let path = home.path().join(name);
        let text = fs::read_to_string(&path).expect("a file");
        fs::write(&path, format!("\u{feff}{}", text.replace('\n', "\r\n"))).expect("written");
    }
    let (status, _, text) = prove(home.path());
    assert_eq!(status, Some(0), "{text}");
}
