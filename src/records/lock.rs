//! What lies beside the records: who is writing, copies from synced folders,
//! files that only their owner may read.

#![expect(clippy::disallowed_methods, reason = "these files have rules of their own: private from the first moment")]

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::time::Duration;

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::trouble::Trouble;

/// How long a note of another machine is believed, in seconds: on a shared
/// folder whose locks do not work nothing else tells.
const BELIEVED_FOR: i64 = 30;

/// Who is writing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Writing {
    host: String,
    process: u32,
    since: Timestamp,
}

impl Writing {
    /// This process.
    fn here() -> Self {
        Self {
            host: gethostname::gethostname().to_string_lossy().into_owned(),
            process: std::process::id(),
            since: Timestamp::now(),
        }
    }

    fn words(&self) -> String {
        format!("process {} on {} since {}", self.process, self.host, self.since.strftime("%H:%M:%S UTC"))
    }
}

/// `records.db` with an ending put behind it.
pub(super) fn beside(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push(ending);
    path.with_file_name(name)
}

fn note(path: &Path) -> PathBuf {
    beside(path, ".writer")
}

fn read_note(path: &Path) -> Option<Writing> {
    serde_json::from_slice(&fs::read(note(path)).ok()?).ok()
}

/// Makes an empty file that only its owner may open.
pub(super) fn make_private(path: &Path) -> io::Result<()> {
    private().create_new(true).open(path).map(drop)
}

fn private() -> OpenOptions {
    let mut options = OpenOptions::new();
    options.write(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    options
}

/// Removes a file.
pub(super) fn remove(path: &Path) -> io::Result<()> {
    fs::remove_file(path)
}

/// Makes a finished file durable.
pub(super) fn make_durable(path: &Path) -> io::Result<()> {
    File::open(path)?.sync_all()
}

/// Makes a finished file durable and gives it its name.
pub(super) fn put_in_place(half: &Path, target: &Path) -> io::Result<()> {
    make_durable(half)?;
    fs::rename(half, target)?;
    if cfg!(unix)
        && let Some(folder) = target.parent()
    {
        let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
        File::open(folder)?.sync_all()?;
    }
    Ok(())
}

/// Says in a busy file's trouble who is writing.
pub(super) fn say_who(trouble: Trouble, path: &Path) -> Trouble {
    match (trouble, read_note(path)) {
        (Trouble::Usage(fault), Some(writing)) if fault.kind == "busy" => {
            Trouble::usage("busy", format!("the records are being written by {}", writing.words()), fault.mend)
        }
        (trouble, _) => trouble,
    }
}

/// A note that this process is writing; it goes when this value does.
#[derive(Debug)]
pub(super) struct Noted(PathBuf);

impl Noted {
    /// Leaves the note, once this process holds the lock.
    ///
    /// # Errors
    /// [`Trouble`] if a fresh note says that another machine is writing.
    pub(super) fn leave(path: &Path) -> Result<Self, Trouble> {
        let own = Writing::here();
        for _ in 0..50 {
            let Some(other) = read_note(path).filter(|other| is_elsewhere_now(other, &own)) else {
                // Without the note nobody is told who is busy; nothing else depends on it.
                let _ = write_note(path, &own);
                return Ok(Self(note(path)));
            };
            if own
                .since
                .until(Timestamp::now())
                .is_ok_and(|waited| waited.total(jiff::Unit::Second).is_ok_and(|s| s > 4.9))
            {
                return Err(Trouble::usage(
                    "busy",
                    format!("the records are being written by {}", other.words()),
                    "wait until that is done, and try again",
                ));
            }
            std::thread::sleep(Duration::from_millis(100));
        }
        Err(Trouble::usage("busy", "the records are being written by another machine", "wait, and try again"))
    }
}

impl Drop for Noted {
    fn drop(&mut self) {
        let _ = fs::remove_file(&self.0);
    }
}

/// Whether a note is another machine's, and fresh.
fn is_elsewhere_now(other: &Writing, own: &Writing) -> bool {
    other.host != own.host && (Timestamp::now().as_second() - other.since.as_second()).abs() < BELIEVED_FOR
}

fn write_note(path: &Path, writing: &Writing) -> io::Result<()> {
    let mut file = private().create(true).truncate(true).open(note(path))?;
    file.write_all(&serde_json::to_vec(writing)?)
}

/// Files beside the records that look like copies which a synced folder made
/// when two people wrote at once.
pub(super) fn copies(path: &Path) -> Vec<String> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let own = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let stem = own.trim_end_matches(".db");
    let mut found: Vec<String> = fs::read_dir(folder)
        .into_iter()
        .flatten()
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|name| *name != own && name.starts_with(stem) && name.ends_with(".db"))
        .collect();
    found.sort();
    found
        .into_iter()
        .map(|name| {
            format!(
                "{name} lies beside {own} and looks like a second copy: find out which one is right before you go on"
            )
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fresh_note_of_another_machine_is_believed_and_an_old_one_is_not() {
        let own = Writing::here();
        let other = Writing { host: "another".into(), ..own.clone() };
        assert!(is_elsewhere_now(&other, &own));
        assert!(!is_elsewhere_now(&own, &own));
        let old = Writing { since: Timestamp::now() - jiff::SignedDuration::from_secs(60), ..other };
        assert!(!is_elsewhere_now(&old, &own));
    }

    #[test]
    fn a_copy_of_a_synced_folder_is_noticed() {
        let home = tempfile::tempdir().expect("a folder");
        for name in ["records.db", "records (someone's copy 2026-11-02).db", "records.db-journal", "other.db"] {
            fs::write(home.path().join(name), "").expect("a file");
        }
        let found = copies(&home.path().join("records.db"));
        assert_eq!(found.len(), 1, "{found:?}");
    }

    #[cfg(unix)]
    #[test]
    fn a_private_file_is_its_owners_only() {
        use std::os::unix::fs::PermissionsExt as _;
        let home = tempfile::tempdir().expect("a folder");
        let path = home.path().join("records.db");
        make_private(&path).expect("made");
        assert_eq!(fs::metadata(&path).expect("there").permissions().mode() & 0o777, 0o600);
        assert!(make_private(&path).is_err());
    }
}
