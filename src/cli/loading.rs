//! Loading the programme that a command works on.

use std::path::{Path, PathBuf};

use super::out::{Ended, Out};
use crate::ground::language::{Language, speak};
use crate::programme::{Origin, Programme, load};

/// The origin that `--programme` or the working folder gives.
pub(super) fn origin(programme: Option<&Path>) -> Origin {
    programme.map_or_else(Origin::of_working_folder, |folder| Origin::Folder(folder.to_owned()))
}

/// The folder of a programme whose files stand in for templates and languages, if there is one.
fn site_template(origin: &Origin) -> Option<PathBuf> {
    match origin {
        Origin::Folder(folder) => Some(folder.join("site-template")).filter(|folder| folder.is_dir()),
        Origin::Banks(origin, _) => site_template(origin),
        Origin::Shipped => None,
    }
}

/// From here on pages speak the language of that name.
pub(super) fn speak_as(language: &str, site_template: Option<&Path>, out: &mut Out) -> Result<(), Ended> {
    speak(Language::load(language, site_template).map_err(|faults| out.content(&faults))?);
    Ok(())
}

/// Loads it; all faults are printed. A programme comes back even if parts of
/// it are at fault, with how the command ends at best.
pub(super) fn programme(origin: &Origin, out: &mut Out) -> Result<(Programme, Ended), Ended> {
    let loaded = load(origin).map_err(|fault| out.machine(&fault))?;
    for fault in &loaded.faults.0 {
        out.fault(fault);
    }
    if let Some(programme) = &loaded.programme {
        speak_as(&programme.about.language, site_template(origin).as_deref(), out)?;
    }
    let ended = if loaded.faults.any() { Ended::Content } else { Ended::Done };
    loaded.programme.map(|programme| (programme, ended)).ok_or(Ended::Content)
}
