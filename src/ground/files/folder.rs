//! Folders written whole, or not at all.

#![expect(clippy::disallowed_methods, reason = "this is the thin wrapper that everyone else uses")]

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use super::{MachineFault, failing};

/// The file that marks a folder as built by this program.
const MARK: &str = ".gearside";

/// Why a folder could not be written.
#[derive(Debug)]
pub enum FolderFault {
    /// The machine failed.
    Machine(MachineFault),
    /// Something else lives there: the folder is not empty and not ours.
    NotOurs(PathBuf),
}

impl std::fmt::Display for FolderFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Machine(fault) => fault.fmt(f),
            Self::NotOurs(path) => write!(
                f,
                "{} is not empty and was not built by gearside, so it is left alone; name another folder with -o, or empty it yourself",
                path.display()
            ),
        }
    }
}

/// Why a folder that is filled before it is moved into place could not be started.
#[derive(Debug)]
pub enum StartFault<E> {
    /// The folder could not be written.
    Folder(FolderFault),
    /// It could not be filled.
    Fill(E),
}

impl<E> From<MachineFault> for StartFault<E> {
    fn from(fault: MachineFault) -> Self {
        Self::Folder(FolderFault::Machine(fault))
    }
}

impl StartFault<std::convert::Infallible> {
    /// The fault of a folder that nothing else is filled into.
    fn without_fill(self) -> FolderFault {
        match self {
            Self::Folder(fault) => fault,
            Self::Fill(never) => match never {},
        }
    }
}

/// Who may open what is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Access {
    /// Whoever the system lets.
    Usual,
    /// The owner alone, from the first moment (where the system knows owners).
    OwnerOnly,
}

/// From so many files on, the whole file system is made durable at once.
const MANY: usize = 64;

/// A folder that is being filled beside its place. Several threads may write into it.
#[derive(Debug)]
pub struct NewFolder {
    path: PathBuf,
    access: Access,
    written: Mutex<Vec<PathBuf>>,
    /// Locked: whoever finds the folder can tell that its process is alive.
    _mark: File,
}

impl NewFolder {
    fn make(path: PathBuf, access: Access) -> Result<Self, MachineFault> {
        make_folder(&path, access)?;
        let mark_path = path.join(MARK);
        let mut mark = access.new_file(&mark_path).map_err(failing("write", &mark_path))?;
        mark.write_all(b"Built by gearside; replaced whole by the next build.\n")
            .and_then(|()| mark.sync_all())
            .map_err(failing("write", &mark_path))?;
        // Some file systems know no locks; then leftovers are simply not recognised as alive.
        let _ = mark.try_lock();
        Ok(Self { path, access, written: Mutex::new(Vec::new()), _mark: mark })
    }

    /// Writes a file; `name` is its path relative to the folder.
    ///
    /// # Errors
    /// [`MachineFault`] if the machine fails.
    pub fn write(&self, name: &str, bytes: &[u8]) -> Result<(), MachineFault> {
        let path = self.path.join(name);
        if let Some(folder) = path.parent().filter(|folder| *folder != self.path) {
            make_folder(folder, self.access)?;
        }
        let mut file = self.access.new_file(&path).map_err(failing("write", &path))?;
        file.write_all(bytes).map_err(failing("write", &path))?;
        self.written.lock().unwrap_or_else(PoisonError::into_inner).push(path);
        Ok(())
    }

    /// Makes everything in it durable.
    fn settle(&self) -> Result<(), MachineFault> {
        let written = self.written.lock().unwrap_or_else(PoisonError::into_inner);
        #[cfg(target_os = "linux")]
        if written.len() >= MANY {
            let synced = File::open(&self.path).and_then(|folder| Ok(rustix::fs::syncfs(folder)?));
            return synced.map_err(failing("sync", &self.path));
        }
        for path in written.iter() {
            File::open(path).and_then(|file| file.sync_all()).map_err(failing("sync", path))?;
        }
        sync_folder(&self.path)
    }
}

impl Access {
    fn new_file(self, path: &Path) -> io::Result<File> {
        let mut options = OpenOptions::new();
        options.write(true).create(true).truncate(true);
        #[cfg(unix)]
        if self == Self::OwnerOnly {
            std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
        }
        options.open(path)
    }
}

fn make_folder(path: &Path, access: Access) -> Result<(), MachineFault> {
    let mut builder = fs::DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    if access == Access::OwnerOnly {
        // The folders above it are as usual.
        if let Some(above) = path.parent() {
            fs::create_dir_all(above).map_err(failing("make the folder", above))?;
        }
        std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    }
    builder.create(path).map_err(failing("make the folder", path))
}

/// Writes a folder whole: beside its place first, then moved in, the old one
/// out of the way. `files` are paths relative to the folder with their bytes.
/// Leftovers of a process that died are mended.
///
/// # Errors
/// [`FolderFault::NotOurs`] if a folder that is not empty and carries no
/// `.gearside` stands there; [`FolderFault::Machine`] if the machine fails. In
/// both cases what was there before is still there.
pub fn write_folder(target: &Path, files: &[(String, Vec<u8>)]) -> Result<(), FolderFault> {
    write(target, Access::Usual, true, |new| write_all(new, files)).map_err(StartFault::without_fill)
}

/// Writes a folder whole as [`write_folder`] does; `fill` writes its files one
/// by one, so that they need not all be held at once.
///
/// # Errors
/// As [`write_folder`], and whatever `fill` says.
pub fn write_folder_with<T, E>(
    target: &Path,
    access: Access,
    fill: impl FnOnce(&NewFolder) -> Result<T, StartFault<E>>,
) -> Result<T, StartFault<E>> {
    write(target, access, true, fill)
}

fn write_all<E>(new: &NewFolder, files: &[(String, Vec<u8>)]) -> Result<(), StartFault<E>> {
    files.iter().try_for_each(|(name, bytes)| new.write(name, bytes)).map_err(StartFault::from)
}

/// Writes a folder whole; without `marked` it is never taken for one of ours again.
fn write<T, E>(
    target: &Path,
    access: Access,
    marked: bool,
    fill: impl FnOnce(&NewFolder) -> Result<T, StartFault<E>>,
) -> Result<T, StartFault<E>> {
    mend_leftovers(target)?;
    if !may_replace(target)? {
        return Err(StartFault::Folder(FolderFault::NotOurs(target.to_owned())));
    }
    let path = beside(target, "new", std::process::id());
    let built = NewFolder::make(path.clone(), access).map_err(StartFault::from).and_then(|new| {
        let filled = fill(&new)?;
        if !marked {
            fs::remove_file(path.join(MARK)).map_err(failing("remove", &path.join(MARK)))?;
        }
        new.settle()?;
        swap_in(&path, target)?;
        Ok(filled)
    });
    if built.is_err() {
        // The first fault is the one to report; a leftover is mended by the next run.
        let _ = fs::remove_dir_all(&path);
    }
    built
}

/// Starts a folder that must not exist yet (or be empty), with these files. It
/// belongs to its owner from then on: [`write_folder`] will not replace it.
///
/// # Errors
/// [`FolderFault::NotOurs`] if it exists and is not empty; otherwise as [`write_folder`].
pub fn start_folder(target: &Path, files: &[(String, Vec<u8>)]) -> Result<(), FolderFault> {
    start_folder_with(target, files, |_| Ok(())).map_err(StartFault::without_fill)
}

/// Starts a folder as [`start_folder`] does, and lets `fill` add to it before
/// it is moved into place: what `fill` writes is there from the first moment,
/// or nothing is. `fill` makes its own files durable.
///
/// # Errors
/// As [`start_folder`], and whatever `fill` says; then there is no folder.
pub fn start_folder_with<T, E>(
    target: &Path,
    files: &[(String, Vec<u8>)],
    fill: impl FnOnce(&Path) -> Result<T, E>,
) -> Result<T, StartFault<E>> {
    let occupied = match fs::read_dir(target) {
        Ok(mut entries) => entries.next().is_some(),
        Err(error) if error.kind() == io::ErrorKind::NotFound => false,
        Err(error) => return Err(failing("look at", target)(error).into()),
    };
    if occupied {
        return Err(StartFault::Folder(FolderFault::NotOurs(target.to_owned())));
    }
    write(target, Access::Usual, false, |new| {
        write_all(new, files)?;
        fill(&new.path).map_err(StartFault::Fill)
    })
}

/// The folder `DIR.kind-PID` beside `DIR`.
fn beside(target: &Path, kind: &str, process: u32) -> PathBuf {
    let mut name = target.file_name().unwrap_or_default().to_owned();
    name.push(format!(".{kind}-{process}"));
    target.with_file_name(name)
}

/// Whether there is nothing at `target` that is not ours to replace.
fn may_replace(target: &Path) -> Result<bool, MachineFault> {
    match fs::read_dir(target) {
        Ok(mut entries) => Ok(entries.next().is_none() || target.join(MARK).exists()),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(true),
        Err(error) if error.kind() == io::ErrorKind::NotADirectory => Ok(false),
        Err(error) => Err(failing("look at", target)(error)),
    }
}

/// Moves the old folder aside, the new one in, and removes the old.
fn swap_in(new: &Path, target: &Path) -> Result<(), MachineFault> {
    let old = beside(target, "old", std::process::id());
    let there = target.exists();
    if there {
        fs::rename(target, &old).map_err(failing("move aside", target))?;
    }
    if let Err(error) = fs::rename(new, target) {
        if there {
            let _ = fs::rename(&old, target);
        }
        return Err(failing("move into place", target)(error));
    }
    if let Some(folder) = target.parent().filter(|folder| !folder.as_os_str().is_empty()) {
        sync_folder(folder)?;
    }
    if there {
        fs::remove_dir_all(&old).map_err(failing("remove", &old))?;
    }
    Ok(())
}

/// Makes the folder's entries durable, where the system can.
fn sync_folder(folder: &Path) -> Result<(), MachineFault> {
    if cfg!(unix) {
        File::open(folder).and_then(|handle| handle.sync_all()).map_err(failing("sync", folder))?;
    }
    Ok(())
}

/// Removes half-built folders of dead processes; puts an old folder back if a
/// process died between its two moves.
fn mend_leftovers(target: &Path) -> Result<(), MachineFault> {
    let folder = match target.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let Some(name) = target.file_name().and_then(|name| name.to_str()) else { return Ok(()) };
    let Ok(entries) = fs::read_dir(folder) else {
        return fs::create_dir_all(folder).map_err(failing("make the folder", folder));
    };
    let names: Vec<String> = entries.filter_map(|entry| entry.ok()?.file_name().into_string().ok()).collect();
    let left = |kind: &str| {
        let start = format!("{name}.{kind}-");
        names.iter().filter_map(|entry| entry.strip_prefix(&start)?.parse().ok()).collect::<Vec<u32>>()
    };
    for process in left("old") {
        let (old, new) = (beside(target, "old", process), beside(target, "new", process));
        if is_alive(&new) {
            continue;
        }
        if target.exists() {
            fs::remove_dir_all(&old).map_err(failing("remove", &old))?;
        } else {
            fs::rename(&old, target).map_err(failing("put back", target))?;
        }
    }
    for process in left("new") {
        let new = beside(target, "new", process);
        if !is_alive(&new) {
            fs::remove_dir_all(&new).map_err(failing("remove", &new))?;
        }
    }
    Ok(())
}

/// Whether another process holds the lock of a half-built folder.
fn is_alive(new: &Path) -> bool {
    match File::open(new.join(MARK)) {
        Ok(mark) => matches!(mark.try_lock(), Err(fs::TryLockError::WouldBlock)),
        Err(_) => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn page(text: &str) -> Vec<(String, Vec<u8>)> {
        vec![("index.html".to_owned(), text.as_bytes().to_vec())]
    }

    #[test]
    fn a_folder_is_replaced_whole_and_nothing_is_left_beside_it() {
        let home = tempfile::tempdir().expect("a temporary folder");
        let site = home.path().join("site");
        write_folder(&site, &[("old.html".to_owned(), vec![])]).expect("first");
        write_folder(&site, &page("two")).expect("second");
        assert!(!site.join("old.html").exists());
        assert_eq!(fs::read_to_string(site.join("index.html")).expect("page"), "two");
        assert_eq!(fs::read_dir(home.path()).expect("home").count(), 1);
    }

    #[test]
    fn a_folder_that_could_not_be_filled_is_not_there() {
        let home = tempfile::tempdir().expect("a temporary folder");
        let class = home.path().join("class");
        let fill = |folder: &Path| {
            assert!(folder.join("index.html").exists());
            fs::write(folder.join("more"), "half").map_err(|error| error.to_string())?;
            Err::<(), _>("no more".to_owned())
        };
        assert!(
            matches!(start_folder_with(&class, &page("one"), fill), Err(StartFault::Fill(why)) if why == "no more")
        );
        assert_eq!(fs::read_dir(home.path()).expect("home").count(), 0);
        let fill = |folder: &Path| fs::write(folder.join("more"), "whole").map(|()| 7);
        assert_eq!(start_folder_with(&class, &page("one"), fill).expect("started"), 7);
        assert_eq!(fs::read_to_string(class.join("more")).expect("filled"), "whole");
        assert!(!class.join(MARK).exists());
    }

    #[test]
    fn many_files_are_written_by_two_threads_for_their_owner_alone() {
        let home = tempfile::tempdir().expect("a temporary folder");
        let keys = home.path().join("week-12-key");
        let write = |new: &NewFolder, from: usize| -> Result<(), MachineFault> {
            (from..2 * MANY).step_by(2).try_for_each(|number| new.write(&format!("key-{number}.html"), b"key"))
        };
        let filled: Result<(), StartFault<std::convert::Infallible>> =
            write_folder_with(&keys, Access::OwnerOnly, |new| {
                std::thread::scope(|scope| {
                    let other = scope.spawn(|| write(new, 1));
                    write(new, 0).and_then(|()| other.join().expect("no panic"))
                })?;
                Ok(())
            });
        filled.expect("written");
        assert_eq!(fs::read_dir(&keys).expect("there").count(), 2 * MANY + 1);
        #[cfg(unix)]
        for (path, mode) in [(keys.clone(), 0o700), (keys.join("key-3.html"), 0o600)] {
            use std::os::unix::fs::PermissionsExt as _;
            assert_eq!(fs::metadata(path).expect("there").permissions().mode() & 0o777, mode);
        }
    }

    #[test]
    fn a_folder_that_is_not_ours_is_left_alone() {
        let home = tempfile::tempdir().expect("a temporary folder");
        fs::write(home.path().join("thesis.txt"), "years of work").expect("a file");
        assert!(matches!(write_folder(home.path(), &page("x")), Err(FolderFault::NotOurs(_))));
        assert!(home.path().join("thesis.txt").exists());
    }

    #[test]
    fn leftovers_of_a_dead_process_are_mended() {
        let home = tempfile::tempdir().expect("a temporary folder");
        let site = home.path().join("site");
        write_folder(&site, &page("good")).expect("first");
        // As if process 1 had died between its two moves, and process 2 while building.
        fs::rename(&site, home.path().join("site.old-4000001")).expect("moved aside");
        fs::create_dir(home.path().join("site.new-4000002")).expect("half built");
        mend_leftovers(&site).expect("mended");
        assert_eq!(fs::read_to_string(site.join("index.html")).expect("page"), "good");
        assert_eq!(fs::read_dir(home.path()).expect("home").count(), 1);
    }
}
