//! Files read with limits, folders written whole.
//!
//! Every operation carries its path in its error. A folder is built beside its
//! place and moved in when it is complete, so that nobody ever sees half a
//! site, whatever happens to the power.

#![expect(clippy::disallowed_methods, reason = "this is the thin wrapper that everyone else uses")]

use std::fs::{self, File};
use std::io::{self, Read, Write as _};
use std::path::{Path, PathBuf};

use super::fault::{Fault, Place};

/// The file that marks a folder as built by this program.
const MARK: &str = ".gearside";

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
    let here = || Place { file: Some(path.display().to_string()), ..Place::default() };
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

/// Writes a folder whole: beside its place first, then moved in, the old one
/// out of the way. `files` are paths relative to the folder with their bytes.
/// Leftovers of a process that died are mended.
///
/// # Errors
/// [`FolderFault::NotOurs`] if a folder that is not empty and carries no
/// `.gearside` stands there; [`FolderFault::Machine`] if the machine fails. In
/// both cases what was there before is still there.
pub fn write_folder(target: &Path, files: &[(String, Vec<u8>)]) -> Result<(), FolderFault> {
    write(target, files, true, |_| Ok(())).map_err(StartFault::without_fill)
}

/// Writes a folder whole; without `marked` it is never taken for one of ours
/// again. `fill` may add to the new folder before it is moved into place.
fn write<T, E>(
    target: &Path,
    files: &[(String, Vec<u8>)],
    marked: bool,
    fill: impl FnOnce(&Path) -> Result<T, E>,
) -> Result<T, StartFault<E>> {
    mend_leftovers(target)?;
    if !may_replace(target)? {
        return Err(StartFault::Folder(FolderFault::NotOurs(target.to_owned())));
    }
    let new = beside(target, "new", std::process::id());
    let built = build(&new, files).map_err(StartFault::from).and_then(|guard| {
        let filled = fill(&new).map_err(StartFault::Fill)?;
        if !marked {
            fs::remove_file(new.join(MARK)).map_err(failing("remove", &new.join(MARK)))?;
        }
        sync_folder(&new)?;
        swap_in(&new, target)?;
        drop(guard);
        Ok(filled)
    });
    if built.is_err() {
        // The first fault is the one to report; a leftover is mended by the next run.
        let _ = fs::remove_dir_all(&new);
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
    write(target, files, false, fill)
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

/// Writes all files into the new folder and syncs them. The returned file is
/// locked: whoever finds the folder can tell that its process is alive.
fn build(new: &Path, files: &[(String, Vec<u8>)]) -> Result<File, MachineFault> {
    fs::create_dir_all(new).map_err(failing("make the folder", new))?;
    let mark_path = new.join(MARK);
    let mut mark = File::create(&mark_path).map_err(failing("write", &mark_path))?;
    mark.write_all(b"Built by gearside; replaced whole by the next build.\n").map_err(failing("write", &mark_path))?;
    mark.sync_all().map_err(failing("write", &mark_path))?;
    // Some file systems know no locks; then leftovers are simply not recognised as alive.
    let _ = mark.try_lock();
    for (name, bytes) in files {
        let path = new.join(name);
        if let Some(folder) = path.parent() {
            fs::create_dir_all(folder).map_err(failing("make the folder", folder))?;
        }
        let mut file = File::create(&path).map_err(failing("write", &path))?;
        file.write_all(bytes).and_then(|()| file.sync_data()).map_err(failing("write", &path))?;
    }
    sync_folder(new)?;
    Ok(mark)
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
