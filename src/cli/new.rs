//! `gearside new`: starts a programme folder.

use super::arguments::NewArguments;
use super::out::{Ended, Out};
use crate::ground::files::start_folder;
use crate::programme::SHIPPED_FILES;

/// What git should leave alone in a programme folder.
const GITIGNORE: &str = "records.db\nrecords.db-journal\nout/\n";

pub(super) fn run(arguments: &NewArguments, out: &mut Out) -> Ended {
    let mut files: Vec<(String, Vec<u8>)> =
        SHIPPED_FILES.iter().map(|(path, text)| ((*path).to_owned(), text.as_bytes().to_vec())).collect();
    files.push((".gitignore".to_owned(), GITIGNORE.as_bytes().to_vec()));
    let folder = arguments.folder.display();
    match start_folder(&arguments.folder, &files) {
        Ok(()) if out.json => {
            let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
            out.value(&serde_json::json!({ "folder": folder.to_string(), "files": names }));
            Ended::Done
        }
        Ok(()) => {
            out.line(&format!("{folder}"));
            out.note(&format!("Started a programme with the built-in curriculum and banks. Edit them, then:\n  gearside prove --programme {folder}\n  gearside workbook --programme {folder}"));
            Ended::Done
        }
        Err(fault) => out.folder(&fault),
    }
}
