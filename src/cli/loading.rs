//! Loading the programme that a command works on.

use std::path::Path;

use super::out::{Ended, Out};
use crate::programme::{Origin, Programme, load};

/// The origin that `--programme` or the working folder gives.
pub(super) fn origin(programme: Option<&Path>) -> Origin {
    programme.map_or_else(Origin::of_working_folder, |folder| Origin::Folder(folder.to_owned()))
}

/// Loads it; all faults are printed. A programme comes back even if parts of
/// it are at fault, with how the command ends at best.
pub(super) fn programme(origin: &Origin, out: &mut Out) -> Result<(Programme, Ended), Ended> {
    let loaded = load(origin).map_err(|fault| out.machine(&fault))?;
    for fault in &loaded.faults.0 {
        out.fault(fault);
    }
    let ended = if loaded.faults.any() { Ended::Content } else { Ended::Done };
    loaded.programme.map(|programme| (programme, ended)).ok_or(Ended::Content)
}
