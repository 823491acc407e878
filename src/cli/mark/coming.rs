//! The files that came: returns, marking CSVs, folders of both.

use std::path::{Path, PathBuf};

use super::super::arguments::MarkArguments;
use super::super::out::{Ended, Out};
use crate::exchange::marking_table;
use crate::ground::files::{MachineFault, TextFault, list, read_text};
use crate::ground::{Fault, Place};
use crate::quiz::{Came, Return, Snapshot};

/// The longest return, in bytes: many times what the longest quiz makes.
const LONGEST: u64 = 1_000_000;

/// Reads all files: what they say, and why some of them say nothing.
pub(super) fn read_all(
    arguments: &MarkArguments,
    quiz: &Snapshot,
    out: &mut Out,
) -> Result<(Vec<Came>, Vec<Fault>), Ended> {
    let mut paths = Vec::new();
    for path in arguments.files.iter().chain(&arguments.count) {
        if path.is_dir() {
            let names = list(path, "").map_err(|fault| out.machine(&fault))?;
            let ending = |name: &str| Path::new(name).extension().map(std::ffi::OsStr::to_ascii_lowercase);
            let returns =
                names.iter().filter(|name| ending(name).is_some_and(|ending| ending == "json" || ending == "csv"));
            let found: Vec<PathBuf> = returns.map(|name| path.join(name)).collect();
            if found.is_empty() {
                let message = format!("there is no return (.json) and no marking CSV in {}", path.display());
                return Err(out.usage(&message, "name the folder that the returns were saved to"));
            }
            paths.extend(found);
        } else {
            paths.push(path.clone());
        }
    }
    paths.sort();
    paths.dedup();
    let (mut came, mut faults) = (Vec::new(), Vec::new());
    for path in &paths {
        if path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("csv")) {
            match marking_table::read(path, quiz) {
                Ok((found, wrong)) => {
                    came.extend(found);
                    faults.extend(wrong.0);
                }
                Err(fault) => faults.push(unreadable(path, &fault)),
            }
        } else {
            match one(path) {
                Ok(returned) => came.push(Came { from: place(path), returned }),
                Err(fault) => faults.push(fault),
            }
        }
    }
    Ok((came, faults))
}

fn place(path: &Path) -> Place {
    Place { file: Some(path.display().to_string()), ..Place::default() }
}

/// One return. A file that cannot be read is refused by name like any other:
/// the rest are marked.
fn one(path: &Path) -> Result<Return, Fault> {
    let text = read_text(path, LONGEST).map_err(|fault| match fault {
        TextFault::Content(fault) => *fault,
        TextFault::Machine(fault) => unreadable(path, &fault),
    })?;
    let returned = Return::read(&text).map_err(|fault| {
        let line = fault.place.line;
        fault.at(Place { line, ..place(path) })
    })?;
    if returned.shown.is_empty() {
        let message = "it does not say what its docket showed, so nobody can tell whether that was altered";
        return Err(Fault::new("altered", message, "take the file that the docket saved, as it is").at(place(path)));
    }
    Ok(returned)
}

fn unreadable(path: &Path, fault: &MachineFault) -> Fault {
    let mend = "look at its name and its permissions, then mark it by itself: what was taken stays";
    Fault::new("file", fault.to_string(), mend).at(place(path))
}
