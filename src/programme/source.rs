//! Where the files come from: a folder, or the ones built into the program.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::{defects, shipped};
use crate::ground::files::{self, MachineFault, TextFault};
use crate::ground::{Fault, Faults, Place};

/// The longest curriculum or bank file, in bytes.
const LONGEST: u64 = 2_000_000;

/// One file: its name as a user would say it, and its text.
#[derive(Debug, Clone)]
pub(super) struct SourceFile {
    pub(super) label: String,
    pub(super) name: String,
    pub(super) text: String,
}

/// All files of a programme.
#[derive(Debug, Default)]
pub(super) struct Sources {
    pub(super) curriculum: Vec<SourceFile>,
    pub(super) banks: Vec<SourceFile>,
    /// The file of print defects, which lies beside the banks.
    pub(super) defects: Option<SourceFile>,
}

impl Sources {
    /// What was read of the two folders.
    fn of(curriculum: Vec<SourceFile>, mut banks: Vec<SourceFile>) -> Self {
        let place = banks.iter().position(|file| file.name == defects::FILE);
        let defects = place.map(|place| banks.remove(place));
        Self { curriculum, banks, defects }
    }

    /// The texts by `curriculum/…` or `question-banks/…`, wherever the folder lies.
    pub(super) fn into_texts(self) -> BTreeMap<String, String> {
        let of = |folder: &'static str, files: Vec<SourceFile>| {
            files.into_iter().map(move |file| (format!("{folder}/{}", file.name), file.text))
        };
        let beside = self.banks.into_iter().chain(self.defects).collect();
        of("curriculum", self.curriculum).chain(of("question-banks", beside)).collect()
    }
}

/// Which programme to load.
#[derive(Debug, Clone)]
pub enum Origin {
    /// The one built into the program.
    Shipped,
    /// `curriculum/` and `question-banks/` of this folder; the built-in ones for either that it lacks.
    Folder(PathBuf),
    /// The curriculum of the origin, but only these bank files.
    Banks(Box<Origin>, Vec<PathBuf>),
}

impl Origin {
    /// The working folder if it holds a programme, else the shipped one.
    #[must_use]
    pub fn of_working_folder() -> Self {
        let here = Path::new(".");
        if here.join("curriculum").is_dir() || here.join("question-banks").is_dir() {
            Self::Folder(here.to_owned())
        } else {
            Self::Shipped
        }
    }

    /// Reads all files; faults of content are gathered.
    pub(super) fn read(&self, faults: &mut Faults) -> Result<Sources, MachineFault> {
        match self {
            Self::Shipped => Ok(Sources::of(shipped_files("curriculum/"), shipped_files("question-banks/"))),
            Self::Folder(folder) => {
                let part = |name: &str| folder.join(name);
                let (curriculum, banks) = (part("curriculum"), part("question-banks"));
                if !curriculum.is_dir() && !banks.is_dir() {
                    // Listing names the missing folder in its error.
                    files::list(&curriculum, ".yaml")?;
                }
                let mut read = |folder: &Path, shipped: &str| {
                    if folder.is_dir() { read_folder(folder, faults) } else { Ok(shipped_files(shipped)) }
                };
                Ok(Sources::of(read(&curriculum, "curriculum/")?, read(&banks, "question-banks/")?))
            }
            Self::Banks(origin, paths) => {
                let whole = origin.read(faults)?;
                let mut banks = Vec::new();
                for path in paths {
                    banks.extend(read_file(path, faults)?);
                }
                let Sources { banks, defects, .. } = Sources::of(Vec::new(), banks);
                Ok(Sources { curriculum: whole.curriculum, banks, defects: defects.or(whole.defects) })
            }
        }
    }
}

fn shipped_files(folder: &str) -> Vec<SourceFile> {
    let inside = |(path, text): &(&str, &str)| {
        path.strip_prefix(folder).map(|name| SourceFile {
            label: (*path).to_owned(),
            name: name.to_owned(),
            text: (*text).to_owned(),
        })
    };
    shipped::FILES.iter().filter_map(inside).collect()
}

fn read_folder(folder: &Path, faults: &mut Faults) -> Result<Vec<SourceFile>, MachineFault> {
    let mut read = Vec::new();
    for name in files::list(folder, "")? {
        if name.ends_with(".yaml") {
            read.extend(read_file(&folder.join(name), faults)?);
        } else if name.ends_with(".yml") {
            let place = Place { file: Some(folder.join(&name).display().to_string()), ..Place::default() };
            faults.push(
                Fault::new(
                    "file-name",
                    "files of a programme end in `.yaml`, so this one was passed over",
                    "rename it",
                )
                .at(place)
                .as_remark(),
            );
        }
    }
    Ok(read)
}

fn read_file(path: &Path, faults: &mut Faults) -> Result<Option<SourceFile>, MachineFault> {
    let label = path.strip_prefix("./").unwrap_or(path).display().to_string().replace('\\', "/");
    match files::read_text(path, LONGEST) {
        Ok(text) => Ok(Some(SourceFile {
            label,
            name: path.file_name().unwrap_or_default().to_string_lossy().into_owned(),
            text,
        })),
        Err(TextFault::Machine(fault)) => Err(fault),
        Err(TextFault::Content(mut fault)) => {
            fault.place.file = Some(label);
            faults.push(*fault);
            Ok(None)
        }
    }
}
