//! The files that came: returns, marking CSVs, folders of both.

use std::path::{Path, PathBuf};

use super::super::arguments::MarkArguments;
use super::super::out::{Ended, Out};
use crate::exchange::marking_table;
use crate::ground::files::{MachineFault, TextFault, entries, named, read_text};
use crate::ground::{Fault, Place};
use crate::quiz::{Came, Return, Snapshot};

/// The longest return, in bytes: many times what the longest quiz makes.
const LONGEST: u64 = 1_000_000;
/// How many of the files that are left aside are named.
const MOST_NAMED: usize = 5;

/// What is often taken for a return, by its ending: what it is, and what to do instead.
const OTHERS: &[(&[&str], &str, &str)] = &[
    (&["zip", "7z", "rar", "gz", "tar"], "this is a packed file", "unpack it, and name the folder with what was in it"),
    (
        &["html", "htm"],
        "this is a page, not what came back of it",
        "open it, and close the docket: that saves the return, a `.json` file",
    ),
    (
        &["xlsx", "xls", "ods", "numbers"],
        "this is a spreadsheet in a format of its own",
        "save the marking table as CSV with the encoding UTF-8, and name that file",
    ),
    (
        &["pdf", "png", "jpg", "jpeg", "heic", "docx", "odt"],
        "this is a picture or a text, not what a docket saved",
        "type what was written on paper into `marking.csv`, which lies in the key folder",
    ),
];

/// Reads all files: what they say, and why some of them say nothing.
pub(super) fn read_all(
    arguments: &MarkArguments,
    quiz: &Snapshot,
    out: &mut Out,
) -> Result<(Vec<Came>, Vec<Fault>), Ended> {
    let (mut came, mut faults) = (Vec::new(), Vec::new());
    for path in &all_paths(arguments, out)? {
        if ending(path) == "csv" {
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

/// All files that were named, and those of the folders that were.
fn all_paths(arguments: &MarkArguments, out: &mut Out) -> Result<Vec<PathBuf>, Ended> {
    let all = || arguments.files.iter().chain(&arguments.count);
    // A file that is not there was named wrongly; one that dangles in a folder is refused by name.
    if let Some(missing) = all().find(|path| !path.exists()) {
        let message = format!("there is no file {}, so nothing was looked at", named(missing));
        return Err(out.usage(
            &message,
            "look at the name and the folder; a name with blanks in it stands between quotation marks",
        ));
    }
    if let Some(folder) = arguments.count.iter().find(|path| path.is_dir()) {
        let message = format!("{} is a folder, and --count says which file counts", named(folder));
        return Err(out.usage(&message, "name the file"));
    }
    let mut paths = Vec::new();
    for path in all() {
        if path.is_dir() { paths.extend(of_folder(path, out)?) } else { paths.push(path.clone()) }
    }
    paths.sort();
    paths.dedup();
    Ok(paths)
}

/// The returns and tables of a folder. What else lies in it is said.
fn of_folder(folder: &Path, out: &mut Out) -> Result<Vec<PathBuf>, Ended> {
    let all = entries(folder).map_err(|fault| out.machine(&fault))?;
    let (found, others): (Vec<PathBuf>, Vec<PathBuf>) =
        all.into_iter().partition(|path| matches!(ending(path).as_str(), "json" | "csv"));
    if let Some(remark) = left_aside(folder, &others) {
        out.fault(&remark);
    }
    if found.is_empty() {
        let message = format!("there is no return (.json) and no marking CSV in {}", named(folder));
        return Err(out.usage(&message, "name the folder that the returns were saved to"));
    }
    Ok(found)
}

/// What lies in a folder and is not looked at.
fn left_aside(folder: &Path, others: &[PathBuf]) -> Option<Fault> {
    let first = others.iter().take(MOST_NAMED).filter_map(|path| path.file_name()).map(|name| named(Path::new(name)));
    let names = first.collect::<Vec<_>>().join(", ");
    let more = others.len().saturating_sub(MOST_NAMED);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    let message = format!("not looked at, as neither .json nor .csv: {names}{more}");
    let mend =
        "if there are returns in it: unpack what is packed, name a folder in the folder too, save a spreadsheet as CSV";
    (!others.is_empty()).then(|| Fault::new("left-aside", message, mend).as_remark().at(place(folder)))
}

/// What a file's name ends with, in small letters.
fn ending(path: &Path) -> String {
    path.extension().map(|ending| ending.to_ascii_lowercase().to_string_lossy().into_owned()).unwrap_or_default()
}

fn place(path: &Path) -> Place {
    Place { file: Some(named(path)), ..Place::default() }
}

/// One return. A file that cannot be read is refused by name like any other:
/// the rest are marked.
fn one(path: &Path) -> Result<Return, Fault> {
    if let Some((_, what, mend)) = OTHERS.iter().find(|(endings, ..)| endings.contains(&ending(path).as_str())) {
        return Err(Fault::new("no-return", *what, *mend).at(place(path)));
    }
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
