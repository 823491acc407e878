//! `gearside new`: starts a programme folder.

use super::arguments::NewArguments;
use super::demo;
use super::keeping::refusal;
use super::out::{Ended, Out};
use crate::ground::files::{StartFault, start_folder};
use crate::programme::SHIPPED_FILES;

/// What git should leave alone in a programme folder.
const GITIGNORE: &str = "records.db*\nout/\n";

pub(super) fn run(arguments: &NewArguments, out: &mut Out) -> Ended {
    let gitignore = (".gitignore".to_owned(), GITIGNORE.as_bytes().to_vec());
    if arguments.demo { start_demo(arguments, gitignore, out) } else { start(arguments, gitignore, out) }
}

fn start(arguments: &NewArguments, gitignore: (String, Vec<u8>), out: &mut Out) -> Ended {
    let mut files: Vec<(String, Vec<u8>)> =
        SHIPPED_FILES.iter().map(|(path, text)| ((*path).to_owned(), text.as_bytes().to_vec())).collect();
    files.push(gitignore);
    let folder = arguments.folder.display();
    match start_folder(&arguments.folder, &files) {
        Ok(()) if out.json => {
            let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
            out.value(&serde_json::json!({ "folder": folder.to_string(), "files": names }));
            Ended::Done
        }
        Ok(()) => {
            out.line(&format!("{folder}"));
            out.note(&format!("Started a programme with the built-in curriculum and banks. Edit them, then:\n  gearside prove --programme {folder}\n  gearside workbook --programme {folder}\nRecords begin with whoever keeps them:\n  gearside record person CODE --role coordinator --name \"…\" --programme {folder}"));
            Ended::Done
        }
        Err(fault) => out.folder(&fault),
    }
}

fn start_demo(arguments: &NewArguments, gitignore: (String, Vec<u8>), out: &mut Out) -> Ended {
    let folder = arguments.folder.display();
    match demo::start(&arguments.folder, &[gitignore], jiff::Timestamp::now()) {
        Ok(summary) if out.json => {
            let value = serde_json::json!({
                "folder": folder.to_string(),
                "files": summary.files,
                "apprentices": summary.apprentices,
                "assessors": summary.assessors,
                "facts": summary.head.seq,
                "head": crate::records::hex(&summary.head.hash),
            });
            out.value(&value);
            Ended::Done
        }
        Ok(summary) => {
            out.line(&format!("{folder}"));
            out.note(&format!(
                "Started a programme with an invented class: {} apprentices, {} assessors, {} facts. Look at it:\n  gearside board --programme {folder}\n  gearside audit --programme {folder}",
                summary.apprentices, summary.assessors, summary.head.seq
            ));
            Ended::Done
        }
        Err(StartFault::Folder(fault)) => out.folder(&fault),
        Err(StartFault::Fill(wrong)) => refusal(&wrong, out),
    }
}
