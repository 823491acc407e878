//! Building the files of a quiz out of what was kept: a stream of dockets on
//! one side, two threads that make pages of them on the other.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::mpsc::{Receiver, sync_channel};
use std::sync::{Mutex, PoisonError};

use super::super::filling::{Unfilled, not_written};
use super::super::keeping::Keeping;
use super::super::loading::speak_as;
use super::super::out::{Ended, Out};
use super::issue::folders;
use crate::exchange::marking_table;
use crate::ground::files::{Access, NewFolder, StartFault, write_folder_with};
use crate::pages::{DocketPages, KeyPages, MARKING_TABLE};
use crate::quiz::{KeptDocket, Snapshot};
use crate::records::{Code, Store, Trouble};

/// How many threads make pages, and how many dockets may wait for them.
const THREADS: usize = 2;
const WAITING: usize = 64;

/// Where the dockets of a quiz lie.
#[derive(Debug, Clone, Copy)]
pub(super) enum Dockets<'a> {
    /// On record.
    Kept(&'a Store),
    /// In hand: those of a rehearsal.
    InHand(&'a [Vec<u8>]),
}

impl Dockets<'_> {
    fn packed(self, quiz: &Snapshot, place: usize) -> Result<Vec<u8>, Trouble> {
        match self {
            Self::Kept(store) => kept(store, quiz, place),
            Self::InHand(dockets) => Ok(dockets.get(place).cloned().unwrap_or_default()),
        }
    }
}

/// A docket as it lies in the records, packed.
pub(in super::super) fn kept(store: &Store, quiz: &Snapshot, place: usize) -> Result<Vec<u8>, Trouble> {
    let seat = &quiz.dockets[place];
    match store.read().kept(&seat.kept)? {
        Some(Ok(bytes)) => Ok(bytes),
        found => {
            let how = if found.is_some() { "altered" } else { "missing" };
            Err(Trouble::content(
                "kept-quiz",
                format!("docket {} of `{}` is {how} in the records", seat.docket, quiz.head.quiz),
                "run `gearside audit`, and put a backup in the place of the records",
            ))
        }
    }
}

/// Builds the dockets' folder, then the instructor's.
pub(super) fn build(
    keeping: &Keeping,
    quiz: &Snapshot,
    dockets: Dockets<'_>,
    names: &BTreeMap<Code, String>,
    output: &Path,
    out: &mut Out,
) -> Result<(), Ended> {
    let templates = keeping.template_folder();
    // A docket that is built again is in the language that it was issued in.
    speak_as(&quiz.head.language, templates.as_deref(), out)?;
    let shown: Vec<_> = quiz.exercises.iter().map(|one| &one.shown).collect();
    let pages =
        DocketPages::new(&quiz.head, &shown, templates.as_deref()).map_err(|wrong| Unfilled::Faults(wrong).say(out))?;
    let keys = KeyPages::new(quiz, templates.as_deref()).map_err(|wrong| Unfilled::Faults(wrong).say(out))?;
    let maker = Maker { quiz, pages, keys, names };
    let [open, own] = folders(output, &quiz.head.quiz);
    // The inner folder is moved into place first.
    let built = write_folder_with(&own, Access::OwnerOnly, |own| {
        write_folder_with(&open, Access::Usual, |open| maker.stream(dockets, open, own))
    });
    built.map_err(|wrong| not_written(wrong, out))
}

/// Makes pages of kept dockets.
struct Maker<'a> {
    quiz: &'a Snapshot,
    pages: DocketPages,
    keys: KeyPages<'a>,
    names: &'a BTreeMap<Code, String>,
}

type Made<T> = Result<T, StartFault<Unfilled>>;

impl Maker<'_> {
    fn stream(&self, dockets: Dockets<'_>, open: &NewFolder, own: &NewFolder) -> Made<()> {
        let name = |code: &Code| self.names.get(code).cloned();
        let front = self.keys.front(&name)?;
        own.write("index.html", front.as_bytes())?;
        let (send, receive) = sync_channel::<(usize, Vec<u8>)>(WAITING);
        let receive = Mutex::new(receive);
        let rows = std::thread::scope(|scope| -> Made<Vec<(usize, Vec<u8>)>> {
            let workers: Vec<_> = (0..THREADS).map(|_| scope.spawn(|| self.work(&receive, open, own))).collect();
            let mut wrong = None;
            for place in 0..self.quiz.dockets.len() {
                match dockets.packed(self.quiz, place) {
                    Ok(packed) => {
                        // It fails only when the workers have given up, which is told below.
                        if send.send((place, packed)).is_err() {
                            break;
                        }
                    }
                    Err(trouble) => {
                        wrong = Some(trouble);
                        break;
                    }
                }
            }
            drop(send);
            let mut rows = Vec::new();
            for worker in workers {
                rows.extend(worker.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic))?);
            }
            wrong.map_or(Ok(rows), |trouble| Err(StartFault::Fill(trouble.into())))
        })?;
        let mut rows = rows;
        rows.sort_by_key(|(place, _)| *place);
        let table = marking_table::head(self.quiz).into_iter().chain(rows.into_iter().flat_map(|(_, rows)| rows));
        own.write(MARKING_TABLE, &table.collect::<Vec<u8>>())?;
        Ok(())
    }

    /// Makes pages until nothing comes any more; gives the rows for paper.
    fn work(
        &self,
        receive: &Mutex<Receiver<(usize, Vec<u8>)>>,
        open: &NewFolder,
        own: &NewFolder,
    ) -> Made<Vec<(usize, Vec<u8>)>> {
        let mut rows = Vec::new();
        loop {
            let next = receive.lock().unwrap_or_else(PoisonError::into_inner).recv();
            let Ok((place, packed)) = next else { return Ok(rows) };
            rows.push((place, self.one(place, &packed, open, own)?));
        }
    }

    fn one(&self, place: usize, packed: &[u8], open: &NewFolder, own: &NewFolder) -> Made<Vec<u8>> {
        let seat = &self.quiz.dockets[place];
        let kept = KeptDocket::unpack(packed)?;
        let name = seat.person.as_ref().and_then(|code| self.names.get(code)).map(String::as_str);
        let file = self.quiz.file_name(place);
        let page = self.pages.page(&self.quiz.docket(seat, &kept), name);
        open.write(&format!("docket-{file}.html"), page.as_bytes())?;
        let key = self.keys.page(place, &kept, name)?;
        own.write(&format!("key-{file}.html"), key.as_bytes())?;
        Ok(marking_table::rows(self.quiz, place, &kept))
    }
}
