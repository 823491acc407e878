//! What can be wrong with the records as a file.

use std::fmt;

use crate::ground::{Fault, Place};

/// Why the records cannot be used, by whose fault.
#[derive(Debug)]
pub enum Trouble {
    /// The record's content is at fault: altered or damaged.
    Content(Box<Fault>),
    /// It was asked for in a way that cannot be (there are no records yet; someone else writes).
    Usage(Box<Fault>),
    /// The machine failed.
    Machine(Box<Fault>),
}

impl Trouble {
    /// The fault itself.
    #[must_use]
    pub fn fault(&self) -> &Fault {
        match self {
            Self::Content(fault) | Self::Usage(fault) | Self::Machine(fault) => fault,
        }
    }

    /// The same at a file.
    pub(super) fn at(mut self, path: &std::path::Path) -> Self {
        let place = Place { file: Some(path.display().to_string()), ..Place::default() };
        match &mut self {
            Self::Content(fault) | Self::Usage(fault) | Self::Machine(fault) => fault.place = place,
        }
        self
    }

    /// The content of the records is at fault.
    pub fn content(kind: &'static str, message: impl Into<String>, mend: impl Into<String>) -> Self {
        Self::Content(Box::new(Fault::new(kind, message, mend)))
    }

    pub(super) fn usage(kind: &'static str, message: impl Into<String>, mend: impl Into<String>) -> Self {
        Self::Usage(Box::new(Fault::new(kind, message, mend)))
    }

    pub(super) fn machine(message: impl Into<String>, mend: impl Into<String>) -> Self {
        Self::Machine(Box::new(Fault::new("machine", message, mend)))
    }
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.fault().message)
    }
}

impl std::error::Error for Trouble {}

impl From<rusqlite::Error> for Trouble {
    fn from(error: rusqlite::Error) -> Self {
        use rusqlite::ErrorCode;
        match error.sqlite_error_code() {
            Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => Self::content(
                "damaged",
                format!("the file is damaged: {error}"),
                "put a backup in its place; `gearside audit --export DIR` writes out what can still be read",
            ),
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Self::usage(
                "busy",
                "the records are being written by someone else",
                "wait until that is done, and try again",
            ),
            Some(ErrorCode::ReadOnly | ErrorCode::PermissionDenied | ErrorCode::CannotOpen) => Self::machine(
                format!("the file cannot be opened for writing: {error}"),
                "look at the permissions of the file and of its folder",
            ),
            Some(ErrorCode::DiskFull) => {
                Self::machine("the disk is full, so nothing was recorded", "make room, and try again")
            }
            _ => Self::machine(format!("the records cannot be used: {error}"), "look at the file and its folder"),
        }
    }
}
