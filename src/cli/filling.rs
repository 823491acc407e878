//! Folders that are filled from the records: what can go wrong with them, and
//! how it is said.

use super::keeping::trouble;
use super::out::{Ended, Out};
use crate::ground::Fault;
use crate::ground::files::StartFault;
use crate::records::Trouble;

/// Why a folder could not be filled.
pub(super) enum Unfilled {
    /// The records cannot be used.
    Trouble(Trouble),
    /// A template is at fault, or what was kept is.
    Faults(Vec<Fault>),
}

impl From<Fault> for Unfilled {
    fn from(fault: Fault) -> Self {
        Self::Faults(vec![fault])
    }
}

impl From<Trouble> for Unfilled {
    fn from(trouble: Trouble) -> Self {
        Self::Trouble(trouble)
    }
}

impl From<Fault> for StartFault<Unfilled> {
    fn from(fault: Fault) -> Self {
        Self::Fill(fault.into())
    }
}

impl From<Vec<Fault>> for StartFault<Unfilled> {
    fn from(faults: Vec<Fault>) -> Self {
        Self::Fill(Unfilled::Faults(faults))
    }
}

impl Unfilled {
    /// Says what is wrong.
    pub(super) fn say(self, out: &mut Out) -> Ended {
        match self {
            Self::Trouble(wrong) => trouble(&wrong, out),
            Self::Faults(faults) => {
                faults.iter().for_each(|fault| out.fault(fault));
                Ended::Content
            }
        }
    }
}

/// Says why a folder was not written.
pub(super) fn not_written(wrong: StartFault<Unfilled>, out: &mut Out) -> Ended {
    match wrong {
        StartFault::Folder(fault) => out.folder(&fault),
        StartFault::Fill(wrong) => wrong.say(out),
    }
}
