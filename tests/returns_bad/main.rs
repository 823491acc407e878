//! What comes back of a quiz in a bad state: refused by name, with the reason
//! and a mend, while all that is good is marked, once.

#![expect(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

mod files;
mod giving;
mod said;
mod setting_right;
#[path = "../sitting/mod.rs"]
mod sitting;
mod tables;
mod terms;

use std::collections::BTreeMap;
use std::ffi::OsStr;
use std::fs;
use std::path::Path;

use serde_json::Value;
use sitting::{Class, facts};

/// A return of an apprentice in which every answer is the same.
pub(crate) fn answered(class: &Class, number: usize, answer: &str) -> Value {
    class.return_with(&format!("docket-a-{number:02}.html"), |row| {
        if row.is_order { String::new() } else { answer.to_owned() }
    })
}

/// A class with an issued quiz of few minutes, a calculation among them, and two blank dockets.
pub(crate) fn sitting_of(people: usize) -> Class {
    let class = Class::of(people);
    class.issue_with(&["--minutes", "10", "--with", "film-on-the-web", "--blank", "2"]);
    class
}

/// Everything under a folder: files with their bytes, folders with none.
pub(crate) fn everything(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut all = BTreeMap::new();
    let mut open = vec![folder.to_owned()];
    while let Some(next) = open.pop() {
        for path in fs::read_dir(&next).expect("a folder").map(|entry| entry.expect("an entry").path()) {
            let bytes = if path.is_dir() { Vec::new() } else { fs::read(&path).expect("a file") };
            all.insert(path.display().to_string(), bytes);
            if path.is_dir() {
                open.push(path);
            }
        }
    }
    all
}

/// How many returns are taken and parts marked, in records that are sound.
pub(crate) fn counted(class: &Class) -> (usize, usize) {
    let links = facts(&class.records());
    let of = |kind: &str| links.iter().filter(|link| link.kind == kind).count();
    (of("return-taken"), of("part-marked"))
}

/// Marks with `--json`: status, what is said, and the faults by file.
pub(crate) fn marked(class: &Class, more: &[&str]) -> (i32, Value, Vec<(String, Value)>) {
    let (status, out, err) = class.run(&[&["mark", "week-12", "--json"], more].concat());
    let value: Value = serde_json::from_str(&out).unwrap_or_else(|why| panic!("no JSON ({why}): {out}{err}"));
    let faults = value["faults"].as_array().expect("a list").iter();
    let file = |fault: &Value| fault["place"]["file"].as_str().unwrap_or_default().to_owned();
    let faults = faults.map(|fault| (file(fault), fault.clone())).collect();
    (status, value, faults)
}

/// Whether a file is refused for a reason, with a mend.
pub(crate) fn refusal<'f>(faults: &'f [(String, Value)], file: &str) -> &'f Value {
    let mut found = faults.iter().filter(|(name, fault)| name == file && fault["weight"] == "fault");
    let (_, fault) = found.next().unwrap_or_else(|| panic!("{file} is not refused: {faults:?}"));
    assert!(found.next().is_none(), "{file} is refused twice");
    assert!(!fault["mend"].as_str().expect("a mend").is_empty(), "{file} has no mend");
    fault
}

/// Puts a return under a name that need not be text.
pub(crate) fn save_as(class: &Class, name: &OsStr, text: &str) {
    fs::create_dir_all(class.folder.join("returns")).expect("a folder");
    fs::write(class.folder.join("returns").join(name), text).expect("a file");
}
