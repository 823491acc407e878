//! The programme folder and the records in it, for the commands that need both.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use jiff::Timestamp;
use jiff::civil::Date;

use super::loading;
use super::out::{Ended, Out};
use crate::ground::Place;
use crate::programme::{Origin, Programme, load, load_without_banks};
use crate::records::{Code, FILE_NAME, History, Person, Refusal, Store, Trouble};

/// A programme that keeps records.
pub(super) struct Keeping {
    /// Its folder.
    pub(super) folder: PathBuf,
    /// The programme.
    pub(super) programme: Programme,
    /// Now.
    pub(super) now: Timestamp,
    /// Today, in the programme's time zone.
    pub(super) today: Date,
}

impl Keeping {
    /// Loads the programme of a folder. A curriculum at fault is refused: what
    /// is recorded is judged by it for ever.
    pub(super) fn load(programme: Option<&Path>, with_banks: bool, out: &mut Out) -> Result<Self, Ended> {
        let Origin::Folder(folder) = loading::origin(programme) else {
            return Err(out.usage(
                "records are kept in a programme folder, and this is none",
                "start one with `gearside new DIR`, or name one with --programme DIR",
            ));
        };
        let origin = Origin::Folder(folder.clone());
        let loaded = if with_banks { load(&origin) } else { load_without_banks(&origin) };
        let loaded = loaded.map_err(|fault| out.machine(&fault))?;
        loaded.faults.0.iter().for_each(|fault| out.fault(fault));
        match loaded.programme.filter(|_| !loaded.faults.any()) {
            Some(programme) => {
                let now = Timestamp::now();
                let today = programme.about.time_zone.to_datetime(now).date();
                let keeping = Self { folder, programme, now, today };
                loading::speak_as(&keeping.programme.about.language, keeping.template_folder().as_deref(), out)?;
                Ok(keeping)
            }
            None => Err(Ended::Content),
        }
    }

    /// The records' file.
    pub(super) fn path(&self) -> PathBuf {
        let own = self.folder.join(FILE_NAME);
        own.strip_prefix("./").map_or(own.clone(), Path::to_owned)
    }

    /// The folder whose files stand in for templates, if there is one.
    pub(super) fn template_folder(&self) -> Option<PathBuf> {
        Some(self.folder.join("site-template")).filter(|folder| folder.is_dir())
    }

    /// Opens the records.
    pub(super) fn open(&self, out: &mut Out) -> Result<Store, Ended> {
        Store::open(&self.path()).map_err(|trouble| self::trouble(&trouble, out)).inspect(|store| remarks(store, out))
    }

    /// Opens the records, or starts them.
    pub(super) fn open_or_start(&self, out: &mut Out) -> Result<Store, Ended> {
        Store::open_or_start(&self.path())
            .map_err(|trouble| self::trouble(&trouble, out))
            .inspect(|store| remarks(store, out))
    }
}

fn remarks(store: &Store, out: &mut Out) {
    for remark in &store.remarks {
        let place = Place { file: Some(store.path().display().to_string()), ..Place::default() };
        out.fault(&crate::ground::Fault::new("records", remark.clone(), "").at(place).as_remark());
    }
}

/// The names of people by their codes.
pub(super) fn names_by_code(history: &History, store: &Store) -> Result<BTreeMap<Code, String>, Trouble> {
    let names = store.read().names()?;
    let name = |person: &Person| Some((person.code.clone(), names.get(person.name_digest()?)?.clone()));
    Ok(history.people.values().filter_map(name).collect())
}

/// Says what is wrong with the records.
pub(super) fn trouble(trouble: &Trouble, out: &mut Out) -> Ended {
    out.fault(trouble.fault());
    match trouble {
        Trouble::Content(_) => Ended::Content,
        Trouble::Usage(_) => Ended::Usage,
        Trouble::Machine(_) => Ended::Machine,
    }
}

/// Says why nothing was recorded.
pub(super) fn refusal(refusal: &Refusal, out: &mut Out) -> Ended {
    match refusal {
        Refusal::Trouble(trouble) => self::trouble(trouble, out),
        Refusal::Faults(faults) => {
            faults.0.iter().for_each(|fault| out.fault(fault));
            Ended::Content
        }
    }
}

/// A date as the command line takes it.
pub(super) fn date(text: &str) -> Result<Date, String> {
    text.trim().parse().map_err(|_| format!("`{text}` is not a date; write it as year-month-day, such as 2026-11-20"))
}
