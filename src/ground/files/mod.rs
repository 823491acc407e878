//! Files read with limits, folders written whole.
//!
//! Every operation carries its path in its error. A folder is built beside its
//! place and moved in when it is complete, so that nobody ever sees half a
//! site, whatever happens to the power.

#![expect(clippy::disallowed_methods, reason = "this is the thin wrapper that everyone else uses")]

mod folder;

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use super::fault::{Fault, Place};
use super::plain::one_line;

pub use folder::{
    Access, FolderFault, NewFolder, StartFault, start_folder, start_folder_with, write_folder, write_folder_with,
};

/// The machine failed at a file: status 3.
#[derive(Debug)]
pub struct MachineFault {
    /// What was being done, such as `read`.
    pub doing: &'static str,
    /// The file or folder.
    pub path: PathBuf,
    /// What the machine said.
    pub source: io::Error,
}

impl std::fmt::Display for MachineFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "cannot {} {}: {}", self.doing, self.path.display(), self.source)
    }
}

impl std::error::Error for MachineFault {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        Some(&self.source)
    }
}

/// Why a text file could not be taken.
#[derive(Debug)]
pub enum TextFault {
    /// The machine failed.
    Machine(MachineFault),
    /// The file's content is at fault.
    Content(Box<Fault>),
}

fn failing(doing: &'static str, path: &Path) -> impl FnOnce(io::Error) -> MachineFault {
    move |source| MachineFault { doing, path: path.to_owned(), source }
}

/// Reads a text file of at most `most` bytes: a byte order mark is dropped,
/// CRLF becomes LF.
///
/// # Errors
/// [`TextFault::Machine`] if it cannot be read; [`TextFault::Content`] if it is
/// not a regular file, longer than `most`, or not UTF-8 (the line is named).
pub fn read_text(path: &Path, most: u64) -> Result<String, TextFault> {
    let here = || Place { file: Some(named(path)), ..Place::default() };
    let content = |fault: Fault, place: Place| TextFault::Content(Box::new(fault.at(place)));
    let about = fs::metadata(path).map_err(failing("read", path)).map_err(TextFault::Machine)?;
    if !about.is_file() {
        let fault = Fault::new("not-a-file", "this is not a regular file", "name a plain text file");
        return Err(content(fault, here()));
    }
    let mut bytes = Vec::new();
    let file = File::open(path).map_err(failing("open", path)).map_err(TextFault::Machine)?;
    file.take(most + 1).read_to_end(&mut bytes).map_err(failing("read", path)).map_err(TextFault::Machine)?;
    text_of(bytes, most).map_err(|(fault, line)| content(fault, Place { line, ..here() }))
}

/// Bytes as text, by the rules of [`read_text`].
fn text_of(bytes: Vec<u8>, most: u64) -> Result<String, (Fault, Option<usize>)> {
    if bytes.len() as u64 > most {
        let message = format!("the file is longer than {} kB", most / 1000);
        return Err((Fault::new("too-long", message, "split it into several files"), None));
    }
    let text = String::from_utf8(bytes).map_err(|error| {
        let good = error.utf8_error().valid_up_to();
        let line = error.as_bytes()[..good].iter().filter(|byte| **byte == b'\n').count() + 1;
        let byte = error.as_bytes().get(good).copied().unwrap_or_default();
        let message = format!("the file is not UTF-8: byte 0x{byte:02X} here is no part of any character");
        (Fault::new("not-utf-8", message, "save the file again with the encoding UTF-8"), Some(line))
    })?;
    let text = text.strip_prefix('\u{feff}').map_or(text.as_str(), |rest| rest);
    Ok(text.replace("\r\n", "\n"))
}

/// A path as it is shown: on one line, whatever the file is called.
#[must_use]
pub fn named(path: &Path) -> String {
    one_line(&path.display().to_string())
}

/// All entries of a folder but hidden ones, sorted: files and folders, whatever
/// they are called and whether they can be read or not.
///
/// # Errors
/// [`MachineFault`] if the folder is missing or cannot be listed.
pub fn entries(folder: &Path) -> Result<Vec<PathBuf>, MachineFault> {
    let mut paths = Vec::new();
    for entry in fs::read_dir(folder).map_err(failing("list the folder", folder))? {
        let name = entry.map_err(failing("list the folder", folder))?.file_name();
        if !name.as_encoded_bytes().starts_with(b".") {
            paths.push(folder.join(name));
        }
    }
    paths.sort();
    Ok(paths)
}

/// The names of the regular files in a folder whose names end with `ending`, sorted.
///
/// # Errors
/// [`MachineFault`] if the folder is missing or cannot be listed.
pub fn list(folder: &Path, ending: &str) -> Result<Vec<String>, MachineFault> {
    let mut names = Vec::new();
    for entry in fs::read_dir(folder).map_err(failing("list the folder", folder))? {
        let entry = entry.map_err(failing("list the folder", folder))?;
        if let Ok(name) = entry.file_name().into_string()
            && name.ends_with(ending)
            && !name.starts_with('.')
        {
            names.push(name);
        }
    }
    names.sort();
    Ok(names)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_loses_its_byte_order_mark_and_carriage_returns() {
        let text = text_of("\u{feff}a\r\nb\r\n".as_bytes().to_vec(), 100).expect("text");
        assert_eq!(text, "a\nb\n");
    }

    #[test]
    fn a_byte_that_is_not_utf_8_is_named_with_its_line() {
        let (fault, line) = text_of(b"one\ntwo \xff\n".to_vec(), 100).expect_err("not UTF-8");
        assert_eq!(line, Some(2));
        assert!(fault.message.contains("0xFF"));
    }
}
